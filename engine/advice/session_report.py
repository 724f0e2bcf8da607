"""A session on battery as plain data: the three answers beside each other, volts over time, and lower power."""

from __future__ import annotations

import math
from typing import Any

from engine.advice.reduced_power import Lower, lower
from engine.advice.spreads import Reach, Sureness, sureness
from engine.model.case import Feed
from engine.model.endurance import DEPTH, FLOOR, Endurance, listening_hours, parked_sessions, sessions
from engine.model.operating import Operating
from engine.parts import Shelf, Span
from engine.rules.check import Verdict

DIGITS = 6
"""Decimals kept in figures for machines."""


def hours_report(verdict: Verdict, shelf: Shelf) -> dict[str, Any]:
    """Every battery of the station, and a vehicle's own with its engine off; hours, volts, amperes, kilograms."""
    every = (*sessions(verdict.faces), *parked_sessions(verdict.faces))
    return {
        "name": verdict.station.name,
        "sessions": [_answers(*one) | {"lower": [_lower(power) for power in lower(*one[:2], shelf)]} for one in every],
    }


def _answers(operating: Operating, feed: Feed, session: Endurance) -> dict[str, Any]:
    """The envelope's answer, the battery's and the radio's, and the session that they come from."""
    depth, floor = session.end(DEPTH), session.end(FLOOR)
    return session_data(session) | {
        "vehicle": feed.starter is not None,
        "hours": rounded(session.hours),
        "by_envelope": rounded(session.ideal),
        "by_battery": rounded(depth.hours) if depth else None,
        "by_radio": rounded(floor.hours) if floor else None,
        "listening_only": rounded(listening_hours(operating, feed)),
        "range": _range(sureness(operating, feed)),
    }


def _range(found: Sureness | None) -> list[dict[str, Any]]:
    """Low, likely and high with all spreads together first, then with each alone, what matters most first."""
    reaches = (found.together, *found.alone) if found else ()
    return [
        {"spread": one.name}
        | {what: {end: rounded(value) for end, value in vars(span).items()} for what, span in _spans(one)}
        for one in reaches
    ]


def _spans(one: Reach) -> tuple[tuple[str, Span], ...]:
    return ("hours", one.hours), ("volts", one.volts)


def session_data(one: Endurance) -> dict[str, Any]:
    """One session: what ends it and when, and its volts over the hours."""
    return {
        "feed": one.feed,
        "load": one.load,
        "floor": rounded(one.floor),
        "ideal": rounded(one.ideal),
        "ends": [
            {"name": end.name, "hours": rounded(end.hours), "left": rounded(end.left), "says": end.says}
            for end in one.ends
        ],
        "receive_share": rounded(one.receive_share),
        "kilograms": rounded(one.weight),
        "trace": [{name: rounded(value) for name, value in vars(hour).items()} for hour in one.trace],
    }


def _lower(one: Lower) -> dict[str, Any]:
    return {name: rounded(value) if isinstance(value, float) else value for name, value in vars(one).items()}


def rounded(value: float) -> float | None:
    """A figure for machines; None where it is without end."""
    return round(value, DIGITS) if math.isfinite(value) else None
