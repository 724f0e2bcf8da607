"""Batteries at rest: open-circuit volts, resistance inside, and what current, cold and age take of the capacity.

Volts and ohms of the whole battery; capacity in ampere-hours on the rating of its chemistry's hours; shares 0 to 1.
"""

from __future__ import annotations

from engine.parts import Chemistry, Span
from engine.physics.numeric import between

COLUMN = {"low": 1, "usual": 2, "high": 3}


def open_circuit(chemistry: Chemistry, charge: float, which: str = "usual") -> float:
    """Rested volts [V] at a state of charge; ``which`` of the spread between sources: low, usual or high."""
    return between(chemistry.open_circuit, charge, COLUMN[which])


def charge_at(chemistry: Chemistry, volts: float) -> Span:
    """State of charge that rested ``volts`` [V] may mean: the spread between sources, least to most.

    Around the flat middle of iron phosphate the answer is wide: rested volts say little there.
    """
    found = [_inverse(chemistry, volts, COLUMN[which]) for which in ("high", "usual", "low")]
    return Span(*sorted(found))


def _inverse(chemistry: Chemistry, volts: float, column: int) -> float:
    return between([(row[column], row[0]) for row in chemistry.open_circuit], volts)


def cold_factor(chemistry: Chemistry, celsius: float) -> float:
    """Factor on the Ah needed in the cold: straight between the published rows, held beyond their ends."""
    return between(chemistry.cold, celsius)


def internal_ohms(chemistry: Chemistry, amp_hours: float, celsius: float, health: float, which: str) -> float:
    """Resistance [Ω] inside: the chemistry's figure over the capacity, more when cold, and as capacity is lost.

    Common practice, no source: resistance grows as age takes capacity.
    """
    new = getattr(chemistry.ohm_ah, which) / amp_hours
    return float(new * between(chemistry.cold_ohms, celsius) / health)


def capacity(chemistry: Chemistry, amp_hours: float, celsius: float, health: float) -> float:
    """Ampere-hours [Ah] left of the rated ones by age and cold, at the rated current."""
    return amp_hours * health / cold_factor(chemistry, celsius)


def hours_to_empty(amp_hours: float, hours: float, amps: float, exponent: float) -> float:
    """Hours until empty at a steady current: t = H·(C/(I·H))^k, Peukert's law on the H-hour rating.

    Below the rated current nothing is gained. This is NOT the convention that counts capacity at one ampere; see
    ``hours_by_one_ampere``.

    >>> hours_to_empty(100, 20, 5, 1.3)
    20.0
    >>> round(hours_to_empty(200, 20, 20, 1.2), 1)
    8.7
    """
    rated = amp_hours / hours
    k = exponent if amps > rated else 1.0
    return float(hours * (rated / amps) ** k)


def hours_by_one_ampere(capacity_at_one: float, amps: float, exponent: float) -> float:
    """Hours until empty in the other convention, t = Cp/I^k, where Cp [Ah] is the capacity at one ampere.

    A rating on 20 hours is not Cp: put in here as it stands it gives far too short a time.

    >>> round(hours_by_one_ampere(at_one_ampere(100, 20, 1.3), 5, 1.3), 6)
    20.0
    """
    return float(capacity_at_one / amps**exponent)


def at_one_ampere(amp_hours: float, hours: float, exponent: float) -> float:
    """Capacity [Ah] at one ampere of a battery rated ``amp_hours`` over ``hours``: Cp = H·(C/H)^k."""
    return float(hours * (amp_hours / hours) ** exponent)
