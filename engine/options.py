"""What may fill each gap of a case, cheapest first, and what each costs."""

from __future__ import annotations

import heapq
import itertools
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from engine.model import quiet, sources
from engine.model.assumptions import Notebook
from engine.model.bill import lead_price
from engine.model.case import BATTERY, CONTACTS, COPPER, FUSE, Case, Feed, Hub, Lead, Piece
from engine.model.sources import Where
from engine.parts import Battery, Shelf, Supply
from engine.physics import fuses
from engine.station.model import Source, Station
from engine.terms import Preference

Cost = tuple[float, ...]
ZERO: Cost = (0.0, 0.0, 0.0, 0.0)

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
        return self._order(price, feed.kilograms, quiet.noise(feed, self.prefer), 0.0)

    def lead(self, lead: Lead) -> Cost:
        """The cost of a lead as far as it is filled."""
        grams = lead.conductor.grams_per_metre * 2 * lead.bought_length if lead.conductor else 0.0
        loose = sum(1 for one in lead.contacts or () if not one.locks)
        rating = (lead.fuse_rating or 0.0) / 1e6
        return self._order(lead_price(lead).usual, grams / 1000, 0.0, loose + rating)

    def hub(self, hub: Hub) -> Cost:
        """The cost of a strip."""
        return self._order(hub.strip.price.usual if hub.strip and not hub.owned else 0.0, 0.0, 0.0, 0.0)

    def _order(self, price: float, kilograms: float, noise: float, last: float) -> Cost:
        if self.prefer in (Preference.QUIET, Preference.QUIET_IN_THE_EAR, Preference.QUIET_ON_THE_BANDS):
            return (noise, price, last, kilograms)
        if self.prefer == Preference.LIGHT:
            return (kilograms, price, last, noise)
        return (price, last, kilograms, noise)


def rows(source: Source, shelf: Shelf) -> list[Supply] | list[Battery]:
    """The catalogue's supplies, or its batteries, that agree with what the owner said of the source."""
    return _batteries(source, shelf) if sources.kind(source, shelf) == BATTERY else _supplies(source, shelf)


def _batteries(source: Source, shelf: Shelf) -> list[Battery]:
    return [
        row
        for row in shelf.batteries.values()
        if source.part in (None, row.id)
        and source.chemistry in (None, row.chemistry)
        and source.amp_hours in (None, row.amp_hours)
    ]


def _supplies(source: Source, shelf: Shelf) -> list[Supply]:
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


def feeds(station: Station, id_: str, where: Where, pricing: Pricing, own: Feed | None = None) -> list[Option[Feed]]:
    """Every supply that could stand at an open source, cheapest first; ``own`` is the one that stands there today."""
    source = next((one for one in station.sources if one.id == id_), Source(id_))
    source = source.socket if own else source
    made = [own] if own else []
    for row in rows(source, where.shelf):
        made += [sources.feed(replace(one, part=row.id), where, Notebook()) for one in _counts(source, row)]
    return _sorted((Option(pricing.feed(one), one) for one in made), lambda one: one.title)


def _counts(source: Source, row: Supply | Battery) -> tuple[Source, ...]:
    """One supply; and two alike only where the row says that they share, unless the owner said how many."""
    if source.parallel is not None or not getattr(row, "shares", False):
        return (source,)
    return (source, replace(source, parallel=2, shares=True))


def hubs(case: Case, id_: str, shelf: Shelf, pricing: Pricing, own: Hub | None = None) -> list[Option[Hub]]:
    """Every strip that could stand where it is open, cheapest first; ``own`` is the one that stands there today."""
    made = [own] if own else []
    made += [replace(case.hub[id_], strip=row, title=row.title) for row in shelf.strips.values()]
    return _sorted((Option(pricing.hub(one), one) for one in made), lambda one: one.title)


def _sorted(options: Iterable[Option[Item]], name: Callable[[Item], str]) -> list[Option[Item]]:
    return sorted(options, key=lambda one: (one.cost, name(one.item)))


Keep = Callable[[Lead], bool]


def with_copper(lead: Lead, part: Lead) -> Lead:
    """``lead`` with the copper of ``part``."""
    return replace(
        lead,
        conductor=part.conductor,
        insulation=part.insulation,
        supplied=part.supplied,
        tail=part.tail,
        parallel=part.parallel,
        kept=_kept(lead, part, COPPER),
    )


def with_fuse(lead: Lead, part: Lead) -> Lead:
    """``lead`` with the fuse of ``part``."""
    kept = _kept(lead, part, FUSE)
    return replace(lead, fuse_type=part.fuse_type, fuse_rating=part.fuse_rating, kept=kept)


def with_contacts(lead: Lead, part: Lead) -> Lead:
    """``lead`` with the contacts of ``part``."""
    return replace(lead, contacts=part.contacts, kept=_kept(lead, part, CONTACTS))


def _kept(lead: Lead, part: Lead, piece: str) -> frozenset[str]:
    return (lead.kept - {piece}) | (part.kept & {piece})


def bare(lead: Lead) -> Lead:
    """``lead`` with everything open."""
    return replace(
        lead,
        conductor=None,
        fuse_type=None,
        fuse_rating=None,
        contacts=None,
        supplied=False,
        tail=None,
        parallel=1,
        kept=frozenset(),
    )


def copper_text(lead: Lead) -> str:
    """The copper of a lead in words."""
    if lead.conductor is None:
        return "open"
    size = f"{lead.conductor.id}, {lead.insulation.celsius:g} °C"
    if lead.supplied:
        return f"{size}, the lead that came with it"
    return f"{size}, joined to the {lead.tail.conductor.id} lead that came with it" if lead.tail else size


@dataclass(frozen=True)
class Gaps:
    """What may fill each part of a lead: leads with only their copper, only their fuse, only their contacts."""

    copper: tuple[Lead, ...]
    fuses: tuple[Lead, ...]
    contacts: tuple[Lead, ...]


def gaps(case: Case, lead: Lead, shelf: Shelf, insulation_given: bool, own: Lead | None = None) -> Gaps:
    """What may fill each open part of ``lead``; a part that is given has itself alone.

    ``own`` is the lead as it stands today, where an upgrade may keep or replace its parts.
    """
    empty = bare(lead)
    copper = [with_copper(empty, lead)] if lead.conductor else _coppers(case, lead, shelf, insulation_given)
    guards = [with_fuse(empty, lead)]
    if lead.fuse_rating is None:
        every = ((family, rating) for family in shelf.fuses.values() for rating in family.ratings)
        guards = [replace(empty, fuse_type=family, fuse_rating=rating) for family, rating in every]
    contacts = [with_contacts(empty, lead)]
    if lead.contacts is None:
        pairs = itertools.product(shelf.contacts.values(), repeat=2)
        contacts = [replace(empty, contacts=(first, second)) for first, second in pairs]
    if own is not None:
        copper += [with_copper(empty, own)] if own.conductor else []
        guards += [with_fuse(empty, own)] if own.fuse_rating else []
        contacts += [with_contacts(empty, own)] if own.contacts else []
    return Gaps(tuple(copper), tuple(guards), tuple(contacts))


def _coppers(case: Case, lead: Lead, shelf: Shelf, insulation_given: bool) -> list[Lead]:
    empty = bare(lead)
    classes = [lead.insulation] if insulation_given else [one for one in shelf.insulations.values() if one.sold]
    sizes = [one for one in shelf.conductors.values() if one.system == case.place.wire]
    made = [replace(empty, conductor=size, insulation=skin) for size, skin in itertools.product(sizes, classes)]
    draw = case.draw.get(lead.end)
    return made + list(_with_own_lead(empty, made, draw.lead if draw else None))


def _with_own_lead(empty: Lead, made: list[Lead], own: Piece | None) -> Iterator[Lead]:
    """The lead that came with the load: kept or shortened where it reaches, lengthened where it does not."""
    if own is None:
        return
    if empty.length <= own.length + 1e-9:
        yield replace(
            empty, conductor=own.conductor, insulation=own.insulation, supplied=True, kept=frozenset([COPPER])
        )
        return
    yield from (replace(one, tail=own) for one in made if one.conductor and one.conductor.area >= own.conductor.area)


def leads(open_: Gaps, pricing: Pricing, keep: Keep, bears: Keep) -> Iterator[Option[Lead]]:
    """Every filling of a lead that the rules keep, cheapest first.

    ``keep`` asks the rules that need no solution, of a lead that may still have gaps; ``bears`` asks those that do.
    A part that is refused alone, with everything else open and at its best, is refused in every company.
    """
    wires, guards, ends = (
        _sorted((Option(pricing.lead(one), one) for one in made if keep(one)), _name)
        for made in (open_.copper, open_.fuses, open_.contacts)
    )
    if not (wires and guards and ends):
        return
    asked, least = _Asked(keep, bears), add(guards[0].cost, ends[0].cost)
    heap: list[tuple[Cost, int, Iterator[Option[Lead]], Option[Lead] | None]] = []
    tick = itertools.count()
    for wire in wires:
        heapq.heappush(heap, (add(wire.cost, least), next(tick), asked.fillings(wire, guards, ends), None))
    while heap:
        _, _, more, option = heapq.heappop(heap)
        if option is not None and keep(option.item) and bears(option.item):
            yield option
        after = next(more, None)
        if after is not None:
            heapq.heappush(heap, (after.cost, next(tick), more, after))


def _fuse_ohms(guard: Lead) -> float:
    return fuses.ohms(guard.fuse_rating, guard.fuse_type.drop) if guard.fuse_type and guard.fuse_rating else 0.0


def _contact_ohms(end: Lead) -> float:
    return sum(one.ohms for one in end.contacts or ())


def stoutest(open_: Gaps, keep: Keep, ohms: Callable[[Lead], float]) -> Lead | None:
    """The filling that loses least among those that the rules keep that need no solution; None where there is none."""
    asked, best = _Asked(keep, lambda _: True), list[Lead]()
    guards = [Option(ZERO, one) for one in open_.fuses if keep(one)]
    ends = [Option(ZERO, one) for one in open_.contacts if keep(one)]
    for wire in filter(keep, open_.copper):
        goes = [one.item for one in ends if asked.ended(wire, one.item)]
        held = [one.item for one in guards if goes and asked.fused(wire, one.item)]
        if goes and held:
            fused = with_fuse(wire, min(held, key=_fuse_ohms))
            best.append(with_contacts(fused, min(goes, key=_contact_ohms)))
    return min(best, key=ohms, default=None)


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

    def fillings(
        self, wire: Option[Lead], guards: list[Option[Lead]], ends: list[Option[Lead]]
    ) -> Iterator[Option[Lead]]:
        """The fuses and contacts that go with one wire, cheapest first; none where even the best give too few volts."""
        if not self.wire(wire.item):
            return
        goes = [end for end in ends if self.ended(wire.item, end.item)]
        held = [guard for guard in guards if goes and self.fused(wire.item, guard.item)]
        if not goes or not held:
            return
        guard = min((one.item for one in held), key=_fuse_ohms)
        end = min((one.item for one in goes), key=_contact_ohms)
        if not self.bears(with_contacts(with_fuse(wire.item, guard), end)):
            return
        for cost, (first, second) in rising([[one.cost for one in held], [one.cost for one in goes]]):
            lead = with_contacts(with_fuse(wire.item, held[first].item), goes[second].item)
            yield Option(add(wire.cost, cost), lead)

    def fused(self, wire: Lead, guard: Lead) -> bool:
        """Whether the rules keep this wire with this fuse."""
        key = (id(wire), id(guard))
        if key not in self._known:
            self._known[key] = self.keep(with_fuse(wire, guard))
        return self._known[key]

    def ended(self, wire: Lead, end: Lead) -> bool:
        """Whether the rules keep this wire with these contacts."""
        key = (id(wire), id(end))
        if key not in self._known:
            self._known[key] = self.keep(with_contacts(wire, end))
        return self._known[key]


def rising(costs: list[list[Cost]]) -> Iterator[tuple[Cost, tuple[int, ...]]]:
    """The places of one item from each sorted list, in rising order of their summed cost."""
    if not all(costs):
        return
    first = (0,) * len(costs)
    heap = [(add(*(made[0] for made in costs)), first)]
    seen = {first}
    while heap:
        cost, places = heapq.heappop(heap)
        yield cost, places
        for at, place in enumerate(places):
            after = (*places[:at], place + 1, *places[at + 1 :])
            if place + 1 < len(costs[at]) and after not in seen:
                seen.add(after)
                heapq.heappush(heap, (add(*(made[n] for made, n in zip(costs, after, strict=True))), after))


def _name(lead: Lead) -> str:
    ends = "/".join(one.id for one in lead.contacts or ())
    return f"{lead.conductor.id if lead.conductor else ''} {lead.fuse_type.id if lead.fuse_type else ''} {ends}"
