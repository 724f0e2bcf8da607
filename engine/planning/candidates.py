"""The fillings of one lead in its place, cheapest first: margins let go of, then price."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, Generic, Protocol

from engine.model.case import CONTACTS, COPPER, FUSE, Lead
from engine.planning.cost import Cost, Item, Option, add, letting_go, margins
from engine.planning.places import Numbered, Numbers, Ohms, Place, Stock, minus, plus
from engine.planning.slots.run import brings_fuse
from engine.rules.book import NOTHING, LetGo

Burden = Callable[[Ohms, Callable[[], Lead]], LetGo | None]
"""What a lead of some resistance lets go of at the loads beyond it, or None where it starves one; never less for more
resistance."""

Hope = Callable[[Ohms], bool]
"""Whether a lead of that resistance, or of more, is of any use."""


class Lazy(Generic[Item]):
    """A list that is made as far as it is asked for."""

    def __init__(self, source: Iterator[Item]) -> None:
        self._source, self._made = source, list[Item]()

    def get(self, index: int) -> Item | None:
        """Item ``index``, or None past the end."""
        while len(self._made) <= index:
            fresh = next(self._source, None)
            if fresh is None:
                return None
            self._made.append(fresh)
        return self._made[index]


class Stream:
    """Options in rising order of cost, worked out no further than a bound: what comes later may never be wanted.

    ``useful`` drops options that are of no use once made.
    """

    def __init__(self, source: Source, useful: Callable[[Any], bool] = lambda _: True) -> None:
        self._source, self._useful, self._made = source, useful, list[Option[Any]]()

    def bound(self, index: int) -> Cost | None:
        """The least that option ``index`` can cost, without any work; None where there is none."""
        return self._made[index].cost if index < len(self._made) else self._source.bound

    def at(self, index: int, most: Cost | None = None) -> Option[Any] | None:
        """Option ``index``, if it costs no more than ``most``; None where it costs more, or there is none."""
        while len(self._made) <= index:
            bound = self._source.bound
            if bound is None or (most is not None and bound > most):
                return None
            option = self._source.step()
            if option is not None and self._useful(option.item):
                self._made.append(option)
        return self._made[index]


class Source(Protocol):
    """Where options come from, one step of work at a time."""

    @property
    def bound(self) -> Cost | None:
        """The least that what is still to come can cost; None where nothing is to come."""

    def step(self) -> Option[Any] | None:
        """Do a little; the next option if that made one."""


class Ready:
    """Options that are there already."""

    def __init__(self, options: Iterable[Option[Any]]) -> None:
        self._options = list(options)

    @property
    def bound(self) -> Cost | None:
        """The cost of the next."""
        return self._options[0].cost if self._options else None

    def step(self) -> Option[Any] | None:
        """The next."""
        return self._options.pop(0)


def fillings(stock: Stock, place: Place, burden: Burden | None = None, hope: Hope | None = None) -> Source:
    """Every filling of a lead in a place that nothing refuses, cheapest first."""
    return _Fillings(stock, place, burden, hope) if stock.open else Ready(_given(stock, place, burden))


def cheapest(stock: Stock) -> Cost | None:
    """The least that a filling costs, whatever stands before it; None where there is none."""
    first = Stream(fillings(stock, stock.free)).at(0)
    return first.cost if first else None


def _given(stock: Stock, place: Place, burden: Burden | None) -> Iterator[Option[Lead]]:
    lead, numbers = stock.lead, (0, -1, -1)
    steps = stock.whole(place, (0, 0, 0))
    beyond = burden(stock.ohms(numbers), lambda: lead) if burden and steps is not None else NOTHING
    if steps is not None and beyond is not None:
        yield Option(letting_go(plus(steps, beyond)), lead)


Then = Callable[[], Option[Lead] | None]


class _Fillings:
    """Best first: copper alone, then with what its best fuse and contacts lose, then each fuse and contacts with it."""

    def __init__(self, stock: Stock, place: Place, burden: Burden | None, hope: Hope | None) -> None:
        self.stock, self.place, self.burden, self.hope = stock, place, burden, hope
        self._heap: list[tuple[Cost, int, Then]] = []
        self._tick = itertools.count()
        if stock.fuses and stock.contacts:
            self._wire(0)

    @property
    def bound(self) -> Cost | None:
        """The least that what is still to come can cost."""
        return self._heap[0][0] if self._heap else None

    def step(self) -> Option[Lead] | None:
        """Look at the most promising of what is begun."""
        return heapq.heappop(self._heap)[2]()

    def _push(self, cost: Cost, then: Then) -> None:
        heapq.heappush(self._heap, (cost, next(self._tick), then))

    def _wire(self, number: int) -> None:
        """Offer one copper by its price, and the next when this one has had its turn."""
        if number >= len(self.stock.parts.copper):
            return
        price = self.stock.parts.copper[number].cost

        def weigh() -> None:
            self._wire(number + 1)
            steps = self._weighed(number)
            if steps is not None:
                cost = add(price, letting_go(steps))
                self._push(add(cost, self._rest(number)), lambda: self._open(number, cost))

        self._push(add(price, self._rest(number)), weigh)

    def _rest(self, number: int) -> Cost:
        """The least that fuse and contacts add to a copper; of a fuse that it brings, the margins alone."""
        fuse, end = self.stock.fuses[0][1].cost, self.stock.contacts_for(number)[0][1].cost
        if brings_fuse(self.stock.parts.copper[number].item):
            fuse = letting_go(margins(fuse))
        return add(fuse, end)

    def _weighed(self, number: int) -> LetGo | None:
        """The least that a copper lets go of: alone, by the best fuse for it, and at the loads beyond it."""
        steps = self.stock.steps(self.place, COPPER, numbers=(number, -1, -1))
        if steps is None or (self.burden is None and self.hope is None):
            return steps
        end = self.stock.lightest_end(self.place, number)
        kinds = self.stock.fuse_kinds(self.place)
        return self._fused(number, end, steps, kinds) if end is not None and kinds else None

    def _fused(self, number: int, end: int, steps: LetGo, kinds: list[tuple[LetGo, int]]) -> LetGo | None:
        """The least over the fuses, less what the cheapest fuse lets go of in any case."""
        least: LetGo | None = None
        counted = margins(self.stock.fuses[0][1].cost)
        for own, fuse in kinds:
            beside = plus(steps, minus(own, counted))
            if least is not None and beside >= least:
                break
            beyond = self._beyond((number, fuse, end))
            if beyond is not None:
                least = min(least or plus(beside, beyond), plus(beside, beyond))
        return least

    def _beyond(self, numbers: Numbers) -> LetGo | None:
        """What is let go of beyond a lead of some parts; None where it is of no use."""
        at = self.stock.ohms(numbers)
        if self.hope is not None and not self.hope(at):
            return None
        return self.burden(at, lambda: self.stock.lead_of(numbers)) if self.burden else NOTHING

    def _open(self, number: int, cost: Cost) -> None:
        """Offer the fuses and contacts that go with one copper."""
        stock, place = self.stock, self.place
        ready, plugs = stock.fuses_for(number), stock.contacts_for(number)
        fuses = (
            (fuse, option)
            for fuse, option in ready
            if stock.guards(place, number, fuse) and stock.steps(place, FUSE, numbers=(-1, fuse, -1)) is not None
        )
        ends = (
            (end, option)
            for end, option in plugs
            if stock.takes(place, number, end) and stock.steps(place, CONTACTS, numbers=(-1, -1, end)) is not None
        )
        self._next(number, cost, rising([Lazy(fuses), Lazy(ends)]))

    def _next(self, wire: int, cost: Cost, pairs: Iterator[tuple[Cost, tuple[Numbered, ...]]]) -> None:
        """Offer the next fuse and contacts with a copper."""
        pair = next((one for one in pairs if self._hopeful((wire, one[1][0][0], one[1][1][0]))), None)
        if pair is None:
            return
        price, picks = pair
        numbers = (wire, picks[0][0], picks[1][0])

        def weigh() -> None:
            self._next(wire, cost, pairs)
            option = self._filling(numbers)
            if option is not None:
                self._push(option.cost, lambda: option)

        self._push(add(cost, price), weigh)

    def _hopeful(self, numbers: Numbers) -> bool:
        return self.hope is None or self.hope(self.stock.ohms(numbers))

    def _filling(self, numbers: Numbers) -> Option[Lead] | None:
        """A whole filling at its true cost; None where something refuses it."""
        beyond = self._beyond(numbers)
        steps = self.stock.whole(self.place, numbers) if beyond is not None else None
        if steps is None or beyond is None:
            return None
        lead = self.stock.lead_of(numbers)
        price = self.stock.judge.problem.pricing.lead(lead)
        return Option(add(price, letting_go(plus(steps, beyond))), lead)


def rising(lists: Sequence[Lazy[Numbered]]) -> Iterator[tuple[Cost, tuple[Any, ...]]]:
    """One item from each list, in rising order of their summed cost."""
    heap: list[tuple[Cost, tuple[int, ...], tuple[Any, ...]]] = []
    seen: set[tuple[int, ...]] = set()

    def offer(places: tuple[int, ...]) -> None:
        if places in seen:
            return
        seen.add(places)
        picks = tuple(made.get(place) for made, place in zip(lists, places, strict=True))
        if all(one is not None for one in picks):
            heapq.heappush(heap, (add(*(one[1].cost for one in picks if one)), places, picks))

    offer((0,) * len(lists))
    while heap:
        cost, places, picks = heapq.heappop(heap)
        yield cost, picks
        for at, place in enumerate(places):
            offer((*places[:at], place + 1, *places[at + 1 :]))
