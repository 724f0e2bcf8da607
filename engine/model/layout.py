"""What feeds what when the owner has not said: the kind of source by the use, and where the leads go."""

from __future__ import annotations

from dataclasses import replace

from engine.model.case import BATTERY, BOOSTER, VEHICLE
from engine.parts import Shelf
from engine.station.model import Changeover, Run, Source, Station, Strip
from engine.terms import SUN, Layout, PowerInput, Serves, Technology, Use

SUPPLY, STRIP, CHANGEOVER = "supply", "strip", "changeover"


def lay_out(station: Station, shelf: Shelf) -> Station:
    """The station with its sources, and a run to every load that takes direct current; what is there is kept."""
    station = strung(_sources(station))
    sources = station.sources
    several = len(sources) > 1 and not station.changeovers
    fed = {run.end for run in station.trunk if run.start is not None or several}
    bare = [one.id for one in station.loads if one.id not in fed and feed_of(one.equipment, shelf) == PowerInput.DC]
    station = _between(station)
    if not bare:
        return station
    hub = _hub(station)
    start = station.strips[0].id if station.strips else hub
    added: list[Run] = []
    starts = dict.fromkeys(bare, start)
    if not station.strips and _through_strip(station, bare, shelf):
        station, starts = _strips(station, bare, shelf)
    for strip in station.strips:
        if strip.id not in fed:
            added.append(Run(free(f"{strip.id}-feed", station), hub, strip.id))
    there = {run.end for run in station.trunk}
    added += [Run(free(f"{one}-lead", station), starts[one], one) for one in bare if one not in there]
    kept = [_started(run, starts.get(run.end, start)) for run in station.runs]
    return replace(station, runs=(*kept, *added))


def _started(run: Run, start: str) -> Run:
    """A run to a load with its beginning."""
    return run if run.start is not None or run.serves is not None else replace(run, start=start)


def _moved(run: Run, old: str, new: str) -> Run:
    """A run to a load that began at ``old``, begun at ``new``."""
    return replace(run, start=new) if run.start == old and run.serves is None else run


def strung(station: Station) -> Station:
    """The station with a run for the cables of each bank that its owner described without them."""
    there = {run.end for run in station.runs if run.serves == Serves.STRING}
    banks = [one for one in station.sources if one.technology == BATTERY and (one.parallel or 1) > 1]
    for one in banks:
        if one.id not in there:
            run = Run(free(f"{one.id}-string", station), None, one.id, serves=Serves.STRING)
            station = replace(station, runs=(*station.runs, run))
    return station


def _sources(station: Station) -> Station:
    """The station with a source of the kind that its use asks for, and with a battery behind a supply where wished."""
    if station.sources:
        return _behind(station)
    if station.use == Use.MOBILE:
        return replace(station, sources=(Source(free(VEHICLE, station), technology=VEHICLE),))
    if station.use == Use.BATTERY:
        return replace(station, sources=(_battery(station),))
    return _behind(replace(station, sources=(Source(free(SUPPLY, station)),)))


def _behind(station: Station) -> Station:
    """The station with a battery that takes over from its only supply, where hours without the mains are wished for."""
    supply = station.sources[0]
    lone = len(station.sources) == 1 and supply.technology in (None, *Technology) and not station.changeovers
    if station.wishes.hours is None or station.use in (Use.MOBILE, Use.BATTERY) or not lone:
        return station
    battery, change = _battery(station, supply.id), Changeover(free(CHANGEOVER, station))
    runs = (_moved(run, supply.id, change.id) for run in station.runs)
    return replace(station, sources=(supply, battery), changeovers=(change,), runs=tuple(runs))


def _battery(station: Station, charged_by: str | None = None) -> Source:
    charged_by = SUN if station.sun else charged_by
    return Source(free(BATTERY, station), technology=BATTERY, charged_by=charged_by)


def _between(station: Station) -> Station:
    """The station with the leads into its changeover and its booster, where they are not described."""
    into = {(run.start, run.end) for run in station.trunk}
    fed = {run.end for run in station.trunk}
    added = []
    for change in station.changeovers:
        ways = [one for one in station.sources if one.technology != BOOSTER][:2]
        if change.id not in fed:
            added += [
                Run(free(f"{one.id}-feed", station), one.id, change.id)
                for one in ways
                if (one.id, change.id) not in into
            ]
    for one in station.sources:
        if one.technology == BOOSTER and one.id not in fed:
            origin = station.changeovers[0].id if station.changeovers else station.sources[0].id
            added.append(Run(free(f"{one.id}-feed", station), origin, one.id))
    return replace(station, runs=(*station.runs, *added))


def _hub(station: Station) -> str:
    """What the loads hang on: a booster before a changeover before the first source."""
    booster = next((one.id for one in station.sources if one.technology == BOOSTER), None)
    return booster or (station.changeovers[0].id if station.changeovers else station.sources[0].id)


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
    return row.feed if row else PowerInput.DC


def _through_strip(station: Station, bare: list[str], shelf: Shelf) -> bool:
    if station.site.layout is not None:
        return station.site.layout == Layout.STRIP
    there = sum(run.end not in bare for run in station.trunk)
    return len(bare) + there > shelf.limits.leads_on_posts


def free(name: str, station: Station) -> str:
    """``name``, or ``name-2`` and so on where the owner uses it already."""
    taken = {one.id for one in station.parts}
    number, found = 1, name[:40]
    while found in taken:
        number += 1
        found = f"{name[:36]}-{number}"
    return found


def with_booster(station: Station, part: str) -> Station:
    """The laid-out station with a booster between its source and everything that hung on it."""
    name = free(BOOSTER, station)
    starts = {run.start for run in station.runs}
    feeding = [source.id for source in station.sources if source.id in starts] or [station.sources[0].id]
    origin = station.changeovers[0].id if station.changeovers else feeding[0]
    runs = tuple(_moved(one, origin, name) for one in station.runs)
    feed = Run(free(f"{name}-feed", station), origin, name)
    sources = (*station.sources, Source(name, technology=BOOSTER, part=part))
    return replace(station, sources=sources, runs=(feed, *runs))


def without_booster(station: Station, id_: str) -> Station:
    """The station with a booster taken out, and what hung on it led from where the booster was."""
    origin = next((run.start for run in station.trunk if run.end == id_), None)
    runs = tuple(replace(run, start=origin) if run.start == id_ else run for run in station.runs if run.end != id_)
    sources = tuple(one for one in station.sources if one.id != id_)
    return replace(station, sources=sources, runs=runs)
