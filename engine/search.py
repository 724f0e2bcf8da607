"""The exact search: the cheapest filling of all gaps in which the rules keep every finding.

Best first. A node fixes some gaps; its bound is what they cost plus the least that the rest can cost, so the
first complete station that the rules accept is the cheapest there is. Sources, strips and shared leads are
fixed one after another; the leads to single loads then hardly depend on each other and are taken from lists
sorted by cost.

Two things are not tried on a battery: a worse lead to a load that draws less through it, so that the charge lasts
longer, and a dearer lead bought for its resistance, so that less current flows into a short.
"""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from engine import options
from engine.findings import THIN, Finding
from engine.model.case import Case, Feed, Hub, Lead
from engine.model.operating import CONDITIONS, LIGHT, SAGGING, Demand, Operating
from engine.model.sources import Where
from engine.options import ZERO, Cost, Gaps, Option, Pricing, add
from engine.parts import Shelf
from engine.rules import book
from engine.rules.rule import LOAD, RUN, SOURCE, STATION, Rule
from engine.station.model import Station

STRIP = "strip"
MOST_WORK = 60_000
"""Candidates judged before the search gives up and says so: some seconds. A count, so that it ends alike everywhere."""


KINDS = (STATION, SOURCE, RUN, LOAD)


@cache
def _asked(kinds: tuple[str, ...], solved: bool) -> tuple[Rule, ...]:
    """The rules of some kinds, quickest first; those that need the circuit solved only if asked for."""
    found = [rule for rule in book.RULES if rule.of in kinds and (solved or not rule.solved)]
    return tuple(sorted(found, key=lambda rule: rule.solved))


class Enough(Exception):
    """The search was stopped, or has judged as many candidates as it may."""


Stop = Callable[[], bool]
Keys = frozenset[tuple[str, str]]


class Lazy:
    """A list that is made as far as it is asked for."""

    def __init__(self, source: Iterator[Option[Any]]) -> None:
        self._source, self._made = source, list[Option[Any]]()

    def get(self, index: int) -> Option[Any] | None:
        """Item ``index``, or None past the end."""
        while len(self._made) <= index:
            fresh = next(self._source, None)
            if fresh is None:
                return None
            self._made.append(fresh)
        return self._made[index]


def seek(
    station: Station,
    case: Case,
    shelf: Shelf,
    own: Mapping[str, Feed | Hub | Lead] | None = None,
    stop: Stop | None = None,
    thin: Keys = frozenset(),
) -> tuple[Search, Case | None]:
    """The cheapest filling that keeps every margin; failing that, one that lets go of wishes, then of margins.

    ``thin`` are findings (rule and part) that may be thin all the same, as where they are thin already.
    """
    prefer = station.wishes.prefer or "price"
    search = Search(station, case, shelf, prefer, 0, own, stop, thin=thin)
    found = search.run()
    if found is not None or search.gave_up:
        return search, found
    last = Search(station, case, shelf, prefer, len(book.EASED) - 1, own, stop, thin=thin)
    loose = last.run()
    if loose is None:
        return last, None
    low, high, found = 1, last.ease, loose
    while low < high:
        middle = (low + high) // 2
        search = Search(station, case, shelf, prefer, middle, own, stop, thin=thin)
        made = search.run()
        if search.gave_up:
            return search, None
        if made is None:
            low = middle + 1
        else:
            high, found, last = middle, made, search
    return last, found


def eased(search: Search, findings: tuple[Finding, ...]) -> list[str]:
    """What a found plan had to let go of, in words: the rules that are thin and that a plan would keep sound."""
    if not search.ease:
        return []
    gone = [one.rule for one in findings if one.outcome == THIN and not book.kept(one)]
    what = ", ".join(dict.fromkeys(gone)) or "margins of rules that may be thin"
    return [f"no filling keeps every margin; no rule is broken, but this is let go: {what}"]


def put(case: Case, part: Feed | Hub | Lead) -> Case:
    """The case with ``part`` in the place of the one with its id."""
    if isinstance(part, Feed):
        return replace(case, feeds=tuple(part if one.id == part.id else one for one in case.feeds))
    if isinstance(part, Hub):
        return replace(case, hubs=tuple(part if one.id == part.id else one for one in case.hubs))
    return replace(case, leads=tuple(part if one.id == part.id else one for one in case.leads))


@dataclass(frozen=True)
class Slot:
    """One gap of the case: the kind of part and its id."""

    kind: str
    id: str


@dataclass(frozen=True)
class Node:
    """A partly filled case: what it costs so far, which stage comes next, and the least its single leads cost."""

    case: Case
    cost: Cost
    stage: int
    branches: Cost = ZERO


class Search:
    """One search over one station's gaps."""

    def __init__(
        self,
        station: Station,
        case: Case,
        shelf: Shelf,
        prefer: str = "price",
        ease: int = 0,
        own: Mapping[str, Feed | Hub | Lead] | None = None,
        stop: Stop | None = None,
        most: int = MOST_WORK,
        thin: Keys = frozenset(),
    ) -> None:
        self.thin = thin
        self.station, self.case, self.shelf, self.ease = station, case, shelf, ease
        self.own, self.stop, self.most = own or {}, stop, most
        self.pricing = Pricing(prefer)
        self.where = Where(shelf, case.place.coldest, case.place.hottest)
        self.stages = _stages(case)
        self.branches = _single(case)
        self.given_insulation = {one.id for one in station.runs if one.insulation is not None}
        self.demands = [Demand(face) for face in case.faces]
        self.demand = self.demands[0] if len(self.demands) == 1 else Demand(case)
        self.hopeless = {(one.rule, one.about) for one in book.judge(self.faces(case)) if not book.kept(one, ease)}
        self._least: dict[str, Cost] = {}
        self._best: dict[str, Lead | None] = {}
        self._kept: dict[tuple[object, ...], bool] = {}
        self._lists: dict[tuple[object, ...], Lazy] = {}
        self.tried = self.work = 0
        self.gave_up = False
        self._tick = itertools.count()
        self._heap: list[tuple[Cost, int, Callable[[], Case | None]]] = []

    def refusal(
        self, case: Case, kinds: tuple[str, ...] = KINDS, only: frozenset[str] | None = None, solved: bool = True
    ) -> Finding | None:
        """The first finding that a plan may not hold, of some kinds of rule, and about ``only`` some parts."""
        self.work += 1
        if self.work > self.most or (self.stop is not None and self.stop()):
            raise Enough
        for operating in self.faces(case):
            for rule in _asked(kinds, solved):
                for part in book.parts(operating, rule.of):
                    if only is None or rule.of == STATION or part.id in only:
                        found = book.found(rule, operating, part)
                        if found is not None and self.refuses(found):
                            return found
        return None

    def faces(self, case: Case) -> list[Operating]:
        """The case on each of the sources that a changeover chooses from; the loads are those of the search."""
        return [Operating(face, one) for face, one in zip(case.faces, self.demands, strict=True)]

    def worst(self, case: Case) -> Finding | None:
        """The gravest finding that a plan may not hold."""
        return next((one for one in book.judge(self.faces(case)) if self.refuses(one)), None)

    def refuses(self, finding: Finding) -> bool:
        """Whether a plan may not hold ``finding``; what is broken before anything is chosen refuses nothing."""
        key = (finding.rule, finding.about)
        if key in self.hopeless or (finding.outcome == THIN and key in self.thin):
            return False
        return not book.kept(finding, self.ease)

    def run(self) -> Case | None:
        """The cheapest case that the rules accept, or None when there is none or the search gave up."""
        try:
            self._stage(Node(self.case, ZERO, 0))
            while self._heap:
                self.tried += 1
                _, _, then = heapq.heappop(self._heap)
                found = then()
                if found is not None:
                    return found
        except Enough:
            self.gave_up = True
        return None

    def _push(self, cost: Cost, then: Callable[[], Case | None]) -> None:
        heapq.heappush(self._heap, (cost, next(self._tick), then))

    def _bound(self, node: Node) -> Cost:
        """The least that any filling of what is still open after ``node`` costs in all."""
        return add(node.cost, node.branches, *(self._least_cost(slot) for slot in self.stages[node.stage :]))

    def _hopeful(self, case: Case) -> bool:
        """Whether every single lead, filled with what loses least on the shelf, would give its load volts enough."""
        for slot in self.branches:
            best = self._stoutest(slot)
            loads = frozenset(one.id for one in self.demand.served[slot.id])
            if best is None or self.refusal(put(case, best), (LOAD,), loads) is not None:
                return False
        return True

    def _stoutest(self, slot: Slot) -> Lead | None:
        """The least that a single lead can lose, whatever stands before it."""
        if slot.id not in self._best:
            keep = self._keeps(self.case, next(one for one in self.case.leads if one.id == slot.id))

            def ohms(one: Lead) -> float:
                return Operating(put(self.case, one), self.demand).stretch(one, SAGGING).ohms

            self._best[slot.id] = options.stoutest(self.gaps(self.case, slot.id), keep, ohms)
        return self._best[slot.id]

    def _branches(self, case: Case) -> Cost | None:
        """The least that the single leads cost in ``case``; None when one of them cannot be filled at all.

        Whatever stands between a lead and its source and is still open counts as perfect.
        """
        firsts = [self._list(case, slot.id).get(0) for slot in self.branches]
        if any(one is None for one in firsts):
            return None
        return add(ZERO, *(one.cost for one in firsts if one is not None))

    def _least_cost(self, slot: Slot) -> Cost:
        """The least that a choice for a stage costs with everything else still open, and so at its best."""
        if slot.id not in self._least:
            self._least[slot.id] = self._cheapest(slot)
        return self._least[slot.id]

    def _cheapest(self, slot: Slot) -> Cost:
        if slot.kind == SOURCE:
            made = self.feeds(slot.id)
            return made[0].cost if made else ZERO
        if slot.kind == STRIP:
            strips = self.hubs(self.case, slot.id)
            return strips[0].cost if strips else ZERO
        first = next(self._leads(self.case, slot.id), None)
        return first.cost if first else ZERO

    def feeds(self, id_: str) -> list[Option[Feed]]:
        """What may stand at a source."""
        own = self.own.get(id_)
        return options.feeds(self.station, id_, self.where, self.pricing, own if isinstance(own, Feed) else None)

    def hubs(self, case: Case, id_: str) -> list[Option[Hub]]:
        """What may stand where leads divide."""
        own = self.own.get(id_)
        return options.hubs(case, id_, self.shelf, self.pricing, own if isinstance(own, Hub) else None)

    def _list(self, case: Case, id_: str) -> Lazy:
        """The fillings of one lead in ``case``; made once for each way that its source side can look."""
        key = (id_, self._upstream(case, id_))
        if key not in self._lists:
            self._lists[key] = Lazy(self._leads(case, id_))
        return self._lists[key]

    def _upstream(self, case: Case, id_: str) -> tuple[object, ...]:
        lead = next(one for one in case.leads if one.id == id_)
        operating = Operating(case, self.demand)
        found: list[object] = [hub.strip.id if hub.strip else None for hub in case.hubs if hub.id == lead.start]
        for one in case.path(lead.end)[:-1]:
            ohms = [round(operating.stretch(one, condition).ohms, 9) for condition in CONDITIONS]
            found += [*ohms, one.fuse_type.id if one.fuse_type else None, one.fuse_rating]
        feed = case.source_of(lead.end)
        return (*found, *_feed_key(feed))

    def gaps(self, case: Case, id_: str) -> Gaps:
        """What may fill the parts of a lead."""
        lead = next(one for one in case.leads if one.id == id_)
        own = self.own.get(id_)
        given = id_ in self.given_insulation and own is None
        return options.gaps(case, lead, self.shelf, given, own if isinstance(own, Lead) else None)

    def _stage(self, node: Node) -> None:
        if node.stage == len(self.stages):
            self._leaves(node)
            return
        self._sibling(node, Lazy(self._options(node.case, self.stages[node.stage])), 0)

    def _sibling(self, node: Node, made: Lazy, index: int) -> None:
        """Offer option ``index`` of a stage, and the next one when this one has had its turn."""
        option = made.get(index)
        if option is None:
            return
        child = Node(put(node.case, option.item), add(node.cost, option.cost), node.stage + 1, node.branches)

        def weigh() -> None:
            self._sibling(node, made, index + 1)
            branches = self._branches(child.case) if self._hopeful(child.case) else None
            if branches is not None:
                weighed = replace(child, branches=branches)
                self._push(self._bound(weighed), lambda: self._stage(weighed))

        self._push(self._bound(child), weigh)

    def _options(self, case: Case, slot: Slot) -> Iterator[Option[Any]]:
        if slot.kind == SOURCE:
            made: list[Option[Any]] = list(self.feeds(slot.id))
        elif slot.kind == STRIP:
            made = list(self.hubs(case, slot.id))
        else:
            return self._leads(case, slot.id)
        return (one for one in made if self.refusal(put(case, one.item)) is None)

    def _leads(self, case: Case, id_: str) -> Iterator[Option[Lead]]:
        lead, open_ = next(one for one in case.leads if one.id == id_), self.gaps(case, id_)
        loads, keep = frozenset(one.id for one in self.demand.served[id_]), self._keeps(case, lead)

        def bears(one: Lead) -> bool:
            return self.refusal(put(case, one), (STATION, LOAD), loads) is None

        found = options.leads(open_, self.pricing, keep, bears)
        return self._better(case, found) if lead.shared else found

    def _keeps(self, case: Case, lead: Lead) -> Callable[[Lead], bool]:
        """Asks the rules that need no solution of fillings of a lead in ``case``; each is asked of once."""
        side, mine = self._source_side(case, lead), frozenset([lead.id])

        def keep(one: Lead) -> bool:
            key = (side, _parts(one))
            if key not in self._kept:
                self._kept[key] = self.refusal(put(case, one), (RUN,), mine, solved=False) is None
            return self._kept[key]

        return keep

    def _source_side(self, case: Case, lead: Lead) -> tuple[object, ...]:
        """What the rules that need no solution can see of a lead's source side."""
        feed = case.source_of(lead.end)
        hubs = tuple(one.strip.id if one.strip else None for one in case.hubs if one.id in (lead.start, lead.end))
        guarded = lead.fuse_rating != 0
        fuses = () if guarded else tuple(one.fuse_rating for one in case.path(lead.end)[:-1])
        way: tuple[float, ...] = ()
        if feed is not None and feed.fault_ohms:
            operating = Operating(case, self.demand)
            way = tuple(round(operating.stretch(one, LIGHT).ohms, 6) for one in case.path(lead.end)[:-1])
        return (lead.id, hubs, fuses, way, *_feed_key(feed))

    def _better(self, case: Case, found: Iterator[Option[Lead]]) -> Iterator[Option[Lead]]:
        """Of shared leads, those that lose less than every cheaper one: only these can help what lies beyond.

        On a battery, a dearer lead that loses more would tame the current into a short beyond: it is never bought for
        that. Where a lead beyond has no fuse of its own, the shared fuse guards it too and its rating counts as well.
        """
        least: dict[float | None, float] = {}
        for option in found:
            one = option.item
            guards = any(other.fuse_rating == 0 for other in case.leads if one in case.path(other.end))
            key = one.fuse_rating if guards else None
            ohms = Operating(put(case, one), self.demand).stretch(one, SAGGING).ohms
            if ohms < least.get(key, math.inf) - 1e-12:
                least[key] = ohms
                yield option

    def _leaves(self, node: Node) -> None:
        lists = [self._list(node.case, slot.id) for slot in self.branches]
        seen: set[tuple[int, ...]] = set()

        def offer(indices: tuple[int, ...]) -> None:
            picks = [made.get(index) for made, index in zip(lists, indices, strict=True)]
            if indices in seen or any(one is None for one in picks):
                return
            seen.add(indices)
            chosen = [one for one in picks if one is not None]

            def then() -> Case | None:
                case = node.case
                for one in chosen:
                    case = put(case, one.item)
                if self.refusal(case) is None:
                    return case
                for place in range(len(indices)):
                    offer((*indices[:place], indices[place] + 1, *indices[place + 1 :]))
                return None

            self._push(add(node.cost, *(one.cost for one in chosen)), then)

        offer((0,) * len(lists))


def _feed_key(feed: Feed | None) -> tuple[object, ...]:
    """What tells one candidate for a source from another."""
    return (feed.part, feed.volts, feed.parallel, feed.owned, bool(feed.missing), feed.corners) if feed else ()


def _parts(lead: Lead) -> tuple[object, ...]:
    return (
        lead.conductor.id if lead.conductor else None,
        lead.insulation.id,
        lead.supplied,
        lead.parallel,
        (lead.tail.conductor.id, lead.tail.length) if lead.tail else None,
        lead.fuse_type.id if lead.fuse_type else None,
        lead.fuse_rating,
        tuple(one.id for one in lead.contacts or ()),
    )


def _open(lead: Lead) -> bool:
    return bool(lead.missing) and not lead.owned


def _stages(case: Case) -> list[Slot]:
    found = [Slot(SOURCE, one.id) for one in case.feeds if one.missing and not one.owned]
    found += [Slot(STRIP, one.id) for one in case.hubs if one.strip is None and not one.changes and not one.owned]
    return found + [Slot(RUN, one.id) for one in case.leads if _open(one) and one.shared]


def _single(case: Case) -> list[Slot]:
    return [Slot(RUN, one.id) for one in case.leads if _open(one) and not one.shared]


def has_gaps(case: Case) -> bool:
    """Whether a search has anything to fill."""
    return bool(_stages(case) or _single(case))
