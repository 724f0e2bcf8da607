"""The station drawn in a narrow column: two lines for each load; from 36 columns."""

from __future__ import annotations

from engine.model.case import Draw, Feed, Lead
from wizard.view import gauges
from wizard.view.figures import fuse_line, kind_of, mark_of, used_line, wire_line
from wizard.view.scene import Scene
from wizard.view.span import DIM, PLAIN, STRONG, WIRE, Line, Span, clipped, width_of
from wizard.view.tree import Branch, joined


def narrow(scene: Scene, width: int) -> list[Line]:
    """The whole station in ``width`` columns."""
    lines: list[Line] = []
    drawn = set[str]()
    for source in scene.roots:
        lines += [_title(scene, source), *_used(scene, source, width)]
        lines += _below(scene, source.id, width, drawn).rows
    lines += [(Span(f"{load.id}  not connected yet", DIM, load.id),) for load in scene.unfed()]
    return [clipped(line, width) for line in lines]


def _title(scene: Scene, source: Feed) -> Line:
    return (
        mark_of(scene.outcome(source.id), source.id),
        Span(f" {source.id}", STRONG, source.id),
        Span(f"  {', '.join(kind_of(source))}", PLAIN, source.id),
    )


def _used(scene: Scene, source: Feed, width: int) -> list[Line]:
    most, rating, used = scene.most(source.id), scene.rating(source), used_line(scene, source)
    room = width - width_of(used) - 3
    if not rating or not most or room < 6:
        return [(Span("  "), *used)]
    return [(Span("  "), *gauges.bar(most, rating, min(room, 20), source.id), Span(" "), *used)]


def _below(scene: Scene, start: str, width: int, drawn: set[str]) -> Branch:
    return joined([Branch(_rows(scene, run, width - 2, drawn)) for run in scene.leaving(start)], hanging=True)


def _rows(scene: Scene, run: Lead, width: int, drawn: set[str]) -> tuple[Line, ...]:
    end, again = scene.end(run), run.end in drawn
    drawn.add(run.end)
    tip = "─● " if isinstance(end, Draw) else "─→ " if again else "─◆ "
    head: Line = (
        *fuse_line(scene, run),
        Span("─ ", WIRE, run.id),
        *wire_line(scene, run),
        Span(f" {tip}", WIRE, run.id),
        Span(run.end, STRONG, run.end),
    )
    start = end.converts if isinstance(end, Draw) else "" if again else run.end
    below = _below(scene, start, width, drawn).rows if start else ()
    return (head, *_volts(scene, run, end, width), *below)


def _volts(scene: Scene, run: Lead, end: object, width: int) -> tuple[Line, ...]:
    terminal = scene.terminals.get(run.end)
    if terminal is None or not isinstance(end, Draw):
        return ()
    outcome = scene.worse(run.end, run.id)
    volts = f" {terminal.lowest:.2f} V " if terminal.lowest is not None else " ? V "
    line: Line = (Span("  "), mark_of(outcome, run.end), Span(volts, outcome, run.end))
    room = width - width_of(line)
    return ((*line, *(gauges.window(terminal, min(room, 30), outcome) if room >= 16 else ())),)
