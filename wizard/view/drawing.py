"""Drawings in plain characters: each load's window against where its voltage really moves."""

from __future__ import annotations

import math
from collections.abc import Sequence

from engine.model.terminals import Terminal


def windows(found: Sequence[Terminal], width: int) -> list[str]:
    """One line a load on a common scale of volts, and the scale.

    ``[`` and ``]`` are the window, ``=`` is where the volts move (``!`` outside it), ``o`` is what to expect keyed.
    """
    shown = [one for one in found if one.window]
    if not shown:
        return []
    low, high = _scale(shown)
    name = min(max(len(one.id) for one in shown), 12)
    columns = max(width - name - 2, 20)
    lines = [f"{one.id[:name]:<{name}}  {_bar(one, low, high, columns)}" for one in shown]
    ruler = f"{low:g} V"
    right = f"{high:g} V"
    lines.append(" " * (name + 2) + ruler + " " * max(columns - len(ruler) - len(right), 1) + right)
    return lines


def _scale(shown: Sequence[Terminal]) -> tuple[float, float]:
    values = [value for one in shown for value in (*(one.window or ()), one.lowest, one.highest) if value is not None]
    return math.floor(min(values) - 0.3), math.ceil(max(values) + 0.3)


def _bar(one: Terminal, low: float, high: float, columns: int) -> str:
    def at(volts: float) -> int:
        return min(max(round((volts - low) / (high - low) * (columns - 1)), 0), columns - 1)

    line = ["."] * columns
    first, last = (at(one.window[0]), at(one.window[1])) if one.window else (0, columns - 1)
    if one.window:
        line[first : last + 1] = ["-"] * (last + 1 - first)
    if one.lowest is not None and one.highest is not None:
        for place in range(at(one.lowest), at(one.highest) + 1):
            line[place] = "=" if first <= place <= last else "!"
    if one.expected is not None:
        line[at(one.expected)] = "o"
    if one.window:
        line[first], line[last] = "[", "]"
    return "".join(line)
