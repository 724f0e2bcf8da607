"""The exact search: of all fillings that the rules accept, the one that lets go of least, and then costs least.

Best first. A node fixes some gaps; its bound is what they cost, margins let go of included, and the least that the
rest can cost, so the first complete station that is taken up is the best there is. Once the sources are fixed, the
groups of leads that share no resistance (``groups``) are searched each by itself (``coupled``).
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from engine.model.case import Case, Feed, Lead
from engine.planning.candidates import cheapest
from engine.planning.cost import ZERO, Cost, Option, add, letting_go, minus
from engine.planning.coupled import Best, Coupled
from engine.planning.groups import Group, groups
from engine.planning.judge import MOST_WORK, Enough, Judge, Stop, let_go
from engine.planning.places import Stock
from engine.planning.problem import Part, Problem
from engine.planning.strings import Wiring
from engine.rules.book import LetGo

Chosen = dict[str, Part]
Queue = list[tuple[Cost, int, "Then"]]
Then = Callable[[], None]


@dataclass(frozen=True)
class Solution:
    """A filled case, what it costs, and the search that found it."""

    case: Case
    cost: Cost
    search: Search


class Search:
    """What is known of one problem while it is searched: what may stand where, and what was asked already."""

    def __init__(self, problem: Problem, stop: Stop | None = None, most: int = MOST_WORK, work: int = 0) -> None:
        self.problem = problem
        self.judge = Judge(problem, stop, most, work)
        self.groups = groups(problem.case)
        wiring = Wiring(problem, self._lone_lead)
        self.feeds = {one.id: wiring.options(one) for one in problem.case.feeds}
        self._stocks: dict[str, Stock] = {}
        self._coupled: dict[tuple[Group, tuple[int, ...]], Coupled] = {}
        self._best: dict[tuple[Group, tuple[int, ...]], Best | None] = {}

    @staticmethod
    def _lone_lead(problem: Problem) -> tuple[Lead, Cost] | None:
        """The best filling of the one lead of a small station, with its cost."""
        solution = Seeking([problem]).run()
        return (solution.case.leads[0], solution.cost) if solution else None

    def stock(self, id_: str) -> Stock:
        """What may fill the parts of a lead."""
        if id_ not in self._stocks:
            lead = next(one for one in self.judge.case.leads if one.id == id_)
            self._stocks[id_] = Stock(self.judge, lead, self.problem.parts(lead), id_ in self.problem.open)
        return self._stocks[id_]

    @cached_property
    def least(self) -> dict[str, Cost] | None:
        """The least that each strip and lead costs, whatever the sources; None where one of them cannot be filled."""
        least = {one: cheapest(self.stock(one)) for group in self.groups for one in group.leads}
        for hub in self.problem.case.hubs:
            offered = [] if hub.changes else self.problem.hubs(hub)
            least[hub.id] = offered[0].cost if offered else ZERO if hub.changes else None
        known = {key: cost for key, cost in least.items() if cost is not None}
        return known if len(known) == len(least) else None

    def coupled(self, group: Group, feeds: Sequence[Feed]) -> Coupled:
        """The search over a group behind given sources."""
        key = self._key(group, feeds)
        if key not in self._coupled:
            stocks = {one: self.stock(one) for one in group.leads}
            mine: Mapping[str, Part] = {one.id: one for one in feeds if one.id in group.feeds}
            self._coupled[key] = Coupled(self.judge, group, mine, stocks, self.least or {})
        return self._coupled[key]

    def best(self, group: Group, feeds: Sequence[Feed], limit: Cost | None = None) -> Best | None:
        """The best filling of a group behind given sources; None also where none costs less than ``limit``."""
        key = self._key(group, feeds)
        if key not in self._best:
            coupled = self.coupled(group, feeds)
            found = coupled.best(limit)
            if coupled.cut_off:
                del self._coupled[key]
                return None
            self._best[key] = found
        return self._best[key]

    @staticmethod
    def _key(group: Group, feeds: Sequence[Feed]) -> tuple[Group, tuple[int, ...]]:
        return group, tuple(id(one) for one in feeds if one.id in group.feeds)


class Sources:
    """The sources of one problem: every combination in rising order of price, and then what the rules say of it."""

    def __init__(self, search: Search, seeking: Seeking, push: Callable[[Cost, Then], None]) -> None:
        self.search, self.seeking, self.push = search, seeking, push
        self.lists = list(search.feeds.values())
        self.least = None if search.least is None else add(ZERO, *search.least.values())
        self._seen: set[tuple[int, ...]] = set()

    def start(self) -> None:
        """Offer the cheapest combination."""
        if self.least is not None and all(self.lists):
            self._offer((0,) * len(self.lists))

    def _offer(self, places: tuple[int, ...]) -> None:
        if places in self._seen or any(place >= len(some) for place, some in zip(places, self.lists, strict=True)):
            return
        self._seen.add(places)
        options = [some[place] for place, some in zip(places, self.lists, strict=True)]
        bound = add(self.search.problem.before, self.least or ZERO, *(one.cost for one in options))

        def weigh() -> None:
            for at in range(len(places)):
                self._offer((*places[:at], places[at] + 1, *places[at + 1 :]))
            self._weigh(options, bound)

        self.push(bound, weigh)

    def _weigh(self, options: Sequence[Option[Feed]], bound: Cost) -> None:
        """Ask what needs no lead of the sources: first of each alone, then of all together."""
        judge = self.search.judge
        feeds = tuple(one.item for one in options)
        for one in feeds if len(feeds) > 1 else ():
            alone = tuple(one if old.id == one.id else old for old in judge.case.feeds)
            if let_go(judge.sources(replace(judge.case, feeds=alone))) is None:
                return
        counts = judge.sources(replace(judge.case, feeds=feeds))
        steps = let_go(counts)
        if steps is not None:
            self.push(add(bound, letting_go(steps)), lambda: self._relax(options, feeds, bound, steps))

    def _relax(self, options: Sequence[Option[Feed]], feeds: tuple[Feed, ...], bound: Cost, steps: LetGo) -> None:
        """Ask what the loads would see at the very best."""
        beyond = [self.search.coupled(group, feeds).bound() for group in self.search.groups]
        if any(one is None for one in beyond):
            return
        cost = add(bound, letting_go(steps), *(letting_go(one) for one in beyond if one))
        self.push(cost, lambda: self._fill(options, feeds, steps))

    def _fill(self, options: Sequence[Option[Feed]], feeds: tuple[Feed, ...], steps: LetGo) -> None:
        """Fill every group of leads."""
        cost = add(self.search.problem.before, letting_go(steps), *(one.cost for one in options))
        chosen: Chosen = {one.id: one for one in feeds}
        for group in self.search.groups:
            most = self.seeking.found.cost if self.seeking.found else None
            best = self.search.best(group, feeds, add(most, minus(cost)) if most else None)
            if best is None:
                return
            cost, chosen = add(cost, best[0]), {**chosen, **best[1]}
        self._whole(chosen, cost)

    def _whole(self, chosen: Chosen, cost: Cost) -> None:
        """Ask everything once more of the whole station, and keep it if nothing is refused."""
        problem, judge = self.search.problem, self.search.judge
        case = filled(problem.case, chosen)
        if let_go(judge.whole(case)) is not None:
            self.seeking.keep(Solution(case, cost, self.search))


def filled(case: Case, chosen: Mapping[str, Part]) -> Case:
    """The case with every chosen part in its place."""

    def taken(parts: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(chosen.get(one.id, one) for one in parts)

    return replace(case, feeds=taken(case.feeds), hubs=taken(case.hubs), leads=taken(case.leads))


@dataclass
class Seeking:
    """One search over several problems at once, of which one is to be solved: by one changeover or another."""

    problems: Sequence[Problem]
    stop: Stop | None = None
    most: int = MOST_WORK
    searches: tuple[Search, ...] = ()
    gave_up: bool = False
    found: Solution | None = None

    def run(self) -> Solution | None:
        """The best filling, or None when there is none or the search gave up."""
        try:
            return self._run()
        except Enough:
            self.gave_up = self.found is None or (self.stop is not None and self.stop())
            return None if self.gave_up else self.found

    def keep(self, solution: Solution) -> None:
        """Hold a filling if it is the best so far."""
        if self.found is None or solution.cost < self.found.cost:
            self.found = solution

    @property
    def work(self) -> int:
        """How often the rules were asked."""
        return sum(one.judge.work for one in self.searches)

    def _run(self) -> Solution | None:
        queue: Queue = []
        tick = itertools.count()

        def push(cost: Cost, then: Then) -> None:
            heapq.heappush(queue, (cost, next(tick), then))

        for problem in self.problems:
            search = Search(problem, self.stop, self.most)
            self.searches = (*self.searches, search)
            Sources(search, self, push).start()
        while queue:
            cost, _, then = heapq.heappop(queue)
            if self.found is not None and cost >= self.found.cost:
                break
            then()
        return self.found
