"""The station drawn with one line for each source, strip and load; from 60 columns."""

from __future__ import annotations

from dataclasses import dataclass

from engine.model.case import Draw, Feed, Hub, Lead
from wizard.view import gauges
from wizard.view.figures import fuse_line, kind_of, mark_of, used_line, wire_line
from wizard.view.scene import Scene
from wizard.view.span import DIM, PLAIN, STRONG, WIRE, Line, Span, clipped, padded, width_of
from wizard.view.tree import Branch, joined

GAUGE, BAR = 24, 22
"""The most columns of a window gauge and of a source's bar."""


@dataclass(frozen=True)
class Columns:
    """Widths that all lines share, so that figures stand below each other."""

    width: int
    fuse: int
    wire: int
    name: int

    @classmethod
    def of(cls, scene: Scene, width: int) -> Columns:
        """The widths that the longest texts of a station need."""
        runs = scene.case.leads
        ends = [run.end for run in runs]
        return cls(
            width,
            max((width_of(fuse_line(scene, run)) for run in runs), default=0),
            max((width_of(wire_line(scene, run)) for run in runs), default=0),
            min(max((len(end) for end in ends), default=0), 14),
        )


def compact(scene: Scene, width: int) -> list[Line]:
    """The whole station in ``width`` columns."""
    columns, drawn = Columns.of(scene, width), set[str]()
    lines: list[Line] = []
    for source in scene.roots:
        lines.append(_source(scene, source, width))
        lines += _below(scene, source.id, columns, drawn, 0).rows
    lines += [(Span(f"{load.id}  not connected yet", DIM, load.id),) for load in scene.unfed()]
    return [clipped(line, width) for line in lines]


def _source(scene: Scene, source: Feed, width: int) -> Line:
    what = ", ".join(kind_of(source))
    used, most, rating = used_line(scene, source), scene.most(source.id), scene.rating(source)
    head: Line = (
        mark_of(scene.outcome(source.id), source.id),
        Span(f" {source.id}", STRONG, source.id),
        Span(f"  {what}  ", PLAIN, source.id),
    )
    room = width - width_of(head) - width_of(used) - 1
    bar = (*gauges.bar(most, rating, min(room, BAR), source.id), Span(" ")) if rating and most and room >= 6 else ()
    return (*head, *bar, *used)


def _below(scene: Scene, start: str, columns: Columns, drawn: set[str], depth: int) -> Branch:
    runs = scene.leaving(start)
    return joined([Branch(tuple(_rows(scene, run, columns, drawn, depth))) for run in runs], hanging=True)


def _rows(scene: Scene, run: Lead, columns: Columns, drawn: set[str], depth: int) -> list[Line]:
    """A run, what it ends in, and below a strip or a booster the runs that leave there."""
    end, again = scene.end(run), run.end in drawn
    drawn.add(run.end)
    fuse = padded(fuse_line(scene, run), columns.fuse)
    wire = padded((*wire_line(scene, run), Span(" ")), columns.wire + 1)
    head: Line = (*fuse, Span("─ ", WIRE, run.id), *wire)
    if isinstance(end, Draw):
        rows = [(*head, *_load(scene, run, end, columns, depth))]
        return rows + list(_below(scene, end.converts, columns, drawn, depth + 1).rows if end.converts else ())
    rows = [(*head, *_node(scene, run, end, again))]
    return rows if again else rows + list(_below(scene, run.end, columns, drawn, depth + 1).rows)


def _node(scene: Scene, run: Lead, node: Hub | None, again: bool) -> Line:
    if again:
        return (Span(f"─→ {run.end}", PLAIN, run.end),)
    what = f"  {node.title}" if node and node.title != run.end else ""
    return (
        Span("──◆ ", WIRE, run.end),
        mark_of(scene.outcome(run.end), run.end),
        Span(f" {run.end}", STRONG, run.end),
        Span(what, DIM, run.end),
    )


def _load(scene: Scene, run: Lead, load: Draw, columns: Columns, depth: int) -> Line:
    outcome = scene.worse(load.id, run.id)
    line: Line = (
        Span("─● ", WIRE, load.id),
        mark_of(outcome, load.id),
        *padded((Span(f" {load.id} ", STRONG, load.id),), columns.name + 2),
    )
    terminal = scene.terminals.get(load.id)
    if terminal is None:
        return line
    volts = f"{terminal.lowest:5.2f} V " if terminal.lowest is not None else "    ? V "
    used = 2 + 2 * depth + columns.fuse + 2 + columns.wire + 1 + width_of(line) + len(volts)
    room = min(columns.width - used, GAUGE)
    gauge = gauges.window(terminal, room, outcome) if room >= 16 else ()
    return (*line, Span(volts, outcome if outcome != "sound" else STRONG, load.id), *gauge)
