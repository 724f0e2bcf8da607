"""The figures of a drawing as short texts: what a source is, a fuse, a length of wire, amperes and hours."""

from __future__ import annotations

from engine.model.case import BOOSTER, VEHICLE, Feed, Lead
from wizard.view.scene import Scene
from wizard.view.span import ACCENT, DIM, MARK, PLAIN, Line, Span


def kind_of(source: Feed) -> tuple[str, ...]:
    """What a source is, in a line or two."""
    if source.missing:
        return ("to be chosen",)
    if source.kind == VEHICLE:
        return (source.title.partition(",")[0],)
    if source.cell is not None:
        return (f"{source.cell.amp_hours:g} Ah {source.cell.chemistry.title.partition(',')[0]}",)
    kind = "booster" if source.kind == BOOSTER else source.technology or "supply"
    keyed = f", {source.peak:g} A keyed" if source.peak > source.continuous else ""
    return (f"{kind}, {source.volts:.1f} V", f"{source.continuous:g} A{keyed}")


def mark_of(outcome: str, part: str) -> Span:
    """The mark of an outcome."""
    return Span(MARK[outcome], outcome, part)


def amps_text(amps: float) -> str:
    """Amperes as a person says them: a decimal below 100, none where it says nothing.

    >>> amps_text(22.62), amps_text(30.0), amps_text(112.4)
    ('22.6', '30', '112')
    """
    return f"{amps:.0f}" if amps >= 100 else f"{amps:.1f}".removesuffix(".0")


def hours_text(hours: float) -> str:
    """How long, as a person says it.

    >>> hours_text(0.75), hours_text(3.46), hours_text(41.2)
    ('about 45 min', 'about 3.5 h', 'about 41 h')
    """
    if hours < 1.5:
        return f"about {hours * 60:.0f} min"
    return f"about {hours:.1f} h" if hours < 20 else f"about {hours:.0f} h"


def used_line(scene: Scene, source: Feed) -> Line:
    """What is drawn at most of what a source gives, and how long a battery lasts."""
    most, rating, hours = scene.most(source.id), scene.rating(source), scene.hours(source)
    text = f"{amps_text(most)} of {amps_text(rating)} A keyed" if rating else f"{amps_text(most)} A keyed"
    said = [text] if most else []
    said += [hours_text(hours)] if hours is not None else []
    return (Span(", ".join(said), PLAIN, source.id),)


def fuse_line(scene: Scene, run: Lead) -> Line:
    """The fuse of a run in its holder; where there is none, plain wire."""
    if run.fuse_rating is None:
        return (Span("▐ ? ▌", DIM, run.id),)
    if not run.fuse_rating:
        return (Span("no fuse", scene.outcome(run.id), run.id),)
    text = f"▐{f'{run.fuse_rating:g} A':^4}▌"
    return (Span(text, ACCENT, run.id),)


def wire_line(scene: Scene, run: Lead) -> Line:
    """Length and gauge of a run; dim where the length was not told."""
    length = f"{run.length:.2f}".rstrip("0").rstrip(".") + " m"
    gauge = run.conductor.id if run.conductor else "gauge open"
    dim = f"{run.id}.length" in scene.assumed
    beside = f"{run.parallel} × " if run.parallel > 1 else ""
    return (Span(length, DIM if dim else PLAIN, run.id), Span(f" {beside}{gauge}", PLAIN, run.id))
