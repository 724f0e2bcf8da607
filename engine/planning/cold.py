"""A lithium battery that would be charged in the frost: what its owner can do instead."""

from __future__ import annotations

from dataclasses import replace

from engine.model import complete
from engine.model.case import BATTERY, Case, Cell
from engine.model.sources import kind
from engine.parts import Shelf
from engine.station.model import Source, Station

INDOORS = 15.0
"""A battery in an unheated room of the house in winter [°C] (common practice, no source)."""

WORK = 30_000
"""Times that rules are asked for each of these trials: some seconds at most."""

LEAD = "agm"
"""The kind of lead-acid that is tried in the place of lithium: sealed, and the least resistance in the cold."""


def too_cold(station: Station, shelf: Shelf) -> tuple[Cell, ...]:
    """The lithium batteries of a station that are charged, and may be colder than their kind may be charged at."""
    found = []
    for source in station.sources:
        chemistry = shelf.chemistries.get(_chemistry(source, shelf))
        if kind(source, shelf) != BATTERY or chemistry is None or not chemistry.is_lithium or not source.charged_by:
            continue
        celsius = source.temperature if source.temperature is not None else _coldest(station, shelf)
        if celsius < chemistry.charge_from:
            found.append(Cell(chemistry, source.amp_hours or 0.0, celsius, 1.0, 1.0, 1.0))
    return tuple(found)


def _chemistry(source: Source, shelf: Shelf) -> str:
    row = shelf.batteries.get(source.part or "")
    return source.chemistry or (row.chemistry if row else "")


def _coldest(station: Station, shelf: Shelf) -> float:
    return complete.complete(station, shelf)[0].place.coldest


def _frozen(source: Source, shelf: Shelf) -> bool:
    row = shelf.chemistries.get(_chemistry(source, shelf))
    return row is not None and row.is_lithium and bool(source.charged_by)


def indoors(station: Station, shelf: Shelf) -> Station:
    """The station with its lithium batteries in the house."""
    moved = (replace(one, temperature=INDOORS) if _frozen(one, shelf) else one for one in station.sources)
    return replace(station, sources=tuple(moved))


def of_lead(station: Station, shelf: Shelf) -> Station:
    """The station with lead-acid, still to be chosen, in the place of its lithium batteries."""
    return replace(station, sources=tuple(_lead(one) if _frozen(one, shelf) else one for one in station.sources))


def _lead(source: Source) -> Source:
    return replace(
        source, chemistry=LEAD, part=None, amp_hours=None, continuous=None, peak=None, ohms=None, owned=False
    )


def says(cell: Cell) -> str:
    """What is wrong."""
    kind_, least = cell.chemistry.title.partition(",")[0], cell.chemistry.charge_from
    return f"{cell.celsius:.0f} °C is too cold for the battery: {kind_} is never charged below {least:.0f} °C"


def moved(case: Case | None) -> str:
    """What a place in the house would change."""
    if case is None:
        return "move the battery indoors; what else is refused then, a plan with its new temperature tells"
    return f"move it indoors ({INDOORS:.0f} °C or warmer, lead longer or thicker for the way): {_sizes(case)} would do"


def instead(case: Case | None) -> str:
    """What lead-acid in the same cold would have to be."""
    if case is None:
        return "no single lead-acid battery was found that does it in such cold"
    return f"or lead-acid where it is: {_sizes(case)} would do; kept above two thirds it does not freeze"


def _sizes(case: Case) -> str:
    return " and ".join(one.title for one in case.feeds if one.cell)
