"""What the values of a station file look like: how each is read and written, and which are refused."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass, field

from engine import units
from engine.station.table import CONDUCTOR, NUMBER, TEXT, Shape, above_nought, below, part_of_whole, quantity, up_to
from engine.units import QuantityError, Spelled

NO_FUSE = 0.0
"""The fuse rating that stands for "there is none"."""

NO_LEAD = "none"
"""The size of a lead that stands for "no lead came with it"."""


@dataclass(frozen=True)
class Window:
    """The lowest and highest voltage [V] that a load accepts at its own terminals, as its owner wrote it."""

    lowest: float
    highest: float
    text: str = field(default="", compare=False)


VOLTS, AMPS, SHARE = quantity(units.VOLTS), quantity(units.AMPS), quantity(units.SHARE)
LENGTH, CELSIUS = quantity(units.LENGTH), quantity(units.CELSIUS)
OHMS, WATTS = quantity(units.OHMS), quantity(units.WATTS)
AMP_HOURS, HOURS = quantity(units.AMP_HOURS), quantity(units.HOURS)
SHOWN_VOLTS, SHOWN_AMPS = quantity(units.SHOWN_VOLTS), quantity(units.SHOWN_AMPS)
SOME_VOLTS, SOME_AMPS, SOME_WATTS = above_nought(VOLTS), above_nought(AMPS), above_nought(WATTS)
SOME_AMP_HOURS = above_nought(AMP_HOURS)
SOME_LENGTH = above_nought(LENGTH, "write the one-way length, such as 0.3 m")
PART = part_of_whole(SHARE)
OF_TIME = up_to(SHARE, 1, "is more than all the time", "write a share from 0 % to 100 %")
OFF_BY = below(SHARE, 0.5, "is half or more of the voltage", "write a small share, such as 2 %")

_AROUND = re.compile(r"(?P<nominal>[^±+]+?)\s*(?:±|\+/-|\+-)\s*(?P<share>[\d.,]+\s*%)", re.I)
_FROM_TO = re.compile(r"(?P<low>[\d.,]+\s*(?:v|volts?)?)\s*(?:-|–|to)\s*(?P<high>[\d.,]+\s*(?:v|volts?))", re.I)


def window(text: str) -> Window:
    """A voltage window written as ``13.8 V ± 15 %`` or ``11.7 to 15.9 V``.

    >>> window("13.8 V ± 10 %").lowest
    12.42

    Raises:
        QuantityError: not readable in either form, or empty.

    """
    plain = units.tidy(text)
    if around := _AROUND.fullmatch(plain):
        nominal, share = units.read(around["nominal"], units.VOLTS), units.read(around["share"], units.SHARE)
        low, high = round(nominal * (1 - share), 9), round(nominal * (1 + share), 9)
        if share >= 1:
            raise QuantityError(f"{plain!r} leaves no lowest voltage", "write for example 13.8 V ± 15 %")
    elif pair := _FROM_TO.fullmatch(plain):
        low, high = float(units.read(pair["low"], units.VOLTS)), float(units.read(pair["high"], units.VOLTS))
    else:
        raise QuantityError(f"{plain!r} is not a voltage window", "write 13.8 V ± 15 % or 11.7 to 15.9 V")
    if not 0 < low < high:
        raise QuantityError(f"{plain!r} has its lowest voltage at or above its highest", "write the lower one first")
    return Window(low, high, plain)


def _fuse(raw: object) -> float:
    if isinstance(raw, str) and raw.strip().casefold() == "none":
        return Spelled(NO_FUSE, "none")
    value: float = AMPS.read(raw)
    if value <= 0:
        raise QuantityError("a fuse of 0 A cannot be", 'write its rating, or "none" when there is no fuse')
    return value


def _supplied(raw: object) -> str:
    if isinstance(raw, str) and raw.strip().casefold() == NO_LEAD:
        return NO_LEAD
    size: str = CONDUCTOR.read(raw)
    return size


def _window(raw: object) -> Window:
    return window(str(TEXT.read(raw)))


def _date(raw: object) -> str:
    text = raw.isoformat() if type(raw) is datetime.date else str(TEXT.read(raw)).strip()
    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        raise QuantityError(f"{text[:40]!r} is not a date", "write year, month and day: 2026-11-24") from None


def _together(raw: object) -> int:
    value = NUMBER.read(raw)
    if value != int(value) or value < 2:
        raise QuantityError(f"{raw} is not a count of several", "write a whole number from 2 up")
    return int(value)


def _degrees(raw: object) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)) or not -90 <= raw <= 90:
        raise QuantityError(f"{raw} is not an angle", "write a plain number of degrees from -90 to 90")
    return raw


def _same(value: float) -> object:
    return value


FUSE = Shape(_fuse, lambda value: units.spell(value, units.AMPS) if value else "none", {"type": "string"}, units.AMPS)
SUPPLIED = Shape(_supplied, CONDUCTOR.write, CONDUCTOR.schema)
WINDOW = Shape(
    _window, lambda value: value.text or f"{value.lowest:.10g} to {value.highest:.10g} V", {"type": "string"}
)
DEGREES = Shape(_degrees, _same, {"type": "number", "minimum": -90, "maximum": 90})
COUNT = Shape(_together, lambda value: value, {"type": "integer", "minimum": 2})

DATE = Shape(_date, lambda value: value, {"type": "string", "format": "date"})
