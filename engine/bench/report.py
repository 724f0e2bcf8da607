"""A diagnosis and a bench sheet as plain data, for --json: SI units, null where there is no bound."""

from __future__ import annotations

import math
from typing import Any

from engine.bench.interval import Interval
from engine.bench.next_measurement import Measurement
from engine.bench.result import Ageing, Cause, Diagnosis, Estimate
from engine.bench.sheet import Line, Sheet
from engine.report import DIGITS


def diagnosis_data(name: str, one: Diagnosis) -> dict[str, Any]:
    """What readings show."""
    return {
        "name": name,
        "alarm": [cause.whole for cause in one.alarm],
        "date": one.date,
        "about": list(one.about),
        "outcome": one.outcome,
        "says": one.says,
        "causes": [_cause(cause) for cause in one.causes],
        "estimates": [_estimate(made) for made in one.estimates],
        "next": _measurement(one.next) if one.next else None,
        "aged": [_aged(grown) for grown in one.ageing],
        "notes": list(one.notes),
    }


def sheet_data(one: Sheet) -> dict[str, Any]:
    """What readings are to be expected."""
    return {"name": one.name, "instrument": one.meter, "lines": [_line(line) for line in one.lines]}


def number(value: float | None) -> float | None:
    """A figure for machines; None where there is none or it is unlimited."""
    return None if value is None or not math.isfinite(value) else round(value, DIGITS)


def _interval(interval: Interval | None) -> list[float | None] | None:
    return None if interval is None else [number(interval.low), number(interval.high)]


def _cause(one: Cause) -> dict[str, Any]:
    says = " ".join((f"{one.says}.", *one.because))
    return {"kind": one.kind, "about": one.about, "says": says, "do": list(one.do), "watts": number(one.watts)}


def _estimate(one: Estimate) -> dict[str, Any]:
    return {
        "about": one.about,
        "state": one.state,
        "volts": number(one.volts.value),
        "amps": number(one.amps),
        "ohms": number(one.resistance.value),
        "watts": number(one.watts.value),
        "bounds": _interval(one.ohms),
        "expected": _interval(one.expected),
        "usual": number(one.usual),
        "over": one.exceeds,
    }


def _measurement(one: Measurement) -> dict[str, Any]:
    return {
        "at": one.at,
        "across": one.across,
        "leg": one.leg or None,
        "state": one.state,
        "keyed": list(one.keyed),
        "sound": _interval(one.sound),
        "faults": [{"part": part, "volts": _interval(volts)} for part, volts in one.faults],
    }


def _aged(one: Ageing) -> dict[str, Any]:
    return {
        "about": one.about,
        "since": one.since,
        "now": one.now,
        "before": _interval(one.before),
        "after": _interval(one.after),
        "grew": one.grew,
    }


def _line(one: Line) -> dict[str, Any]:
    return {
        "at": one.at,
        "across": one.across,
        "state": one.state,
        "keyed": list(one.keyed),
        "volts": number(one.usual),
        "expected": _interval(one.expected),
        "amps": number(one.amps),
    }
