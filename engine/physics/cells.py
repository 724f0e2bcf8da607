"""Batteries at rest: open-circuit volts, resistance inside, and what current, cold and age take of the capacity.

Volts and ohms of the whole battery; capacity in ampere-hours on the rating of its chemistry's hours; shares 0 to 1.
"""

from __future__ import annotations

from engine.parts import Chemistry
from engine.physics.numeric import between

COLUMN = {"low": 1, "usual": 2, "high": 3}


def open_circuit(chemistry: Chemistry, charge: float, which: str = "usual") -> float:
    """Rested volts [V] at a state of charge; ``which`` of the spread between sources: low, usual or high."""
    return between(chemistry.open_circuit, charge, COLUMN[which])


def cold_factor(chemistry: Chemistry, celsius: float) -> float:
    """Factor on the Ah needed in the cold: straight between the published rows, held beyond their ends."""
    return between(chemistry.cold, celsius)


def internal_ohms(chemistry: Chemistry, amp_hours: float, celsius: float, health: float, which: str) -> float:
    """Resistance [Ω] inside: the chemistry's figure over the capacity, more when cold, and as capacity is lost.

    Common practice, no source: resistance grows as age takes capacity.
    """
    new = getattr(chemistry.ohm_ah, which) / amp_hours
    return float(new * cold_ohms_factor(chemistry, celsius) / health)


def cold_ohms_factor(chemistry: Chemistry, celsius: float) -> float:
    """Factor on the resistance [Ω] inside that was measured warm: straight between the rows, held beyond their ends."""
    return between(chemistry.cold_ohms, celsius)


def capacity(chemistry: Chemistry, amp_hours: float, celsius: float, health: float) -> float:
    """Ampere-hours [Ah] left of the rated ones by age and cold, at the rated current."""
    return amp_hours * health / cold_factor(chemistry, celsius)


def hours_to_empty(amp_hours: float, hours: float, amps: float, exponent: float) -> float:
    """Hours until empty at a steady current: t = H·(C/(I·H))^k, Peukert's law on the H-hour rating.

    Below the rated current nothing is gained. This is NOT the convention that counts capacity at one ampere,
    t = Cp/I^k: a rating on H hours is no Cp, and put in its place gives far too short a time.

    >>> hours_to_empty(100, 20, 5, 1.3)
    20.0
    >>> round(hours_to_empty(200, 20, 20, 1.2), 1)
    8.7
    """
    rated = amp_hours / hours
    k = exponent if amps > rated else 1.0
    return float(hours * (rated / amps) ** k)
