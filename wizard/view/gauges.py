"""Gauges in a line of text: how much of a rating is used, and where in its window a load's voltage moves."""

from __future__ import annotations

from engine.findings import SOUND, UNSOUND
from engine.model.terminals import Terminal
from wizard.view.span import ACCENT, DIM, WIRE, Line, Span

FULL, EMPTY = "█", "░"


def bar(used: float, whole: float, columns: int, part: str = "") -> Line:
    """``used`` of ``whole`` as a bar; full and marked unsound where more is used than there is."""
    share = used / whole if whole > 0 else 1.0
    filled = min(max(round(share * columns), 1 if used > 0 else 0), columns)
    role = UNSOUND if share > 1 + 1e-9 else ACCENT
    return (Span(FULL * filled, role, part), Span(EMPTY * (columns - filled), DIM, part))


def window(terminal: Terminal, columns: int, outcome: str = SOUND) -> Line:
    """The window of a load: its ends in volts, the worst volts keyed as a dot, the thick part where they move.

    Below the floor or above the ceiling the dot gives way to an arrow at that end.
    """
    if terminal.window is None:
        return (Span("window not known", DIM, terminal.id),)
    floor, ceiling = terminal.window
    ends = (f"{floor:.1f} ", f" {ceiling:.1f}")
    inner = max(columns - len(ends[0]) - len(ends[1]) - 2, 5)
    return (
        Span(ends[0], DIM, terminal.id),
        Span("├", WIRE, terminal.id),
        *_scale(terminal, floor, ceiling, inner, outcome),
        Span("┤", WIRE, terminal.id),
        Span(ends[1], DIM, terminal.id),
    )


def _scale(terminal: Terminal, floor: float, ceiling: float, columns: int, outcome: str) -> Line:
    if terminal.lowest is None or terminal.highest is None:
        return (Span("─" * columns, DIM, terminal.id),)

    def place(volts: float) -> int:
        return min(max(round((volts - floor) / (ceiling - floor) * (columns - 1)), 0), columns - 1)

    worst, top = place(terminal.lowest), place(terminal.highest)
    dot = "◀" if terminal.lowest < floor - 1e-6 else "●"
    thick = "━" * (top - worst)
    if terminal.highest > ceiling + 1e-6 and thick:
        thick = thick[:-1] + "▶"
    rest = columns - 1 - top
    return (
        Span("─" * worst, DIM, terminal.id),
        Span(dot + thick, outcome, terminal.id),
        Span("─" * rest, DIM, terminal.id),
    )
