"""Figures that are known between two bounds. Bounds are taken as certain: what lies outside cannot be."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Interval:
    """A figure between ``low`` and ``high``; either may be infinite."""

    low: float
    high: float

    @classmethod
    def around(cls, value: float, error: float) -> Interval:
        """``value`` give or take ``error``."""
        return cls(value - error, value + error)

    @property
    def middle(self) -> float:
        """Halfway; the finite bound where the other is infinite."""
        if math.isinf(self.high) or math.isinf(self.low):
            return self.low if math.isinf(self.high) else self.high
        return (self.low + self.high) / 2

    @property
    def width(self) -> float:
        """How far apart the bounds are."""
        return self.high - self.low

    def __add__(self, other: Interval) -> Interval:
        return Interval(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Interval) -> Interval:
        return Interval(self.low - other.high, self.high - other.low)

    def __mul__(self, other: Interval) -> Interval:
        products = [_product(mine, its) for mine in (self.low, self.high) for its in (other.low, other.high)]
        return Interval(min(products), max(products))

    def divided_by(self, other: Interval) -> Interval:
        """The quotient by an interval that is not negative; unlimited where that may be nought.

        >>> Interval(1.8, 2.0).divided_by(Interval(18, 20))
        Interval(low=0.09, high=0.1111111111111111)
        """
        return Interval(
            _quotient(self.low, other.high if self.low >= 0 else other.low),
            _quotient(self.high, other.low if self.high >= 0 else other.high),
        )

    def intersection(self, other: Interval) -> Interval | None:
        """What both allow, or None."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Interval(low, high) if low <= high else None

    def shared(self, other: Interval) -> float:
        """How much of the narrower of the two lies in the other: 0 where they are apart, 1 where it lies in it whole.

        >>> Interval(12.0, 13.0).shared(Interval(12.75, 14.75))
        0.25
        """
        common, narrow = self.intersection(other), min(self.width, other.width)
        if common is None:
            return 0.0
        return 1.0 if narrow <= 0 or common.width >= narrow else common.width / narrow

    def overlaps(self, other: Interval) -> bool:
        """Whether some figure is allowed by both."""
        return self.low <= other.high and other.low <= self.high

    def widened(self, by: float) -> Interval:
        """The interval with ``by`` more at each end."""
        return Interval(self.low - by, self.high + by)

    @property
    def not_negative(self) -> Interval:
        """The interval with what lies below nought cut off.

        >>> Interval(-1, 2).not_negative
        Interval(low=0.0, high=2)
        """
        return Interval(max(self.low, 0.0), max(self.high, 0.0))


def _product(factor: float, other: float) -> float:
    """The product, where nought of something unlimited is nought."""
    return 0.0 if factor == 0 or other == 0 else factor * other


def _quotient(dividend: float, divisor: float) -> float:
    if divisor == 0:
        return math.copysign(math.inf, dividend) if dividend else 0.0
    return dividend / divisor


ZERO = Interval(0.0, 0.0)
UNITY = Interval(1.0, 1.0)
NOT_NEGATIVE = Interval(0.0, math.inf)


def total(intervals: Iterable[Interval]) -> Interval:
    """The sum of intervals."""
    summed = ZERO
    for interval in intervals:
        summed = summed + interval
    return summed
