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
from dataclasses import dataclass
from functools import cached_property

from engine.model.case import Lead
from engine.planning.candidates import Burden, Ready, Stream, fillings
from engine.planning.cost import ZERO, Cost, Option, add, letting_go, minus
from engine.planning.groups import Group
from engine.planning.judge import Judge, let_go
from engine.planning.places import Ohms, Place, Stock, plus, questions
from engine.planning.problem import Part
from engine.planning.solved import Chosen, Solved
from engine.rules.book import NOTHING, LetGo
from engine.rules.reads import WAY


@dataclass(frozen=True)
class Stem:
    """Strips and shared leads as far as they are chosen, what they cost, and what comes next."""

    chosen: Chosen
    cost: Cost
    stage: int


Best = tuple[Cost, dict[str, Part]]
Then = Callable[[], object]
LESS = 0.999
"""A shared lead that loses less than this share of a cheaper one is worth trying: a thousandth is nothing."""

MOST_BETTERING = 4_000
"""Times that the rules are asked for a better filling than one that is there; few searches come near it."""


class Coupled:
    """One search over one group behind given feeds."""

    def __init__(
        self, judge: Judge, group: Group, feeds: Chosen, stocks: Mapping[str, Stock], least: Mapping[str, Cost]
    ) -> None:
        self.judge, self.group, self.feeds, self.stocks, self.least = judge, group, feeds, stocks, least
        stoutest = {id_: lead for id_ in group.leads if (lead := stocks[id_].stoutest) is not None}
        self.solved = Solved(judge, group, feeds, stoutest)
        self.ways = [one for one in group.trunks if self._is_way(one)]
        self.stages = [*group.hubs, *(one for one in group.trunks if one not in self.ways)]
        self.branches = [*group.branches, *self.ways]
        self._heap: list[tuple[Cost, int, Then]] = []
        self._tick = itertools.count()
        self._streams: dict[object, Stream] = {}
        self._found: Best | None = None
        self._until = 0
        self.cut_off = False

    def _is_way(self, id_: str) -> bool:
        """Whether a shared lead goes from a supply that holds its set point to a changeover.

        On the other source such a lead is not there, so it is chosen like a lead to a single load, beside these.
        """
        lead, case = self.stocks[id_].lead, self.judge.case
        start = case.feed.get(lead.start)
        return case.hub[lead.end].changes and start is not None and start.is_regulated

    def bound(self) -> LetGo | None:
        """The least that any filling lets go of at loads and batteries; None where there is no filling."""
        if any(self.stocks[one].stoutest is None for one in self.group.leads):
            return None
        return let_go(self.solved({}))

    def best(self, limit: Cost | None = None) -> Best | None:
        """The cheapest filling that nothing refuses, or None.

        Once there is one, the search for a better goes on for so long and no longer: ``MOST_BETTERING``. What costs
        ``limit`` or more is of no use: the search ends there, ``cut_off``, and is not to be gone on with.
        """
        if self.bound() is None or (self.stages and self._alone is None):
            return None
        self._stage(Stem(self.feeds, ZERO, 0))
        while self._heap:
            cost, _, then = heapq.heappop(self._heap)
            if limit is not None and cost >= limit and (self._found is None or cost < self._found[0]):
                self.cut_off = True
                return None
            if self._found is not None and (cost >= self._found[0] or self.judge.work > self._until):
                return self._found
            self.judge.spend()
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
            for one in self.branches
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
        ahead = self._ahead(stem, stem.stage + 1)
        if ahead is not None:
            self._sibling(stem, self._options(stem), 0, ahead)

    def _options(self, stem: Stem) -> Stream:
        id_ = self.stages[stem.stage]
        if id_ in self.group.hubs:
            hub = self.judge.case.hub[id_]
            return Stream(Ready([Option(ZERO, hub)] if hub.changes else self.judge.problem.hubs(hub)))
        place = self._place(id_, stem.chosen)
        key = (id_, place.keys[WAY])
        if key not in self._streams:
            self._streams[key] = self._useful(id_, place)
        return self._streams[key]

    def _useful(self, id_: str, place: Place) -> Stream:
        """Of shared leads, those that lose less than every cheaper one: only these can help what lies beyond.

        Where a lead beyond has no fuse of its own, the shared fuse guards it too and its rating counts as well.
        """
        guards = any(one.lead.fuse_rating == 0 for one in self.stocks.values())
        least: dict[float | None, float] = {}

        def hope(at: Ohms) -> bool:
            return guards or at[1] < least.get(None, math.inf) * LESS

        def useful(lead: Lead) -> bool:
            key, lost = lead.fuse_rating if guards else None, self.solved.ohms(lead)[1]
            if lost >= least.get(key, math.inf) * LESS:
                return False
            least[key] = lost
            return True

        return Stream(fillings(self.stocks[id_], place, hope=hope), useful)

    def _sibling(self, stem: Stem, options: Stream, index: int, ahead: Cost) -> None:
        """Offer option ``index`` of a stage, and the next one when this one has had its turn."""
        bound = options.bound(index)
        if bound is None:
            return

        def weigh() -> None:
            option = options.at(index, bound)
            if option is None:
                self._sibling(stem, options, index, ahead)
                return
            self._sibling(stem, options, index + 1, ahead)
            chosen = {**stem.chosen, self.stages[stem.stage]: option.item}
            child = Stem(chosen, add(stem.cost, option.cost), stem.stage + 1)
            rest = self._ahead(child, child.stage)
            if rest is not None:
                self._push(add(child.cost, rest), lambda: self._stage(child))

        self._push(add(stem.cost, bound, ahead), weigh)

    def _ahead(self, stem: Stem, stage: int) -> Cost | None:
        """The least that is still to come: by what the loads see at best, or by what each single lead costs at best."""
        steps = let_go(self.solved(_leads(stem.chosen), batteries=False))
        fused = self._fused(stem) if stem.stage == len(self.stages) else ZERO
        if steps is None or fused is None:
            return None
        shared = add(self._least(self.stages[stage:]), fused, letting_go(self._beside))
        seen = add(shared, self._least(self.branches), letting_go(steps))
        return max(seen, add(shared, self._alone or ZERO))

    def _fused(self, stem: Stem) -> Cost | None:
        """What fuses let go of because of what stands before them: a short behind a stout shared lead is a hard one."""
        total = ZERO
        for one in self.branches:
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
        ids = self.branches
        burdens = [self._burden(stem, one) for one in ids]
        lists = [
            Stream(fillings(self.stocks[one], self._place(one, stem.chosen), burden))
            for one, burden in zip(ids, burdens, strict=True)
        ]
        shared = letting_go(self._beside)
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
        """The cost of a combination as far as the loads tell it; if that is its bound, what the battery says as well.

        Whole and unrefused, it is offered as a filling.
        """
        chosen = {**stem.chosen, **{one.item.id: one.item for one in options}}
        alone = [
            letting_go(burden(self.solved.ohms(one.item), lambda one=one: one.item) or NOTHING)  # type: ignore[misc]
            for burden, one in zip(burdens, options, strict=True)
        ]
        bare = add(cost, minus(shared), *(minus(one) for one in alone))
        steps, more = self._loads(chosen), self._behind_ways(stem, chosen)
        if steps is None or more is None:
            return None
        seen = add(bare, letting_go(steps), letting_go(more), shared)
        if seen <= cost:
            return self._finish(chosen, add(bare, letting_go(more)))
        self._push(seen, lambda: self._finish(chosen, add(bare, letting_go(more))))
        if self._found is None:
            self._finish(chosen, add(bare, letting_go(more)))
        return seen

    def _loads(self, chosen: Chosen) -> LetGo | None:
        """What is let go of at the ends of leads."""
        if self._lone:
            return let_go(self.solved(_leads(chosen)))
        counts = self.solved(_leads(chosen), batteries=False)
        ends = {self.stocks[one].lead.end for one in self.branches}
        return None if let_go(counts) is None else let_go({k: count for k, count in counts.items() if k[1] in ends})

    def _finish(self, chosen: dict[str, Part], bare: Cost) -> Cost | None:
        """Offer a whole filling at its true cost; ``bare`` is that without what loads and batteries let go of."""
        steps = let_go(self.solved(_leads(chosen)))
        if steps is None:
            return None
        cost = add(bare, letting_go(steps))
        self._offer((cost, chosen))
        return cost

    def _behind_ways(self, stem: Stem, chosen: Chosen) -> LetGo | None:
        """What leads let go of beyond what they did while the ways into a changeover were open."""
        total = NOTHING
        for id_ in (one for one in self.branches if self.ways and one not in self.ways):
            lead = chosen[id_]
            now, before = (self._on_the_way(id_, lead, some) for some in (chosen, stem.chosen))
            if now is None or before is None:
                return None
            total = plus(total, tuple(one - other for one, other in zip(now, before, strict=True)))
        return total

    def _on_the_way(self, id_: str, lead: Part, chosen: Chosen) -> LetGo | None:
        """What the rules that look at all of the way say of a lead."""
        total, place = NOTHING, self._place(id_, chosen)
        for question in (one for one in questions() if one[1] == WAY):
            steps = self.judge.run(place.view(lead), lead, question) if isinstance(lead, Lead) else None
            if steps is None:
                return None
            total = plus(total, steps)
        return total

    @cached_property
    def _beside(self) -> LetGo:
        """What is let go of beside the loads, as by a battery, at the least."""
        if self._lone:
            return NOTHING
        ends = {self.stocks[one].lead.end for one in self.branches}
        return let_go({key: count for key, count in self.solved({}).items() if key[1] not in ends}) or NOTHING

    @property
    def _lone(self) -> bool:
        """Whether there is one lead and nothing else: then it is asked of everything beyond it at once."""
        return len(self.branches) == 1 and not self.stages

    def _burden(self, stem: Stem, id_: str) -> Burden:
        """What a lead lets go of at its own load, while the other leads lose as little as they can.

        Less resistance never lets go of more: between two leads that let go of the same, every other does too.
        """
        fixed, known = _leads(stem.chosen), list[tuple[Ohms, LetGo | None]]()
        end = None if self._lone else self.stocks[id_].lead.end

        def burden(here: Ohms, lead: Callable[[], Lead]) -> LetGo | None:
            below = [steps for at, steps in known if at[0] <= here[0] and at[1] <= here[1]]
            if None in below:
                return None
            for at, steps in known:
                if steps is not None and at[0] >= here[0] and at[1] >= here[1] and (steps in below or not any(steps)):
                    return steps
            counts = self.solved({**fixed, id_: lead()}, batteries=end is None)
            steps = let_go({key: count for key, count in counts.items() if end in (None, key[1])})
            if id_ in self.ways and let_go(counts) is None:
                steps = None
            known.append((here, steps))
            return steps

        return burden


def _leads(chosen: Chosen) -> dict[str, Lead]:
    return {key: part for key, part in chosen.items() if isinstance(part, Lead)}
