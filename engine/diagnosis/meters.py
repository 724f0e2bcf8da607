"""What a meter's figure can mean: the reading with its error as a certain bound."""

from __future__ import annotations

from dataclasses import dataclass

from engine.diagnosis.band import Band
from engine.parts import Instrument
from engine.station.model import Reading

SMALL_VOLTS = 0.2
"""Below this [V] a multimeter is read on its smallest range."""

NOT_STATED = "not stated"


@dataclass(frozen=True)
class Sight:
    """One figure as read and what it can be: V, A or Ω."""

    value: float
    band: Band
    instrument: Instrument
    reading: Reading


def volts(value: float, meter: Instrument) -> Band:
    """The volts that a reading of ``value`` [V] can be."""
    small = meter.small_volts if value < SMALL_VOLTS and meter.small_volts is not None else meter.volts or 0.0
    return Band.around(value, value * (meter.volts_share or 0.0) + small)


def amps(value: float, meter: Instrument) -> Band:
    """The current that a reading of ``value`` [A] can be; never negative."""
    error = value * (meter.amps_share or 0.0) + (meter.amps or 0.0)
    return Band(max(value - error, 0.0), value + error)


def ohms(value: float, meter: Instrument) -> Band:
    """The resistance that a reading of ``value`` [Ω] can be; never negative."""
    error = value * (meter.ohms_share or 0.0) + (meter.ohms or 0.0)
    return Band(max(value - error, 0.0), value + error)


def drop(upper: Sight, lower: Sight) -> Band:
    """The volts lost between two points.

    Two readings named after one instrument are taken as made with the same one: what it is off by in proportion is
    then off alike in both and counts on their difference alone.
    """
    meter = upper.instrument
    if meter.id != lower.instrument.id or meter.id == NOT_STATED:
        return upper.band - lower.band
    lost = upper.value - lower.value
    return Band.around(lost, abs(lost) * (meter.volts_share or 0.0) + 2 * (meter.volts or 0.0))
