"""A diagnosis and a bench sheet as plain data, for --json: SI units, null where there is no bound."""

from __future__ import annotations

import math
from typing import Any

from engine.advice.report import DIGITS
from engine.diagnosis.band import Band
from engine.diagnosis.result import Aged, Cause, Diagnosis, Estimate
from engine.diagnosis.sheet import Line, Sheet
from engine.diagnosis.telling import Measurement


def diagnosis_data(name: str, one: Diagnosis) -> dict[str, Any]:
    """What readings show."""
    return {
        "name": name,
        "date": one.date,
        "about": list(one.about),
        "outcome": one.outcome,
        "says": one.says,
        "causes": [_cause(cause) for cause in one.causes],
        "estimates": [_estimate(made) for made in one.estimates],
        "next": _measurement(one.next) if one.next else None,
        "aged": [_aged(grown) for grown in one.aged],
        "notes": list(one.notes),
    }


def sheet_data(one: Sheet) -> dict[str, Any]:
    """What readings are to be expected."""
    return {"name": one.name, "instrument": one.meter, "lines": [_line(line) for line in one.lines]}


def number(value: float | None) -> float | None:
    """A figure for machines; None where there is none or it is unlimited."""
    return None if value is None or not math.isfinite(value) else round(value, DIGITS)


def _band(band: Band | None) -> list[float | None] | None:
    return None if band is None else [number(band.low), number(band.high)]


def _cause(one: Cause) -> dict[str, Any]:
    return {"kind": one.kind, "about": one.about, "says": one.says, "watts": number(one.watts)}


def _estimate(one: Estimate) -> dict[str, Any]:
    return {
        "about": one.about,
        "state": one.state,
        "volts": number(one.volts.value),
        "amps": number(one.amps),
        "ohms": number(one.resistance.value),
        "watts": number(one.watts.value),
        "bounds": _band(one.ohms),
        "expected": _band(one.expected),
        "usual": number(one.usual),
        "over": one.over,
    }


def _measurement(one: Measurement) -> dict[str, Any]:
    """A measurement to take, with place, state and loads keyed as a ``[[reading]]`` states them."""
    return {
        "at": one.at,
        "across": one.across,
        "state": one.read_state,
        "keyed": list(one.keyed),
        "sound": _band(one.sound),
        "faults": [{"part": part, "volts": _band(band)} for part, band in one.faults],
    }


def _aged(one: Aged) -> dict[str, Any]:
    return {
        "about": one.about,
        "since": one.since,
        "now": one.now,
        "before": _band(one.before),
        "after": _band(one.after),
        "grew": one.grew,
    }


def _line(one: Line) -> dict[str, Any]:
    return {
        "at": one.at,
        "across": one.across,
        "state": one.state,
        "keyed": list(one.keyed),
        "volts": number(one.usual),
        "expected": _band(one.expected),
        "amps": number(one.amps),
    }
