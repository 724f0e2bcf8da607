"""Radio power against direct voltage and current.

Watts of radio output, volts at the set's own terminals, amperes of direct current. Estimates: a set measured on a
dummy load comes first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from engine.parts import Span
from engine.physics.numeric import between

KNEES = (5.8, 3.0, 0.0)
"""Volts that the final stage cannot use: much, usual, none. Chosen so that a 13.8 V design gives 60 to 75 % of its
power at 12.0 V (common-practice)."""

Points = Sequence[tuple[float, float]]


def output_share(volts: float, nominal: float = 13.8) -> Span:
    """Share of full power left at ``volts`` [V]: ((V - knee) / (nominal - knee))², from pessimist to optimist.

    The load line of a final stage is fixed, so its swing, and with it the root of the power, follows the volts above
    the knee. Above nominal the set's own level control holds full power. Below its window a set may give none.

    >>> found = output_share(12.0)
    >>> round(found.low, 2), round(found.usual, 2), round(found.high, 2)
    (0.6, 0.69, 0.76)

    Raises:
        ValueError: the nominal voltage is not above the largest knee.

    """
    if nominal <= max(KNEES):
        raise ValueError(f"nominal volts above {max(KNEES)}")
    low, usual, high = (min(max(volts - knee, 0.0) / (nominal - knee), 1.0) ** 2 for knee in KNEES)
    return Span(low, usual, high)


def keyed_amps(points: Points, watts: float) -> float:
    """Direct current [A] at ``watts`` of radio power, from a curve of (watts, amperes) in rising order.

    Straight on the root of the power between two points; never less than the first.

    >>> round(keyed_amps(((0, 3), (100, 20)), 50), 1)
    15.0

    Raises:
        ValueError: more power than the curve's last point.

    """
    if watts > points[-1][0]:
        raise ValueError(f"no more than {points[-1][0]:g} W, the end of the curve")
    return between([(math.sqrt(at), amps) for at, amps in points], math.sqrt(watts))


def reduced_amps(points: Points, share: float, full_amps: float) -> float:
    """Direct current [A] of a set of ``full_amps`` at key-down, turned down to ``share`` (0 to 1) of its power.

    The curve of its class, scaled to the set's own key-down current.

    >>> round(reduced_amps(((0, 3), (100, 20)), 0.05, 22), 2)
    7.48

    Raises:
        ValueError: a share above 1.

    """
    full_watts, full = points[-1]
    return keyed_amps(points, share * full_watts) * full_amps / full


def decibels(watts: float, reference: float) -> float:
    """``watts`` against ``reference`` [dB], 10·log10 of their ratio; below 0 for less power.

    >>> round(decibels(20, 100), 1)
    -7.0

    Raises:
        ValueError: a power that is not above 0.

    """
    if watts <= 0 or reference <= 0:
        raise ValueError("both powers above 0")
    return 10 * math.log10(watts / reference)
