"""The one interpolation and the one bisection that everything else calls."""

from __future__ import annotations

from collections.abc import Callable, Sequence


def mix(one: float, other: float, share: float) -> float:
    """The value at a ``share`` (0 to 1) of the straight way from ``one`` to ``other``.

    >>> mix(10, 20, 0.25)
    12.5
    """
    return one + (other - one) * share


def share_of(low: float, high: float, at: float) -> float:
    """Which share of the way from ``low`` to ``high`` leads to ``at``; held between 0 and 1.

    >>> share_of(10, 20, 12.5), share_of(10, 20, 35)
    (0.25, 1.0)
    """
    if at <= low:
        return 0.0
    return (at - low) / (high - low) if at < high else 1.0


def between(rows: Sequence[Sequence[float]], at: float, column: int = 1) -> float:
    """The value at ``at``, straight between the rows and held beyond the ends; the first column rises or falls.

    >>> between([(0, 10), (1, 20)], 0.25)
    12.5
    >>> between([(25, 1.0), (0, 1.4)], -40)
    1.4
    """
    falls = rows[0][0] > rows[-1][0]
    low = high = rows[-1] if falls else rows[0]
    for row in reversed(rows) if falls else rows:
        low, high = high, row
        if at <= row[0]:
            break
    else:
        low = high
    return mix(low[column], high[column], share_of(low[0], high[0], at))


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
