"""Where leads go when the owner has not said: one from the supply to each load, or through a fused strip."""

from __future__ import annotations

from dataclasses import replace

from engine.parts import Shelf
from engine.station import Run, Source, Station, Strip

SUPPLY, STRIP = "supply", "strip"


def lay_out(station: Station, shelf: Shelf) -> Station:
    """The station with a source, and a run to every load that takes direct current; what is there is kept."""
    sources = station.sources or (Source(free(SUPPLY, station)),)
    station = replace(station, sources=sources)
    fed = {run.end for run in station.runs if run.start is not None or len(sources) > 1}
    bare = [one.id for one in station.loads if one.id not in fed and feed_of(one.equipment, shelf) == "dc"]
    if not bare:
        return station
    start = station.strips[0].id if station.strips else sources[0].id
    added: list[Run] = []
    starts = dict.fromkeys(bare, start)
    if not station.strips and _through_strip(station, bare, shelf):
        station, starts = _strips(station, bare, shelf)
    for strip in station.strips:
        if strip.id not in fed:
            added.append(Run(free(f"{strip.id}-feed", station), sources[0].id, strip.id))
    there = {run.end for run in station.runs}
    added += [Run(free(f"{one}-lead", station), starts[one], one) for one in bare if one not in there]
    kept = [replace(run, start=starts.get(run.end, start)) if run.start is None else run for run in station.runs]
    return replace(station, runs=(*kept, *added))


def _strips(station: Station, bare: list[str], shelf: Shelf) -> tuple[Station, dict[str, str]]:
    """As many strips as the loads need, and the strip of each load."""
    ways = max((int(one.ways) for one in shelf.strips.values()), default=len(bare))
    starts: dict[str, str] = {}
    for first in range(0, len(bare), ways):
        name = free(STRIP, station)
        station = replace(station, strips=(*station.strips, Strip(name)))
        starts |= dict.fromkeys(bare[first : first + ways], name)
    return station, starts


def feed_of(equipment: str | None, shelf: Shelf) -> str:
    """Whether a class of equipment takes direct current (``dc``) or plugs into the wall (``mains``)."""
    row = shelf.equipment.get(equipment or "")
    return row.feed if row else "dc"


def _through_strip(station: Station, bare: list[str], shelf: Shelf) -> bool:
    if station.site.layout is not None:
        return station.site.layout == "fused strip"
    there = sum(run.end not in bare for run in station.runs)
    return len(bare) + there > shelf.limits.leads_on_posts


def free(name: str, station: Station) -> str:
    """``name``, or ``name-2`` and so on where the owner uses it already."""
    taken = {one.id for one in station.parts}
    number, found = 1, name[:40]
    while found in taken:
        number += 1
        found = f"{name[:36]}-{number}"
    return found
