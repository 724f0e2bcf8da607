"""What frames every screen: the line at the top, and the steps as a rail or as one line."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from engine.characters import escaped
from engine.findings import SOUND, UNSOUND
from wizard.interview.progress import Progress, State, kept_words, loads_words, progress
from wizard.interview.session import Session
from wizard.interview.steps import JUDGE, STEPS
from wizard.questions.uses import short_use
from wizard.view.span import ACCENT, DIM, MARK, PLAIN, STRONG, WIRE, Line, Span, clipped, width_of

STATES = {State.ANSWERED: ("✓", SOUND), State.OPEN: ("○", DIM), State.FAULTY: ("✗", UNSOUND)}
HERE = ("●", ACCENT)
ADD = "add"
"""The part of the rail that adds a load; ``load:N`` is the one of load N, a step's own name that of the step."""

MOST_LOADS = 8
"""Loads that the rail names; the table has them all."""

TITLE = 13
"""The columns of a mark and a title in the rail."""


def top_line(session: Session, width: int) -> Line:
    """Station, use, number of loads, saved or draft."""
    return task_line(session, "second opinion" if session.mode == JUDGE else "", width)


def task_line(session: Session, task: str, width: int) -> Line:
    """What is being done with a station, before its use, its loads, and whether it is saved."""
    words = [task, short_use(str(session.document.get("use", ""))), loads_words(session), kept_words(session)]
    said = f"  {' · '.join(filter(None, words))}"
    name = escaped(str(session.document.get("name", ""))) or "Station without a name"
    room = max(width - len(said), 12)
    return clipped((*clipped((Span(name, STRONG),), room), Span(said, DIM)), width)


def rail(session: Session, here: str, width: int, outcome: str = "", load: int | None = None) -> list[Line]:
    """One line for each step: mark, step, the answer in two words; below the equipment each of its pieces."""
    lines: list[Line] = []
    for one in progress(session):
        lines.append(clipped(_step(one, here), width))
        if one.step == "loads":
            lines += [clipped(line, width) for line in _loads(session, load)]
    return [*lines, (Span("─" * width, DIM),), _result(here, outcome, bool(session.rows("load")))]


def _step(one: Progress, here: str) -> Line:
    mark, role = HERE if one.step == here and one.state != State.FAULTY else STATES[one.state]
    title = STRONG if one.step == here else PLAIN
    said = UNSOUND if one.state == State.FAULTY else PLAIN if one.state == State.ANSWERED else DIM
    return (
        Span(f"{mark} ", role, one.step),
        Span(f"{one.title:<{TITLE - 2}}", title, one.step),
        Span(escaped(one.words), said, one.step),
    )


def _loads(session: Session, chosen: int | None) -> list[Line]:
    rows = session.rows("load")
    lines: list[Line] = []
    for place, row in enumerate(rows[:MOST_LOADS]):
        name = escaped(str(row.get("id", ""))) or "no name"
        role, tip = (ACCENT, " ◀") if place == chosen else (PLAIN, "")
        lines.append((Span(f"    {name}{tip}", role, f"load:{place}"),))
    if len(rows) > MOST_LOADS:
        lines.append((Span(f"    and {len(rows) - MOST_LOADS} more", DIM, "loads"),))
    return [*lines, (Span("    + add", DIM, ADD),)]


def _result(here: str, outcome: str, ready: bool) -> Line:
    mark, role = HERE if here == "result" else (MARK.get(outcome, "○"), outcome or DIM)
    said = outcome or ("F9 shows it" if ready else "add a load")
    return (
        Span(f"{mark} ", role, "result"),
        Span(f"{STEPS['result'].title:<{TITLE - 2}}", STRONG, "result"),
        Span(said, outcome or DIM, "result"),
    )


def steps_line(session: Session, here: str, width: int) -> Line:
    """The steps as one line; where there is no room for all their names, marks and the name of this one."""
    known = [(one.step, one.title, one.state) for one in progress(session)]
    known.append(("result", STEPS["result"].title, State.OPEN))
    for gap in ("  ", " "):
        line = _named(known, here, gap)
        if width_of(line) <= width:
            return line
    place = next((number for number, one in enumerate(known) if one[0] == here), 0)
    marks = [Span(f"{_mark(state, step == here)[0]} ", _mark(state, step == here)[1], step) for step, _, state in known]
    said = Span(f" {place + 1} of {len(known)}  {known[place][1]}", STRONG, here)
    return clipped((*marks, said), width)


def _mark(state: State, is_here: bool) -> tuple[str, str]:
    return HERE if is_here and state != State.FAULTY else STATES[state]


def _named(known: Sequence[tuple[str, str, State]], here: str, gap: str) -> Line:
    spans: list[Span] = []
    for step, title, state in known:
        mark, role = _mark(state, step == here)
        spans += [Span(f"{mark} ", role, step), Span(title, STRONG if step == here else DIM, step), Span(gap, WIRE)]
    return tuple(spans[:-1])


def part_at(line: Line, column: int) -> str:
    """The part that stands in a column of a line; empty where there is none.

    >>> part_at((Span("ab", part="x"), Span("cd")), 1), part_at((Span("ab", part="x"), Span("cd")), 2)
    ('x', '')
    """
    ends = [0]
    for span in line:
        ends.append(ends[-1] + len(span.text))
    bounds = zip(line, pairwise(ends), strict=True)
    return next((span.part for span, (start, end) in bounds if start <= column < end), "")
