"""What a meter's figure can mean: the reading with its error as a certain bound."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from engine.diagnosis.interval import Interval
from engine.parts import Instrument
from engine.station.model import Reading

SMALL_VOLTS = 0.2
"""Below this [V] a multimeter is read on its smallest range."""

ASSUMED = "digital multimeter"
"""The instrument taken for volts and ohms where none is named, and meant where one is asked for."""

ASSUMED_AMPS = "panel meter"
"""The instrument taken for a current where none is named: no worse than a clamp."""

NOT_STATED = "not stated"
"""The instrument of an owner who knows that nothing is known of it."""


@dataclass(frozen=True)
class Measured:
    """One figure as read and what it can be: V, A or Ω."""

    value: float
    interval: Interval
    instrument: Instrument
    reading: Reading

    def turned(self) -> Measured:
        """The same figure with the meter's two points exchanged."""
        bounds = Interval(-self.interval.high, -self.interval.low)
        return replace(self, value=-self.value, interval=bounds)


def volts(value: float, meter: Instrument) -> Interval:
    """The volts that a reading of ``value`` [V] can be."""
    size = abs(value)
    small = meter.small_volts if size < SMALL_VOLTS and meter.small_volts is not None else meter.volts or 0.0
    return Interval.around(value, size * (meter.volts_share or 0.0) + small)


def amps(value: float, meter: Instrument) -> Interval:
    """The current that a reading of ``value`` [A] can be; never negative."""
    return Interval.around(value, value * (meter.amps_share or 0.0) + (meter.amps or 0.0)).not_negative


def ohms(value: float, meter: Instrument) -> Interval:
    """The resistance that a reading of ``value`` [Ω] can be; never negative."""
    return Interval.around(value, value * (meter.ohms_share or 0.0) + (meter.ohms or 0.0)).not_negative


def read_volts(reading: Reading, meters: Mapping[str, Instrument]) -> Measured | None:
    """The volts of a reading as they can be; None where it shows none."""
    meter = meters[reading.instrument or ASSUMED]
    return None if reading.volts is None else Measured(reading.volts, volts(reading.volts, meter), meter, reading)


def read_ohms(reading: Reading, meters: Mapping[str, Instrument]) -> Measured | None:
    """The resistance of a reading as it can be; None where it shows none."""
    meter = meters[reading.instrument or ASSUMED]
    return None if reading.ohms is None else Measured(reading.ohms, ohms(reading.ohms, meter), meter, reading)


def read_amps(reading: Reading, meters: Mapping[str, Instrument]) -> Measured | None:
    """The current of a reading as it can be, whichever way the clamp lay; None where it shows none."""
    if reading.amps is None:
        return None
    meter, value = meters[reading.amps_instrument or ASSUMED_AMPS], abs(reading.amps)
    return Measured(value, amps(value, meter), meter, reading)


def surest(measured: Iterable[Measured]) -> Measured | None:
    """The reading with the narrowest bounds."""
    return min(measured, key=lambda figure: figure.interval.width, default=None)


def drop(upper: Measured, lower: Measured) -> Interval:
    """The volts lost between two points.

    Two readings by instruments of one name are taken as made with the same one: what it is off by in proportion is
    then off alike in both and counts on their difference alone.
    """
    meter = upper.instrument
    if meter.id != lower.instrument.id or meter.id == NOT_STATED:
        return upper.interval - lower.interval
    lost = upper.value - lower.value
    return Interval.around(lost, abs(lost) * (meter.volts_share or 0.0) + 2 * (meter.volts or 0.0))
