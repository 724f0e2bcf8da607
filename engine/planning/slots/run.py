"""What may fill each part of a run: its copper, its fuse, its contacts."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from engine.model.case import CONTACTS, COPPER, FUSE, Case, Lead, OwnFuse, Piece
from engine.parts import Conductor, Insulation, Shelf
from engine.planning.cost import Cost, Option, Pricing


def with_copper(lead: Lead, part: Lead) -> Lead:
    """``lead`` with the copper of ``part``."""
    return replace(
        lead,
        conductor=part.conductor,
        insulation=part.insulation,
        supplied=part.supplied,
        tail=part.tail,
        parallel=part.parallel,
        own_fuse=part.own_fuse,
        fuse_legs=part.fuse_legs if part.supplied else lead.fuse_legs,
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


def assembled(lead: Lead, copper: Lead, guard: Lead | None = None, ends: Lead | None = None) -> Lead:
    """A lead of the copper of one, the fuse of another and the contacts of a third; what is None stays open."""
    kept = copper.kept & {COPPER}
    kept |= (guard.kept & {FUSE} if guard else frozenset()) | (ends.kept & {CONTACTS} if ends else frozenset())
    if guard and brings_fuse(copper):
        kept |= {FUSE}
    return Lead(
        lead.id, lead.start, lead.end, lead.length, copper.conductor, copper.insulation, lead.ambient, lead.together,
        guard.fuse_type if guard else None, guard.fuse_rating if guard else None, lead.fuse_at,
        ends.contacts if ends else None, kept, lead.shared, copper.supplied, copper.tail, copper.parallel,
        copper.fuse_legs, lead.negative, lead.engine_space, lead.engine_celsius, copper.own_fuse,
    )  # fmt: skip


def brings_fuse(copper: Lead) -> bool:
    """Whether copper is the lead that came with the load, to be fused at its source by the fuse that came in it."""
    return copper.supplied and FUSE in copper.kept


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
        own_fuse=None,
        kept=frozenset(),
    )


def copper_text(lead: Lead) -> str:
    """The copper of a lead in words."""
    if lead.conductor is None:
        return "open"
    size = f"{lead.conductor.id}, {lead.insulation.celsius:g} °C"
    if lead.supplied:
        return f"{size}, the lead that came with it"
    return f"{size}, to a terminal block and the {lead.tail.conductor.id} lead that came with it" if lead.tail else size


@dataclass(frozen=True)
class Parts:
    """What may fill each part of a lead, cheapest first: leads with only that part filled."""

    copper: tuple[Option[Lead], ...]
    fuses: tuple[Option[Lead], ...]
    contacts: tuple[Option[Lead], ...]


@dataclass(frozen=True)
class Shop:
    """The fuses and contacts of the shelf, cheapest first: they are the same for every lead."""

    fuses: tuple[Option[Lead], ...]
    contacts: tuple[Option[Lead], ...]


def shop(empty: Lead, shelf: Shelf, pricing: Pricing) -> Shop:
    """The shelf's fuses and contacts, on a lead in which everything is open."""
    every = ((family, rating) for family in shelf.fuses.values() for rating in family.ratings)
    guards = [replace(empty, fuse_type=family, fuse_rating=rating) for family, rating in every]
    pairs = itertools.product(shelf.contacts.values(), repeat=2)
    ends = [replace(empty, contacts=(first, second)) for first, second in pairs]
    return Shop(
        _sorted((pricing.fuse(one), one) for one in guards), _sorted((pricing.contacts(one), one) for one in ends)
    )


def parts(
    case: Case, lead: Lead, shelf: Shelf, insulation_given: bool, pricing: Pricing, shop_: Shop, own: Lead | None
) -> Parts:
    """What may fill each open part of ``lead``; a part that is given has itself alone.

    ``own`` is the lead as it stands today, where an upgrade may keep or replace its parts.
    """
    empty = bare(lead)
    copper = [with_copper(empty, lead)] if lead.conductor else _coppers(case, lead, shelf, insulation_given)
    if own is not None and own.conductor:
        copper.append(with_copper(empty, own))
    guards, ends = shop_.fuses, shop_.contacts
    if lead.fuse_rating is not None:
        guards = _sorted([(pricing.fuse(lead), with_fuse(empty, lead))])
    if lead.contacts is not None:
        ends = _sorted([(pricing.contacts(lead), with_contacts(empty, lead))])
    if own is not None:
        guards = _with(guards, with_fuse(empty, own), pricing.fuse) if own.fuse_rating else guards
        ends = _with(ends, with_contacts(empty, own), pricing.contacts) if own.contacts else ends
    return Parts(_sorted((pricing.copper(one), one) for one in copper), guards, ends)


def _with(options: tuple[Option[Lead], ...], own: Lead, price: Callable[[Lead], Cost]) -> tuple[Option[Lead], ...]:
    return _sorted([*((one.cost, one.item) for one in options), (price(own), own)])


def _sorted(priced: Iterable[tuple[Cost, Lead]]) -> tuple[Option[Lead], ...]:
    return tuple(Option(cost, one) for cost, one in sorted(priced, key=lambda pair: (pair[0], _name(pair[1]))))


def _name(lead: Lead) -> str:
    ends = "/".join(one.id for one in lead.contacts or ())
    return f"{lead.conductor.id if lead.conductor else ''} {lead.fuse_type.id if lead.fuse_type else ''} {ends}"


def _coppers(case: Case, lead: Lead, shelf: Shelf, insulation_given: bool) -> list[Lead]:
    empty = bare(lead)
    classes = [lead.insulation] if insulation_given else [one for one in shelf.insulations.values() if one.sold]
    sizes = [one for one in shelf.conductors.values() if one.system == case.place.wire]
    made = [_of(empty, size, skin) for size, skin in itertools.product(sizes, classes)]
    draw = case.draw.get(lead.end)
    if draw is None or draw.lead is None:
        return made
    return made + list(_with_own_lead(empty, made, draw.lead, draw.lead_fuse))


def _of(empty: Lead, size: Conductor, skin: Insulation) -> Lead:
    """An empty lead with copper; written out, because there are hundreds."""
    return Lead(
        empty.id, empty.start, empty.end, empty.length, size, skin, empty.ambient, empty.together, None, None,
        empty.fuse_at, None, empty.kept, empty.shared, False, None, 1, empty.fuse_legs, empty.negative,
        empty.engine_space, empty.engine_celsius,
    )  # fmt: skip


NEAR = 0.5
"""How much [m] of the lead that came with a load is left where a heavy feed ends near it (common practice)."""


MOST_FEED = 35.0
"""The thickest copper [mm²] that a terminal block near a radio takes (common practice, no source)."""


def _with_own_lead(empty: Lead, made: list[Lead], own: Piece, fuse: OwnFuse | None) -> Iterator[Lead]:
    """The lead that came with the load: kept or shortened where it reaches; or behind a heavier feed.

    Where it is kept, the fuse in it is the fuse at the source, or stays behind one of another kind there.
    """
    if empty.length <= own.length + 1e-9:
        whole = replace(
            empty, conductor=own.conductor, insulation=own.insulation, supplied=True, kept=frozenset([COPPER])
        )
        yield replace(whole, own_fuse=fuse)
        if fuse:
            yield replace(whole, kept=frozenset([COPPER, FUSE]), fuse_legs=empty.fuse_legs or fuse.legs)
    heavier = [one for one in made if one.conductor and own.conductor.area <= one.conductor.area <= MOST_FEED]
    for metres in sorted({min(own.length, NEAR), own.length}):
        if metres < empty.length - 1e-9:
            tail = replace(own, length=metres)
            yield from (replace(one, tail=tail, own_fuse=fuse) for one in heavier)
