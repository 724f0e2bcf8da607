"""What changes between two stations: parts, currents, volts, findings that appear or vanish, and the cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from engine.findings import SOUND
from engine.model.bill import describe, feed_text
from engine.model.operating import SAGGING
from engine.rules.check import Verdict

STAYS, CHANGES, COMES, GOES = "stays", "changes", "comes", "goes"


@dataclass(frozen=True)
class Change:
    """One difference: what kind of thing, which, whether it stays, changes, comes or goes, and both sides."""

    kind: str
    about: str
    how: str
    before: str
    after: str


def compare(before: Verdict, after: Verdict) -> tuple[Change, ...]:
    """Every difference between two judged stations, parts that stay included."""
    return (
        *_sides("part", _parts(before), _parts(after)),
        *_sides("volts", _volts(before), _volts(after)),
        *_sides("current", _amps(before), _amps(after)),
        *_sides("finding", _findings(before), _findings(after)),
        *_sides("cost", _cost(before), _cost(after)),
    )


def _sides(kind: str, before: Mapping[str, str], after: Mapping[str, str]) -> Iterator[Change]:
    for key in dict.fromkeys((*before, *after)):
        old, new = before.get(key, ""), after.get(key, "")
        how = STAYS if old == new else CHANGES if old and new else COMES if new else GOES
        yield Change(kind, key, how, old, new)


def _parts(verdict: Verdict) -> dict[str, str]:
    case = verdict.case
    found = {one.id: one.title for one in case.draws}
    found |= {one.id: feed_text(one) for one in case.feeds}
    found |= {one.id: one.title for one in case.hubs}
    return found | {one.id: describe(one) for one in case.leads}


def _volts(verdict: Verdict) -> dict[str, str]:
    return {one.id: f"{one.lowest:.2f} V at worst" for one in verdict.terminals if one.lowest is not None}


def _amps(verdict: Verdict) -> dict[str, str]:
    demand = verdict.operating.demand
    found = {}
    for feed in verdict.case.feeds:
        most, state = demand.worst_peak(feed.id)
        points = [verdict.operating.point(one, SAGGING) for one in verdict.operating.states]
        solved = max((one.amps.get(feed.terminals, 0.0) for one in points if one.fed), default=most)
        found[feed.id] = f"{max(most, solved):.1f} A at once ({state.name})"
    return found


def _findings(verdict: Verdict) -> dict[str, str]:
    return {f"{one.rule} {one.about}": f"{one.outcome}: {one.says}" for one in verdict.findings if one.outcome != SOUND}


def _cost(verdict: Verdict) -> dict[str, str]:
    low, high = sum(one.low for one in verdict.items), sum(one.high for one in verdict.items)
    return {"to buy": f"about {(low + high) / 2:.0f} ({low:.0f} to {high:.0f})"}
