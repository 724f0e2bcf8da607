"""Parts that are tried one after another around the search: what goes over between sources, and a booster.

There are few of each, so every one that could serve is planned with, cheapest first, and the best plan counts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from engine.findings import Choice, Finding, Refused
from engine.model import complete
from engine.model.case import BATTERY, BOOSTER, VEHICLE
from engine.model.layout import with_booster
from engine.model.operating import Demand
from engine.parts import Booster, Changeover, Shelf
from engine.rules import book
from engine.station.model import Source, Station
from engine.terms import SUN

FLOOR = "window-floor"


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


def boosters(station: Station, shelf: Shelf) -> Iterator[tuple[Booster, Station]]:
    """The station behind each booster that gives its peak, cheapest first; or with the one that is open filled."""
    case, _ = complete.complete(station, shelf)
    behind = next((one.id for one in station.sources if _is_open(one)), case.faces[0].feeds[0].id)
    top = Demand(case.faces[0]).worst_peak(behind)[0]
    for row in sorted(shelf.boosters.values(), key=lambda one: (one.price.usual, one.id)):
        if row.peak >= top:
            yield row, _boosted(station, row)


def _boosted(station: Station, row: Booster) -> Station:
    if not open_booster(station):
        return with_booster(station, row.id)
    sources = tuple(replace(one, part=row.id) if _is_open(one) else one for one in station.sources)
    return replace(station, sources=sources)


def changeovers(station: Station, shelf: Shelf) -> Iterator[tuple[Changeover, Station]]:
    """The station with each changeover that passes its peak, cheapest first.

    Where a battery is to be charged by the supply and nothing is said of how, only those that charge it come.
    """
    bare = any(one.charged_by and one.charged_by != SUN and not one.charger for one in station.sources)
    case, _ = complete.complete(station, shelf)
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
