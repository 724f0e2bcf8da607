"""What is taken while an answer is open: what completing this very station writes down, and nothing else."""

from __future__ import annotations

import copy
import re

from engine.model.complete import complete
from engine.model.layout import lay_out
from engine.model.sources import kind
from engine.station import profile
from engine.station.model import Station
from engine.station.table import Problems
from wizard.interview.session import Session
from wizard.questions.question import MAINS, Question

_SPREAD = re.compile(r"\(typical (.+?) to (.+?) \S+\)")
"""The spread of a class behind its figure; a field shows it without the unit, which stands before it already."""

TABLES = ("site", "wishes", "sun")
"""The tables of which a station has one, so that a key is enough to name an answer."""


class Hints:
    """What is taken of a station's open answers, as far as the others can be read."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.station, self.taken = _completed(session)

    def of(self, question: Question, index: int) -> str:
        """What is taken while a question about a row is left open; empty where nothing is, or the plan decides.

        Of one that is answered: what would be taken without the answer.
        """
        if question.part is None and self.session.text(question, index):
            open_ = Session(self.session.shelf, self.session.mode, copy.deepcopy(self.session.document))
            open_.answer(question, "", index)
            return "" if open_.text(question, index) else Hints(open_).of(question, index)
        part = self._part(question, index)
        taken = self.taken.get(f"{part}.{question.key}", "") if part and question.part is None else ""
        return _SPREAD.sub(r"(usual \1 to \2)", taken)

    def _part(self, question: Question, index: int) -> str:
        if question.table in TABLES:
            return question.table
        if question.table == "run":
            return self._lead(self._id("load", index))
        if question.table == "source":
            named = str(self.session.table(question, index).get("id", ""))
            return named or self._source(question)
        return self._id(question.table, index)

    def _id(self, table: str, index: int) -> str:
        rows = self.session.rows(table)
        return str(rows[index].get("id", "")) if index < len(rows) else ""

    def _source(self, question: Question) -> str:
        """The source that a layout puts where none of that kind is described."""
        shelf, wanted = self.session.shelf, question.kind or MAINS
        sources = self.station.sources if self.station else ()
        return next((source.id for source in sources if kind(source, shelf) == wanted), "")

    def _lead(self, load: str) -> str:
        """The lead that ends in a load; the one that the layout gives it where none is described."""
        return next(
            (str(row.get("id", "")) for row in self.session.rows("run") if row.get("to") == load), f"{load}-lead"
        )


def _completed(session: Session) -> tuple[Station | None, dict[str, str]]:
    """The station laid out, and every assumption about it by what it is about."""
    try:
        read = profile.from_document(session.usable(), session.shelf).station
        station = lay_out(read, session.shelf)
        _, assumptions = complete(station, session.shelf)
    except Problems:
        return None, {}
    return station, {assumption.about: assumption.value for assumption in assumptions}
