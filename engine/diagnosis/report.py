"""A diagnosis and a bench sheet as plain data, for --json: SI units, null where there is no bound."""

from __future__ import annotations

import math
from typing import Any

from engine.advice.session_report import DIGITS
from engine.diagnosis.interval import Interval
from engine.diagnosis.next_measurement import Measurement
from engine.diagnosis.result import Ageing, Cause, Diagnosis, Estimate
from engine.diagnosis.sheet import Line, Sheet


def diagnosis_data(name: str, diagnosis: Diagnosis) -> dict[str, Any]:
    """What readings show."""
    return {
        "name": name,
        "alarm": [cause.whole for cause in diagnosis.alarm],
        "date": diagnosis.date,
        "about": list(diagnosis.about),
        "outcome": diagnosis.outcome,
        "says": diagnosis.says,
        "causes": [_cause(cause) for cause in diagnosis.causes],
        "estimates": [_estimate(made) for made in diagnosis.estimates],
        "next": _measurement(diagnosis.next) if diagnosis.next else None,
        "aged": [_aged(grown) for grown in diagnosis.ageing],
        "notes": list(diagnosis.notes),
    }


def sheet_data(expected: Sheet) -> dict[str, Any]:
    """What readings are to be expected."""
    return {"name": expected.name, "instrument": expected.meter, "lines": [_line(line) for line in expected.lines]}


def number(value: float | None) -> float | None:
    """A figure for machines; None where there is none or it is unlimited."""
    return None if value is None or not math.isfinite(value) else round(value, DIGITS)


def _interval(interval: Interval | None) -> list[float | None] | None:
    return None if interval is None else [number(interval.low), number(interval.high)]


def _cause(cause: Cause) -> dict[str, Any]:
    says = " ".join((f"{cause.says}.", *cause.because))
    return {"kind": cause.kind, "about": cause.about, "says": says, "do": list(cause.do), "watts": number(cause.watts)}


def _estimate(estimate: Estimate) -> dict[str, Any]:
    return {
        "about": estimate.about,
        "state": estimate.state,
        "volts": number(estimate.volts.value),
        "amps": number(estimate.amps),
        "ohms": number(estimate.resistance.value),
        "watts": number(estimate.watts.value),
        "bounds": _interval(estimate.ohms),
        "expected": _interval(estimate.expected),
        "usual": number(estimate.usual),
        "over": estimate.exceeds,
    }


def _measurement(measurement: Measurement) -> dict[str, Any]:
    return {
        "at": measurement.at,
        "across": measurement.across,
        "leg": measurement.leg or None,
        "state": measurement.read_state,
        "keyed": list(measurement.keyed),
        "sound": _interval(measurement.sound),
        "faults": [{"part": part, "volts": _interval(volts)} for part, volts in measurement.faults],
    }


def _aged(ageing: Ageing) -> dict[str, Any]:
    return {
        "about": ageing.about,
        "since": ageing.since,
        "now": ageing.now,
        "before": _interval(ageing.before),
        "after": _interval(ageing.after),
        "grew": ageing.grew,
    }


def _line(line: Line) -> dict[str, Any]:
    return {
        "at": line.at,
        "across": line.across,
        "state": line.state,
        "keyed": list(line.keyed),
        "volts": number(line.usual),
        "expected": _interval(line.expected),
        "amps": number(line.amps),
    }
