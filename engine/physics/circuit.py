"""The direct-current tree solved exactly: every node's voltage under mixed loads.

Each step replaces a steady-power load by its tangent (a current plus a conductance), reduces the tree to the
source and walks back out: Newton's method. From the source's own voltage downwards it falls to the higher of
the two solutions, the one a real load sits at, or finds that there is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.working import Measure, least

STEPS = 200
CLOSE = 1e-12


def into_short(limit: Measure, volts: Measure, inside: Measure, ohms: Measure) -> Measure:
    """Current [A] of a source of ``volts`` behind ``inside`` [Ω] into a loop of ``ohms`` [Ω], up to its own limit [A].

    >>> into_short(33.0, 13.8, 0.0, 0.02), into_short(33.0, 13.8, 0.0, 0.6)
    (33.0, 23.000000000000004)
    """
    return least(limit, volts / (inside + ohms))


@dataclass(frozen=True)
class Branch:
    """One stretch from node ``parent`` to a new node, and what draws there. Node 0 is the source.

    Branch ``n`` ends in node ``n + 1``; a parent comes before its children. Ohms, amperes, siemens and watts,
    none of them negative.
    """

    parent: int
    ohms: float
    amps: float = 0.0
    siemens: float = 0.0
    watts: float = 0.0


@dataclass(frozen=True)
class Solution:
    """Volts at each node, amperes through each branch and drawn at each branch's own end."""

    volts: tuple[float, ...]
    through: tuple[float, ...]
    drawn: tuple[float, ...]


def solve(volts: float, branches: Sequence[Branch]) -> Solution | None:
    """The voltages and currents of the tree fed with ``volts`` at node 0, or None when a load cannot be fed.

    >>> found = solve(13.8, [Branch(0, 0.02, amps=20.0)])
    >>> round(found.volts[1], 3)
    13.4
    >>> solve(12.0, [Branch(0, 1.0, watts=100.0)]) is None
    True
    """
    nodes = [volts] * (len(branches) + 1)
    for _ in range(STEPS):
        step = _step(volts, branches, nodes)
        if step is None:
            return None
        moved = max(abs(new - old) for new, old in zip(step, nodes, strict=True))
        nodes = step
        if moved <= CLOSE * max(volts, 1.0):
            return _solution(branches, nodes)
    return None


def _step(volts: float, branches: Sequence[Branch], nodes: Sequence[float]) -> list[float] | None:
    current = [0.0] * len(branches)
    slope = [0.0] * len(branches)
    for index in range(len(branches) - 1, -1, -1):
        one = branches[index]
        amps, siemens = current[index] + one.amps, slope[index] + one.siemens
        if one.watts:
            here = nodes[index + 1]
            amps += 2 * one.watts / here
            siemens -= one.watts / here**2
        weight = 1 + one.ohms * siemens
        if weight <= 0:
            return None
        current[index], slope[index] = amps, siemens
        if one.parent:
            current[one.parent - 1] += amps / weight
            slope[one.parent - 1] += siemens / weight
    found = [volts]
    for index, one in enumerate(branches):
        here = (found[one.parent] - one.ohms * current[index]) / (1 + one.ohms * slope[index])
        if here <= 0:
            return None
        found.append(here)
    return found


def _solution(branches: Sequence[Branch], nodes: Sequence[float]) -> Solution:
    drawn = [
        one.amps + one.siemens * nodes[index + 1] + (one.watts / nodes[index + 1] if one.watts else 0.0)
        for index, one in enumerate(branches)
    ]
    through = list(drawn)
    for index in range(len(branches) - 1, -1, -1):
        if branches[index].parent:
            through[branches[index].parent - 1] += through[index]
    return Solution(tuple(nodes), tuple(through), tuple(drawn))
