"""The one interpolation and the one bisection against general-purpose libraries (numpy, scipy)."""

import math
import random

import numpy as np
import pytest
from scipy import optimize

from engine.physics import numeric


def test_interpolation_agrees_with_numpy() -> None:
    """Between the rows, at them and beyond both ends, rising or falling, in every column (numpy.interp)."""
    rng = random.Random(7)
    for _ in range(200):
        xs = sorted(rng.sample(range(1000), rng.randint(1, 8)))
        rows = [(x, rng.uniform(-5, 5), rng.uniform(0, 1e3)) for x in xs]
        for at in (*xs, -10, 2000, *(rng.uniform(-10, 1010) for _ in range(20))):
            for column in (1, 2):
                wanted = np.interp(at, xs, [row[column] for row in rows])
                assert numeric.between(rows, at, column) == pytest.approx(wanted, rel=1e-9, abs=1e-9)
                assert numeric.between(rows[::-1], at, column) == pytest.approx(wanted, rel=1e-9, abs=1e-9)


def test_rows_come_back_as_they_are() -> None:
    """At a row's own place its own value stands, to the last bit (a table is read, not computed)."""
    rows = [(0.1, 1 / 3), (0.7, 2 / 3), (1.9, math.pi)]
    assert [numeric.between(rows, at) for at, _ in rows] == [value for _, value in rows]


def test_two_rows_at_one_place_are_a_step() -> None:
    """A table that jumps is read without a fault on either side and at the jump (arithmetic)."""
    rows = [(0, 1), (1, 2), (1, 5), (2, 6)]
    assert [numeric.between(rows, at) for at in (0.5, 1, 1.5)] == [1.5, 2, 5.5]
    assert numeric.between([(1, 2), (1, 5)], 1) == 2


@pytest.mark.parametrize(("good", "bad"), [(0.0, 2.0), (2.0, 0.0)])
def test_bisection_finds_the_root_that_scipy_finds(good: float, bad: float) -> None:
    """The root of cos x = x, sought from either side (scipy.optimize.bisect); each side is what it is said to be."""
    rising = good < bad

    def holds(at: float) -> bool:
        return (math.cos(at) > at) == rising

    last, first = numeric.bisect(holds, good, bad, 50)
    root = optimize.bisect(lambda at: math.cos(at) - at, 0, 2, xtol=1e-14)
    assert last == pytest.approx(root, abs=1e-12)
    assert holds(last) and not holds(first)
    assert abs(first - last) <= abs(good - bad) / 2**50 + 1e-15
