"""What the loads and batteries of coupled leads see: solved once for each set of resistances."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from engine.model.case import Case, Feed, Lead
from engine.model.operating import Demand, Operating
from engine.planning.groups import Group
from engine.planning.judge import Counts, Judge, ohms
from engine.planning.places import Ohms
from engine.planning.problem import Part

Chosen = Mapping[str, Part]


class Solved:
    """What the loads and batteries of a group see, solved once for each set of resistances."""

    def __init__(self, judge: Judge, group: Group, feeds: Chosen, stoutest: Mapping[str, Lead]) -> None:
        self.judge, self.group, self.stoutest = judge, group, stoutest
        self._faces = [
            (_restricted(face, group, feeds), demand)
            for face, demand in zip(judge.faces, judge.demands, strict=True)
            if any(one.id in group.leads for one in face.leads)
        ]
        self._ohms: dict[int, tuple[Lead, Ohms]] = {}
        seen = tuple(_shows(one) for case, _ in self._faces for one in case.feeds)
        self._known = judge.solutions.setdefault((group, seen), {})

    def __call__(self, leads: Mapping[str, Lead], batteries: bool = True) -> Counts:
        """The counts with some leads chosen and the others losing as little as the shelf allows.

        Without ``batteries`` those of the loads alone, which are had quickly.
        """
        filled = [leads.get(one) or self.stoutest[one] for one in self.group.leads]
        key = (batteries, *map(self.ohms, filled))
        if key not in self._known:
            counts: Counts = {}
            views = [self._view(case, demand, leads) for case, demand in self._faces]
            for view in views:
                self.judge.loads(view, counts)
            for view in views if batteries else ():
                self.judge.batteries(view, counts)
            self._known[key] = counts
        return self._known[key]

    def _view(self, case: Case, demand: Demand, leads: Mapping[str, Lead]) -> Operating:
        filled = tuple(leads.get(one.id) or self.stoutest.get(one.id) or one for one in case.leads)
        return Operating(replace(case, leads=filled), demand)

    def ohms(self, lead: Lead) -> Ohms:
        """The resistance of a lead as it usually is and at its worst [Ω]."""
        known = self._ohms.get(id(lead))
        if known is None or known[0] is not lead:
            case, demand = next(pair for pair in self._faces if any(one.id == lead.id for one in pair[0].leads))
            known = self._ohms[id(lead)] = lead, ohms(Operating(case, demand), lead)
        return known[1]


def _shows(feed: Feed) -> object:
    """What tells one source from another for what hangs on it: a supply that holds its set point, by its volts."""
    return (feed.volts, feed.tolerance, feed.regulation) if feed.is_regulated else id(feed)


def _restricted(face: Case, group: Group, feeds: Chosen) -> Case:
    """A face with nothing in it but one group, and the boosters that draw from it."""
    ids = set(group.leads)
    leads = tuple(one for one in face.leads if one.id in ids)
    ends = {one.end for one in leads}
    sources: Any = tuple(feeds.get(one.id, one) for one in face.feeds if one.id in group.feeds or one.id in ends)
    return replace(face, leads=leads, feeds=sources, draws=tuple(one for one in face.draws if one.id in ends))
