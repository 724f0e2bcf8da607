"""One lead in its place: what may fill its parts, and what the rules say of each, asked as seldom as can be."""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache, cached_property
from typing import Any

from engine.model.case import CONTACTS, COPPER, FUSE, Case, Lead, OwnFuse
from engine.model.operating import LIGHT, Operating
from engine.planning.cost import Option, add, letting_go, margins
from engine.planning.judge import Judge, ohms
from engine.planning.problem import Part
from engine.planning.slots.run import Parts, assembled, bare, brings_fuse
from engine.rules import book
from engine.rules.book import NOTHING, LetGo
from engine.rules.reads import ENDS, ITSELF, SIZE, SOURCE, WAY, Question, reads
from engine.rules.rule import RUN

Numbers = tuple[int, int, int]
"""The numbers of copper, fuse and contacts among all that could stand there; -1 for one that is left open."""

Ohms = tuple[float, float]
"""The resistance [Ω] of a lead as it usually is and at its worst."""

PARTS = (COPPER, SIZE, FUSE, CONTACTS)
Numbered = tuple[int, Option[Lead]]
"""A filling of one part of a lead, with its number among all of them."""


@cache
def questions(parts: frozenset[str] | None = None) -> tuple[Question, ...]:
    """What rules on leads look at, those that look at least first; of some ``parts``, those on just these."""
    every = {reads(rule.id) for rule in book.RULES if rule.of == RUN}
    some = [one for one in every if parts is None or one[0] == parts]
    return tuple(sorted(some, key=lambda one: (len(one[0]), ORDER.index(one[1]), sorted(one[0]))))


ORDER = (ENDS, ITSELF, SOURCE, WAY)
"""What refuses most is asked first: contacts that do not go on the posts."""


def plus(one: LetGo, other: LetGo) -> LetGo:
    """Steps of margin added rank by rank."""
    return tuple(map(operator.add, one, other))


def minus(one: LetGo, other: LetGo) -> LetGo:
    """Steps of margin taken off rank by rank."""
    return tuple(map(operator.sub, one, other))


class Place:
    """Where one lead lies: the parts that the rules on leads can see from it, on each source in turn."""

    def __init__(self, judge: Judge, lead: Lead, chosen: Mapping[str, Part]) -> None:
        self.judge, self.lead = judge, lead
        self._views = [
            (_seen(face, lead, chosen), demand)
            for face, demand in zip(judge.faces, judge.demands, strict=True)
            if any(one.id == lead.id for one in face.leads)
        ]
        self._last: tuple[Lead, list[Operating]] | None = None

    @cached_property
    def keys(self) -> tuple[tuple[object, ...], ...]:
        """What tells one place from another, as far as a rule looks around: two alike give the same answers."""
        ends: list[object] = []
        source: list[object] = []
        way: list[object] = []
        for case, demand in self._views:
            ends += [(one.strip or one.changeover or one).id for one in case.hubs]
            ends += [id(one) for one in case.feeds if one.id == self.lead.start]
            source += [id(one) for one in case.feeds]
            way += _upstream(Operating(case, demand), self.lead)
        return (), tuple(ends), (*ends, *source), (*ends, *source, *way)

    def view(self, lead: Lead) -> list[Operating]:
        """The place with ``lead`` in it, on each source."""
        if self._last is None or self._last[0] is not lead:
            self._last = (
                lead,
                [
                    Operating(
                        replace(case, leads=tuple(lead if one.id == lead.id else one for one in case.leads)), demand
                    )
                    for case, demand in self._views
                ],
            )
        return self._last[1]


def _seen(face: Case, lead: Lead, chosen: Mapping[str, Part]) -> Case:
    """The part of a face that rules on one lead look at: the way to it, itself, what it feeds, its two ends."""
    way = {one.id for one in face.path(lead.end)}
    near = [one for one in face.leads if one.id in way or one.id == lead.id or one.start == lead.end]
    ends = {end for one in near for end in (one.start, one.end)}
    return replace(
        face,
        feeds=_chosen(tuple(one for one in face.feeds if one.id in ends), chosen),
        hubs=_chosen(tuple(one for one in face.hubs if one.id in ends), chosen),
        leads=_chosen(tuple(near), chosen),
        draws=tuple(one for one in face.draws if one.id == lead.end),
    )


def _chosen(parts: tuple[Any, ...], chosen: Mapping[str, Part]) -> tuple[Any, ...]:
    return tuple(chosen.get(one.id, one) for one in parts)


def _upstream(operating: Operating, lead: Lead) -> Iterator[object]:
    for one in operating.case.path(lead.end)[:-1]:
        yield one.fuse_rating, one.fuse_type.id if one.fuse_type else "", operating.stretch(one, LIGHT).ohms


class Stock:
    """What may fill the parts of one lead, less what no source and no neighbour could make right."""

    def __init__(self, judge: Judge, lead: Lead, parts: Parts, open_: bool) -> None:
        self.judge, self.lead, self.open, self.parts = judge, lead, open_, parts
        self.free, self._empty = Place(judge, lead, {}), bare(lead)
        self._known: dict[object, LetGo | None] = {}
        self._ohms: dict[Numbers, Ohms] = {}
        self._limits: dict[tuple[int, object], float] = {}
        self._size = _sizes(parts.copper) if open_ else [0]
        self._kinds: dict[object, list[tuple[LetGo, int]]] = {}

    def lead_of(self, numbers: Numbers) -> Lead:
        """The lead of some parts."""
        if not self.open:
            return self.lead
        wire, fuse, end = numbers
        return assembled(
            self.lead,
            self.parts.copper[wire].item if wire >= 0 else self._empty,
            self.parts.fuses[fuse].item if fuse >= 0 else None,
            self.parts.contacts[end].item if end >= 0 else None,
        )

    def steps(self, place: Place, *parts: str, numbers: Numbers) -> LetGo | None:
        """What the rules on just those parts say in a place; None where one refuses."""
        return self._asked(place, questions(frozenset(parts)), numbers)

    def whole(self, place: Place, numbers: Numbers) -> LetGo | None:
        """What all rules on leads say of a whole one: each question asked once of the parts that it is about."""
        return self._asked(place, questions(), numbers)

    def _asked(self, place: Place, some: Sequence[Question], numbers: Numbers) -> LetGo | None:
        total, lead = NOTHING, None
        for question in some:
            wire, fuse, end = numbers
            every = (wire, self._size[wire] if wire >= 0 else -1, fuse, end)
            only = tuple(number if part in question[0] else -1 for number, part in zip(every, PARTS, strict=True))
            key = (question, only, place.keys[question[1]])
            if key not in self._known:
                lead = lead or self.lead_of(numbers)
                self._known[key] = self.judge.run(place.view(lead), lead, question)
            steps = self._known[key]
            if steps is None:
                return None
            total = plus(total, steps) if any(steps) else total
        return total

    def ohms(self, numbers: Numbers) -> Ohms:
        """The resistance of a lead of some parts: those of its parts add up."""
        wire, fuse, end = numbers
        some = [self._part_ohms(one) for one in ((wire, -1, -1), (-1, fuse, -1), (-1, -1, end)) if max(one) >= 0]
        return math.fsum(one[0] for one in some), math.fsum(one[1] for one in some)

    def _part_ohms(self, numbers: Numbers) -> Ohms:
        if numbers not in self._ohms:
            lead = self.lead_of(numbers)
            self._ohms[numbers] = ohms(self.free.view(lead)[0], lead)
        return self._ohms[numbers]

    @cached_property
    def fuses(self) -> list[Numbered]:
        """The fuses that are not refused by themselves, cheapest first."""
        return self._fit(self.parts.fuses, FUSE, lambda number: (-1, number, -1))

    @cached_property
    def contacts(self) -> list[Numbered]:
        """The contacts that are not refused by themselves, cheapest first."""
        return self._fit(self.parts.contacts, CONTACTS, lambda number: (-1, -1, number))

    def _fit(self, options: Sequence[Option[Lead]], part: str, put: Callable[[int], Numbers]) -> list[Numbered]:
        fit = []
        for number, option in enumerate(options):
            steps = self.steps(self.free, part, numbers=put(number))
            if steps is not None:
                fit.append((number, Option(add(option.cost, letting_go(steps)), option.item)))
        return sorted(fit, key=lambda pair: (pair[1].cost, pair[0]))

    def fuses_for(self, wire: int) -> list[Numbered]:
        """The fuses for a copper, cheapest first; the one that it brings costs nothing."""
        if not brings_fuse(self.parts.copper[wire].item):
            return self.fuses
        free = ((one, Option(letting_go(margins(option.cost)), option.item)) for one, option in self.fuses)
        return sorted((pair for pair in free if self._pairs(wire, pair[0])), key=lambda pair: (pair[1].cost, pair[0]))

    def contacts_for(self, wire: int) -> list[Numbered]:
        """The contacts for a copper, cheapest first; the plug on one that came with the load costs nothing."""
        if not self.parts.copper[wire].item.came_with:
            return self.contacts
        return self._plugged

    @cached_property
    def _plugged(self) -> list[Numbered]:
        """The contacts where the plug at the load is there already."""
        pricing, empty = self.judge.problem.pricing, replace(self._empty, supplied=True)
        priced = []
        for number, option in self.contacts:
            cost = pricing.contacts(replace(empty, contacts=option.item.contacts, kept=option.item.kept))
            priced.append((number, Option(add(cost, letting_go(margins(option.cost))), option.item)))
        return sorted(priced, key=lambda pair: (pair[1].cost, pair[0]))

    @cached_property
    def by_ohms(self) -> tuple[list[Numbered], list[Numbered]]:
        """Fuses and contacts, those that lose least first."""
        return (
            sorted(self.fuses, key=lambda pair: self._part_ohms((-1, pair[0], -1))[1]),
            sorted(self.contacts, key=lambda pair: self._part_ohms((-1, -1, pair[0]))[1]),
        )

    @cached_property
    def stoutest(self) -> Lead | None:
        """The filling that loses least, whatever stands before it; None where there is none."""
        if not self.open:
            return self.lead
        best: Numbers | None = None
        least = math.inf
        wires = [(self._part_ohms((number, -1, -1))[1], number) for number in range(len(self.parts.copper))]
        for bound, wire in sorted(wires):
            if bound >= least:
                break
            numbers = self._lightest(wire)
            if numbers is not None and self.ohms(numbers)[1] < least:
                best, least = numbers, self.ohms(numbers)[1]
        return self.lead_of(best) if best else None

    def _lightest(self, wire: int) -> Numbers | None:
        """A copper with the fuse and the contacts that lose least among those that go with it; None where none do."""
        if self.steps(self.free, COPPER, numbers=(wire, -1, -1)) is None:
            return None
        end = self.lightest_end(self.free, wire)
        if end is None:
            return None
        guard = next((one for one, _ in self.by_ohms[0] if self.guards(self.free, wire, one)), None)
        return None if guard is None else (wire, guard, end)

    def lightest_end(self, place: Place, wire: int) -> int | None:
        """The contacts that lose least among those that go with a copper in a place."""
        ends = (one for one, _ in self.by_ohms[1] if self.takes(place, wire, one))
        return next((one for one in ends if self.steps(place, CONTACTS, numbers=(-1, -1, one)) is not None), None)

    def takes(self, place: Place, wire: int, end: int) -> bool:
        """Whether contacts go with a copper."""
        pairs = (questions(frozenset([SIZE, CONTACTS])), questions(frozenset([COPPER, CONTACTS])))
        return all(self._asked(place, some, (wire, -1, end)) is not None for some in pairs)

    def guards(self, place: Place, wire: int, fuse: int) -> bool:
        """Whether a fuse goes with a copper; what is too large for it is so in every family."""
        if not self._pairs(wire, fuse):
            return False
        rating = self.parts.fuses[fuse].item.fuse_rating or 0.0
        if not brings_fuse(self.parts.copper[wire].item) and rating > self._limit(place, wire):
            return False
        return self.steps(place, COPPER, FUSE, numbers=(wire, fuse, -1)) is not None

    def _pairs(self, wire: int, fuse: int) -> bool:
        """Whether a fuse is the one that a lead brings, where it brings one; never the same one twice."""
        copper, guard = self.parts.copper[wire].item, self.parts.fuses[fuse].item
        came = self._brought
        if not copper.supplied or came is None:
            return True
        return brings_fuse(copper) is ((guard.fuse_type, guard.fuse_rating) == (came.family, came.rating))

    @cached_property
    def _brought(self) -> OwnFuse | None:
        draw = self.judge.case.draw.get(self.lead.end)
        return draw.lead_fuse if draw else None

    def _limit(self, place: Place, wire: int) -> float:
        """The largest rating [A] that goes with a copper, found by halves: a larger fuse never guards better."""
        own = questions(frozenset([COPPER, FUSE]))[:1]
        key = (wire, place.keys[own[0][1]] if own else ())
        if key not in self._limits:
            ratings = self._ratings
            low, high = 0, len(ratings)
            while low < high:
                middle = (low + high) // 2
                if self._asked(place, own, (wire, ratings[middle][1], -1)) is None:
                    high = middle
                else:
                    low = middle + 1
            self._limits[key] = ratings[low - 1][0] if low else -1.0
        return self._limits[key]

    @cached_property
    def _ratings(self) -> list[tuple[float, int]]:
        ratings: dict[float, int] = {}
        for number, option in self.fuses:
            ratings.setdefault(option.item.fuse_rating or 0.0, number)
        return sorted(ratings.items())

    def fuse_kinds(self, place: Place) -> list[tuple[LetGo, int]]:
        """For each way of letting go of margins by the fuse alone, the one that loses least, the best way first."""
        key = place.keys[WAY]
        if key not in self._kinds:
            lightest = ((steps, self._first(place, fuses)) for steps, fuses in sorted(self._by_kind.items()))
            self._kinds[key] = [(steps, fuse) for steps, fuse in lightest if fuse is not None]
        return self._kinds[key]

    @cached_property
    def _by_kind(self) -> dict[LetGo, list[int]]:
        kinds: dict[LetGo, list[int]] = {}
        for number, option in self.by_ohms[0]:
            kinds.setdefault(margins(option.cost), []).append(number)
        return kinds

    def fuse_least(self, place: Place) -> LetGo | None:
        """The least that any fuse lets go of by itself in a place; None where all are refused."""
        least: LetGo | None = None
        for steps, fuses in sorted(self._by_kind.items()):
            if least is not None and steps >= least:
                break
            for number in fuses:
                own = self.steps(place, FUSE, numbers=(-1, number, -1))
                if own is not None and (least is None or own < least):
                    least = own
                if own == steps:
                    break
        return least

    def _first(self, place: Place, fuses: list[int]) -> int | None:
        """The first of some fuses that a place does not refuse."""
        return next((one for one in fuses if self.steps(place, FUSE, numbers=(-1, one, -1)) is not None), None)


def _sizes(copper: Sequence[Option[Lead]]) -> list[int]:
    """For each copper the number of the first that differs from it in nothing but the insulation."""
    first: dict[object, int] = {}
    return [first.setdefault(_size(option.item), number) for number, option in enumerate(copper)]


def _size(lead: Lead) -> object:
    """What tells the copper of one lead from another, the insulation apart."""
    size, tail = lead.conductor and lead.conductor.id, lead.tail and (lead.tail.conductor.id, lead.tail.length)
    return size, tail, lead.supplied, lead.parallel, lead.kept
