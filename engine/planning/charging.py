"""A charger between a vehicle and the house battery that it charges: the cheapest that suits the battery's kind."""

from __future__ import annotations

from dataclasses import replace

from engine.findings import Choice
from engine.model import sources
from engine.parts import Shelf
from engine.station.model import Source, Station
from engine.terms import ChargerKind, SourceKind

WHY = "an alternator's own volts never finish a charge and may never stop one; this one is set to the battery's kind"


def with_charger(station: Station, shelf: Shelf) -> tuple[Station, tuple[Choice, ...]]:
    """The station with a charger before each new battery that a vehicle charges, and why.

    A battery that is its owner's already stays as it hangs there today.
    """
    vehicles = {one.id for one in station.sources if sources.kind(one, shelf) == SourceKind.VEHICLE}
    filled, reasons = [], list[Choice]()
    for source in station.sources:
        row = _charger(source, shelf) if source.charged_by in vehicles and not source.charger else None
        if row is None or source.owned:
            filled.append(source)
            continue
        filled.append(replace(source, charger=row))
        title = f"{shelf.chargers[row].title} ({row})"
        reasons.append(Choice(f"{source.id}.charger", title, WHY, (), ("charger",)))
    return replace(station, sources=tuple(filled)), tuple(reasons)


def _charger(source: Source, shelf: Shelf) -> str | None:
    """The cheapest alternator charger for a battery's kind."""
    chemistry = sources.chemistry_of(source, shelf)
    rows = [row for row in shelf.chargers.values() if row.kind == ChargerKind.ALTERNATOR]
    suits = [row for row in rows if chemistry is None or chemistry.family in row.suits]
    return min(suits, key=lambda row: (row.price.usual, row.id)).id if suits else None
