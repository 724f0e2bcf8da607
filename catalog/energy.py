"""The tables of what stands between sun, mains, battery and radio, declared as those of ``tables`` are."""

from __future__ import annotations

import itertools

from catalog.tables import AMPS, MASS, OHMS, SHARE, SOURCE, VOLTS, Table
from engine import parts, units
from engine.fields import FLAG, NAME, NUMBER, TEXT, Field, Shape, choice, many, quantity
from engine.units import QuantityError

WATTS = quantity(units.WATTS)
FAMILY = choice("lead-acid", "lithium iron phosphate", "lithium-ion")
NOISE = choice("none", "filtered", "ask")


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
KILOGRAMS = _need("kilograms", MASS, "weight")

CHANGEOVERS = Table(
    "changeover",
    (
        ID,
        TITLE,
        _need("drop", DROP, "drop at any current: lowest, usual, highest"),
        _need("ohms", OHMS, "resistance of the path through it"),
        _need("amps", AMPS, "rated current"),
        _need("gap_free", FLAG, "whether a radio in operation does not notice"),
        _need("charges", FLAG, "whether it charges the battery in a managed way"),
        _need("idle", AMPS, "current it draws itself"),
        _need("note", TEXT, "what to know"),
        SOURCE,
    ),
    parts.Changeover,
)
BOOSTERS = Table(
    "booster",
    (
        ID,
        TITLE,
        _need("lowest", VOLTS, "lowest input at which it holds its output"),
        _need("highest", VOLTS, "highest input"),
        _need("volts", VOLTS, "output"),
        _need("continuous", AMPS, "output current for hours"),
        _need("peak", AMPS, "output current while keyed for minutes"),
        _need("efficiency", SHARE, "output power over input power at its best load"),
        _need("idle", AMPS, "drawn at nominal input without load"),
        _need("cut_off", VOLTS, "input at which it stops, as bought"),
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
        _need("kind", choice("mains charger", "solar controller", "alternator charger (DC-DC)"), "what feeds it"),
        _need("suits", many(FAMILY, 1), "families of battery it has a program for"),
        _need("amps", AMPS, "charging current"),
        _need("absorbs", FLAG, "whether it goes through bulk, absorption and float"),
        _need("cold_lockout", FLAG, "whether it does not charge below freezing"),
        _need("rf_noise", NOISE, "what it does to reception"),
        Field("method", choice("PWM", "MPPT"), "how a solar controller regulates"),
        Field("highest", VOLTS, "highest input, if from direct current"),
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
        _need("volts", VOLTS, "volts at maximum power"),
        _need("amps", AMPS, "amperes at maximum power"),
        _need("open_circuit", VOLTS, "volts with nothing connected"),
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
        _need("note", TEXT, "what it rests on"),
        SOURCE,
    ),
    parts.PowerCurve,
)
