"""Mains supplies: what they take from the wall and turn into heat."""

from __future__ import annotations


def mains_amps(volts: float, amps: float, efficiency: float, power_factor: float, mains: float) -> float:
    """Current [A] from the wall at ``mains`` volts for ``volts`` and ``amps`` of direct current.

    >>> round(mains_amps(13.8, 30, 0.85, 0.6, 230), 2)
    3.53
    """
    return volts * amps / (efficiency * power_factor * mains)


def heat(volts: float, amps: float, efficiency: float) -> float:
    """Heat [W] that the supply gives to the room.

    >>> round(heat(13.8, 20, 0.5))
    276
    """
    return volts * amps * (1 / efficiency - 1)
