"""What a fixed voltage does to a battery, how long a recharge takes, and what a changeover costs in volts.

Volts at the battery's posts, amperes, ohms, ampere-hours, hours, degrees Celsius. Estimates for planning: the maker of
the battery decides what may charge it, and lithium is never charged below freezing.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.working import Measure

NO_CHARGE = "below what it takes to charge"
UNFINISHED = "too low to finish a charge"
FLOATS = "within float"
NOT_FOR_EVER = "too high to float for ever"
TOO_HIGH = "too high to charge with at all"

TEXTBOOK_RETURN = 1.15
"""Ampere-hours put back for each taken out of a lead-acid battery, as chargers are sized (charger-sizing)."""


@dataclass(frozen=True)
class Windows:
    """Volts of one battery at its temperature: rested and full, float from and to, absorption from and to."""

    full: float
    float_low: float
    float_high: float
    absorb_low: float
    absorb_high: float


@dataclass(frozen=True)
class Tail:
    """The end of a charge: the last ``share`` of capacity goes in at ``pace`` times the charger's current, on average.

    Shares from 0 to 1.
    """

    share: float
    pace: float


LEAD_TAIL = Tail(0.20, 0.25)
"""The last fifth takes as long as the rest (common-practice)."""

LITHIUM_TAIL = Tail(0.05, 0.5)
"""The last twentieth at half the current: half an hour at a fifth of capacity (charger-manual)."""


def compensated(volts: float, celsius: float, per_kelvin: float) -> float:
    """A charging voltage at ``celsius`` from that at 25 °C; ``per_kelvin`` [V/K] is negative for lead-acid.

    >>> round(compensated(13.6, 5, -0.024), 2)
    14.08
    """
    return volts + per_kelvin * (celsius - 25)


def held(volts: float, at: Windows) -> str:
    """What a battery held at ``volts`` for good comes to: one of the five words of this module.

    >>> held(13.6, Windows(12.7, 13.4, 13.8, 14.4, 14.8))
    'within float'
    """
    edges = ((at.full, NO_CHARGE), (at.float_low, UNFINISHED))
    below = next((word for edge, word in edges if volts < edge), None)
    if below:
        return below
    return FLOATS if volts <= at.float_high else NOT_FOR_EVER if volts <= at.absorb_high else TOO_HIGH


def fills(volts: float, at: Windows) -> bool:
    """Whether ``volts`` reach the absorption window: full within hours, not in days or never.

    >>> fills(13.8, Windows(13.3, 13.4, 13.8, 14.2, 14.6))
    False
    """
    return volts >= at.absorb_low


def recharge_amps(volts: float, emf: float, ohms: float, limit: float, standing: float = 0.0) -> float:
    """Current into a battery [A]: (volts - emf) / ohms, no more than the supply's ``limit`` leaves over ``standing``.

    ``ohms`` is the battery's own resistance and that of its leads; 0 leaves only the limit.

    >>> recharge_amps(13.8, 11.8, 0.05, 30.0, standing=2.0)
    28.0
    >>> round(recharge_amps(13.8, 12.8, 0.1, 30), 1)
    10.0
    """
    push, spare = max(volts - emf, 0.0), max(limit - standing, 0.0)
    return min(push / ohms, spare) if ohms > 0 else spare if push else 0.0


def recharge_hours(taken: float, capacity: float, amps: float, tail: Tail, efficiency: float = 1.0) -> float:
    """Hours to put ``taken`` [Ah] back into a battery of ``capacity`` [Ah] with a charger of ``amps`` [A].

    The whole current up to the tail, a share of it in the tail. ``efficiency`` (0 to 1) is the share of the charge
    that stays.

    >>> round(recharge_hours(50, 100, 10, LEAD_TAIL), 1)
    11.0

    Raises:
        ValueError: no current or efficiency, or more taken than there is.

    """
    if amps <= 0 or not 0 < efficiency <= 1 or not 0 <= taken <= capacity:
        raise ValueError("amperes above 0, efficiency above 0 and up to 1, taken from 0 to the capacity")
    slow = min(taken, tail.share * capacity)
    return (taken - slow + slow / tail.pace) / (amps * efficiency)


def changeover_drop(amps: Measure, fixed: Measure, ohms: Measure) -> Measure:
    """Volts lost in a changeover: ``fixed`` [V] for a diode, amperes times ``ohms`` [Ω] for a switch or relay.

    >>> round(changeover_drop(22, 0.4, 0), 3), round(changeover_drop(22, 0, 0.004), 3)
    (0.4, 0.088)
    """
    return fixed + amps * ohms
