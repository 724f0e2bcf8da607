"""The cheapest filling of a group of coupled leads behind given sources.

Strips and shared leads are fixed one after another, best first. The leads to single loads then hardly depend on each
other: each takes the best of its own fillings as if the others lost nothing worth counting, and one look at all of
them together mostly confirms it; where it does not, the next best combinations follow in order.

Not tried: a worse lead to a load that draws less through it, so that a neighbour or a battery has more; and on a
battery a dearer shared lead bought for its resistance, so that less current flows into a short.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from engine.model.case import Case, Feed, Lead
from engine.model.operating import Demand, Operating
from engine.planning.candidates import Burden, Ready, Stream, fillings
from engine.planning.cost import ZERO, Cost, Option, add, letting_go, minus
from engine.planning.groups import Group
from engine.planning.judge import Counts, Judge, let_go, ohms
from engine.planning.places import Ohms, Place, Stock
from engine.planning.problem import Part
from engine.rules.book import NOTHING, LetGo

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
        seen = tuple(_shows(one) for case, _ in self._faces for one in case.feeds)
        self._known = judge.solutions.setdefault((group, seen), {})

    def __call__(self, leads: Mapping[str, Lead], batteries: bool = True) -> Counts:
        """The counts with some leads chosen and the others losing as little as the shelf allows.

        Without ``batteries`` those of the loads alone, which are had quickly.
        """
        views = [self._view(case, demand, leads) for case, demand in self._faces]
        key = (batteries, *(ohms(view, lead) for view in views for lead in view.case.leads))
        if key not in self._known:
            counts: Counts = {}
            for view in views:
                self.judge.loads(view, counts)
            for view in views if batteries else ():
                self.judge.batteries(view, counts)
            self._known[key] = counts
        return self._known[key]

    def _view(self, case: Case, demand: Demand, leads: Mapping[str, Lead]) -> Operating:
        filled = tuple(leads.get(one.id) or self.stoutest.get(one.id) or one for one in case.leads)
        return Operating(replace(case, leads=filled), demand)

    def ohms(self, lead: Lead) -> tuple[float, float]:
        """The resistance of a lead as it usually is and at its worst [Ω]."""
        case, demand = self._faces[0]
        return ohms(Operating(case, demand), lead)


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


@dataclass(frozen=True)
class Stem:
    """Strips and shared leads as far as they are chosen, what they cost, and what comes next."""

    chosen: Chosen
    cost: Cost
    stage: int


Best = tuple[Cost, dict[str, Part]]
Then = Callable[[], None]
MOST_BETTERING = 2_500
"""Times that the rules are asked for a better filling than one that is there; few searches come near it."""


class Coupled:
    """One search over one group behind given feeds."""

    def __init__(
        self, judge: Judge, group: Group, feeds: Chosen, stocks: Mapping[str, Stock], least: Mapping[str, Cost]
    ) -> None:
        self.judge, self.group, self.feeds, self.stocks, self.least = judge, group, feeds, stocks, least
        stoutest = {id_: lead for id_ in group.leads if (lead := stocks[id_].stoutest) is not None}
        self.solved = Solved(judge, group, feeds, stoutest)
        self.stages = [*group.hubs, *group.trunks]
        self._heap: list[tuple[Cost, int, Then]] = []
        self._tick = itertools.count()
        self._found: Best | None = None
        self._until = 0

    def bound(self) -> LetGo | None:
        """The least that any filling lets go of at loads and batteries; None where there is no filling."""
        if any(self.stocks[one].stoutest is None for one in self.group.leads):
            return None
        return let_go(self.solved({}))

    def best(self) -> Best | None:
        """The cheapest filling that nothing refuses, or None.

        Once there is one, the search for a better goes on for so long and no longer: ``MOST_BETTERING``.
        """
        if self.bound() is None or (self.stages and self._alone is None):
            return None
        self._stage(Stem(self.feeds, ZERO, 0))
        while self._heap:
            cost, _, then = heapq.heappop(self._heap)
            if self._found is not None and (cost >= self._found[0] or self.judge.work > self._until):
                return self._found
            then()
        return self._found

    def _offer(self, found: Best) -> None:
        """Keep a filling if it is the best so far."""
        if self._found is None:
            self._until = self.judge.work + MOST_BETTERING
        if self._found is None or found[0] < self._found[0]:
            self._found = found

    @cached_property
    def _alone(self) -> Cost | None:
        """The least that the single leads cost, every other lead at its stoutest; None where one cannot be filled.

        What stands before them is still open, so that no fuse is refused for a short that a shared lead would tame.
        """
        start = Stem(self.feeds, ZERO, 0)
        firsts = [
            Stream(fillings(self.stocks[one], self.stocks[one].free, self._burden(start, one))).at(0)
            for one in self.group.branches
        ]
        costs = [one.cost for one in firsts if one is not None]
        return add(ZERO, *costs) if len(costs) == len(firsts) else None

    def _push(self, cost: Cost, then: Then) -> None:
        heapq.heappush(self._heap, (cost, next(self._tick), then))

    def _least(self, ids: Sequence[str]) -> Cost:
        return add(ZERO, *(self.least[one] for one in ids if one in self.least))

    def _place(self, id_: str, chosen: Chosen) -> Place:
        return Place(self.judge, self.stocks[id_].lead, chosen)

    # -- strips and shared leads

    def _stage(self, stem: Stem) -> None:
        if stem.stage == len(self.stages):
            self._branches(stem)
            return
        self._sibling(stem, self._options(stem), 0)

    def _options(self, stem: Stem) -> Stream:
        id_ = self.stages[stem.stage]
        if id_ in self.group.hubs:
            hub = self.judge.case.hub[id_]
            return Stream(Ready([Option(ZERO, hub)] if hub.changes else self.judge.problem.hubs(hub)))
        return self._useful(id_, self._place(id_, stem.chosen))

    def _useful(self, id_: str, place: Place) -> Stream:
        """Of shared leads, those that lose less than every cheaper one: only these can help what lies beyond.

        Where a lead beyond has no fuse of its own, the shared fuse guards it too and its rating counts as well.
        """
        guards = any(one.lead.fuse_rating == 0 for one in self.stocks.values())
        least: dict[float | None, float] = {}

        def hope(at: Ohms) -> bool:
            return guards or at[1] < least.get(None, math.inf) - 1e-12

        def useful(lead: Lead) -> bool:
            key, lost = lead.fuse_rating if guards else None, self.solved.ohms(lead)[1]
            if lost >= least.get(key, math.inf) - 1e-12:
                return False
            least[key] = lost
            return True

        return Stream(fillings(self.stocks[id_], place, hope=hope), useful)

    def _sibling(self, stem: Stem, options: Stream, index: int) -> None:
        """Offer option ``index`` of a stage, and the next one when this one has had its turn."""
        bound = options.bound(index)
        if bound is None:
            return

        def weigh() -> None:
            option = options.at(index, bound)
            if option is None:
                self._sibling(stem, options, index)
                return
            self._sibling(stem, options, index + 1)
            chosen = {**stem.chosen, self.stages[stem.stage]: option.item}
            child = Stem(chosen, add(stem.cost, option.cost), stem.stage + 1)
            ahead = self._ahead(child, child.stage)
            if ahead is not None:
                self._push(add(child.cost, ahead), lambda: self._stage(child))

        ahead = self._ahead(stem, stem.stage + 1)
        if ahead is not None:
            self._push(add(stem.cost, bound, ahead), weigh)

    def _ahead(self, stem: Stem, stage: int) -> Cost | None:
        """The least that is still to come: by what the loads see at best, or by what each single lead costs at best."""
        counts = self.solved(_leads(stem.chosen))
        steps = let_go(counts)
        fused = self._fused(stem) if stem.stage == len(self.stages) else ZERO
        if steps is None or fused is None:
            return None
        shared = add(self._least(self.stages[stage:]), fused)
        seen = add(shared, self._least(self.group.branches), letting_go(steps))
        return max(seen, add(shared, self._alone or ZERO, letting_go(self._beside(stem))))

    def _fused(self, stem: Stem) -> Cost | None:
        """What fuses let go of because of what stands before them: a short behind a stout shared lead is a hard one."""
        total = ZERO
        for one in self.group.branches:
            stock = self.stocks[one]
            if stock.open:
                here, anywhere = stock.fuse_least(self._place(one, stem.chosen)), stock.fuse_least(stock.free)
                if here is None or anywhere is None:
                    return None
                total = add(total, letting_go(here), minus(letting_go(anywhere)))
        return total

    # -- leads to single loads

    def _branches(self, stem: Stem) -> None:
        """Offer the leads to single loads, each by itself at its best, and then whatever is next best together."""
        ids = self.group.branches
        burdens = [self._burden(stem, one) for one in ids]
        lists = [
            Stream(fillings(self.stocks[one], self._place(one, stem.chosen), burden))
            for one, burden in zip(ids, burdens, strict=True)
        ]
        shared = letting_go(self._beside(stem))
        seen: set[tuple[int, ...]] = set()

        def offer(indices: tuple[int, ...]) -> None:
            if indices not in seen:
                seen.add(indices)
                again(indices)

        def again(indices: tuple[int, ...]) -> None:
            bounds = [made.bound(index) for made, index in zip(lists, indices, strict=True)]
            if all(one is not None for one in bounds):
                known = [one for one in bounds if one is not None]
                self._push(add(stem.cost, shared, *known), lambda: make(indices, list(known)))

        def make(indices: tuple[int, ...], bounds: list[Cost | None]) -> None:
            options = [made.at(index, most) for made, index, most in zip(lists, indices, bounds, strict=True)]
            if all(one is not None for one in options):
                then(indices, [one for one in options if one is not None])
            else:
                again(indices)

        def then(indices: tuple[int, ...], options: list[Option[Lead]]) -> None:
            cost = add(stem.cost, shared, *(one.cost for one in options))
            true = self._together(stem, options, burdens, cost, shared)
            if true is not None:
                self._offer((true, {**stem.chosen, **{one.item.id: one.item for one in options}}))
            if true is None or true > cost:
                for place in range(len(indices)):
                    offer((*indices[:place], indices[place] + 1, *indices[place + 1 :]))

        start = (0,) * len(ids)
        seen.add(start)
        if self._found is None and all(made.at(0) is not None for made in lists):
            make(start, [None] * len(ids))
        else:
            again(start)

    def _together(
        self, stem: Stem, options: list[Option[Lead]], burdens: list[Burden], cost: Cost, shared: Cost
    ) -> Cost | None:
        """The true cost of a combination, from what it would cost if its leads knew nothing of each other."""
        leads = {one.item.id: one.item for one in options}
        steps = let_go(self.solved({**_leads(stem.chosen), **leads}))
        if steps is None:
            return None
        alone = [
            letting_go(burden(self.solved.ohms(one.item), lambda one=one: one.item) or NOTHING)  # type: ignore[misc]
            for burden, one in zip(burdens, options, strict=True)
        ]
        return add(cost, letting_go(steps), minus(shared), *(minus(one) for one in alone))

    def _beside(self, stem: Stem) -> LetGo:
        """What is let go of beside the loads at the ends of single leads, at the least."""
        if len(self.group.branches) == 1:
            return NOTHING
        ends = {self.stocks[one].lead.end for one in self.group.branches}
        counts = self.solved(_leads(stem.chosen))
        return let_go({key: count for key, count in counts.items() if key[1] not in ends}) or NOTHING

    def _burden(self, stem: Stem, id_: str) -> Burden:
        """What a lead lets go of at its own load, while the other leads lose as little as they can.

        Less resistance never lets go of more: between two leads that let go of the same, every other does too.
        """
        fixed, known = _leads(stem.chosen), list[tuple[Ohms, LetGo | None]]()
        end = None if len(self.group.branches) == 1 else self.stocks[id_].lead.end

        def burden(here: Ohms, lead: Callable[[], Lead]) -> LetGo | None:
            below = [steps for at, steps in known if at[0] <= here[0] and at[1] <= here[1]]
            if None in below:
                return None
            for at, steps in known:
                if steps is not None and at[0] >= here[0] and at[1] >= here[1] and (steps in below or not any(steps)):
                    return steps
            counts = self.solved({**fixed, id_: lead()}, batteries=end is None)
            steps = let_go({key: count for key, count in counts.items() if end in (None, key[1])})
            known.append((here, steps))
            return steps

        return burden


def _leads(chosen: Chosen) -> dict[str, Lead]:
    return {key: part for key, part in chosen.items() if isinstance(part, Lead)}
