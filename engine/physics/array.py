"""Solar array and battery for a load that runs every day, and the controller between them (sand87-7023).

Ampere-hours a day, amperes, volts, watts, hours of peak sun; shares from 0 to 1. Amperes and ampere-hours are those of
the 12 V side. A panel is live whenever there is light; the makers of panel, controller and battery come first.
"""

from __future__ import annotations

from engine.working import Measure

WIRE = 0.98
"""Share of the current that arrives through the wiring (sand87-7023)."""

BATTERY = 0.90
"""Share of a charge that a battery gives back (sand87-7023)."""

NAMEPLATE = {"PWM": 0.90, "MPPT": 0.80}
"""Share of its label that a panel gives in practice: current under PWM, for dirt and ageing; power under MPPT, for
heat as well, which costs volts that PWM leaves unused anyway (common-practice)."""

CONVERTER = 0.95
"""Power that an MPPT controller passes (common-practice)."""

MARGIN = 1.25
"""Rating of a controller over the array's current, for light stronger than the standard's (common-practice)."""

COLD = 0.004
"""Rise of a crystalline panel's open-circuit volts for each kelvin below 25 °C (common-practice)."""


def corrected(amp_hours: Measure, wire: Measure, battery: Measure) -> Measure:
    """What the array must bring in a day for a load of ``amp_hours`` [Ah/day], by the shares that arrive (sand87-7023).

    >>> round(corrected(20, WIRE, BATTERY), 2)
    22.68
    """
    return amp_hours / (wire * battery)


def array_amps(daily: Measure, sun_hours: Measure) -> Measure:
    """Current of the array in full sun [A] that brings ``daily`` [Ah/day] in ``sun_hours`` [h] (sand87-7023).

    >>> round(array_amps(22.68, 4.5), 2)
    5.04

    Raises:
        ValueError: no sun at all.

    """
    if float(sun_hours) <= 0:
        raise ValueError("peak sun hours above 0: no array suffices in the polar night")
    return daily / sun_hours


def battery_amp_hours(daily: Measure, days: Measure, depth: Measure, derate: Measure) -> Measure:
    """Capacity [Ah] for ``days`` without sun down to ``depth``, ``derate`` being what the cold leaves (sand87-7023).

    >>> round(battery_amp_hours(22.68, 5, 0.8, 0.9), 1)
    157.5

    Raises:
        ValueError: depth or derate outside 0 to 1.

    """
    if not (0 < float(depth) <= 1 and 0 < float(derate) <= 1):
        raise ValueError("depth and derate above 0 and up to 1")
    return daily * days / (depth * derate)


def array_watts(amps: float, method: str, panel_volts: float = 18.0, battery_volts: float = 13.8) -> float:
    """Label power [W] of an array that charges with ``amps`` [A] in full sun through a controller of ``method``.

    PWM passes the panel's current, so each ampere costs ``panel_volts``; MPPT passes its power.

    >>> round(array_watts(5.04, "PWM")), round(array_watts(5.04, "MPPT"))
    (101, 92)

    Raises:
        KeyError: the method is neither PWM nor MPPT.

    """
    share = NAMEPLATE[method]
    return amps * panel_volts / share if method == "PWM" else amps * battery_volts / (share * CONVERTER)


def charging_amps(watts: float, method: str, panel_volts: float = 18.0, battery_volts: float = 13.8) -> float:
    """Current into the battery [A] in full sun of an array of label power ``watts``: ``array_watts`` turned round.

    >>> round(charging_amps(100, "PWM"), 2), round(charging_amps(100, "MPPT"), 2)
    (5.0, 5.51)
    """
    return watts / array_watts(1.0, method, panel_volts, battery_volts)


def controller_amps(amps: float, margin: float = MARGIN) -> float:
    """Least rating of the controller [A] for an array of ``amps`` [A] (common-practice).

    >>> controller_amps(8)
    10.0
    """
    return amps * margin


def cold_volts(open_circuit: float, celsius: float) -> float:
    """Open-circuit volts of a panel at its coldest [°C], from those at 25 °C; no less where it is warmer.

    >>> round(cold_volts(22, -20), 2)
    25.96
    """
    return open_circuit * (1 + COLD * max(25 - celsius, 0.0))
