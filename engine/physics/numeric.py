"""The one interpolation and the one bisection that everything else calls."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence


def mix(one: float, other: float, share: float) -> float:
    """The value at a ``share`` (0 to 1) of the straight way from ``one`` to ``other``.

    >>> mix(10, 20, 0.25)
    12.5
    """
    return one + (other - one) * share


def place(rising: Sequence[float], at: float) -> tuple[int, float]:
    """Between which two of two or more rising values ``at`` lies: the index of the lower, and the share of the way.

    Held at the ends.

    >>> place([0, 10, 20], 12.5), place([0, 10, 20], -5), place([0, 10, 20], 20)
    ((1, 0.25), (0, 0.0), (1, 1.0))
    """
    index = min(max(bisect_left(rising, at) - 1, 0), len(rising) - 2)
    low, high = rising[index], rising[index + 1]
    return index, min(max((at - low) / (high - low), 0.0), 1.0) if high > low else 0.0


def between(rows: Sequence[Sequence[float]], at: float, column: int = 1) -> float:
    """The value at ``at``, straight between the rows and held beyond the ends; the first column rises or falls.

    >>> between([(0, 10), (1, 20)], 0.25)
    12.5
    >>> between([(25, 1.0), (0, 1.4)], -40)
    1.4
    """
    ordered = sorted(rows, key=lambda row: row[0])
    if len(ordered) < 2:
        return ordered[0][column]
    index, share = place([row[0] for row in ordered], at)
    return mix(ordered[index][column], ordered[index + 1][column], share)


def bisect(holds: Callable[[float], bool], good: float, bad: float, steps: int) -> tuple[float, float]:
    """The last value that holds and the first that does not, after halving the way from ``good`` to ``bad``.

    ``good`` may be the larger of the two; neither is asked about.

    >>> bisect(lambda at: at * at <= 2, 1.0, 2.0, 20)
    (1.4142131805419922, 1.4142141342163086)
    """
    for _ in range(steps):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if holds(middle) else (good, middle)
    return good, bad
