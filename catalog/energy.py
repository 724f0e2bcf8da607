"""The tables of what stands between sun, mains, battery and radio, declared as those of ``tables`` are."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import Any

from catalog.tables import (
    AMPS,
    CELSIUS,
    KILOGRAMS,
    OHMS,
    PART,
    SHARE,
    SOME,
    SOME_AMPS,
    SOME_VOLTS,
    SOURCE,
    STATED,
    VOLTS,
    Table,
)
from engine import parts, units
from engine.station.table import FLAG, NAME, NUMBER, PROSE, TEXT, Field, Shape, above_nought, choice, many, quantity
from engine.terms import ChargeMethod, ChargerKind, Family, RfNoise
from engine.units import QuantityError

WATTS = above_nought(quantity(units.WATTS), STATED)
AMP_HOURS = above_nought(quantity(units.AMP_HOURS), STATED)
FAMILY = choice(Family.LEAD_ACID, Family.IRON_PHOSPHATE, Family.LITHIUM_ION)
NOISE = choice(*RfNoise)


def _drop(raw: object) -> parts.Span:
    low, usual, high = many(VOLTS, 3, 3).read(raw)
    if not low <= usual <= high:
        raise QuantityError("is not in rising order", "write lowest, usual, highest")
    return parts.Span(low, usual, high)


def _points(raw: object) -> tuple[tuple[float, float], ...]:
    points: tuple[tuple[float, float], ...] = many(many(NUMBER, 2, 2), 2).read(raw)
    for (watts, amps), (more_watts, more_amps) in itertools.pairwise(points):
        if not (watts < more_watts and amps < more_amps):
            raise QuantityError("is not in rising order", "write [watts, amperes], both rising")
    return points


DROP = Shape(_drop, lambda value: value, {"type": "array"})
POINTS = Shape(_points, lambda value: value, {"type": "array"})


def _need(key: str, shape: Shape, says: str) -> Field:
    return Field(key, shape, says, True)


ID, TITLE = _need("id", NAME, "its name"), _need("title", TEXT, "in plain words")


def _ohms(raw: object) -> parts.Span:
    low, usual, high = many(OHMS, 3, 3).read(raw)
    if not low <= usual <= high:
        raise QuantityError("is not in rising order", "write lowest, usual, highest")
    return parts.Span(low, usual, high)


RESISTANCE = Shape(_ohms, lambda value: value, {"type": "array"})


def _curve(raw: object) -> tuple[tuple[float, ...], ...]:
    rows: tuple[tuple[float, ...], ...] = many(many(NUMBER, 4, 4), 2).read(raw)
    for before, after in itertools.pairwise(rows):
        if not all(one < other for one, other in zip(before, after, strict=True)):
            raise QuantityError("does not rise", "write [state of charge, lowest V, usual V, highest V], all rising")
    if any(not one[1] <= one[2] <= one[3] for one in rows) or (rows[0][0], rows[-1][0]) != (0, 1):
        raise QuantityError("is not a curve", "write lowest, usual, highest V, from state of charge 0 to 1")
    return rows


def _is_pair(row: object) -> bool:
    plain = isinstance(row, list) and all(isinstance(one, (int, float)) and math.isfinite(one) for one in row)
    return plain and len(row) == 2  # type: ignore[arg-type]


def _factors(raw: object) -> tuple[tuple[float, float], ...]:
    if not isinstance(raw, list) or not all(map(_is_pair, raw)) or len(raw) < 2:
        raise QuantityError("is not a list of pairs", "write [[25, 1.0], [0, 1.4]], from warm to cold")
    rows = tuple((float(celsius), float(factor)) for celsius, factor in raw)
    for (warm, less), (cold, more) in itertools.pairwise(rows):
        if not (warm > cold and less <= more):
            raise QuantityError("is not in order", "write temperatures falling and factors rising")
    return rows


def _three(raw: object) -> parts.Span:
    low, usual, high = many(SOME, 3, 3).read(raw)
    if not low <= usual <= high:
        raise QuantityError("is not in rising order", "write least, usual, most")
    return parts.Span(low, usual, high)


def _exponent(raw: object) -> parts.Span:
    span = _three(raw)
    if span.low < 1 or span.high > 2:
        raise QuantityError("is no exponent of a battery", "write least, usual, most between 1 and 2")
    return span


def _two(raw: object) -> tuple[float, float]:
    low, high = many(NUMBER, 2, 2).read(raw)
    if low > high:
        raise QuantityError("is not in rising order", "write lowest, highest")
    return low, high


def _slope(raw: object) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)) or not -1 < raw <= 0:
        raise QuantityError(f"{raw} is not a slope", "write volts a kelvin, such as -0.024, or 0")
    return float(raw)


def _array(read: Callable[[object], Any]) -> Shape:
    return Shape(read, lambda value: value, {"type": "array"})


CHEMISTRIES = Table(
    "chemistry",
    (
        ID,
        TITLE,
        _need("family", choice(*Family), "family"),
        _need("cells", SOME, "cells in series"),
        _need("open_circuit", _array(_curve), "[state of charge, lowest V, usual V, highest V]"),
        _need("ohm_ah", _array(_three), "resistance times capacity: least, usual, most [Ω·Ah]"),
        _need("peukert", _array(_exponent), "exponent: least, usual, most"),
        _need("hours", SOME, "hours of its rating"),
        _need("cold", _array(_factors), "[°C, factor on the Ah needed]"),
        _need("cold_ohms", _array(_factors), "[°C, factor on the resistance]"),
        _need("depth", PART, "share drawn for long life"),
        _need("cut_off", SOME_VOLTS, "empty"),
        _need("absorption", _array(_two), "lowest and highest volts that finish a charge"),
        Field("float", _array(_two), "lowest and highest volts to keep it at", attr="float_volts"),
        _need("slope", Shape(_slope, lambda value: value, {"type": "number"}), "of those volts with temperature [V/K]"),
        _need("charge_from", CELSIUS, "lowest temperature of charging"),
        _need("charge_share", SOME, "greatest charging current over capacity [1/h]"),
        _need("watt_hours_per_kilogram", SOME, "energy for its weight"),
        _need("vents", FLAG, "whether it gives off hydrogen"),
        _need("note", PROSE, "what to know"),
        SOURCE,
    ),
    parts.Chemistry,
)
BATTERIES = Table(
    "battery",
    (
        ID,
        TITLE,
        _need("chemistry", NAME, "its chemistry"),
        _need("amp_hours", AMP_HOURS, "rated capacity"),
        _need("continuous", SOME_AMPS, "continuous discharge current"),
        _need("peak", SOME_AMPS, "discharge current for seconds"),
        _need("board", FLAG, "whether electronics in it cut it off"),
        KILOGRAMS,
        _need("outlets", many(TEXT, 1), "posts and sockets on it"),
        SOURCE,
    ),
    parts.Battery,
)
VEHICLES = Table(
    "vehicle",
    (
        ID,
        TITLE,
        _need("rested", DROP, "engine off, nothing drawn: lowest, usual, highest"),
        _need("running", DROP, "engine running: lowest, usual, highest"),
        _need("charging", SOME_VOLTS, "charging hard in the cold"),
        _need("starting", DROP, "while the engine is started: lowest, usual, highest"),
        _need("ohms", RESISTANCE, "resistance behind the battery's posts: least, usual, most"),
        _need("cranking", SOME_AMPS, "cold cranking current of its battery"),
        _need("spare", AMPS, "what the alternator leaves over at idle"),
        _need("standby", AMP_HOURS, "what may be drawn with the engine off before it does not start"),
        _need("outlets", many(TEXT, 1), "posts and sockets"),
        _need("note", PROSE, "what to know"),
        SOURCE,
    ),
    parts.Vehicle,
)
CHANGEOVERS = Table(
    "changeover",
    (
        ID,
        TITLE,
        _need("drop", DROP, "drop at any current: lowest, usual, highest"),
        _need("ohms", OHMS, "resistance of the path through it"),
        _need("amps", SOME_AMPS, "rated current"),
        _need("gap_free", FLAG, "whether a radio in operation does not notice"),
        _need("charges", FLAG, "whether it charges the battery in a managed way"),
        _need("idle", AMPS, "current it draws itself"),
        KILOGRAMS,
        _need("note", PROSE, "what to know"),
        SOURCE,
    ),
    parts.Changeover,
)
BOOSTERS = Table(
    "booster",
    (
        ID,
        TITLE,
        _need("lowest", SOME_VOLTS, "lowest input at which it holds its output"),
        _need("highest", SOME_VOLTS, "highest input"),
        _need("volts", SOME_VOLTS, "output"),
        _need("continuous", SOME_AMPS, "continuous output current"),
        _need("peak", SOME_AMPS, "output current while keyed for minutes"),
        _need("efficiency", PART, "output power over input power at its best load"),
        _need("idle", AMPS, "drawn at nominal input without load"),
        _need("cut_off", SOME_VOLTS, "input at which it stops, as bought"),
        _need("settable", FLAG, "whether that can be set"),
        _need("isolated", FLAG, "whether its output is parted from its input"),
        _need("rf_noise", NOISE, "what it does to reception"),
        KILOGRAMS,
        _need("outlets", many(TEXT, 1), "posts and sockets on it"),
        SOURCE,
    ),
    parts.Booster,
)
CHARGERS = Table(
    "charger",
    (
        ID,
        TITLE,
        _need("kind", choice(*ChargerKind), "what feeds it"),
        _need("suits", many(FAMILY, 1), "families of battery it has a program for"),
        _need("amps", SOME_AMPS, "charging current"),
        _need("absorbs", FLAG, "whether it goes through bulk, absorption and float"),
        _need("cold_lockout", FLAG, "whether it does not charge below freezing"),
        _need("rf_noise", NOISE, "what it does to reception"),
        Field("method", choice(*ChargeMethod), "how a solar controller regulates"),
        Field("highest", SOME_VOLTS, "highest input, if from direct current"),
        KILOGRAMS,
        SOURCE,
    ),
    parts.Charger,
)
PANELS = Table(
    "panel",
    (
        ID,
        TITLE,
        _need("watts", WATTS, "nominal power"),
        _need("volts", SOME_VOLTS, "volts at maximum power"),
        _need("amps", SOME_AMPS, "amperes at maximum power"),
        _need("open_circuit", SOME_VOLTS, "volts with nothing connected"),
        KILOGRAMS,
        SOURCE,
    ),
    parts.Panel,
)
POWERS = Table(
    "power",
    (
        ID,
        TITLE,
        _need("classes", many(NAME, 1), "classes of equipment it is used for"),
        _need("points", POINTS, "[watts, amperes], rising, the last at full power"),
        _need("spread", SHARE, "how far a set of the class may be off it"),
        _need("note", PROSE, "what it rests on"),
        SOURCE,
    ),
    parts.PowerCurve,
)
