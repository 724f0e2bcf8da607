"""From a fault of the station as typed to the question it is about, and back."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING, NamedTuple

from engine.station import profile
from engine.station.table import Problem, Problems
from engine.terms import SourceKind
from wizard.interview import source_rows
from wizard.interview import steps as stepping
from wizard.interview.document import about, steps
from wizard.questions import EVERY
from wizard.questions.question import Document, Question
from wizard.questions.readings import READING

if TYPE_CHECKING:
    from wizard.interview.session import Session

REFERS = ("id", "class", "from", "to", "at", "across", "state")
"""What ties a row to others and says what it is: it stays when one answer is looked at by itself."""

ELSEWHERE = {("reading", "across"): "at"}
"""Keys that are asked for together with another one."""


class Spot(NamedTuple):
    """Where a fault can be mended: the step, its place in the words of the questions, the question and its row."""

    step: str
    words: str
    question: Question | None
    row: int


def of_answer(session: Session, problems: tuple[Problem, ...], question: Question, index: int = 0) -> Problem | None:
    """The fault that concerns one answer, or None."""
    at = _row(session, question, index)
    return next((one for one in problems if about(one.where, question, at)), None)


def _row(session: Session, question: Question, index: int) -> int:
    """The row of its table that an answer stands in, as the file counts; -1 where there is none yet."""
    if question.table not in ("run", "source"):
        return index
    row = session.table(question, index)
    return next((place for place, one in enumerate(session.rows(question.table)) if one is row), -1)


def unreadable(session: Session, question: Question, index: int = 0) -> bool:
    """Whether an answer is at fault by itself, whatever the other answers about the same thing say."""
    document: Document = session.exported
    at = _row(session, question, index)
    rows = document.get(question.table, [])
    if isinstance(rows, dict):
        document[question.table] = _alone(rows, question.key)
    elif question.table and 0 <= at < len(rows):
        rows[at] = _alone(rows[at], question.key)
    try:
        profile.from_document(document, session.shelf)
    except Problems as error:
        return any(about(one.where, question, at) for one in error.found)
    return False


def _alone(row: Document, key: str) -> Document:
    return {name: copy.copy(value) for name, value in row.items() if name in (*REFERS, key)}


def locate(session: Session, problem: Problem) -> Spot:
    """Where a fault can be mended."""
    table, index, key = steps(problem.where)
    rows = session.rows(table)
    kind = source_rows.kind(rows[index], session.shelf) if table == "source" and index < len(rows) else ""
    asked = _asked_about(session, table, ELSEWHERE.get((table, key), key), kind, problem.where)
    words = _words(session, problem, asked, table, index)
    holding = [one for one in session.steps if asked and asked in session.asked(one)]
    step = (
        holding[0] if holding else {"": "use", "load": "loads", "run": "leads", "reading": "result"}.get(table, table)
    )
    step = session.nearest(stepping.SOURCE_STEPS.get(SourceKind(kind), step) if kind else step)
    return Spot(step, words, asked, _form_row(session, table, index))


def _words(session: Session, problem: Problem, asked: Question | None, table: str, index: int) -> str:
    rows, words = session.rows(table), asked.asks if asked else problem.where
    if table in ("load", "run") and index < len(rows):
        of = rows[index].get("id" if table == "load" else "to", "")
        return f"{'the lead to ' if table == 'run' else ''}{of}: {words}"
    return f"reading {index + 1}: {words}" if table == "reading" else words


def _form_row(session: Session, table: str, index: int) -> int:
    """The row as a form counts it: a lead by its load, a source among those of its kind."""
    if table == "source":
        return 0
    rows = session.rows(table)
    if table != "run" or index >= len(rows):
        return index
    return session.load_of(rows[index])


def _asked_about(session: Session, table: str, key: str, kind: str, where: str) -> Question | None:
    """The question about a key, as this station is asked it if it is."""
    here = [one for step in session.steps for one in session.asked(step)]
    here += stepping.leads(session.mode, session.document, session.shelf)
    found = [one for one in (*here, *EVERY, *READING) if (one.table, one.key) == (table, key)]
    found = [one for one in found if one.table != "source" or one.kind == kind]
    part = next((one for one in found if one.part is not None and where.endswith(f"[{one.part}]")), None)
    return part or next(iter(found), None)
