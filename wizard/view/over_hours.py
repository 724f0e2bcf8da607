"""The drawing of a session on battery: volts at the radio over the hours, receiving and keyed, against its floor."""

from __future__ import annotations

from collections.abc import Sequence

from engine.model.endurance import Endurance, Hour
from engine.physics.numeric import between

WIDTH, HEIGHT = 76, 12
LEFT = 9
"""Columns of the scale of volts."""

BELOW = 1.0
"""Volts below the floor at which the drawing ends: an empty battery falls off the paper."""

STEPS = (0.1, 0.25, 0.5, 1, 2, 3, 4, 6, 12, 24, 48, 96, 240, 720)
"""Hours between two marks of the axis."""

MARKS = 8
KEYED, STARVED, RECEIVE, BOTH, FLOOR, END = "k", "!", "r", "*", "-", "|"


def over_hours(made: Endurance, window: tuple[float, float], width: int = WIDTH, height: int = HEIGHT) -> list[str]:
    """The drawing, at most ``width`` columns by ``height`` lines; nothing where no time passes."""
    if len(made.trace) < 2 or made.trace[-1].hours <= 0:
        return []
    width = max(width, LEFT + 20)
    rows, columns = max(height - 4, 4), width - LEFT
    last = made.trace[-1].hours
    grid = _grid(made, rows, columns)
    low, high = _scale(made)
    labels = {0: high, rows - 1: low} | {_row(made.floor, low, high, rows): made.floor}
    title = f"{made.load} accepts {window[0]:.2f} to {window[1]:.2f} V; on {made.feed}, at its own terminals:"
    lines = [title[:width]]
    lines += [f"{f'{labels[n]:.2f} V' if n in labels else '':>{LEFT - 1}} {''.join(grid[n])}" for n in range(rows)]
    return [*lines, *_axis(last, columns), _legend(made, width)]


def _scale(made: Endurance) -> tuple[float, float]:
    values = [volts for one in made.trace for volts in (one.keyed, one.receive)]
    low = min(max(min(values), made.floor - BELOW), made.floor - 0.1)
    return low, max(*values, made.floor + 0.1)


def _row(volts: float, low: float, high: float, rows: int) -> int:
    return min(max(round((high - volts) / (high - low) * (rows - 1)), 0), rows - 1)


def _grid(made: Endurance, rows: int, columns: int) -> list[list[str]]:
    """The characters of the drawing: the floor first, then the end of the session, then the volts."""
    low, high = _scale(made)
    grid = [[" "] * columns for _ in range(rows)]
    grid[_row(made.floor, low, high, rows)] = [FLOOR] * columns
    last = made.trace[-1].hours
    end = _column(made.hours, last, columns)
    for line in grid:
        line[end] = END
    for column in range(columns):
        at = _between(made.trace, last * column / (columns - 1))
        keyed, receive = _row(at.keyed, low, high, rows), _row(at.receive, low, high, rows)
        grid[receive][column] = RECEIVE
        starved = at.keyed < made.floor
        grid[keyed][column] = STARVED if starved else BOTH if keyed == receive else KEYED
    return grid


def _column(hours: float, last: float, columns: int) -> int:
    return min(round(hours / last * (columns - 1)), columns - 1)


def _between(trace: Sequence[Hour], hours: float) -> Hour:
    """The session at an hour, on the straight line between the two points beside it."""
    rows = [(one.hours, one.charge, one.keyed, one.receive) for one in trace]
    charge, keyed, receive = (between(rows, hours, column) for column in (1, 2, 3))
    return Hour(hours, charge, keyed, receive)


def marks(last: float) -> list[float]:
    """The hours that the axis names, from nought up."""
    step = next((one for one in STEPS if last / one <= MARKS), STEPS[-1])
    return [step * number for number in range(int(last / step + 1e-9) + 1)]


def _axis(last: float, columns: int) -> list[str]:
    line, names = ["-"] * columns, [" "] * (columns + 1)
    free = 0
    for hours in marks(last):
        column = _column(hours, last, columns)
        line[column] = "+"
        text = f"{hours:g}"
        start = min(column, columns - len(text))
        if start >= free:
            names[start : start + len(text)] = text
            free = start + len(text) + 1
    room = " " * LEFT
    return [room + "".join(line), f"{'hours':>{LEFT - 1}} {''.join(names).rstrip()}"]


def _legend(made: Endurance, width: int) -> str:
    """What the marks mean, as many as fit, the most needed first."""
    said = [
        f"{KEYED} keyed",
        f"{RECEIVE} receive",
        f"{END} ends after {made.hours:.1f} h",
        f"{FLOOR} floor",
        f"{STARVED} below the floor",
        f"{BOTH} both",
    ]
    line = said[0]
    for one in said[1:]:
        line = f"{line}  {one}" if len(line) + len(one) + 2 <= width else line
    return line
