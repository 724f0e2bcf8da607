"""What may stand at a source: the catalogue's supplies or batteries, and the one that stands there today."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from engine.model import sources
from engine.model.assumptions import Notebook
from engine.model.case import BATTERY, Feed
from engine.model.sources import Where
from engine.parts import Battery, Shelf, Supply
from engine.planning.cost import Option, Pricing
from engine.station.model import Source, Station
from engine.station.shapes import MOST_BATTERIES


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
    agrees = []
    for row in shelf.supplies.values():
        if source.part not in (None, row.id) or source.technology not in (None, row.technology):
            continue
        if source.volts is not None and not _gives(row, source.volts):
            continue
        agrees.append(row)
    return agrees


def _gives(row: Supply, volts: float) -> bool:
    return row.lowest <= volts <= row.highest if row.adjustable else abs(row.volts - volts) < 0.05


def feeds(
    station: Station, id_: str, where: Where, pricing: Pricing, own: Feed | None = None, banks: bool = False
) -> list[Option[Feed]]:
    """Every supply that could stand at an open source, cheapest first; ``own`` is the one that stands there today.

    A supply with a knob stands there twice: as it is, and with the knob locked or covered. A battery stands there
    alone, and with ``banks`` two to four times, which are then still without their cables.
    """
    source = next((one for one in station.sources if one.id == id_), Source(id_))
    source = source.socket if own else source
    candidates = [own] if own else []
    for row in rows(source, where.shelf):
        for one in _counts(source, row, banks, _largest(row, where.shelf)):
            made = sources.feed(replace(one, part=row.id), where, Notebook())
            candidates += [made, *_locked(source, made)]
    options = (Option(pricing.feed(one), one) for one in candidates)
    return sorted(options, key=lambda one: (one.cost, one.item.title))


def _largest(row: Supply | Battery, shelf: Shelf) -> float:
    """The capacity of the largest single battery of a kind, over that of ``row``."""
    if not isinstance(row, Battery):
        return 0.0
    return max(one.amp_hours for one in shelf.batteries.values() if one.chemistry == row.chemistry) / row.amp_hours


def _counts(source: Source, row: Supply | Battery, banks: bool, least: float = 0.0) -> tuple[Source, ...]:
    """One supply; and two alike only where the row says that they share, unless the owner said how many.

    Of batteries several come only where they hold more than any single one of their kind: their number is above
    ``least``.
    """
    if banks and isinstance(row, Battery) and source.parallel is None:
        return (source, *(replace(source, parallel=count) for count in range(2, MOST_BATTERIES + 1) if count > least))
    if source.parallel is not None or not getattr(row, "shares", False):
        return (source,)
    return (source, replace(source, parallel=2, shares=True))


def _locked(source: Source, feed: Feed) -> Iterator[Feed]:
    """The same supply with its knob locked, where the owner has not said whether it is."""
    if feed.adjustable and not feed.locked and source.locked is None:
        yield replace(feed, locked=True)
