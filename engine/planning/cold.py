"""A lithium battery that would be charged in the frost: what its owner can do instead."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.model import complete
from engine.model.case import BATTERY, Case
from engine.model.sources import chemistry_of, kind
from engine.parts import Chemistry, Shelf
from engine.station.model import Source, Station

INDOORS = 15.0
"""A battery in an unheated room of the house in winter [°C] (common practice, no source)."""

WORK = 30_000
"""Times that rules are asked for each of these trials: some seconds at most."""

LEAD = "agm"
"""The kind of lead-acid that is tried in the place of lithium: sealed, and the least resistance in the cold."""


@dataclass(frozen=True)
class Frozen:
    """A lithium battery that would be charged in the frost: its kind, and how cold it may be [°C]."""

    chemistry: Chemistry
    celsius: float


def too_cold(station: Station, shelf: Shelf) -> tuple[Frozen, ...]:
    """The lithium batteries of a station that are charged, and may be colder than their kind may be charged at."""
    found = []
    for source in station.sources:
        chemistry = _charged_lithium(source, shelf)
        if chemistry is None:
            continue
        celsius = source.temperature if source.temperature is not None else _coldest(station, shelf)
        if celsius < chemistry.charge_from:
            found.append(Frozen(chemistry, celsius))
    return tuple(found)


def _charged_lithium(source: Source, shelf: Shelf) -> Chemistry | None:
    """The chemistry of a lithium battery that something charges; None of every other source."""
    chemistry = chemistry_of(source, shelf) if kind(source, shelf) == BATTERY and source.charged_by else None
    return chemistry if chemistry and chemistry.is_lithium else None


def _coldest(station: Station, shelf: Shelf) -> float:
    return complete.complete(station, shelf)[0].place.coldest


def indoors(station: Station, shelf: Shelf) -> Station:
    """The station with its lithium batteries in the house."""
    moved = (replace(one, temperature=INDOORS) if _charged_lithium(one, shelf) else one for one in station.sources)
    return replace(station, sources=tuple(moved))


def of_lead(station: Station, shelf: Shelf) -> Station:
    """The station with lead-acid, still to be chosen, in the place of its lithium batteries."""
    return replace(
        station, sources=tuple(_lead(one) if _charged_lithium(one, shelf) else one for one in station.sources)
    )


def _lead(source: Source) -> Source:
    return replace(
        source, chemistry=LEAD, part=None, amp_hours=None, continuous=None, peak=None, ohms=None, owned=False
    )


def says(frozen: Frozen) -> str:
    """What is wrong."""
    kind_, least = frozen.chemistry.title.partition(",")[0], frozen.chemistry.charge_from
    return f"{frozen.celsius:.0f} °C is too cold for the battery: {kind_} is never charged below {least:.0f} °C"


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
