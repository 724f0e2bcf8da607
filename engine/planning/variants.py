"""Parts that change the station around them: what goes over between sources, and a booster.

There are few of each, so the station with every one that could serve is searched, all of them at once.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from engine.findings import Choice, Refused
from engine.model import complete
from engine.model.case import BATTERY, BOOSTER, VEHICLE
from engine.model.layout import with_booster
from engine.model.operating import Demand
from engine.parts import Booster, Changeover, Shelf
from engine.planning.cost import ZERO, Cost, Pricing, add
from engine.planning.problem import Problem
from engine.station.model import Source, Station
from engine.terms import SUN

CHARGES = "what goes over charges it too, set to its kind; the supply's own voltage would not do it well"


@dataclass(frozen=True)
class Variant:
    """A station with a changeover and a booster chosen, where it has gaps for them, and what these cost."""

    station: Station
    before: Cost = ZERO
    changeover: Changeover | None = None
    booster: Booster | None = None

    def problem(self, shelf: Shelf, banks: bool = False) -> Problem:
        """What is left to plan; with ``banks`` batteries may stand side by side."""
        case, _ = complete.complete(self.station, shelf)
        return Problem(self.station, case, shelf, before=self.before, banks=banks)


def variants(laid: Station, shelf: Shelf, boosted: bool = False) -> list[Variant]:
    """The station with each changeover, and with each booster where one is open or ``boosted``; cheapest first."""
    some = [Variant(laid)]
    if any(one.part is None for one in laid.changeovers):
        some = [_changed(one, row, shelf) for one in some for row in _changeovers(one.station, shelf)]
    if boosted or open_booster(laid):
        some = [_boosted(one, row, shelf) for one in some for row in _boosters(one.station, shelf)]
    return some


def open_booster(station: Station) -> bool:
    """Whether a booster stands there of which nothing is said."""
    return any(_is_open(one) for one in station.sources)


def _is_open(source: Source) -> bool:
    return source.technology == BOOSTER and source.part is None and source.continuous is None


def may_boost(station: Station, shelf: Shelf) -> bool:
    """Whether a booster could hold the volts up: on a battery or in a vehicle, where none stands yet."""
    case, _ = complete.complete(station, shelf)
    kinds = {one.kind for one in case.feeds}
    return BOOSTER not in kinds and bool(kinds & {BATTERY, VEHICLE})


def _pricing(station: Station) -> Pricing:
    return Pricing(station.wishes.prefer or "price")


def _boosters(station: Station, shelf: Shelf) -> Iterator[Booster]:
    """Each booster that gives the station's key-down and what heats it over minutes, cheapest first."""
    case, _ = complete.complete(station, shelf)
    demand = Demand(case.faces[0])
    feeding = [feed.id for feed in case.faces[0].feeds if demand.served.get(feed.id)] or [case.faces[0].feeds[0].id]
    behind = next((one.id for one in station.sources if _is_open(one)), feeding[0])
    top = demand.worst_peak(behind)[0]
    held = max(demand.total(behind, state, demand.sustained) for state in demand.states)
    rows = sorted(shelf.boosters.values(), key=lambda one: (one.price.usual, one.id))
    return (row for row in rows if row.peak >= top and row.continuous >= held)


def _boosted(variant: Variant, row: Booster, shelf: Shelf) -> Variant:
    station = variant.station
    price = _pricing(station).of(row.price.usual, row.kilograms)
    if open_booster(station):
        sources = tuple(replace(one, part=row.id) if _is_open(one) else one for one in station.sources)
        station = replace(station, sources=sources)
    else:
        station = with_booster(station, row.id)
    return replace(variant, station=station, before=add(variant.before, price), booster=row)


def _changeovers(station: Station, shelf: Shelf) -> Iterator[Changeover]:
    """Each changeover that passes the station's peak, cheapest first.

    Where a battery is to be charged by the supply and nothing is said of how, only those that charge it come.
    """
    bare = any(one.charged_by and one.charged_by != SUN and not one.charger for one in station.sources)
    case, _ = complete.complete(station, shelf)
    top = max((Demand(face).worst_peak(face.only or face.feeds[0].id)[0] for face in case.faces), default=0.0)
    rows = sorted(shelf.changeovers.values(), key=lambda one: (one.price.usual, one.id))
    return (row for row in rows if row.amps >= top and (row.charges or not bare))


def _changed(variant: Variant, row: Changeover, shelf: Shelf) -> Variant:
    """The station with that changeover, and its battery charged by it where it does that and nothing else does."""
    station = variant.station
    changes = tuple(replace(one, part=one.part or row.id) for one in station.changeovers)
    sources = station.sources
    if row.charges:
        sources = tuple(
            replace(one, charger=row.id) if one.charged_by and one.charged_by != SUN and not one.charger else one
            for one in sources
        )
    price = _pricing(station).of(row.price.usual)
    changed = replace(station, changeovers=changes, sources=sources)
    return replace(variant, station=changed, before=add(variant.before, price), changeover=row)


def chosen(about: str, row: Booster | Changeover, why: str, refused: list[Refused], filled: tuple[str, ...]) -> Choice:
    """The choice of a booster or changeover."""
    return Choice(f"{about}.part", f"{row.title} ({row.id})", why, tuple(refused), filled)
