"""Parts that are tried one after another around the search: what goes over between sources, and a booster.

There are few of each, so every one that could serve is planned with, cheapest first, and the best plan counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from engine import assume
from engine.case import BATTERY, VEHICLE
from engine.layout import with_booster
from engine.operating import Demand
from engine.parts import Booster, Changeover, Shelf
from engine.rules import book
from engine.sources import SUN
from engine.station import Station
from engine.verdict import THIN, UNSOUND, Choice, Finding, Refused

FLOOR = "window-floor"


def needs_booster(station: Station, shelf: Shelf, findings: tuple[Finding, ...]) -> bool:
    """Whether the volts are too low at a load on a battery or in a vehicle, and no booster stands there yet."""
    case, _ = assume.complete(station, shelf)
    kinds = {one.kind for one in case.feeds}
    low = any(one.rule == FLOOR and one.outcome in (THIN, UNSOUND) for one in findings)
    return low and len(kinds) == 1 and kinds <= {BATTERY, VEHICLE}


def boosters(station: Station, shelf: Shelf) -> Iterator[tuple[Booster, Station]]:
    """The station behind each booster that gives its peak, cheapest first."""
    case, _ = assume.complete(station, shelf)
    top = Demand(case).worst_peak(case.feeds[0].id)[0]
    for row in sorted(shelf.boosters.values(), key=lambda one: (one.price.usual, one.id)):
        if row.peak >= top:
            yield row, with_booster(station, row.id)


def changeovers(station: Station, shelf: Shelf) -> Iterator[tuple[Changeover, Station]]:
    """The station with each changeover that passes its peak, cheapest first.

    Where a battery is to be charged by the supply and nothing is said of how, only those that charge it come.
    """
    bare = any(one.charged_by and one.charged_by != SUN and not one.charger for one in station.sources)
    case, _ = assume.complete(station, shelf)
    top = max((Demand(face).worst_peak(face.only or face.feeds[0].id)[0] for face in case.faces), default=0.0)
    for row in sorted(shelf.changeovers.values(), key=lambda one: (one.price.usual, one.id)):
        if row.amps >= top and (row.charges or not bare):
            yield row, _with_changeover(station, row)


def _with_changeover(station: Station, row: Changeover) -> Station:
    """The station with that changeover, and its battery charged by it where it does that and nothing else does."""
    changes = tuple(replace(one, part=one.part or row.id) for one in station.changeovers)
    sources = station.sources
    if row.charges:
        sources = tuple(
            replace(one, charger=row.id) if one.charged_by and one.charged_by != SUN and not one.charger else one
            for one in sources
        )
    return replace(station, changeovers=changes, sources=sources)


def chosen(
    about: str, row: Booster | Changeover, because: str, refused: list[Refused], keys: tuple[str, ...]
) -> Choice:
    """The choice of such a part, with the cheaper ones that were tried."""
    return Choice(f"{about}.part", f"{row.title} ({row.id})", because, tuple(refused[-3:]), keys)


def refusal(row: Booster | Changeover, findings: tuple[Finding, ...]) -> Refused | None:
    """Why a cheaper one was not taken: the gravest finding that a plan may not hold with it."""
    found = next((one for one in findings if not book.kept(one)), None)
    return Refused(row.title, found.rule, found.says) if found else None


def without(station: Station, sources: set[str]) -> Station:
    """The station without some sources and the leads that leave them."""
    return replace(
        station,
        sources=tuple(one for one in station.sources if one.id not in sources),
        runs=tuple(one for one in station.runs if one.start not in sources),
    )


def with_filled(station: Station, planned: Station) -> Station:
    """The station with every part that was planned in the place of its own."""
    parts = {one.id: one for one in planned.parts}

    def taken(ours: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(parts.get(one.id, one) for one in ours)

    return replace(station, sources=taken(station.sources), strips=taken(station.strips), runs=taken(station.runs))
