"""What may fill each gap of a case, cheapest first, and what each costs."""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Generic, TypeVar

from engine import assume
from engine.assume import Notebook
from engine.bill import lead_price
from engine.case import Case, Draw, Feed, Hub, Lead, Piece
from engine.parts import Conductor, Contact, FuseType, Insulation, Shelf, Supply
from engine.station import Source, Station

Cost = tuple[float, ...]
ZERO: Cost = (0.0, 0.0, 0.0, 0.0)
NOISE = {"none": 0, "filtered": 0, "ask": 2, "with load": 1, "always": 3}

Item = TypeVar("Item")


@dataclass(frozen=True)
class Option(Generic[Item]):
    """One way to fill one gap, and its cost."""

    cost: Cost
    item: Item


def add(*costs: Cost) -> Cost:
    """The sum of costs, place by place."""
    return tuple(round(sum(places), 9) for places in zip(*costs, strict=True))


class Pricing:
    """Turns a part into a cost: what decides first is the owner's preference, price by default."""

    def __init__(self, prefer: str = "price") -> None:
        self.prefer = prefer

    def feed(self, feed: Feed) -> Cost:
        """The cost of a supply."""
        price = 0.0 if feed.owned else feed.price.usual
        noise = NOISE.get(feed.fan, 0) + NOISE.get(feed.rf_noise, 0)
        return self._order(price, feed.kilograms, float(noise), 0.0)

    def lead(self, lead: Lead) -> Cost:
        """The cost of a lead as far as it is filled."""
        grams = lead.conductor.grams_per_metre * 2 * lead.pieces[0].length if lead.conductor else 0.0
        loose = sum(1 for one in lead.contacts or () if not one.locks)
        rating = (lead.fuse_rating or 0.0) / 1e6
        return self._order(lead_price(lead).usual, grams / 1000, 0.0, loose + rating)

    def hub(self, hub: Hub) -> Cost:
        """The cost of a strip."""
        return self._order(hub.strip.price.usual if hub.strip and not hub.owned else 0.0, 0.0, 0.0, 0.0)

    def _order(self, price: float, kilograms: float, noise: float, last: float) -> Cost:
        if self.prefer == "quiet":
            return (noise, price, last, kilograms)
        if self.prefer == "light":
            return (kilograms, price, last, noise)
        return (price, last, kilograms, noise)


def supplies(source: Source, shelf: Shelf) -> list[Supply]:
    """The catalogue's supplies that agree with what the owner said of the source."""
    found = []
    for row in shelf.supplies.values():
        if source.part not in (None, row.id) or source.technology not in (None, row.technology):
            continue
        if source.volts is not None and not _gives(row, source.volts):
            continue
        found.append(row)
    return found


def _gives(row: Supply, volts: float) -> bool:
    return row.lowest <= volts <= row.highest if row.adjustable else abs(row.volts - volts) < 0.05


def feeds(station: Station, id_: str, shelf: Shelf, pricing: Pricing) -> list[Option[Feed]]:
    """Every supply that could stand at a source without a rating, cheapest first."""
    source = next(one for one in station.sources if one.id == id_)
    made = [assume.feed(replace(source, part=row.id), row, Notebook()) for row in supplies(source, shelf)]
    return _sorted((Option(pricing.feed(one), one) for one in made), lambda one: one.title)


def hubs(case: Case, id_: str, shelf: Shelf, pricing: Pricing) -> list[Option[Hub]]:
    """Every strip that could stand where the owner left it open, cheapest first."""
    made = [replace(case.hub[id_], strip=row, title=row.title) for row in shelf.strips.values()]
    return _sorted((Option(pricing.hub(one), one) for one in made), lambda one: one.title)


def _sorted(options: Iterable[Option[Item]], name: Callable[[Item], str]) -> list[Option[Item]]:
    return sorted(options, key=lambda one: (one.cost, name(one.item)))


@dataclass(frozen=True)
class Wire:
    """What copper a lead may be: bought throughout, the lead that came with the load, or that one lengthened."""

    conductor: Conductor
    insulation: Insulation
    supplied: bool = False
    tail: Piece | None = None

    def put(self, lead: Lead) -> Lead:
        """The lead with this copper."""
        return replace(
            lead, conductor=self.conductor, insulation=self.insulation, supplied=self.supplied, tail=self.tail
        )

    @property
    def name(self) -> str:
        """The copper in words."""
        return copper_text(self.conductor, self.insulation, self.supplied, self.tail)


def copper_text(conductor: Conductor, insulation: Insulation, supplied: bool, tail: Piece | None) -> str:
    """The copper of a lead in words."""
    size = f"{conductor.id}, {insulation.celsius:g} °C"
    if supplied:
        return f"{size}, the lead that came with it"
    return f"{size}, joined to the {tail.conductor.id} lead that came with it" if tail else size


Guard = tuple[FuseType | None, float]
Ends = tuple[Contact, Contact]
Keep = Callable[[Lead], bool]


@dataclass(frozen=True)
class Gaps:
    """Which parts of a lead are open, and what may fill each."""

    wires: tuple[Wire, ...]
    guards: tuple[Guard, ...]
    ends: tuple[Ends, ...]


def gaps(case: Case, lead: Lead, shelf: Shelf, insulation_given: bool) -> Gaps:
    """What may fill each open part of ``lead``; a part that is given has itself alone."""
    sold = [one for one in shelf.insulations.values() if one.sold]
    classes = [lead.insulation] if insulation_given or lead.conductor else sold
    sizes = [lead.conductor] if lead.conductor else [
        one for one in shelf.conductors.values() if one.system == case.place.wire
    ]  # fmt: skip
    wires = tuple(Wire(*pair) for pair in itertools.product(sizes, classes))
    if lead.conductor is None:
        wires += tuple(_with_own_lead(lead, wires, case.draw.get(lead.end)))
    if lead.fuse_rating is not None:
        guards: tuple[Guard, ...] = ((lead.fuse_type, lead.fuse_rating),)
    else:
        guards = tuple((family, rating) for family in shelf.fuses.values() for rating in family.ratings)
    if lead.contacts is not None:
        return Gaps(wires, guards, (lead.contacts,))
    kinds = list(shelf.contacts.values())
    return Gaps(wires, guards, tuple(itertools.product(kinds, kinds)))


def _with_own_lead(lead: Lead, wires: tuple[Wire, ...], draw: Draw | None) -> Iterator[Wire]:
    """The lead that came with the load: kept or shortened where it reaches, lengthened where it does not."""
    own = draw.lead if draw else None
    if own is None:
        return
    if lead.length <= own.length + 1e-9:
        yield Wire(own.conductor, own.insulation, supplied=True)
        return
    yield from (replace(one, tail=own) for one in wires if one.conductor.area >= own.conductor.area)


def leads(lead: Lead, open_: Gaps, pricing: Pricing, keep: Keep, bears: Keep) -> Iterator[Option[Lead]]:
    """Every filling of a lead that the rules keep, cheapest first.

    ``keep`` asks the rules that need no solution, of a lead that may still have gaps; ``bears`` asks those that do.
    A part that is refused alone, with everything else open and at its best, is refused in every company.
    """
    bare = replace(lead, conductor=None, fuse_type=None, fuse_rating=None, contacts=None)
    wires = [one.put(bare) for one in open_.wires]
    guards = [replace(bare, fuse_type=family, fuse_rating=rating) for family, rating in open_.guards]
    ends = [replace(bare, contacts=pair) for pair in open_.ends]
    parts = [
        _sorted((Option(pricing.lead(one), one) for one in made if keep(one)), _name) for made in (wires, guards, ends)
    ]
    asked = _Asked(keep, bears)

    @cache
    def alive(place: int) -> bool:
        wire = parts[0][place].item
        taken = any(asked.ended(wire, end.item) for end in parts[2])
        return taken and asked.wire(wire) and any(asked.fused(wire, guard.item) for guard in parts[1])

    for cost, places in rising([[option.cost for option in made] for made in parts], alive):
        wire, guard, end = (made[place].item for made, place in zip(parts, places, strict=True))
        if not (asked.fused(wire, guard) and asked.ended(wire, end)):
            continue
        one = replace(wire, fuse_type=guard.fuse_type, fuse_rating=guard.fuse_rating, contacts=end.contacts)
        if keep(one) and bears(one):
            yield Option(cost, one)


class _Asked:
    """Remembers, for one list, which wires bear the load alone and which go with which fuse and contacts."""

    def __init__(self, keep: Keep, bears: Keep) -> None:
        self.keep, self.bears = keep, bears
        self._known: dict[tuple[int, ...], bool] = {}
        self._too_thin: dict[tuple[str, bool, bool], float] = {}

    def wire(self, wire: Lead) -> bool:
        """Whether the wire alone gives volts enough; a thinner one of the same insulation never gives more."""
        area = wire.conductor.area if wire.conductor else math.inf
        kind = (wire.insulation.id, wire.supplied, wire.tail is not None)
        if area <= self._too_thin.get(kind, 0.0):
            return False
        key = (id(wire),)
        if key not in self._known:
            self._known[key] = self.bears(wire)
            if not self._known[key] and wire.conductor:
                self._too_thin[kind] = area
        return self._known[key]

    def fused(self, wire: Lead, guard: Lead) -> bool:
        """Whether the rules keep this wire with this fuse."""
        key = (id(wire), id(guard))
        if key not in self._known:
            self._known[key] = self.keep(replace(wire, fuse_type=guard.fuse_type, fuse_rating=guard.fuse_rating))
        return self._known[key]

    def ended(self, wire: Lead, end: Lead) -> bool:
        """Whether the rules keep this wire with these contacts."""
        key = (id(wire), id(end))
        if key not in self._known:
            self._known[key] = self.keep(replace(wire, contacts=end.contacts))
        return self._known[key]


def rising(
    costs: list[list[Cost]], alive: Callable[[int], bool] = lambda place: True
) -> Iterator[tuple[Cost, tuple[int, ...]]]:
    """The places of one item from each sorted list, in rising order of their summed cost.

    Items of the first list that are not ``alive`` are passed over in every company, and asked about once each.
    """
    if not all(costs):
        return
    first = (0,) * len(costs)
    heap = [(add(*(made[0] for made in costs)), first)]
    seen = {first}
    while heap:
        cost, places = heapq.heappop(heap)
        lives = alive(places[0])
        if lives:
            yield cost, places
        for at, place in enumerate(places if lives else places[:1]):
            after = (*places[:at], place + 1, *places[at + 1 :])
            if place + 1 < len(costs[at]) and after not in seen:
                seen.add(after)
                heapq.heappush(heap, (add(*(made[n] for made, n in zip(costs, after, strict=True))), after))


def _name(lead: Lead) -> str:
    ends = "/".join(one.id for one in lead.contacts or ())
    return f"{lead.conductor.id if lead.conductor else ''} {lead.fuse_type.id if lead.fuse_type else ''} {ends}"
