"""How far each choice carries: the longest lead, the lowest set point, the hottest air, the room for another load.

Each quantity is moved from its easiest end towards its hardest, the same rules judge every step, and the first new
finding bounds it. Steps are coarse first and then halved, so that a rule that eases again further on is not passed
over. What is broken even at the easiest end is left out: it is not this quantity's to mend.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from engine.findings import UNSOUND, Finding
from engine.model.case import Case, Draw, Lead
from engine.model.operating import STEADY_CURRENT
from engine.parts import Span
from engine.physics.numeric import bisect
from engine.rules import book
from engine.terms import Group, PowerInput

SHORTEST, LONGEST = 0.05, 60.0
"""Lengths looked through [m]."""

HOTTEST = 120.0
"""Highest air looked through [°C]."""

MOST_AMPS = 200.0
"""Largest further load looked through [A]."""

LOWEST_SHARE = 0.6
"""Lowest set point looked through, as a share of today's."""

STEPS, HALVINGS = 24, 14
MORE = "another-load"

LENGTH, SET_POINT, AIR, ROOM = "longest lead", "lowest set point", "hottest air", "room for another load"


@dataclass(frozen=True)
class Limit:
    """Where a quantity must stop: the last value that holds, and the finding just beyond it."""

    value: float
    finding: Finding


@dataclass(frozen=True)
class Reach:
    """How far one quantity of one part goes: ``now``, and its two limits in ``unit``.

    ``keeps`` is where a rule that a plan keeps first breaks, margins included; ``holds`` is where something first
    turns unsound. None: neither up to ``end``.
    """

    about: str
    what: str
    unit: str
    now: float
    keeps: Limit | None
    holds: Limit | None
    end: float


Change = Callable[[float], Case]
Refuses = Callable[[Finding], bool]


def reach(case: Case) -> tuple[Reach, ...]:
    """How far everything in ``case`` goes; parts with gaps are left out."""
    found = [longest(case, lead.id) for lead in case.leads if not lead.missing]
    for feed in case.feeds:
        if not feed.missing and case.served.get(feed.id):
            found += [lowest(case, feed.id)] if feed.from_mains else []
            found.append(room(case, feed.id))
    found += [room(case, hub.id) for hub in case.hubs if hub.strip and case.served.get(hub.id)]
    if found and not any(lead.missing for lead in case.leads):
        found.append(hottest(case))
    return tuple(found)


def longest(case: Case, id_: str) -> Reach:
    """The longest that a lead may be [m], one way; the lead that came with the load keeps its own length."""
    lead = next(one for one in case.leads if one.id == id_)
    start = max(SHORTEST, lead.tail.length if lead.tail else 0.0)

    def change(metres: float) -> Case:
        return _with(case, replace(lead, length=metres))

    return _made(id_, LENGTH, "m", lead.length, change, start, LONGEST)


def lowest(case: Case, id_: str) -> Reach:
    """The lowest that a source may be set [V], its tolerance and sag as they are."""
    feed = case.feed[id_]

    def change(volts: float) -> Case:
        feeds = (replace(one, volts=volts, lowest=min(one.lowest, volts)) if one is feed else one for one in case.feeds)
        return replace(case, feeds=tuple(feeds))

    return _made(id_, SET_POINT, "V", feed.volts, change, feed.volts, LOWEST_SHARE * feed.volts)


def hottest(case: Case) -> Reach:
    """The hottest that the air around the cables may be [°C], where a lead has no air of its own."""

    def change(celsius: float) -> Case:
        leads = (replace(one, ambient=celsius) if one.ambient == case.place.hottest else one for one in case.leads)
        return replace(case, leads=tuple(leads), place=replace(case.place, hottest=celsius))

    return _made("site", AIR, "°C", case.place.hottest, change, case.place.coldest, HOTTEST)


def room(case: Case, id_: str) -> Reach:
    """How much more current [A] may be drawn at a source or strip, by something that draws it all the time."""
    first = case.leads[0]

    def change(amps: float) -> Case:
        more = _more(case.draws[0], amps)
        lead = Lead(
            MORE, id_, MORE, SHORTEST, None, first.insulation, first.ambient, 2, None, None, 0.0, None
        )  # fmt: skip
        return replace(case, draws=(*case.draws, more), leads=(*case.leads, lead))

    return _made(id_, ROOM, "A", 0.0, change, 0.0, MOST_AMPS)


def _more(like: Draw, amps: float) -> Draw:
    span = Span.exactly(amps)
    return replace(
        like, id=MORE, title=MORE, feed=PowerInput.DC, group=Group.ACCESSORY, lowest=0.0, highest=1000.0,
        follows=STEADY_CURRENT, rest=0.0, receive=span, transmit=None, busy=span, keyed=0.0, fuse=None, lead=None,
        own_fuse_given=False, class_fuse=None, missing=(), inlets=("",),
    )  # fmt: skip


def _with(case: Case, lead: Lead) -> Case:
    return replace(case, leads=tuple(lead if one.id == lead.id else one for one in case.leads))


def _made(about: str, what: str, unit: str, now: float, change: Change, start: float, end: float) -> Reach:
    walk = _Walk(change, start, end)
    keeps = walk.first(lambda one: not book.kept(one))
    holds = walk.first(lambda one: one.outcome == UNSOUND)
    return Reach(about, what, unit, now, keeps, holds, end)


class _Walk:
    """One quantity moved from its easiest to its hardest end; every judgement is kept."""

    def __init__(self, change: Change, start: float, end: float) -> None:
        self.change, self.start, self.end = change, start, end
        self._known: dict[float, Sequence[Finding]] = {}

    def first(self, refuses: Refuses) -> Limit | None:
        """Where something is first refused that is not refused at the start; None where nothing is."""
        already = {(one.rule, one.about) for one in self._at(0.0) if refuses(one)}

        def broken(share: float) -> Finding | None:
            fresh = (one for one in self._at(share) if refuses(one) and (one.rule, one.about) not in already)
            return next((one for one in fresh if one.about != MORE), None)

        good = 0.0
        for step in range(1, STEPS + 1):
            share = (step / STEPS) ** 2
            if broken(share):
                return self._between(broken, good, share)
            good = share
        return None

    def _between(self, broken: Callable[[float], Finding | None], good: float, bad: float) -> Limit | None:
        good, bad = bisect(lambda share: broken(share) is None, good, bad, HALVINGS)
        worse = broken(bad)
        return Limit(self.value(good), worse) if worse else None

    def value(self, share: float) -> float:
        """The quantity at a share of the way."""
        return self.start + share * (self.end - self.start)

    def _at(self, share: float) -> Sequence[Finding]:
        if share not in self._known:
            self._known[share] = book.judged(self.change(self.value(share)))
        return self._known[share]


def data(one: Reach) -> dict[str, object]:
    """One reach as plain data."""
    return {
        "about": one.about,
        "what": one.what,
        "unit": one.unit,
        "now": round(one.now, 6),
        "keeps": _limit(one.keeps),
        "holds": _limit(one.holds),
        "end": one.end,
    }


def _limit(one: Limit | None) -> dict[str, object] | None:
    if one is None:
        return None
    return {
        "value": round(one.value, 6),
        "rule": one.finding.rule,
        "about": one.finding.about,
        "says": one.finding.says,
    }
