"""A finding that an assumed value decides is no accusation: it says what was taken, and from which value on it holds.

Each value that nobody gave is tried at the end that is kinder, one at a time, and all together last. A finding that is
then no longer unsound is unknown: the owner looks the value up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from engine.findings import UNKNOWN, UNSOUND, Finding
from engine.model import complete
from engine.parts import Shelf
from engine.rules import book
from engine.station.model import Load, Run, Station
from engine.station.shapes import Window
from engine.terms import PowerInput
from engine.units import AMPS, CELSIUS, LENGTH, Kind, Spelled, show

WIDE = 0.15
"""The wider of the two usual windows, as a share of nominal (47 CFR 2.1055(d) tests equipment from 85 % to 115 %)."""

SHORT_TAIL = 0.3
"""The shortest [m] that the lead which came with a load may be where another lengthens it (common practice)."""

Key = tuple[str, str]
Record = TypeVar("Record", Load, Run)


@dataclass(frozen=True)
class Doubt:
    """A value that nobody gave: its key, what was taken, a kinder value, how to find out; the station with that."""

    about: str
    taken: str
    kinder: str
    find: str
    station: Station


def settled(findings: Sequence[Finding], station: Station, shelf: Shelf) -> tuple[Finding, ...]:
    """The findings, those that an assumed value decides as unknown."""
    open_ = {_key(one) for one in findings if one.outcome == UNSOUND}
    if not open_:
        return tuple(findings)
    said: dict[Key, Finding] = {}
    some = list(doubts(station, shelf))
    for one in some:
        for key in open_ - said.keys() - _unsound(one.station, shelf):
            said[key] = _unknown(next(found for found in findings if _key(found) == key), [one])
    abouts = tuple(dict.fromkeys(one.about for one in some))
    if len(abouts) > 1 and open_ - said.keys():
        for key in open_ - said.keys() - _unsound(_kindest(station, shelf, abouts), shelf):
            mine = _needed(key, abouts, station, shelf)
            least = [one for one in some if one.about in mine]
            said[key] = _unknown(next(found for found in findings if _key(found) == key), least)
    made = [said.get(_key(one), one) for one in findings]
    return tuple(sorted(made, key=lambda one: -one.severity))


def _unknown(finding: Finding, some: Sequence[Doubt]) -> Finding:
    """The finding as a question: unsound with what was taken, sound from what is kinder."""
    abouts = tuple(dict.fromkeys(one.about for one in some))
    if len({one.about for one in some}) == 1:
        one = some[0]
        says = f"unsound if {one.about} is {one.taken}, sound from {one.kinder}: {one.find}. {finding.says}"
    else:
        says = f"unsound only if {' and '.join(abouts)} are all at their worst, and nobody gave them. {finding.says}"
    return replace(finding, outcome=UNKNOWN, says=says, turns_on=abouts)


def _key(one: Finding) -> Key:
    return one.rule, one.about


def _unsound(station: Station, shelf: Shelf) -> set[Key]:
    case, _ = complete.complete(station, shelf)
    return {_key(one) for one in book.judged(case) if one.outcome == UNSOUND}


def doubts(station: Station, shelf: Shelf) -> Iterator[Doubt]:
    """Every value that nobody gave and that may well be kinder, the mildest change of each first."""
    for load in station.loads:
        for about, taken, kinder, find, changed in _of_load(load, shelf):
            loads = tuple(changed if one is load else one for one in station.loads)
            yield Doubt(about, taken, kinder, find, replace(station, loads=loads))
    for run in station.runs:
        for about, taken, kinder, find, other in _of_run(run, station, shelf):
            runs = tuple(other if one is run else one for one in station.runs)
            yield Doubt(about, taken, kinder, find, replace(station, runs=runs))


def windows(station: Station, shelf: Shelf) -> list[Doubt]:
    """Every assumed window, each on top of those before it: the last station has them all at the wider reading."""
    made: list[Doubt] = []
    for load in station.loads:
        now = made[-1].station if made else station
        some = [one for one in doubts(now, shelf) if one.about == f"{load.id}.window"]
        made += some[:1]
    return made


def _needed(key: Key, abouts: tuple[str, ...], station: Station, shelf: Shelf) -> tuple[str, ...]:
    """Of the values that together decide a finding those without which it would be unsound."""
    for one in abouts:
        fewer = tuple(other for other in abouts if other != one)
        if key not in _unsound(_kindest(station, shelf, fewer), shelf):
            abouts = fewer
    return abouts


def _kindest(station: Station, shelf: Shelf, abouts: tuple[str, ...]) -> Station:
    """The station with those values at their kindest."""
    for load in station.loads:
        for about, *_, changed in _of_load(load, shelf):
            if about not in abouts:
                continue
            merged = _merged(next(one for one in station.loads if one.id == load.id), load, changed)
            station = replace(station, loads=tuple(merged if one.id == load.id else one for one in station.loads))
    for run in station.runs:
        for about, *_, other in _of_run(run, station, shelf):
            if about not in abouts:
                continue
            merged_run = _merged(next(one for one in station.runs if one.id == run.id), run, other)
            station = replace(station, runs=tuple(merged_run if one.id == run.id else one for one in station.runs))
    return station


def _merged(now: Record, before: Record, after: Record) -> Record:
    """``now`` with what differs between ``before`` and ``after``."""
    changed = {name: value for name, value in vars(after).items() if value != getattr(before, name)}
    return replace(now, **changed)


def _of_load(load: Load, shelf: Shelf) -> Iterator[tuple[str, str, str, str, Load]]:
    row = shelf.equipment.get(load.equipment or "")
    if row is None or row.feed != PowerInput.DC:
        return
    if load.window is None and load.lowest is None and load.highest is None:
        low = min(row.lowest, round(row.nominal * (1 - WIDE), 2))
        high = max(row.highest, round(row.nominal * (1 + WIDE), 2))
        if (low, high) != (row.lowest, row.highest) and row.group in WIDER:
            wide, taken = _window(low, high), _window(row.lowest, row.highest).text
            yield f"{load.id}.window", taken, wide.text, row.find, replace(load, window=wide)
    if load.transmit is None and row.transmit and row.transmit.usual < row.transmit.high:
        taken, usual = show(row.transmit.high, AMPS), _spelled(row.transmit.usual, AMPS)
        yield f"{load.id}.transmit", taken, f"{usual.text}, as is usual", row.find, replace(load, transmit=usual)


WIDER = ("radio",)
"""The groups of equipment of which many are built for the wider window."""


def _window(low: float, high: float) -> Window:
    return Window(low, high, f"{low:g} to {high:g} V")


def _of_run(run: Run, station: Station, shelf: Shelf) -> Iterator[tuple[str, str, str, str, Run]]:
    if run.conductor and run.insulation is None and not run.supplied:
        least = shelf.insulations[shelf.limits.insulation].celsius
        for skin in sorted(shelf.insulations.values(), key=lambda one: one.celsius):
            if least < skin.celsius <= WARMEST:
                celsius = _spelled(skin.celsius, CELSIUS)
                find = "read the print on the cable"
                yield f"{run.id}.insulation", f"for {least:g} °C", celsius.text, find, replace(run, insulation=celsius)
    if run.tail and run.tail_length is None and run.length and run.length / 2 > SHORT_TAIL:
        short, taken = _spelled(SHORT_TAIL, LENGTH), show(run.length / 2, LENGTH, 2)
        yield f"{run.id}.tail_length", taken, short.text, "measure that piece", replace(run, tail_length=short)


WARMEST = 105.0
"""The warmest insulation [°C] that a cable which nobody read may well have."""


def _spelled(value: float, kind: Kind) -> Spelled:
    return Spelled(value, show(value, kind))
