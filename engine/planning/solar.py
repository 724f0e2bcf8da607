"""Panels and controller for a battery that is charged by the sun: the cheapest that the rules call sound."""

from __future__ import annotations

from dataclasses import replace

from engine.findings import SOUND, Choice
from engine.model import complete
from engine.model.operating import Operating
from engine.parts import Charger, Panel, Shelf
from engine.rules import sun as rules
from engine.station.model import Station, Sun
from engine.terms import SUN, ChargerKind

MOST_PANELS = 8
"""Panels of one kind that are looked at."""


def lit(station: Station, shelf: Shelf, choices: tuple[Choice, ...]) -> tuple[Station, tuple[Choice, ...]]:
    """The station with panels and controller where its owner named none, and the reasons added to ``choices``."""
    if station.sun is None or not _battery_known(station, shelf):
        return station, choices
    reasons = list(choices)
    if station.sun.panel is None and station.sun.watts is None:
        station, reasons = _chosen(station, shelf, reasons, "panel")
    if station.sun is not None and station.sun.controller is None:
        station, reasons = _chosen(station, shelf, reasons, "controller")
    return station, tuple(reasons)


def _battery_known(station: Station, shelf: Shelf) -> bool:
    case, _ = complete.complete(station, shelf)
    return any(one.cell and one.cell.charged_by == SUN and not one.missing for one in case.feeds)


def _chosen(station: Station, shelf: Shelf, choices: list[Choice], key: str) -> tuple[Station, list[Choice]]:
    """The cheapest of a kind with which its rule is sound, and why."""
    judge = rules.panels if key == "panel" else rules.controller
    for sun, row, count in _panels(station, shelf) if key == "panel" else _controllers(station, shelf):
        tried = replace(station, sun=sun)
        case, _ = complete.complete(tried, shelf)
        feed = next(one for one in case.feeds if one.cell and one.cell.charged_by == SUN)
        answer = judge(Operating(case.faces[-1]), feed)
        if answer is not None and answer.outcome == SOUND:
            title = f"{count} × {row.title}" if count > 1 else row.title
            filled = ("panel", "panels") if key == "panel" else ("controller",)
            return tried, [*choices, Choice(f"sun.{key}", f"{title} ({row.id})", answer.says, (), filled)]
    return station, choices


def _panels(station: Station, shelf: Shelf) -> list[tuple[Sun, Panel, int]]:
    sun = station.sun or Sun()
    every = [(row, count) for row in shelf.panels.values() for count in range(1, MOST_PANELS + 1)]
    every.sort(key=lambda pair: (pair[0].price.usual * pair[1], pair[0].id))
    return [(replace(sun, panel=row.id, panels=count), row, count) for row, count in every]


def _controllers(station: Station, shelf: Shelf) -> list[tuple[Sun, Charger, int]]:
    sun = station.sun or Sun()
    rows = [one for one in shelf.chargers.values() if one.kind == ChargerKind.SOLAR]
    rows.sort(key=lambda one: (one.price.usual, one.id))
    return [(replace(sun, controller=row.id), row, 1) for row in rows]
