"""One sentence that sums a verdict up: what it comes to, and the one thing to know."""

from __future__ import annotations

from engine.findings import THIN, UNKNOWN, UNSOUND, Finding
from engine.model.terminals import Terminal
from engine.rules.check import Verdict
from wizard.view.figures import amps_text, hours_text
from wizard.view.scene import Scene

SMALL = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def summary(verdict: Verdict) -> str:
    """The verdict in a sentence, without its word."""
    scene = Scene(verdict)
    said = [_unsound, _unknown, _feeds]
    return next(filter(None, (say(scene) for say in said)), "nothing draws current yet")


def cost(verdict: Verdict) -> str:
    """What is still to be bought, against the budget."""
    low, high = sum(item.low for item in verdict.items), sum(item.high for item in verdict.items)
    if not high:
        return ""
    middle, budget = (low + high) / 2, verdict.case.budget
    if budget is None:
        return f"About {middle:.0f}"
    over = f", {middle - budget:.0f} over" if middle > budget else ""
    return f"About {middle:.0f} of {budget:.0f}{over}"


def _of(scene: Scene, outcome: str) -> list[Finding]:
    return [finding for finding in scene.verdict.findings if finding.outcome == outcome]


def _unsound(scene: Scene) -> str:
    broken = _of(scene, UNSOUND)
    return _first(broken) if broken else ""


def _unknown(scene: Scene) -> str:
    if not _of(scene, UNKNOWN):
        return ""
    return f"not known yet: {_first(_of(scene, UNKNOWN))}"


def _first(findings: list[Finding]) -> str:
    more = f" (and {number(len(findings) - 1)} more)" if len(findings) > 1 else ""
    return f"{findings[0].says}{more}"


def _feeds(scene: Scene) -> str:
    parts = [_source(scene)] if scene.roots else []
    tightest = _tightest(scene)
    if tightest is not None and tightest.lowest is not None and tightest.window is not None:
        spare = tightest.lowest - tightest.window[0]
        against = "exactly the least it accepts" if spare < 0.05 else f"{spare:.1f} V above its floor"
        parts.append(f"{tightest.id} keeps {tightest.lowest:.1f} V keyed, {against}")
    thin = _of(scene, THIN)
    if thin:
        parts.append(f"{number(len(thin))} aim{'s' if len(thin) > 1 else ''} missed: {thin[0].says}")
    return ". ".join(parts)


def _tightest(scene: Scene) -> Terminal | None:
    known = [one for one in scene.verdict.terminals if one.lowest is not None and one.window is not None]
    return min(known, key=lambda one: (one.lowest or 0.0) - (one.window or (0.0, 0.0))[0], default=None)


def _source(scene: Scene) -> str:
    """The source that most is drawn from, and its runs."""
    source = max(scene.roots, key=lambda one: scene.most(one.id))
    runs = len([run for run in scene.case.leads if scene.end(run) and run.end in scene.terminals])
    leads = f"{number(runs)} lead{'s' if runs != 1 else ''}"
    hours = scene.hours(source)
    if hours is not None:
        return f"{source.cell.amp_hours:g} Ah for {hours_text(hours)}, {leads}" if source.cell else leads
    rating = f"{amps_text(source.continuous)} A supply" if source.from_mains else source.title.partition(",")[0]
    return f"{'An' if rating[0] in '8aeiou' else 'A'} {rating} and {leads}"


def number(count: int) -> str:
    """A small number as a word."""
    return SMALL[count] if count < len(SMALL) else str(count)
