"""What a mode of operation does to the direct current: peaks make volts drop, the mean square makes heat."""

from __future__ import annotations

import math


def keyed_rms(idle: float, peak: float, duty: float) -> float:
    """Heating current [A] during an over, from the envelope's power ``duty`` (0 to 1, fcc-oet65b).

    The duty is that of radio-frequency power, not of the direct current, which runs from ``idle`` to ``peak``
    with the envelope: I = idle + (peak - idle)·e, mean e² = duty, mean e at most sqrt(duty).

    >>> keyed_rms(2, 22, 1.0)
    22.0
    >>> round(keyed_rms(1.5, 22, 0.2), 2)
    10.67
    """
    swing = peak - idle
    return math.sqrt(idle**2 + 2 * idle * swing * math.sqrt(duty) + swing**2 * duty)


def mean(idle: float, peak: float, duty: float, keyed: float) -> float:
    """Largest mean current [A] over time, ``keyed`` being the share of time keyed (0 to 1).

    >>> mean(1, 21, 1.0, 0.25)
    6.0
    """
    return idle + (peak - idle) * math.sqrt(duty) * keyed


def shared_rms(receive: float, over: float, keyed: float) -> float:
    """Heating current [A] over time when overs of ``over`` fill the share ``keyed`` and ``receive`` the rest.

    >>> shared_rms(1, 22, 1.0)
    22.0
    """
    return math.sqrt(keyed * over**2 + (1 - keyed) * receive**2)
