"""Copper conductors: resistance, allowable current, temperature, and what a short circuit does to them.

Metres, ohms, amperes, square millimetres, degrees Celsius, seconds, as plain numbers or as figures that show their
working.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from engine.working import Figure, Measure

RESISTIVITY = 0.017241
"""Annealed copper at 20 °C [Ω·mm²/m], 100 % IACS (iec-60028)."""

COEFFICIENT = 0.00393
"""Rise of resistance per kelvin at 20 °C (iec-60028)."""

RISE = Figure(COEFFICIENT, "/°C", "rise", "per kelvin, IEC 60028")

TABLE_AMBIENT = 30.0
"""Ambient of the ampacity table [°C] (cfr-33-183-425)."""

BUNDLES = ((25, 0.40), (7, 0.50), (4, 0.60), (3, 0.70))
"""Loaded conductors lying together, and the share of the table's current left (cfr-33-183-425)."""

BIGGEST_OVERLOAD = 1.45
"""A protective device must open at no more than this multiple of ampacity (iec-60364-4-43, from memory)."""

ADIABATIC_SECONDS = 5.0
"""Longest short circuit treated as without heat loss [s] (iec-60364-4-43, from memory)."""


def awg_area(gauge: int) -> float:
    """Cross-section [mm²] of AWG ``gauge``, -3 (4/0) to 40 (awg-law).

    >>> round(awg_area(10), 2)
    5.26
    """
    diameter: float = 0.127 * 92 ** ((36 - gauge) / 39)
    return math.pi / 4 * diameter**2


def ohms_per_metre(at_20: Measure, celsius: Measure) -> Measure:
    """Resistance per metre [Ω/m] at ``celsius`` from that at 20 °C (iec-60028), -100 to 250 °C.

    >>> round(ohms_per_metre(0.01, 70), 6)
    0.011965
    """
    return at_20 * (1 + _rise(celsius) * (celsius - 20))


def _rise(like: Measure) -> Measure:
    return RISE if isinstance(like, Figure) else COEFFICIENT


def loop_metres(one_way: Measure) -> Measure:
    """Out and back [m] over ``one_way`` metres: current flows through both conductors.

    >>> loop_metres(1.5)
    3.0
    """
    return 2 * one_way


def loop_ohms(per_metre: float, one_way: float) -> float:
    """Resistance [Ω] of out and back over ``one_way`` metres."""
    return per_metre * loop_metres(one_way)


def ampacity(
    table: Mapping[int, float], insulation: float, ambient: float = TABLE_AMBIENT, conductors: int = 2
) -> float:
    """Allowable current [A] of a conductor with ``insulation`` [°C] in air at ``ambient`` [°C].

    The table's column at or below the insulation's class, times the square-root law
    sqrt((Tins - Tamb) / (Tins - 30)), times the bundle factor (cfr-33-183-425). Zero when the air is as hot as
    the insulation may get. Air cooler than the table's 30 °C earns nothing.

    >>> round(ampacity({60: 25.0, 105: 45.0}, 105, 50), 1)
    38.5
    """
    at = column(table, insulation)
    return table[at] * ambient_factor(at, ambient) * bundle_factor(conductors) if at else 0.0


def column(table: Mapping[int, float], insulation: float) -> int:
    """The table's column at or below an insulation's class [°C]; 0 where there is none.

    >>> column({60: 25.0, 105: 45.0}, 90)
    60
    """
    return max((one for one in table if one <= insulation), default=0)


def ambient_factor(insulation: float, ambient: float) -> float:
    """Share of the 30 °C current left at ``ambient`` [°C], 0 to 1.

    >>> round(ambient_factor(75, 50), 2)
    0.75
    """
    return math.sqrt(max(insulation - max(ambient, TABLE_AMBIENT), 0) / (insulation - TABLE_AMBIENT))


def bundle_factor(conductors: int) -> float:
    """Share of the table's current left when ``conductors`` loaded conductors lie together (cfr-33-183-425)."""
    return next((factor for least, factor in BUNDLES if conductors >= least), 1.0)


def temperature(amps: float, allowed_at_30: float, insulation: float, ambient: float) -> float:
    """Conductor temperature [°C] under a steady heating current: rise goes with the square of the current.

    ``allowed_at_30`` [A] is the current that takes the conductor from 30 °C to its insulation's class.

    >>> temperature(45, 45, 105, 30)
    105.0
    """
    if allowed_at_30 <= 0:
        return math.inf if amps > 0 else ambient
    return ambient + (insulation - TABLE_AMBIENT) * (amps / allowed_at_30) ** 2


def withstand_seconds(area: Measure, k: Measure, amps: Measure) -> Measure:
    """How long [s] the insulation bears a short circuit of ``amps``, above 0: (k·S / I)² (iec-60364-4-43).

    >>> round(withstand_seconds(2.5, 115, 500), 2)
    0.33
    """
    return (k * area / amps) ** 2
