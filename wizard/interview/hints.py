"""What is assumed while an answer is open."""

from __future__ import annotations

from engine.model.complete import DARK_DAYS, EVENING
from engine.model.sources import CAR
from engine.parts import Equipment, Limits, Shelf
from wizard.questions.question import BATTERY, MAINS, VEHICLE, Question


def hint(question: Question, row: Equipment | None, shelf: Shelf) -> str:
    """What is taken when the answer is left open: the class's figure with its spread, or the house's."""
    if row is None or question.table != "load":
        own = {VEHICLE: _vehicle, BATTERY: _battery}.get(question.kind or MAINS)
        return own(question, shelf) if own else _house(question, shelf.limits)
    span = {"receive": row.receive, "transmit": row.transmit, "busy": row.busy}.get(question.key)
    if span:
        return f"{span.high:g} A (usual {span.low:g} to {span.high:g})"
    if question.key == "wall" and row.wall:
        return f"{row.wall.high:g} W (usual {row.wall.low:g} to {row.wall.high:g})"
    plain = {
        "window": f"{row.lowest:g} to {row.highest:g} V",
        "mode": row.mode or "",
        "follows": row.follows,
        "fuse": f"{row.fuse:g} A" if row.fuse else "",
        "keyed": f"{shelf.limits.keyed * 100:g} %" if row.transmit else "",
    }
    return plain.get(question.key, "")


def _house(question: Question, limits: Limits) -> str:
    if question.table == "sun":
        return {"days": f"{DARK_DAYS:g}", "operating": f"the hours wished for, or {EVENING:g} h"}.get(question.key, "")
    return {
        "length": f"{limits.desk_lead:g} m",
        "hottest": f"{limits.hottest:g} °C",
        "coldest": f"{limits.coldest:g} °C",
        "headroom": f"{limits.voice_headroom * 100:g} %; FM and digital {limits.steady_headroom * 100:g} %",
        "prefer": "price",
        "mains": "120 V",
        "circuit": "the smallest usual circuit",
        "layout": "by the number of leads",
        "insulation": limits.insulation,
    }.get(question.key, "")


def _vehicle(question: Question, shelf: Shelf) -> str:
    limits, car = shelf.limits, shelf.vehicles[CAR]
    return {
        "part": f"a {car.title}",
        "engine": "running",
        "highest": f"{car.charging:g} V",
        "cranking": f"{car.cranking:g} A",
        "load_sensor": "no sensor",
        "length": f"{limits.vehicle_lead:g} m",
        "negative": "the body near the battery bond",
        "engine_space": f"{limits.engine_space:g} m",
        "insulation": limits.insulation,
        "region": "no region's practice",
    }.get(question.key, "")


def _battery(question: Question, shelf: Shelf) -> str:
    limits = shelf.limits
    return {
        "length": f"{limits.desk_lead:g} m",
        "insulation": limits.insulation,
        "temperature": "the coldest of the site",
        "health": f"{limits.health * 100:g} %, the end of its life",
        "depth": "what its kind bears for a long life",
        "charge": "100 %",
        "continuous": "what is usual for its kind and size",
        "peak": "what is usual for its kind and size",
        "ohms": "what is usual for its kind and size",
    }.get(question.key, "")
