"""The running tally: key-down current, the lowest volts of each load, and what is still open."""

from __future__ import annotations

from engine.check import Verdict
from engine.fields import Problems
from engine.search import Stop
from engine.terminals import Terminal
from wizard.session import JUDGE, Session
from wizard.widgets.drawing import windows
from wizard.widgets.plain import Plain


def tally(session: Session, width: int, lines: int, stop: Stop | None = None) -> list[str]:
    """The tally of what is answered so far, in at most ``lines`` lines of ``width``."""
    if not session.rows("load"):
        return ["Nothing draws current yet: add your equipment."]
    note = ""
    try:
        if session.mode != JUDGE:
            made = session.planned(stop)
            verdict, note = made.verdict, "" if made.complete else made.notes[0]
        else:
            verdict = session.checked()
    except Problems as error:
        return [str(error.found[0])]
    found = verdict.terminals
    head = _head(verdict, session.mode != JUDGE)
    unread = len(session.problems())
    if unread:
        head.insert(0, f"! {unread} answer{'s' if unread > 1 else ''} cannot be read and not counted here")
    if note:
        head.append(f"! {note}")
    if lines <= len(head) + len(found):
        return [*head, *(_short(one) for one in found)][:lines]
    drawing = windows(found, width)
    return [*head, *(_short(one) for one in found), "", *drawing][:lines]


def _head(verdict: Verdict, planned: bool) -> list[str]:
    demand, lines = verdict.operating.demand, []
    draws = [one for one in verdict.case.draws if one.feed == "dc"]
    for feed in verdict.case.feeds[:2]:
        top, state = demand.worst_peak(feed.id)
        whose = "planned" if planned and not feed.owned else "your"
        rating = f"{whose} {feed.id}, {feed.continuous:g} A for hours" if feed.continuous else feed.id
        used = f"you draw {top:.1f} A at most ({state.name})" if demand.served.get(feed.id) else "no lead described yet"
        lines.append(f"{rating}: {used}")
    if not any(demand.served.get(feed.id) for feed in verdict.case.feeds):
        top = max(sum(demand.peak(draw, state) for draw in draws) for state in demand.states)
        lines.append(f"together {top:.1f} A at most")
    lines.append(f"{verdict.outcome.upper()}: {MEANING[verdict.outcome]}; {len(verdict.assumptions)} values assumed")
    return lines


def _short(one: Terminal) -> str:
    window = f"accepts {one.window[0]:.2f} to {one.window[1]:.2f} V" if one.window else "window not known"
    if one.lowest is None:
        return f"? {one.id}: {one.state or 'volts not known yet'}, {window}"
    if one.window is None:
        return f"? {one.id}: {one.lowest:.2f} V at worst, {window}"
    inside = one.window and one.window[0] <= one.lowest and (one.highest or 0) <= one.window[1]
    return f"{'+' if inside else '!'} {one.id}: {one.lowest:.2f} V at worst, {window}"


MEANING = {
    "sound": "every rule holds",
    "thin": "every rule holds, some with little margin",
    "unknown": "something that decides is still open",
    "unsound": "a rule is broken",
}


class Tally(Plain):
    """The tally on the screen."""
