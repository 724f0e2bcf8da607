"""The station drawn with each source in a box and three lines for each load; from 100 columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.model.case import Draw, Feed, Hub, Lead
from wizard.view import gauges
from wizard.view.figures import amps_text, fuse_line, kind_of, mark_of, used_line, wire_line
from wizard.view.scene import Scene
from wizard.view.span import DIM, PLAIN, STRONG, WIRE, Line, Span, clipped, padded, width_of
from wizard.view.tree import Branch, joined

BOX = 29
"""The columns of a source's box."""

ENDS, TIGHT, WIRE_COLUMNS = 42, 30, 24
"""The most and the fewest columns for what stands at the end of a run (volts, what is to spare, the window gauge), and
the fewest for the run itself.
"""


def roomy(scene: Scene, width: int) -> list[Line]:
    """The whole station in ``width`` columns."""
    drawn = set[str]()
    lines: list[Line] = []
    for source in scene.roots:
        wall = _wall(scene, source)
        left = width_of(wall[-1]) if wall else 0
        runs = _below(scene, source.id, width - left - BOX, drawn, hanging=False)
        lines += [*([()] if lines else []), *_side_by_side(wall, _box(scene, source, bool(runs.rows)), runs)]
    lines += [(Span(f"{load.id}  not connected yet", DIM, load.id),) for load in scene.unfed()]
    return [clipped(line, width) for line in lines]


def _side_by_side(wall: Sequence[Line], box: Sequence[Line], runs: Branch) -> list[Line]:
    """Wall, box and runs, joined where the wire of the first run leaves the box's second line."""
    blocks = ((wall, 1, width_of(wall[-1]) if wall else 0), (box, 1, BOX), (runs.rows, runs.wire, 0))
    joint = max(at for _, at, _ in blocks)
    depth = max(len(rows) - at for rows, at, _ in blocks)
    lines = []
    for row in range(joint + depth):
        line: Line = ()
        for rows, at, width in blocks:
            place = row - joint + at
            line = (*line, *padded(rows[place] if 0 <= place < len(rows) else (), width))
        lines.append(line)
    return lines


def _wall(scene: Scene, source: Feed) -> list[Line]:
    """The wall circuit of a source that plugs into it."""
    if not source.from_mains:
        return []
    site = scene.case.place
    mains = source.mains if source.mains is not None else site.mains
    circuit = source.circuit if source.circuit is not None else site.circuit
    text = f"{mains:.0f} V, {circuit:.0f} A "
    return [(Span(text, DIM, "site"),), (Span("─" * len(text), WIRE, "site"),)]


def _box(scene: Scene, source: Feed, feeds: bool) -> list[Line]:
    """What a source is, the bar of what is drawn of it, how long it lasts; its runs leave at the second line."""
    inner, part = BOX - 5, source.id
    head = clipped((mark_of(scene.outcome(part), part), Span(f" {part} ", STRONG, part)), inner)
    most, rating = scene.most(part), scene.rating(source)
    texts: list[Line] = [(Span(text, PLAIN, part),) for text in kind_of(source)]
    texts += [gauges.bar(most, rating, inner, part)] if rating and most else []
    texts.append(used_line(scene, source))
    rows: list[Line] = [(Span("┌ ", WIRE, part), *head, Span("─" * (inner - width_of(head)) + "─┐", WIRE, part))]
    for number, text in enumerate(texts):
        edge = " ├─" if not number and feeds else " │ "
        rows.append((Span("│ ", WIRE, part), *padded(clipped(text, inner), inner), Span(edge, WIRE, part)))
    return [*rows, (Span("└" + "─" * (inner + 2) + "┘", WIRE, part),)]


def _below(scene: Scene, start: str, width: int, drawn: set[str], *, hanging: bool) -> Branch:
    runs = scene.leaving(start)
    branches = []
    for number, run in enumerate(runs):
        rows = list(_rows(scene, run, width - 2, drawn))
        branches.append(Branch((*rows, *([()] if number < len(runs) - 1 else [])), 1))
    return joined(branches, hanging=hanging)


def _rows(scene: Scene, run: Lead, width: int, drawn: set[str]) -> Iterator[Line]:
    """A run over three lines, and below a strip or a booster the runs that leave there."""
    end, again = scene.end(run), run.end in drawn
    drawn.add(run.end)
    ends = min(ENDS, max(width - WIRE_COLUMNS, TIGHT))
    wire = max(width - ends, WIRE_COLUMNS)
    fuse = fuse_line(scene, run)
    stroke = "─" * (wire - width_of(fuse) - 1)
    tip = "●" if isinstance(end, Draw) else "→" if again else "◆"
    other = _other_family(run) if ends == ENDS else ()
    yield padded((Span(" " * (width_of(fuse) + 2)), *wire_line(scene, run), *other), wire) + _title(end, run)
    yield (*fuse, Span(f"{stroke}{tip} ", WIRE, run.id), *_volts(scene, run, end, ends == ENDS))
    below = (Span(" " * (width_of(fuse) + 2)), *_loss(scene, run))
    yield padded(below, wire) + _gauge(scene, run, end, ends - 4)
    start = end.converts if isinstance(end, Draw) else "" if again else run.end
    if start:
        yield from _below(scene, start, width, drawn, hanging=True).rows


def _other_family(run: Lead) -> Line:
    return (Span(f" or {run.conductor.like}", DIM, run.id),) if run.conductor and run.conductor.like else ()


def _title(end: Draw | Hub | None, run: Lead) -> Line:
    title = end.title if end else ""
    return (Span(f"  {run.end}", STRONG, run.end), Span(f"  {title}" if title != run.end else "", DIM, run.end))


def _volts(scene: Scene, run: Lead, end: Draw | Hub | None, is_roomy: bool) -> Line:
    """The worst volts at a load and what is to spare above its floor."""
    terminal = scene.terminals.get(run.end)
    outcome = scene.worse(run.end, run.id)
    if not isinstance(end, Draw):
        return (mark_of(outcome, run.end),)
    if terminal is None or terminal.lowest is None:
        return (Span("volts not known yet ", DIM, run.end), mark_of(outcome, run.end))
    at_worst = " at worst  " if is_roomy else "  "
    line: Line = (Span(f"{terminal.lowest:.2f} V", outcome, run.end), Span(at_worst, PLAIN, run.end))
    return (*line, mark_of(outcome, run.end), Span(f" {_spare(terminal.lowest, terminal.window)}", outcome, run.end))


def _spare(lowest: float, window: tuple[float, float] | None) -> str:
    """Volts above the floor in words."""
    if window is None:
        return ""
    spare = lowest - window[0]
    if abs(spare) < 0.005:
        return "at its floor"
    return f"{spare:.2f} V to spare" if spare > 0 else f"{-spare:.2f} V too few"


def _loss(scene: Scene, run: Lead) -> Line:
    loss = scene.loss(run)
    if loss is None:
        return ()
    volts, watts = loss
    return (Span(f"−{volts:.2f} V · {amps_text(watts)} W", DIM, run.id),)


def _gauge(scene: Scene, run: Lead, end: Draw | Hub | None, columns: int) -> Line:
    terminal = scene.terminals.get(run.end)
    if not isinstance(end, Draw) or terminal is None:
        return ()
    return (Span("  "), *gauges.window(terminal, columns, scene.worse(run.end, run.id)))
