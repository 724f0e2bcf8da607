"""The running tally: key-down current, the lowest volts of each load, and what is still open."""

from __future__ import annotations

from engine.check import Verdict
from engine.fields import Problems
from engine.terminals import Terminal, terminals
from wizard.session import JUDGE, Session
from wizard.widgets.drawing import windows
from wizard.widgets.plain import Plain


def tally(session: Session, width: int, lines: int) -> list[str]:
    """The tally of what is answered so far, in at most ``lines`` lines of ``width``."""
    if not session.rows("load"):
        return ["Nothing draws current yet: add your equipment."]
    note = ""
    try:
        if session.mode != JUDGE:
            made = session.planned()
            verdict, note = made.verdict, "" if made.complete else made.notes[0]
        else:
            verdict = session.checked()
    except Problems as error:
        return [str(error.found[0])]
    found = terminals(verdict.operating)
    head = _head(verdict)
    if note:
        head.append(f"! {note}")
    if lines <= len(head) + len(found):
        return [*head, *(_short(one) for one in found)][:lines]
    drawing = windows(found, width)
    return [*head, *(_short(one) for one in found), "", *drawing][:lines]


def _head(verdict: Verdict) -> list[str]:
    demand, lines = verdict.operating.demand, []
    for feed in verdict.case.feeds[:2]:
        top, state = demand.worst_peak(feed.id)
        rating = f", {feed.continuous:g} A for hours" if feed.continuous else ""
        lines.append(f"{feed.id}{rating}: {top:.1f} A at most ({state.name})")
    if not lines:
        draws = [one for one in verdict.case.draws if one.feed == "dc"]
        top = max(sum(demand.peak(draw, state) for draw in draws) for state in demand.states)
        lines.append(f"at most {top:.1f} A at once; no supply described")
    open_ = len(verdict.assumptions)
    lines.append(f"{verdict.outcome.upper()}; {open_} values taken without your word")
    return lines


def _short(one: Terminal) -> str:
    window = f"{one.window[0]:.2f} to {one.window[1]:.2f} V" if one.window else "window not known"
    if one.lowest is None:
        return f"? {one.id}: {one.state or 'open'}, {window}"
    inside = one.window and one.window[0] <= one.lowest and (one.highest or 0) <= one.window[1]
    return f"{'+' if inside else '!'} {one.id}: {one.lowest:.2f} V at worst, {window}"


class Tally(Plain):
    """The tally on the screen."""
