"""Fuses: resistance and opening time from the published gates."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from engine.parts import Gate
from engine.physics.numeric import share_of

SURE_TO_OPEN = 1.35
"""Multiple of the rating at which a blade fuse must open in the end (iso-8820-3)."""


def ohms(rating: float, drop: float) -> float:
    """Resistance [Ω] of a fuse of ``rating`` [A] that drops ``drop`` [V] at its rating.

    >>> ohms(25, 0.1)
    0.004
    """
    return drop / rating


def slowest_opening(gates: Sequence[Gate], multiple: float) -> float:
    """Longest time [s] the fuse may take at ``multiple`` of its rating; infinite where it need not open.

    Between gates the slow edge is a straight line on logarithmic scales; past the last gate I²t stays the same.

    >>> slowest_opening((Gate(1.35, 60, 1800), Gate(2, 2, 60)), 2)
    60.0
    """
    opening = [gate for gate in gates if gate.multiple >= SURE_TO_OPEN]
    if not opening or multiple < opening[0].multiple:
        return math.inf
    last = opening[-1]
    if multiple > last.multiple:
        return float(last.slowest * (last.multiple / multiple) ** 2)
    low, high = next(pair for pair in itertools.pairwise((opening[0], *opening)) if multiple <= pair[1].multiple)
    share = share_of(math.log(low.multiple), math.log(high.multiple), math.log(multiple))
    return float(low.slowest * (high.slowest / low.slowest) ** share)
