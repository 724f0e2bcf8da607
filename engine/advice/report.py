"""A verdict as plain data: the object printed by --json, and the tables written below a profile's station."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from engine.advice.cautions import Caution, cautions
from engine.advice.fitting import fitting
from engine.advice.longest import reaches
from engine.advice.requirements import musts
from engine.findings import Choice, Finding, Step
from engine.model.endurance import Endurance, sessions
from engine.model.heat import heat
from engine.model.operating import Point, own_points
from engine.rules.check import Verdict
from engine.rules.rivals import Rival
from engine.working import Figure

DIGITS = 6
"""Decimals kept in figures for machines."""


def report(verdict: Verdict, notes: Sequence[str] = ()) -> dict[str, Any]:
    """Everything known of one station, in SI units."""
    return {
        "name": verdict.station.name,
        "outcome": verdict.outcome,
        "notes": list(notes),
        "findings": [_finding(one) | {"turns_on": list(one.turns_on)} for one in verdict.findings],
        "operating": [_point(verdict, one) for one in verdict.operating.points() if one.fed],
        "conditions": [_point(verdict, one) for one in own_points(verdict.operating)],
        "sessions": [_session(made) for _, _, made in sessions(verdict.faces)],
        "longest": [vars(one) | {"longest": _round(one.longest)} for one in reaches(verdict.operating)],
        "heat": _heat(verdict),
        "choices": [_choice(one) | {"better": _better(one)} for one in verdict.choices],
        "assumptions": [vars(one) for one in verdict.assumptions],
        "switching": {"on": [_step(one) for one in verdict.on], "off": [_step(one) for one in verdict.off]},
        "cautions": [_caution(one) for one in cautions(verdict.case, verdict.findings)],
        "fitting": list(fitting(verdict.operating)),
        "musts": [vars(one) for one in musts(verdict.case)],
        "rivals": [_rival(one) for one in verdict.rivals],
        "bill": {
            "lines": [vars(one) | {"kilograms": round(one.kilograms, 3)} for one in verdict.items],
            "low": round(sum(one.low for one in verdict.items), 2),
            "high": round(sum(one.high for one in verdict.items), 2),
            "kilograms": round(sum(one.kilograms for one in verdict.items), 3),
        },
    }


def _session(one: Endurance) -> dict[str, Any]:
    return {
        "feed": one.feed,
        "load": one.load,
        "floor": _round(one.floor),
        "ideal": _round(one.ideal),
        "ends": [
            {"name": end.name, "hours": _round(end.hours), "left": _round(end.left), "says": end.says}
            for end in one.ends
        ],
        "receive_share": _round(one.receive_share),
        "kilograms": _round(one.weight),
        "trace": [{name: _round(value) for name, value in vars(hour).items()} for hour in one.trace],
    }


def _round(value: float) -> float | None:
    return round(value, DIGITS) if math.isfinite(value) else None


def _figure(figure: Figure | None) -> dict[str, Any] | None:
    return (
        None if figure is None else {"value": _round(figure.value), "unit": "1" if figure.unit == "%" else figure.unit}
    )


def _finding(one: Finding) -> dict[str, Any]:
    return {
        "rule": one.rule,
        "outcome": one.outcome,
        "about": one.about,
        "says": one.says,
        "figure": _figure(one.figure),
        "limit": _figure(one.limit),
        "basis": one.basis,
    }


def _point(verdict: Verdict, point: Point) -> dict[str, Any]:
    case = verdict.case
    return {
        "state": point.state.name,
        "condition": point.condition.name,
        "loads": [
            {"id": one.id, "volts": _round(point.volts[one.id]), "amps": _round(point.amps[one.id])}
            for one in case.draws
            if one.id in point.volts
        ],
        "runs": [
            {
                "id": one.id,
                "amps": _round(point.through[one.id]),
                "drop": _round(point.drop[one.id]),
                "celsius": _round(verdict.operating.stretch(one, point.condition).celsius),
            }
            for one in case.leads
            if one.id in point.through
        ],
        "sources": [
            {
                "id": one.id,
                "volts": _round(point.volts[one.terminals]),
                "amps": _round(point.amps[one.terminals]),
            }
            for one in case.feeds
            if one.terminals in point.volts
        ],
    }


def _heat(verdict: Verdict) -> dict[str, Any] | None:
    found = heat(verdict.operating)
    if found is None:
        return None
    parts = [{"id": name, "watts": _round(figure.value)} for name, figure in found.parts]
    return {"watts": _round(found.total.value), "parts": parts}


def _choice(one: Choice) -> dict[str, Any]:
    return {
        "about": one.about,
        "chosen": one.chosen,
        "because": one.because,
        "filled": list(one.filled),
        "refused": [vars(other) for other in one.refused],
    }


def _better(one: Choice) -> dict[str, Any] | None:
    """The next better part and what it gives for how much more."""
    made = one.better
    if made is None:
        return None
    figures = {"before": _figure(made.before), "after": _figure(made.after)}
    return {"candidate": made.candidate, "more": round(made.more, 2), "rule": made.rule, **figures}


def _rival(one: Rival) -> dict[str, Any]:
    kinds = {"chosen": (one.mine, one.heat[0]), "other": (one.other, one.heat[1])}
    found: dict[str, Any] = {"about": one.mine.id, "says": one.says}
    for name, (feed, watts) in kinds.items():
        found[name] = {
            "part": feed.part, "technology": feed.technology, "kilograms": _round(feed.kilograms),
            "low": feed.price.low, "high": feed.price.high, "heat": _round(watts), "fan": feed.fan,
            "rf_noise": feed.rf_noise,
        }  # fmt: skip
    return found


def _step(one: Step) -> dict[str, str]:
    return {"about": one.about, "do": one.do, "verify": one.verify}


def _caution(one: Caution) -> dict[str, str]:
    return {"word": one.word, "about": one.about, "says": one.says}


def derived(verdict: Verdict) -> dict[str, Any]:
    """The tables that a profile carries below its station."""
    found: dict[str, Any] = {"verdict": {"outcome": verdict.outcome}}
    found["choice"] = [_choice(one) for one in verdict.choices]
    found["assumption"] = [vars(one) for one in verdict.assumptions]
    found["finding"] = [_words(one) for one in verdict.findings]
    found["switching"] = {"on": _lines(verdict.on), "off": _lines(verdict.off)}
    found["caution"] = [_caution(one) for one in cautions(verdict.case, verdict.findings)]
    found["must"] = [vars(one) for one in musts(verdict.case)]
    found["bill"] = [
        {"about": one.about, "what": one.what, "low": round(one.low, 2), "high": round(one.high, 2)}
        for one in verdict.items
    ]
    return {key: value for key, value in found.items() if value}


def _words(one: Finding) -> dict[str, str]:
    words = {"rule": one.rule, "outcome": one.outcome, "about": one.about, "says": one.says}
    words |= {name: str(figure) for name, figure in (("figure", one.figure), ("limit", one.limit)) if figure}
    return words | {"basis": one.basis}


def _lines(steps: Sequence[Step]) -> list[str]:
    return [f"{number}. {one.do}; go on when {one.verify}" for number, one in enumerate(steps, 1)]
