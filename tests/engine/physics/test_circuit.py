"""The circuit against scipy's general root finder, against the analytic limit of one lead, and against energy."""

import math
import random
from collections.abc import Sequence

import numpy as np
import pytest
from scipy.optimize import root

from engine.physics.circuit import Branch, Solution, solve

TREES = 600
CLOSE = 1e-6
"""One part in a million."""


def children(branches: Sequence[Branch], node: int) -> list[int]:
    """The branches that leave ``node``."""
    return [index for index, one in enumerate(branches) if one.parent == node]


def random_tree(dice: random.Random) -> tuple[float, list[Branch]]:
    """A source and 1 to 12 leads in random shape, each end loaded with any mixture of the three kinds, or not."""
    volts = dice.choice([12.0, 13.8, 14.4, 28.0, 50.0])
    branches: list[Branch] = []
    for index in range(dice.randint(1, 12)):
        kinds = dice.choice(["current", "power", "resistive", "mixed", "none"])
        branches.append(
            Branch(
                parent=dice.randint(0, index),
                ohms=10 ** dice.uniform(-4, -1.3),
                amps=dice.uniform(0, 8) if kinds in ("current", "mixed") else 0.0,
                siemens=dice.uniform(0, 0.6) if kinds in ("resistive", "mixed") else 0.0,
                watts=dice.uniform(0, 90) if kinds in ("power", "mixed") else 0.0,
            )
        )
    return volts, branches


def mismatch(branches: Sequence[Branch], volts: float, nodes: np.ndarray) -> np.ndarray:
    """Kirchhoff's current law at every node but the source, in amperes: written here from the law itself."""
    all_volts = [volts, *nodes]
    out = []
    for index, one in enumerate(branches):
        here = all_volts[index + 1]
        arriving = (all_volts[one.parent] - here) / one.ohms
        leaving = sum((here - all_volts[below + 1]) / branches[below].ohms for below in children(branches, index + 1))
        out.append(arriving - leaving - one.amps - one.siemens * here - one.watts / here)
    return np.array(out)


def by_scipy(branches: Sequence[Branch], volts: float) -> np.ndarray | None:
    """The node voltages that scipy finds from the source's own voltage, or None where it finds none."""
    found = root(
        lambda nodes: mismatch(branches, volts, nodes), np.full(len(branches), volts), method="hybr", tol=1e-13
    )
    good = np.all(found.x > 0) and np.max(np.abs(mismatch(branches, volts, found.x))) < 1e-6
    return found.x if good else None


def feedable(branches: Sequence[Branch], volts: float) -> bool:
    """Whether even half the source's volts are left everywhere by a one-by-one worst sum (an easy sufficient test)."""
    needs = [one.amps + one.siemens * volts + 2 * one.watts / volts for one in branches]
    for index in range(len(branches) - 1, -1, -1):
        if branches[index].parent:
            needs[branches[index].parent - 1] += needs[index]
    left = [volts]
    for index, one in enumerate(branches):
        left.append(left[one.parent] - one.ohms * needs[index])
    return min(left) >= volts / 2


def test_six_hundred_random_trees_agree_with_a_general_solver() -> None:
    """Volts agree to one part in a million with scipy's root finder on Kirchhoff's law (scipy.optimize.root)."""
    dice, compared, deepest = random.Random(20_261), 0, 1.0
    while compared < TREES:
        volts, branches = random_tree(dice)
        if not feedable(branches, volts):
            continue
        ours, theirs = solve(volts, branches), by_scipy(branches, volts)
        assert ours is not None and theirs is not None, branches
        assert np.allclose(ours.volts[1:], theirs, rtol=CLOSE, atol=0), branches
        deepest = min(deepest, min(ours.volts) / volts)
        compared += 1
    assert deepest < 0.8, "the trees must include leads that lose much"


def test_trees_that_are_hard_to_feed_agree_too() -> None:
    """Near and past collapse: where ours has an answer Kirchhoff's law holds; where it has none scipy has none."""
    dice, solved, collapsed = random.Random(77), 0, 0
    while solved < 60 or collapsed < 60:
        volts, branches = random_tree(dice)
        heavy = [Branch(one.parent, one.ohms * 4, one.amps, one.siemens, one.watts * 2) for one in branches]
        ours = solve(volts, heavy)
        if ours is None:
            collapsed += 1
            assert by_scipy(heavy, volts) is None, heavy
        else:
            solved += 1
            most = max(*ours.through, 1.0)
            assert np.max(np.abs(mismatch(heavy, volts, np.array(ours.volts[1:])))) < CLOSE * most, heavy


@pytest.mark.parametrize("seed", range(5))
def test_one_converter_is_fed_up_to_the_analytic_limit_and_no_further(seed: int) -> None:
    """One lead feeds a steady power exactly up to V²/(4R), at half the volts there (maximum power transfer)."""
    dice = random.Random(seed)
    for _ in range(100):
        volts, ohms = dice.uniform(5, 60), 10 ** dice.uniform(-3, 1)
        most = volts**2 / (4 * ohms)
        near = solve(volts, [Branch(0, ohms, watts=most * (1 - 1e-6))])
        assert near is not None
        assert near.volts[1] == pytest.approx(volts / 2, rel=2e-3)
        assert solve(volts, [Branch(0, ohms, watts=most * (1 + 1e-6))]) is None


def test_the_limit_moves_with_the_other_loads() -> None:
    """A steady current beside it lowers what is left: the limit is (V - R·I)²/(4R) (Thévenin's theorem)."""
    dice = random.Random(5)
    for _ in range(100):
        volts, ohms, amps = dice.uniform(10, 50), 10 ** dice.uniform(-2, 0), dice.uniform(0, 3)
        most = (volts - ohms * amps) ** 2 / (4 * ohms)
        for share, fed in ((1 - 1e-6, True), (1 + 1e-6, False)):
            found = solve(volts, [Branch(0, ohms, amps=amps, watts=most * share)])
            assert (found is not None) is fed


def test_the_higher_of_two_solutions_is_taken() -> None:
    """A converter on one lead sits at the higher root of V² - Vs·V + P·R = 0 (quadratic formula)."""
    found = solve(13.8, [Branch(0, 0.1, watts=100.0)])
    assert found is not None
    assert found.volts[1] == pytest.approx((13.8 + math.sqrt(13.8**2 - 4 * 100 * 0.1)) / 2, rel=1e-12)


def energy(volts: float, branches: Sequence[Branch], found: Solution) -> tuple[float, float]:
    """Watts given by the source; watts taken by the loads and lost in the leads."""
    given = volts * sum(found.through[index] for index in children(branches, 0))
    taken = sum(found.volts[index + 1] * found.drawn[index] for index in range(len(branches)))
    lost = sum(one.ohms * found.through[index] ** 2 for index, one in enumerate(branches))
    return given, taken + lost


def test_energy_balances() -> None:
    """What the source gives is what loads take and copper turns into heat (conservation of energy)."""
    dice, compared = random.Random(9), 0
    while compared < 300:
        volts, branches = random_tree(dice)
        found = solve(volts, branches)
        if found is None:
            continue
        given, used = energy(volts, branches, found)
        assert used == pytest.approx(given, rel=1e-9, abs=1e-9)
        assert all(volts + 1e-9 >= found.volts[one.parent] >= found.volts[n + 1] for n, one in enumerate(branches))
        compared += 1


def test_each_kind_of_load_draws_by_its_own_law() -> None:
    """Steady current the same, steady power P/V, resistive G·V, at the volts there (Ohm's and Joule's laws)."""
    found = solve(13.8, [Branch(0, 0.05, amps=4.0), Branch(0, 0.05, watts=60.0), Branch(0, 0.05, siemens=0.3)])
    assert found is not None
    assert found.drawn[0] == 4.0
    assert found.drawn[1] * found.volts[2] == pytest.approx(60.0)
    assert found.drawn[2] == pytest.approx(13.8 / (1 / 0.3 + 0.05))


def test_nothing_drawn_loses_nothing() -> None:
    """Leads that carry nothing show the source's volts at their ends (Ohm's law)."""
    assert solve(13.8, [Branch(0, 1.0), Branch(1, 1.0)]) == Solution((13.8, 13.8, 13.8), (0.0, 0.0), (0.0, 0.0))
