"""The longest lead of the same cable with which the volts still keep their margins; ``reach`` asks every rule."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.findings import SOUND
from engine.model.case import Case, Draw, Lead
from engine.model.operating import Operating
from engine.physics.numeric import bisect
from engine.rules import volts
from engine.terms import PowerInput

FARTHEST, STEPS = 30.0, 12
"""Longest lead looked at [m], one way, and how often the range is halved: to less than a centimetre."""


@dataclass(frozen=True)
class Longest:
    """One lead: its length and the longest one-way length [m] that keeps the margins; 0 when none does."""

    id: str
    length: float
    longest: float


def reaches(operating: Operating) -> tuple[Longest, ...]:
    """The reach of every lead to a load that transmits, where everything on its way is known."""
    case = operating.case
    keyed = [one for one in case.draws if one.is_keyed and one.id in case.into]
    return tuple(_reach(operating, one, case.into[one.id]) for one in keyed if _known(case, one))


def _known(case: Case, draw: Draw) -> bool:
    feed = case.source_of(draw.id)
    open_ = feed is None or feed.missing or draw.missing or any(lead.missing for lead in case.path(draw.id))
    return draw.feed == PowerInput.DC and not open_


def _reach(operating: Operating, draw: Draw, lead: Lead) -> Longest:
    least = lead.tail.length if lead.tail else 0.0

    def keeps(length: float) -> bool:
        return _keeps(operating, draw, replace(lead, length=length))

    return Longest(lead.id, lead.length, _longest(keeps, least))


def _longest(keeps: Callable[[float], bool], low: float) -> float:
    """The longest length that ``keeps``, above ``low``; 0 when not even that does."""
    return bisect(keeps, low, FARTHEST, STEPS)[0] if keeps(low) else 0.0


def _keeps(operating: Operating, draw: Draw, lead: Lead) -> bool:
    """Whether ``draw`` still gets its volts with ``lead`` in the place of the one with its id."""
    leads = tuple(lead if one.id == lead.id else one for one in operating.case.leads)
    tried = Operating(replace(operating.case, leads=leads), operating.demand)
    answers = (volts.fed(tried, "station"), volts.floor(tried, draw), volts.drop(tried, draw))
    return all(one is not None and one.outcome == SOUND for one in answers)
