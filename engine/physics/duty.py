"""What a mode of operation does to the direct current: peaks make volts drop, the mean square makes heat."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import reduce
from operator import add

from engine.working import Measure, root


def keyed_rms(idle: float, peak: float, duty: float, envelope: float) -> float:
    """Heating current [A] of a conductor during an over, from the envelope's power ``duty`` and its mean (0 to 1).

    The duty is that of radio-frequency power, not of the direct current, which runs from ``idle`` to ``peak``
    with the envelope: I = idle + (peak - idle)·e, mean e² = duty, mean e = ``envelope``.

    >>> keyed_rms(2, 22, 1.0, 1.0)
    22.0
    >>> round(keyed_rms(1.5, 22, 0.2, math.sqrt(0.2)), 2)
    10.67
    """
    swing = peak - idle
    return math.sqrt(idle**2 + 2 * idle * swing * envelope + swing**2 * duty)


def mean(idle: float, peak: float, envelope: float, keyed: float = 1.0) -> float:
    """Mean current [A] over time, from the mean of the envelope and the share of time keyed (0 to 1 each).

    >>> mean(1, 21, 1.0, 0.25)
    6.0
    """
    return idle + (peak - idle) * envelope * keyed


def rms_in_turns(turns: Iterable[tuple[Measure, Measure]]) -> Measure:
    """Heating current [A] over time of currents that take turns, each as its share of the time and its own rms [A].

    >>> rms_in_turns([(1.0, 22)])
    22.0
    >>> round(rms_in_turns([(0.5, 1), (0.3, 20), (0.2, 6)]), 2)
    11.3
    """
    squares = [share * amps**2 for share, amps in turns]
    mean: Measure = reduce(add, squares)
    return root(mean)
