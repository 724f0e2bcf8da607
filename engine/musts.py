"""What the supply that is bought must have, and why: the lines to look for on its label and in its manual."""

from __future__ import annotations

from dataclasses import dataclass

from engine.case import Case, Feed


@dataclass(frozen=True)
class Must:
    """One property of a supply that is not to be traded away."""

    about: str
    what: str
    why: str


def musts(case: Case) -> tuple[Must, ...]:
    """The must-have lines of every supply that is still to be bought."""
    return tuple(one for feed in case.feeds if not feed.owned and not feed.missing for one in _lines(feed))


def _lines(feed: Feed) -> tuple[Must, ...]:
    each = f"{feed.continuous / feed.counts:g} A continuous, {feed.peak / feed.counts:g} A while keyed"
    several = (
        f"{feed.parallel} alike that share the current by design, in their maker's own words",
        "supplies that do not share fight: one carries nearly all, and a failed one draws from the other",
    )
    rows = (
        *((several,) if feed.parallel > 1 else ()),
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
    )
    return tuple(Must(feed.id, what, why) for what, why in rows)
