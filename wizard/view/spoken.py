"""The drawing of a station as sentences, for whoever hears it instead of seeing it."""

from __future__ import annotations

from collections.abc import Iterator

from engine.model.case import Feed, Lead
from wizard.view.figures import amps_text, hours_text, kind_of
from wizard.view.scene import Scene


def spoken(scene: Scene) -> Iterator[str]:
    """One sentence for each source, and for each run with what it ends in."""
    for source in scene.roots:
        yield _source(scene, source)
        yield from _beyond(scene, source.id, set())
    yield from (f"{load.id} is not connected yet." for load in scene.unfed())


def _source(scene: Scene, source: Feed) -> str:
    most, hours = scene.most(source.id), scene.hours(source)
    drawn = f"; at most {amps_text(most)} A are drawn from it" if most else ""
    lasts = f"; it lasts {hours_text(hours)}" if hours is not None else ""
    return f"{source.id}: {', '.join(kind_of(source))}{drawn}{lasts}."


def _beyond(scene: Scene, start: str, told: set[str]) -> Iterator[str]:
    for run in scene.leaving(start):
        again = run.end in told
        told.add(run.end)
        yield f"From {run.start} to {run.end}: {_way(run)}{_at(scene, run.end)}."
        load = scene.case.draw.get(run.end)
        if not again:
            yield from _beyond(scene, load.converts if load and load.converts else run.end, told)


def _way(run: Lead) -> str:
    gauge = run.conductor.id if run.conductor else "a gauge to be chosen"
    return f"{_fuse(run.fuse_rating)}, {run.length:g} m of {gauge}"


def _fuse(rating: float | None) -> str:
    if rating is None:
        return "a fuse to be chosen"
    return f"a {rating:g} A fuse" if rating else "no fuse"


def _at(scene: Scene, end: str) -> str:
    terminal = scene.terminals.get(end)
    if terminal is None or terminal.lowest is None:
        return ""
    said = f"; {end} keeps {terminal.lowest:.1f} V keyed"
    if terminal.window is None:
        return said
    spare = terminal.lowest - terminal.window[0]
    return said + (f", {spare:.1f} V above its floor" if spare >= 0 else f", {-spare:.1f} V BELOW its floor")
