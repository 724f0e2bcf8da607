"""The running tally: key-down current, the lowest volts of each load, and what is still open."""

from __future__ import annotations

from engine.characters import escaped
from engine.model.case import VEHICLE, Feed
from engine.model.endurance import sessions
from engine.model.terminals import Terminal
from engine.planning.plan import Plan
from engine.rules.check import Verdict
from engine.station.table import Problems
from engine.terms import PowerInput
from wizard.interview.session import Session
from wizard.interview.steps import JUDGE
from wizard.papers.words import wrap
from wizard.screens.widgets.drawn import Drawn
from wizard.view import gauges
from wizard.view.drawing import windows
from wizard.view.scene import Scene
from wizard.view.span import DIM, MARK, STRONG, Line, Span
from wizard.view.station import draw
from wizard.view.summary import cost
from wizard.view.volts import lasts, off_line, vehicle_loads, vehicle_of

NARROW = 3
"""Lines in which the outcome is only a word."""


def tally(session: Session, made: Plan | Problems, width: int, lines: int) -> list[str]:
    """The tally of what is answered so far, in at most ``lines`` lines of ``width``; ``made`` is what it comes to."""
    if not session.rows("load"):
        return ["Nothing draws current yet: add your equipment."]
    unread = _unread(session)
    if isinstance(made, Problems):
        return [*unread, str(made.found[0])]
    verdict, note = made.verdict, "" if made.complete else made.notes[0]
    found = sorted(verdict.terminals, key=_spare) if lines <= NARROW else verdict.terminals
    head = [*unread, *_head(verdict, session.mode != JUDGE, brief=lines <= NARROW)]
    if note:
        head.append(f"! {note}")
    if lines <= len(head) + len(found):
        return [*head, *(_short(one) for one in found)][:lines]
    drawing = windows(found, width)
    return [*head, *(_short(one) for one in found), "", *drawing][:lines]


def _unread(session: Session) -> list[str]:
    """How many answers are not counted."""
    unread = len(session.problems())
    return [f"! {unread} answer{'s' if unread > 1 else ''} cannot be read and not counted here"] if unread else []


def _head(verdict: Verdict, planned: bool, brief: bool) -> list[str]:
    """Who gives what, how long a battery lasts or what a car gives at rest, and the outcome; in a word if ``brief``."""
    outcome = f"{verdict.outcome.upper()}: {MEANING[verdict.outcome]}; {len(verdict.assumptions)} values assumed"
    demand, lines = verdict.operating.demand, [_given(one, verdict, planned) for one in verdict.case.feeds[:2]]
    if not any(demand.served.get(feed.id) for feed in verdict.case.feeds):
        draws = [one for one in verdict.case.draws if one.feed == PowerInput.DC]
        top = max(sum(demand.peak(draw, state) for draw in draws) for state in demand.states)
        lines.append(f"together {top:.1f} A at most")
    said = [lasts(made) for _, _, made in sessions(verdict.faces)]
    feed = vehicle_of(verdict.operating)
    said += _engine_off(verdict, feed) if feed else []
    if brief and said:
        return [f"{verdict.outcome.upper()}. {lines[0]}", said[0]]
    return [*lines, *said, outcome]


def _engine_off(verdict: Verdict, feed: Feed) -> list[str]:
    """What each load sees with the engine off, those below their floor first."""
    said = [off_line(*one) for one in vehicle_loads(verdict.operating, feed)]
    return sorted(filter(None, said), key=lambda line: not line.startswith("!"))


def _given(feed: Feed, verdict: Verdict, planned: bool) -> str:
    """One source: what it gives, and what is drawn from it at most."""
    operating = next((one for one in verdict.faces if one.demand.served.get(feed.id)), verdict.operating)
    top, state = operating.demand.worst_peak(feed.id)
    whose = "planned" if planned and not feed.owned else "your"
    rating = f"{whose} {feed.id}, {feed.continuous:g} A continuous" if feed.continuous else feed.id
    if feed.kind == VEHICLE:
        rating = f"{whose} {feed.id}"
    used = f"you draw {top:.1f} A at most ({state.name})"
    return f"{rating}: {used if operating.demand.served.get(feed.id) else 'no lead described yet'}"


def _spare(one: Terminal) -> float:
    """Volts between the lowest and the floor; least first where room is short."""
    return one.lowest - one.window[0] if one.lowest is not None and one.window else -1.0


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


TALL = 14
"""From this many lines the tally draws the station at its leisure."""

BROAD = 60
"""From this many columns the drawing takes one line for each load."""


def pictured(session: Session, made: Plan | Problems, width: int, height: int) -> list[Line]:
    """The station drawn, with the outcome and what is worth saying; nothing where there is nothing to draw."""
    if isinstance(made, Problems) or not session.rows("load") or (height < TALL and width < BROAD):
        return []
    verdict = made.verdict
    drawing = draw(Scene(verdict), width)
    said: list[Line] = [(Span(row),) for text in _said(session, made) for row in wrap(text, width)]
    if height < TALL:
        return [_outcome(verdict, cost(verdict)), *said, *drawing][:height]
    return [_outcome(verdict), (), *drawing, (), *_price(verdict, width), *said]


def _outcome(verdict: Verdict, price: str = "") -> Line:
    word = Span(f"{MARK[verdict.outcome]} {verdict.outcome.upper()}", verdict.outcome)
    count = len(verdict.assumptions)
    assumed = Span(f"  {count} value{'' if count == 1 else 's'} assumed", DIM)
    return (word, Span(f"  {price}" if price else ""), assumed)


def _said(session: Session, made: Plan) -> list[str]:
    """What is worth a sentence: answers not counted, why there is no plan, hours on battery, the engine off."""
    unread, feed = len(session.problems()), vehicle_of(made.verdict.operating)
    said = [f"! {unread} answer{'s' if unread > 1 else ''} cannot be read and not counted here"] if unread else []
    said += [] if made.complete else [f"! {made.notes[0]}"]
    said += [lasts(one) for _, _, one in sessions(made.verdict.faces)]
    return said + (_engine_off(made.verdict, feed) if feed else [])


def _price(verdict: Verdict, width: int) -> list[Line]:
    """What is still to be bought, as a gauge of the budget where there is one."""
    text, budget = cost(verdict), verdict.case.budget
    if not text or not budget:
        return [(Span(text, STRONG),)] if text else []
    middle = sum(item.low + item.high for item in verdict.items) / 2
    return [(Span(text, STRONG),), gauges.bar(middle, budget, min(width, BAR))]


BAR = 30
"""The most columns of the gauge of the budget."""


class Tally(Drawn):
    """The tally on the screen."""

    @property
    def is_empty(self) -> bool:
        """Whether nothing was said yet."""
        return not str(self.content)

    def say(self, text: str) -> None:
        """Say a few words in place of the drawing."""
        self.show_lines([(Span(line),) for line in escaped(text, allowed="\n").split("\n")])

    def show_tally(self, session: Session, made: Plan | Problems) -> None:
        """The station drawn where there is room, else a few lines of text."""
        width, height = self.content_size.width or 40, self.content_size.height or 4
        lines = pictured(session, made, width, height)
        if lines:
            self.show_lines(lines)
        else:
            self.say("\n".join(tally(session, made, width, height)))
