"""What the supply that is bought must have, and why: the lines to look for on its label and in its manual."""

from __future__ import annotations

from dataclasses import dataclass

from engine.model.case import BOOSTER, Case, Cell, Feed
from engine.model.quiet import TRY


@dataclass(frozen=True)
class Must:
    """One property of a supply that is not to be traded away."""

    about: str
    what: str
    why: str


FILTER = (
    "made for radio use: filtered, quiet on the bands",
    "a switching converter can be heard in the receiver, as a hiss or as tones that drift as it warms. "
    f"Before you keep it, {TRY}",
)
"""What every switch-mode supply must be (common practice)."""

METERS = (
    "meters are not needed",
    "a bare supply is cheaper and as good: the volts that count are at the radio's own terminals, by a hand meter",
)
"""What may be left out (common practice)."""

FANS = {
    "none": ("no fan", "silent in the room: leave air around it"),
    "with load": ("a fan that rests while little is drawn", "one that always runs is heard all evening: ask"),
    "always": ("a place away from the operator", "at this size the fan commonly always runs and is heard all evening"),
}
"""What to look for in the ear, by the habit of the fan (common practice)."""


def musts(case: Case) -> tuple[Must, ...]:
    """The must-have lines of every supply that is still to be bought."""
    return tuple(one for feed in case.feeds if not feed.owned and not feed.missing for one in _lines(feed))


def _lines(feed: Feed) -> tuple[Must, ...]:
    if feed.cell is not None:
        return _battery(feed, feed.cell)
    if feed.kind == BOOSTER:
        return _booster(feed)
    each = f"{feed.continuous / feed.counts:g} A continuous, {feed.peak / feed.counts:g} A while keyed"
    several = (
        f"{feed.parallel} alike that share the current by design, in their maker's own words",
        "supplies that do not share fight: one carries nearly all, and a failed one draws from the other",
    )
    rows = (
        *((several,) if feed.parallel > 1 else ()),
        *((FILTER,) if feed.technology == "switch-mode" else ()),
        (
            each,
            "the big number on the front is often the peak",
        ),
        (
            f"{feed.volts:g} V, fixed" if not feed.adjustable else f"{feed.volts:g} V, the knob locked or covered",
            "a knob turned by accident reaches every radio at once",
        ),
        (
            "over-voltage cut-off",
            "when the regulator fails, 18 V and more would reach every radio at once",
        ),
        (
            "current limit that survives a short circuit",
            f"a slip with a lead then ends at about {feed.limit:.0f} A instead of in smoke",
        ),
        (
            "red and black outlets that cannot be taken for each other",
            "a radio connected in reverse shorts its protective diode; only the fuse in its lead then saves the wiring",
        ),
        FANS.get(feed.fan, FANS["with load"]),
        METERS,
    )
    return tuple(Must(feed.id, what, why) for what, why in rows)


def _battery(feed: Feed, cell: Cell) -> tuple[Must, ...]:
    hours = f"{cell.chemistry.hours:g}-hour rate"
    rows = [
        (f"{cell.amp_hours:g} Ah at the {hours}", "the same battery is given more ampere-hours at a slower rate"),
        (
            f"{feed.continuous:g} A continuous and {feed.peak:g} A while keyed",
            "a smaller board cuts off at key-down, however full it is" if cell.board else "thin plates sag and age",
        ),
        ("a charger made for its kind", f"{cell.chemistry.title} wants other volts than its cousins"),
    ]
    if cell.board:
        rows.append(("a board that refuses to charge below freezing", "charging frozen lithium ruins it and may burn"))
    return tuple(Must(feed.id, what, why) for what, why in rows)


def _booster(feed: Feed) -> tuple[Must, ...]:
    rows = (
        (f"{feed.volts:g} V at {feed.peak:g} A while keyed", "the number on its front is often the input"),
        ("a cut-off that suits the battery", "10.5 V or more for lead-acid: a booster empties a battery without mercy"),
        ("quiet on the bands, or returnable", "a converter beside a receiver can be heard"),
    )
    return tuple(Must(feed.id, what, why) for what, why in rows)
