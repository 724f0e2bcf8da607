"""The equipment as a table: name, class, currents, window and mode; what is assumed stands dim."""

from __future__ import annotations

from dataclasses import dataclass

from engine.characters import escaped
from engine.findings import UNSOUND
from engine.parts import Equipment
from engine.terms import PowerInput
from wizard import questions
from wizard.interview.document import understood
from wizard.interview.session import Session
from wizard.interview.steps import pointless
from wizard.questions.question import Question
from wizard.view.span import DIM, PLAIN, STRONG, Line, Span

NAME, CLASS, RECEIVE, KEYED, WINDOW, MODE = "name", "class", "receive", "key-down", "window", "mode"
COLUMNS = {NAME: 10, RECEIVE: 8, KEYED: 9, WINDOW: 15, MODE: 9}
"""The columns of fixed width; the class takes what is left."""

LEAST = 12
"""Below this width of the class the mode is left out."""

KEYS = {NAME: ("id",), WINDOW: ("window",), RECEIVE: ("receive",), KEYED: ("transmit", "busy", "wall"), MODE: ("mode",)}
"""The keys that a column holds; the first that makes sense for the class."""


@dataclass(frozen=True)
class Columns:
    """The columns that fit, each with its width."""

    widths: tuple[tuple[str, int], ...]

    @classmethod
    def of(cls, width: int) -> Columns:
        """The columns in ``width``."""
        fixed = dict(COLUMNS)
        if width - sum(fixed.values()) < LEAST:
            del fixed[MODE]
        room = max(width - sum(fixed.values()), 1)
        names = [NAME, CLASS, *(name for name in fixed if name != NAME)]
        return cls(tuple((name, fixed.get(name, room)) for name in names))

    @property
    def names(self) -> tuple[str, ...]:
        """Their names, from the left."""
        return tuple(name for name, _ in self.widths)

    def head(self) -> Line:
        """The heads."""
        return tuple(Span(_fitted(name, width, name), DIM) for name, width in self.widths)


def _fitted(text: str, width: int, column: str) -> str:
    """A cell in its width: figures at the right, words at the left."""
    room = width - 1
    cut = text if len(text) <= room else f"{text[: room - 1]}…"
    return f"{cut:<{room}} " if column in (NAME, CLASS, MODE) else f"{cut:>{room}} "


def question_of(session: Session, index: int, column: str) -> Question | None:
    """The question that a cell answers; None where it is none of this class."""
    keys = [key for key in KEYS.get(column, ()) if key not in pointless(class_of(session, index))]
    return next((one for one in questions.LOAD for key in keys[:1] if one.key == key), None)


def class_of(session: Session, index: int) -> Equipment | None:
    """The class of a piece of equipment; None for one with figures of its own."""
    rows = session.rows("load")
    return session.shelf.equipment.get(str(rows[index].get("class", ""))) if index < len(rows) else None


def load_row(session: Session, index: int, columns: Columns) -> Line:
    """One piece of equipment; each cell is the part of its column."""
    return tuple(_cell(session, index, name, width) for name, width in columns.widths)


def _cell(session: Session, index: int, column: str, width: int) -> Span:
    row, question = class_of(session, index), question_of(session, index, column)
    if column == CLASS:
        return Span(_fitted(row.title if row else "own figures", width, column), PLAIN if row else DIM, column)
    typed = session.text(question, index) if question else ""
    if question and typed:
        problem = session.fault(session.problems(), question, index)
        said = understood(question, typed).removeprefix("= ") or escaped(typed)
        text = f"✗ {escaped(typed)}" if problem else said
        return Span(_fitted(text, width, column), UNSOUND if problem else STRONG, column)
    return Span(_fitted(_usual(row, column) if question else "–", width, column), DIM, column)


def _usual(row: Equipment | None, column: str) -> str:
    """What is assumed while a cell is open."""
    if row is None or column == NAME:
        return "open"
    if column == WINDOW:
        return f"{row.lowest:.1f} to {row.highest:.1f} V"
    if column == MODE:
        return row.mode or "–"
    span = row.receive if column == RECEIVE else row.transmit or row.busy
    if column == KEYED and row.feed != PowerInput.DC and row.wall:
        return f"{row.wall.high:g} W"
    return f"{span.high:g} A" if span else "–"
