"""Lines of text as the branches of a tree: the strokes that join them, whatever hangs on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wizard.view.span import WIRE, Line, Span


@dataclass(frozen=True)
class Branch:
    """The rows of one branch; ``wire`` is the row in which it leaves the stem."""

    rows: tuple[Line, ...]
    wire: int = 0


def joined(branches: Sequence[Branch], *, hanging: bool) -> Branch:
    """Several branches on one stem, which comes from above where they are ``hanging``, else from the first wire."""
    rows: list[Line] = []
    first = branches[0].wire if branches else 0
    last = sum(len(branch.rows) for branch in branches[:-1]) + (branches[-1].wire if branches else 0)
    wires = set()
    for branch in branches:
        wires.add(len(rows) + branch.wire)
        rows += branch.rows
    top = -1 if hanging else first
    strokes = (_stroke(row, row in wires, top, last) for row in range(len(rows)))
    return Branch(tuple((Span(stroke, WIRE), *line) for stroke, line in zip(strokes, rows, strict=True)), first)


def _stroke(row: int, is_wire: bool, top: int, last: int) -> str:
    if is_wire:
        if row == top:
            return "──" if row == last else "┬─"
        return "└─" if row == last else "├─"
    return "│ " if top < row < last else "  "
