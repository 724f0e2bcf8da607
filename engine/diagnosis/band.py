"""Figures that are known between two bounds. Bounds are taken as certain: what lies outside cannot be."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass


def _times(one: float, other: float) -> float:
    """The product, where nought of something unlimited is nought."""
    return 0.0 if one == 0 or other == 0 else one * other


@dataclass(frozen=True)
class Band:
    """A figure between ``low`` and ``high``; either may be infinite."""

    low: float
    high: float

    @classmethod
    def around(cls, value: float, error: float) -> Band:
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

    def __add__(self, other: Band) -> Band:
        return Band(self.low + other.low, self.high + other.high)

    def __sub__(self, other: Band) -> Band:
        return Band(self.low - other.high, self.high - other.low)

    def __mul__(self, other: Band) -> Band:
        ends = [_times(one, two) for one in (self.low, self.high) for two in (other.low, other.high)]
        return Band(min(ends), max(ends))

    def over(self, other: Band) -> Band:
        """The quotient by a band that is not negative; unlimited where that may be nought.

        >>> Band(1.8, 2.0).over(Band(18, 20))
        Band(low=0.09, high=0.1111111111111111)
        """
        return Band(
            _over(self.low, other.high if self.low >= 0 else other.low),
            _over(self.high, other.low if self.high >= 0 else other.high),
        )

    def meet(self, other: Band) -> Band | None:
        """What both allow, or None."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Band(low, high) if low <= high else None

    def meets(self, other: Band) -> bool:
        """Whether some figure is allowed by both."""
        return self.low <= other.high and other.low <= self.high

    def shared(self, other: Band) -> float:
        """How much of the narrower of the two lies in the other: 0 where they are apart, 1 where it lies in it whole.

        >>> Band(12.0, 13.0).shared(Band(12.75, 14.75))
        0.25
        """
        both, narrow = self.meet(other), min(self.width, other.width)
        if both is None:
            return 0.0
        return 1.0 if narrow <= 0 or both.width >= narrow else both.width / narrow

    def wider(self, by: float) -> Band:
        """The band with ``by`` more at each end."""
        return Band(self.low - by, self.high + by)


def _over(one: float, other: float) -> float:
    if other == 0:
        return math.copysign(math.inf, one) if one else 0.0
    return one / other


NOUGHT = Band(0.0, 0.0)
ONE = Band(1.0, 1.0)
ANY = Band(0.0, math.inf)


def total(bands: Iterable[Band]) -> Band:
    """The sum of bands."""
    found = NOUGHT
    for one in bands:
        found = found + one
    return found
