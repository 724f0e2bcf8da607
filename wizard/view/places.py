"""Where each part of a station stands on paper: a row for every end of a run, a column for every step from a source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.model.case import Draw, Feed, Hub, Lead
from wizard.view.figures import kind_of, used_line
from wizard.view.scene import Scene
from wizard.view.span import plain_text


@dataclass(frozen=True)
class Box:
    """A part with its lines of text; it reaches from row ``top`` down to row ``bottom`` in a column."""

    part: str
    lines: tuple[str, ...]
    column: int
    top: int
    bottom: int


@dataclass(frozen=True)
class Wire:
    """A run in its row; it enters ``column`` from the one before."""

    run: Lead
    column: int
    row: int


@dataclass(frozen=True)
class Places:
    """Everything that is drawn of a station."""

    boxes: tuple[Box, ...]
    wires: tuple[Wire, ...]
    rows: int

    @property
    def columns(self) -> int:
        """How many columns of boxes there are."""
        return 1 + max((box.column for box in self.boxes), default=0)


class _Layout:
    """Rows are given out from the top, as the tree is walked."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.boxes: list[Box] = []
        self.wires: list[Wire] = []
        self.row = 0
        self.drawn: set[str] = set()

    def part(self, part: str, lines: tuple[str, ...], column: int, below: str | None) -> None:
        """Place a part, and to the right of it every run that leaves ``below``."""
        top = self.row
        for run in () if below is None else self.scene.leaving(below):
            self.wires.append(Wire(run, column + 1, self.row))
            self.end(run, column + 1)
        self.row = max(self.row, top + 1)
        self.boxes.append(Box(part, lines, column, top, self.row - 1))

    def end(self, run: Lead, column: int) -> None:
        """Place what a run ends in; a part that stands elsewhere already is named only."""
        end = self.scene.end(run)
        if run.end in self.drawn or end is None:
            self.part(run.end, (run.end, "the same part as above"), column, None)
            return
        self.drawn.add(run.end)
        if isinstance(end, Hub):
            self.part(end.id, _hub_lines(end), column, end.id)
        else:
            self.part(end.id, _load_lines(self.scene, end), column, end.converts or None)


def places(scene: Scene) -> Places:
    """The layout of a station: its sources one below the other, then the loads that no run reaches."""
    layout = _Layout(scene)
    for source in scene.roots:
        layout.part(source.id, _source_lines(scene, source), 0, source.id)
    for start in _open_starts(scene):
        layout.part(start or "source", (start or "source", "to be chosen"), 0, start)
    for load in _alone(scene):
        layout.part(load.id, _load_lines(scene, load, _unreached(load)), 0, None)
    return Places(tuple(layout.boxes), tuple(layout.wires), layout.row)


def _open_starts(scene: Scene) -> Iterator[str]:
    """Where runs begin that no source and no strip feeds yet; each once."""
    known = {*scene.case.feed, *scene.case.hub}
    yield from dict.fromkeys(run.start for run in scene.case.leads if run.start not in known)


def _alone(scene: Scene) -> Iterator[Draw]:
    yield from scene.unfed()
    yield from (load for load in scene.case.draws if load.feed != "dc")


def _source_lines(scene: Scene, source: Feed) -> tuple[str, ...]:
    used = plain_text(used_line(scene, source))
    return tuple(line for line in (source.id, *kind_of(source), used, _wall(scene, source)) if line)


def _wall(scene: Scene, source: Feed) -> str:
    """The wall circuit of a source that plugs into it."""
    if not source.from_mains:
        return ""
    site = scene.case.place
    mains = source.mains if source.mains is not None else site.mains
    circuit = source.circuit if source.circuit is not None else site.circuit
    return f"wall: {mains:.0f} V, {circuit:.0f} A"


def _hub_lines(hub: Hub) -> tuple[str, ...]:
    return (hub.id,) if hub.title == hub.id else (hub.id, hub.title)


def _unreached(load: Draw) -> str:
    return "not connected yet" if load.feed == "dc" else "has its own wall circuit"


def _load_lines(scene: Scene, load: Draw, unknown: str = "volts not known yet") -> tuple[str, ...]:
    """What a load is, its worst volts, or why they are ``unknown``, and its window."""
    terminal = scene.terminals.get(load.id)
    lines = [load.id, load.title] if load.title != load.id else [load.id]
    is_known = terminal is not None and terminal.lowest is not None
    lines.append(f"{terminal.lowest:.2f} V at worst" if terminal and is_known else unknown)
    window = terminal.window if terminal else None
    if terminal is None and load.feed != "dc":
        return tuple(lines)
    return (*lines, f"accepts {window[0]:.1f} to {window[1]:.1f} V" if window else "window not known")
