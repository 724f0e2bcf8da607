"""Changes that cost nothing: a knob locked or set, a fuse moved to its source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from engine.findings import UNSOUND
from engine.model import complete
from engine.model.case import Case, Feed, Lead
from engine.parts import Shelf
from engine.planning.problem import put
from engine.rules import book
from engine.station.model import Station
from engine.units import LENGTH, VOLTS, Spelled, show

KNOB_STEP = 0.1
"""Steps [V] in which a set point is looked for."""

LOCK, PLACE, SET_POINT = "lock", "fuse place", "set point"


@dataclass(frozen=True)
class Setting:
    """One part set otherwise, and what to do in words."""

    part: Feed | Lead
    what: str
    says: str


def settings(case: Case) -> Iterator[Setting]:
    """Every setting that a station's own parts offer."""
    for feed in case.feeds:
        if feed.adjustable and not feed.missing:
            if not feed.locked:
                yield Setting(replace(feed, locked=True), LOCK, "lock or cover the knob")
            yield from _set_point(case, feed)
    for lead in case.leads:
        if lead.fuse_at > case.limits.fuse_reach:
            within = show(case.limits.fuse_reach, LENGTH, 2)
            yield Setting(replace(lead, fuse_at=0.0), PLACE, f"move the fuse to within {within} of the source")


def _set_point(case: Case, feed: Feed) -> Iterator[Setting]:
    """The nearest set point at which fewer findings are refused than today, and none that is not refused today."""
    refused = _refused(case)
    steps = int((feed.highest - feed.lowest) / KNOB_STEP + 1e-9)
    points = [round(feed.lowest + KNOB_STEP * step, 2) for step in range(steps + 1)]
    for volts in sorted(points, key=lambda one: abs(one - feed.volts)):
        new = replace(feed, volts=volts, locked=True)
        if _refused(put(case, new)) < refused:
            yield Setting(new, SET_POINT, f"set it to {show(volts, VOLTS)}, nothing drawn, and lock the knob")
            return


def _refused(case: Case) -> set[tuple[str, str]]:
    return {(one.rule, one.about) for one in book.judged(case) if not book.kept(one)}


def written(station: Station, setting: Setting) -> Station:
    """The station with a setting written into it."""
    new = setting.part
    if isinstance(new, Lead):
        runs = (replace(one, fuse_at=None) if one.id == new.id else one for one in station.runs)
        return replace(station, runs=tuple(runs))
    volts = Spelled(new.volts, show(new.volts, VOLTS)) if setting.what == SET_POINT else None
    sources = (
        replace(one, locked=True, volts=volts or one.volts) if one.id == new.id else one for one in station.sources
    )
    return replace(station, sources=tuple(sources))


def free(station: Station, shelf: Shelf) -> tuple[Station, tuple[str, ...]]:
    """The station with every knob locked and every fuse moved where that alone mends something, and what was done."""
    said = []
    case, _ = complete.complete(station, shelf)
    for setting in settings(case):
        case, _ = complete.complete(station, shelf)
        broken = [one for one in book.judged(case) if one.outcome == UNSOUND]
        left = [one for one in book.judged(put(case, setting.part)) if one.outcome == UNSOUND]
        if setting.what != SET_POINT and len(left) < len(broken):
            station = written(station, setting)
            said.append(f"{setting.part.id}: {setting.says}")
    return station, tuple(said)
