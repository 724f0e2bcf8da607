"""The cable and fuse of each battery of a bank: the cheapest that the rules on leads accept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cached_property

from engine.model.assumptions import Notebook
from engine.model.banks import with_string
from engine.model.branches import placed, string_case
from engine.model.case import Feed, Lead
from engine.model.complete import lead_of
from engine.model.layout import free
from engine.model.operating import Demand
from engine.planning.cost import Cost, Option, add, letting_go, margins
from engine.planning.judge import Judge, let_go
from engine.planning.problem import Problem, put
from engine.rules.book import NOTHING
from engine.station.model import Run
from engine.terms import Serves


class Wiring:
    """Finds the cable of each bank of one problem; it depends on what the loads draw, and on no lead to them.

    ``fill`` finds the best lead of a small station that has but one, and its cost.
    """

    def __init__(self, problem: Problem, fill: Callable[[Problem], tuple[Lead, Cost] | None]) -> None:
        self.problem, self.fill = problem, fill

    def options(self, feed: Feed) -> list[Option[Feed]]:
        """What may stand at a source; a bank that is to be chosen or wired with its cables, cheapest first."""
        options = self.problem.feeds(feed)
        if feed.id not in self.problem.open:
            return options
        made = (self.wired(one) if one.item.is_bank else one for one in options)
        return sorted((one for one in made if one), key=lambda one: (one.cost, one.item.title))

    @cached_property
    def _judge(self) -> Judge:
        return Judge(self.problem)

    @cached_property
    def _demands(self) -> list[Demand]:
        return [Demand(face) for face in self.problem.case.faces]

    def wired(self, option: Option[Feed]) -> Option[Feed] | None:
        """A bank with its cables, at the cost of all of them; None where no cable and fuse on the shelf would do."""
        feed, problem = option.item, self.problem
        if let_go(self._judge.sources(put(self._judge.case, feed))) is None:
            return None
        top = max(one.worst_peak(feed.id)[0] for one in self._demands)
        string = feed.string or self._empty(feed)
        case = string_case(problem.case, feed, string, top)
        small = Problem(problem.station, case, problem.shelf)
        small.__dict__["shop"] = problem.shop
        found = self.fill(small)
        if found is None:
            return None
        lead, cost = found
        made = with_string(feed, lead_back(lead, string), problem.case.limits)
        return Option(add(option.cost, _times(cost, feed.parallel)), made)

    def _empty(self, feed: Feed) -> Lead:
        """The cable of a bank of which nothing is said."""
        station = self.problem.station
        there = (one for one in station.runs if one.serves == Serves.STRING and one.end == feed.id)
        run = next(there, None) or Run(free(f"{feed.id}-string", station), None, feed.id, serves=Serves.STRING)
        book = Notebook()
        return lead_of(placed(run, book), station, self.problem.shelf, self.problem.case.place, ((), set()), book)


def lead_back(lead: Lead, string: Lead) -> Lead:
    """A lead out of its small station, ending where it ends in the whole one."""
    return replace(lead, end=string.end, start=string.start)


def _times(cost: Cost, count: int) -> Cost:
    """The price of ``count`` leads; a margin that is let go of counts once, for they are all alike."""
    prices = cost[len(NOTHING) :]
    return add(letting_go(margins(cost)), (*NOTHING, *(count * one for one in prices)))
