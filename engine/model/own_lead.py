"""The lead that came with a load: what its owner says of it, else what its class usually comes with."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine import units
from engine.model.assumptions import Notebook
from engine.model.case import COPPER, FUSE, WHOLE, Lead, OwnFuse, Piece
from engine.parts import Equipment, FuseType, Shelf
from engine.station.model import Load, Run, Station
from engine.station.shapes import NO_LEAD
from engine.terms import FusedLegs
from engine.units import show


@dataclass(frozen=True)
class OwnLead:
    """A lead that came with a load: its copper, and its fuse where there is one."""

    piece: Piece
    fuse: OwnFuse | None


def counts_on_lead(load: Load, station: Station) -> bool:
    """Whether the usual lead of its class is counted on: nothing is said of it, and no other cable lies there."""
    into = [run for run in station.runs if run.end == load.id]
    return load.lead is None and all(run.conductor is None or run.supplied or run.tail for run in into)


def own_lead(load: Load, row: Equipment | None, shelf: Shelf, book: Notebook | None) -> OwnLead | None:
    """The lead that came with ``load``; that of its class only with a ``book`` to write the assumption in."""
    usual = row.lead if row else None
    if load.lead == NO_LEAD or (load.lead is None and (usual is None or book is None)):
        return None
    size = load.lead or (usual.conductor if usual else "")
    metres = load.lead_length if load.lead_length is not None else usual.length if usual else 0.0
    insulation = shelf.insulations[usual.insulation if usual else shelf.limits.insulation]
    made = OwnLead(Piece(shelf.conductors[size], insulation, metres), _fuse(load, row, shelf))
    if load.lead is None and book is not None and row is not None:
        _note(load, row, made, book)
    return made


def _fuse(load: Load, row: Equipment | None, shelf: Shelf) -> OwnFuse | None:
    """The fuse in that lead: of the load's own rating."""
    rating = load.fuse if load.fuse is not None else row.fuse if row else None
    if not rating:
        return None
    usual = row.lead if row else None
    family = shelf.fuses[usual.fuse] if usual else None
    if family is None or rating not in family.ratings:
        family = fuse_family(rating, shelf)
    return OwnFuse(family, rating, usual.legs if usual else FusedLegs.POSITIVE) if family else None


def fuse_family(rating: float, shelf: Shelf) -> FuseType | None:
    """The cheapest family that makes ``rating``: what a fuse of unstated type is taken for."""
    makes = [one for one in shelf.fuses.values() if rating in one.ratings]
    return min(makes, key=lambda one: (one.price.usual, one.volts, one.id), default=None)


def _note(load: Load, row: Equipment, made: OwnLead, book: Notebook) -> None:
    """Write down that the class's usual lead is counted on."""
    text = f"{made.piece.conductor.id}, {show(made.piece.length, units.LENGTH)}, marked {made.piece.insulation.id}"
    if made.fuse:
        where = "each leg" if made.fuse.legs == FusedLegs.BOTH else "its positive leg"
        text = f"{text}, a {made.fuse.rating:g} A fuse in {where}"
    basis = f"what a {row.title} usually comes with; common practice, no single source"
    book.note(
        f"{load.id}.lead", text, basis, 'the lead in its box and the print on it; lead = "none" where there is none'
    )


def own_part(lead: Lead, run: Run, made: OwnLead | None, shelf: Shelf) -> Lead:
    """A run with what the lead that came with its load brings: the marking of its jacket, and its fuse."""
    if run.own_fuse:
        lead = replace(lead, own_fuse=_second(run.own_fuse, made, shelf))
    if made is None or not lead.came_with:
        return lead
    if lead.tail:
        lead = replace(lead, tail=replace(lead.tail, insulation=made.piece.insulation))
    elif run.insulation is None:
        lead = replace(lead, insulation=made.piece.insulation)
    fuse = made.fuse
    there = (
        lead.supplied and not run.own_fuse and fuse and (lead.fuse_rating, lead.fuse_type) == (fuse.rating, fuse.family)
    )
    return with_own_fuse(lead, fuse) if there and fuse else lead


def _second(rating: float, made: OwnLead | None, shelf: Shelf) -> OwnFuse | None:
    if made and made.fuse and made.fuse.rating == rating:
        return made.fuse
    family = fuse_family(rating, shelf)
    return OwnFuse(family, rating, FusedLegs.POSITIVE) if family else None


def with_own_fuse(lead: Lead, fuse: OwnFuse) -> Lead:
    """A lead that came with its load and is fused at its source end by the fuse that came in it."""
    kept = WHOLE if lead.owned else (lead.kept | {COPPER, FUSE})
    return replace(
        lead, fuse_type=fuse.family, fuse_rating=fuse.rating, kept=kept, fuse_legs=lead.fuse_legs or fuse.legs
    )
