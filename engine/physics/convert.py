"""Converters between two direct voltages: what goes in for what comes out.

Watts, amperes, volts; efficiency as a share above 0 and up to 1. A converter draws steady power: the lower the volts
before it, the more current its lead and fuse carry.
"""

from __future__ import annotations


def input_watts(output_watts: float, efficiency: float, idle_watts: float = 0.0) -> float:
    """Power taken [W] for ``output_watts`` [W]: the output over the efficiency, and what it takes without load.

    >>> round(input_watts(276, 0.9, 2.4), 1)
    309.1

    Raises:
        ValueError: the efficiency is not above 0 and up to 1.

    """
    if not 0 < efficiency <= 1:
        raise ValueError("efficiency above 0 and up to 1")
    return output_watts / efficiency + idle_watts


def input_amps(output_watts: float, input_volts: float, efficiency: float, idle_watts: float = 0.0) -> float:
    """Current taken [A] at ``input_volts`` [V] for ``output_watts`` [W].

    >>> round(input_amps(20 * 13.8, 11.5, 0.9), 1)
    26.7

    Raises:
        ValueError: no volts, or the efficiency is not above 0 and up to 1.

    """
    if input_volts <= 0:
        raise ValueError("input volts above 0")
    return input_watts(output_watts, efficiency, idle_watts) / input_volts
