"""Which leads are coupled: those that share a resistance on the way from their source.

A supply that holds its set point has no resistance of its own, so the leads on its posts know nothing of each other;
leads on one strip, on a battery or behind a changeover do.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from engine.model.case import Case, Lead


@dataclass(frozen=True)
class Group:
    """Coupled parts, by id: feeds, hubs, shared leads (each after the one before it), leads to single loads."""

    feeds: tuple[str, ...]
    hubs: tuple[str, ...]
    trunks: tuple[str, ...]
    branches: tuple[str, ...]

    @property
    def leads(self) -> tuple[str, ...]:
        """All its leads."""
        return (*self.trunks, *self.branches)


def groups(case: Case) -> tuple[Group, ...]:
    """The groups of a case; every lead is in one of them."""
    knots: dict[str, str] = {}
    for lead in case.leads:
        for end in (lead.start, lead.end):
            if end in case.hub or (end in case.feed and not case.feed[end].is_regulated):
                _tie(knots, lead.id, f"at {end}")
    tied: dict[str, list[Lead]] = defaultdict(list)
    for lead in _outward(case):
        tied[_root(knots, lead.id)].append(lead)
    return tuple(_group(case, leads) for leads in tied.values())


def _root(knots: dict[str, str], name: str) -> str:
    while name in knots:
        name = knots[name]
    return name


def _tie(knots: dict[str, str], one: str, other: str) -> None:
    first, second = _root(knots, one), _root(knots, other)
    if first != second:
        knots[first] = second


def _outward(case: Case) -> list[Lead]:
    """All leads, each after the leads that feed it; what nothing feeds comes last."""
    order: list[Lead] = []
    fresh = set(case.feed)
    while fresh:
        step = [one for one in case.leads if one.start in fresh and one not in order]
        order += step
        fresh = {one.end for one in step}
    return order + [one for one in case.leads if one not in order]


def _group(case: Case, leads: list[Lead]) -> Group:
    ends = {end for one in leads for end in (one.start, one.end)}
    return Group(
        tuple(one.id for one in case.feeds if any(lead.start == one.id for lead in leads)),
        tuple(one.id for one in case.hubs if one.id in ends),
        tuple(one.id for one in leads if one.end in case.hub),
        tuple(one.id for one in leads if one.end not in case.hub),
    )
