"""Where each load's voltage really moves, at its own terminals, against its window."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.model.operating import RESTING, SAGGING, USUAL, Condition, Operating
from engine.terms import PowerInput


@dataclass(frozen=True)
class Terminal:
    """One load's volts: the window, and the lowest, expected and highest it will see. None where not known."""

    id: str
    window: tuple[float, float] | None
    lowest: float | None
    expected: float | None
    highest: float | None
    state: str


def terminals(operating: Operating) -> tuple[Terminal, ...]:
    """The volts of every load that takes direct current.

    ``lowest`` is the worst state with the source sagging, ``expected`` the same state with everything usual, and
    ``highest`` what the source may show with nothing drawn.
    """
    return tuple(_terminal(operating, one.id) for one in operating.case.draws if one.feed == PowerInput.DC)


def worst_of(faces: Sequence[Operating]) -> tuple[Terminal, ...]:
    """The volts of every load over the sources that a changeover chooses from: the lowest, and the highest."""
    found: dict[str, Terminal] = {}
    for one in (one for operating in faces for one in terminals(operating)):
        found[one.id] = _both(found[one.id], one) if one.id in found else one
    return tuple(found.values())


def _both(one: Terminal, other: Terminal) -> Terminal:
    if one.lowest is None or other.lowest is None or one.highest is None or other.highest is None:
        return one if one.lowest is None else other
    worse = one if one.lowest <= other.lowest else other
    return replace(worse, highest=max(one.highest, other.highest))


def _terminal(operating: Operating, id_: str) -> Terminal:
    draw = operating.case.draw[id_]
    window = None if "window" in draw.missing else (draw.lowest, draw.highest)
    feed = operating.case.source_of(id_)
    open_ = feed is None or bool(feed.missing) or any(lead.conductor is None for lead in operating.case.path(id_))
    if open_ or feed is None:
        return Terminal(id_, window, None, None, None, "")
    states = [one for one in operating.states if one.name != RESTING]
    found = [(_volts(operating, id_, one.name, SAGGING), one) for one in states]
    known = [(volts, state) for volts, state in found if volts is not None]
    if len(known) < len(found):
        return Terminal(id_, window, None, None, None, "cannot be fed")
    lowest, state = min(known, key=lambda pair: pair[0])
    expected = _volts(operating, id_, state.name, USUAL)
    return Terminal(id_, window, lowest, expected, feed.highest_volts, state.name)


def _volts(operating: Operating, id_: str, state: str, condition: Condition) -> float | None:
    found = next(one for one in operating.states if one.name == state)
    point = operating.point(found, condition)
    return point.volts.get(id_) if point.fed else None
