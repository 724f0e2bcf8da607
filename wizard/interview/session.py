"""The state behind the screens: the station as typed, its history, its draft. No widget in it.

The station is kept as the very document that a file would hold, faulty answers included, and read by the same
reader; so a station typed here and one written as a file give the same profile, and nothing typed is lost.
"""

from __future__ import annotations

import copy

from engine.findings import Choice
from engine.parts import Shelf
from engine.planning import plan as planning
from engine.planning import repair as repairing
from engine.planning import upgrade as upgrading
from engine.planning.judge import Stop
from engine.planning.plan import Plan
from engine.planning.repair import Mending
from engine.rules import check as checking
from engine.station import profile
from engine.station.model import SECTIONS, Station
from engine.station.table import Problem, Problems
from wizard import drafts
from wizard.interview import faults, readings, source_rows
from wizard.interview import steps as stepping
from wizard.interview.document import cut, typed
from wizard.questions.question import MAINS, Document, Place, Question
from wizard.store import Held

PLAN, JUDGE, UPGRADE = stepping.PLAN, stepping.JUDGE, stepping.UPGRADE
MODES = (PLAN, JUDGE, UPGRADE)
HISTORY = 200
TIE, OF = "_tie", "_of"
"""Private marks that tie a lead to its load while the load's name is being typed; no file ever holds them."""

NAMELESS = "My station"
RESERVED = ("supply", "vehicle", "battery", "booster", "changeover", "strip")
"""Names that the plan gives to its own parts."""


def fresh(name: str = "") -> Document:
    """The document of a station about which nothing is said yet."""
    return {"format": 1, "name": name} if name else {"format": 1}


class Session:
    """One station being described."""

    def __init__(self, shelf: Shelf, mode: str = PLAN, document: Document | None = None) -> None:
        self.shelf, self.mode = shelf, mode
        self.document: Document = document if document is not None else fresh()
        self.step = ""
        self.step = self.steps[0]
        self.draft = drafts.Draft()
        self.held: Held | None = None
        self.choices: tuple[Choice, ...] = ()
        self.dirty = False
        self.focus: Place | None = None
        self._past: list[tuple[Document, Place | None]] = []
        self._last: Place | None = None
        self._tie()

    @property
    def steps(self) -> tuple[str, ...]:
        """The steps of this door, in order."""
        return stepping.order(self.mode, self.document, self.shelf, self.step)

    def nearest(self, step: str) -> str:
        """``step``, or the one in its place where this station has none of that name."""
        near = stepping.source_step(self.document, self.shelf) if step in stepping.SOURCE_STEPS.values() else step
        return next((one for one in (step, near) if one in self.steps), self.steps[0])

    def asked(self, step: str) -> tuple[Question, ...]:
        """The questions of a step that are not about one piece of equipment."""
        return stepping.asked(step, self.mode, self.document, self.shelf)

    # -- answers

    def rows(self, table: str) -> list[Document]:
        """The list of tables ``table``, as typed."""
        found = self.document.get(table, [])
        return found if isinstance(found, list) else []

    def text(self, question: Question, index: int = 0) -> str:
        """The answer to ``question`` as typed; empty when it is open."""
        value = self.table(question, index).get(question.key, "")
        if question.part is not None:
            return str(value[question.part]) if isinstance(value, list) and question.part < len(value) else ""
        if isinstance(value, bool):
            return "yes" if value else "no"
        if question.key == "keyed_together" and isinstance(value, list):
            return ", ".join(map(str, value[0])) if len(value) == 1 and isinstance(value[0], list) else str(value)
        if isinstance(value, list):
            return ", ".join(map(str, value))
        return str(value)

    def answer(self, question: Question, text: str, index: int = 0) -> None:
        """Take an answer as typed; an empty one opens the question again."""
        if text.strip() == self.text(question, index).strip():
            return
        self._remember(question.place(index))
        main = source_rows.main_kind(self.document, self.shelf)
        self._take(question, text, index)
        source_rows.used(self.document, main, source_rows.main_kind(self.document, self.shelf))
        if (question.table, question.key) == ("wishes", "hours"):
            source_rows.wished(self.document, self.shelf)

    def _take(self, question: Question, text: str, index: int) -> None:
        table = self.table(question, index, make=bool(text.strip()))
        table.pop(readings.FRESH, None)
        if question.part is not None:
            self._answer_part(table, question, text.strip(), index)
            return
        if not text.strip() and question.key == "id":
            old = str(table.get("id", ""))
            table["id"] = ""
            self._rename(old, "", index)
            return
        if not text.strip():
            table.pop(question.key, None)
            self._tidy(question.table, index)
            return
        before = table.get(question.key)
        table[question.key] = typed(question, text.strip())
        if question.table == "load" and question.key == "id":
            self._rename(str(before), text.strip(), index)

    def put(self, table: str, rows: list[Document]) -> None:
        """Put a whole list of tables in the place of another, as one change."""
        self._remember()
        self.document[table] = rows
        if not rows:
            del self.document[table]

    def _answer_part(self, table: Document, question: Question, text: str, index: int) -> None:
        """One of the two values of a list; both open leaves no trace."""
        value = table.get(question.key)
        pair = [str(one) for one in value][:2] if isinstance(value, list) else []
        pair += [""] * (2 - len(pair))
        pair[question.part or 0] = text
        table[question.key] = pair
        if not any(pair):
            table.pop(question.key)
            self._tidy(question.table, index)

    def table(self, question: Question, index: int, make: bool = False) -> Document:
        """The table that holds the answer to a question; empty where there is none yet, unless it is to be made."""
        table = question.table
        if table == "":
            return self.document
        if table in SECTIONS:
            return self._section(table) if make else self.document.get(table, {})
        if table == "run":
            return self._run(index, make)
        if table == "source" and make:
            source_rows.make(self.document, question.kind or MAINS, self.shelf)
        rows = (
            source_rows.of_kind(self.document, question.kind or MAINS, self.shelf)
            if table == "source"
            else self.rows(table)
        )
        return rows[index] if index < len(rows) else {}

    def _section(self, table: str) -> Document:
        made: Document = self.document.setdefault(table, {})
        source_rows.sunlit(self.document, self.shelf)
        return made

    def _run(self, index: int, make: bool) -> Document:
        """The run that feeds load ``index``."""
        loads = self.rows("load")
        if index >= len(loads):
            return {}
        load = loads[index]
        for run in self.rows("run"):
            if run.get(OF) is not None and run[OF] == load.get(TIE):
                return run
        if not make:
            return {}
        run = {"id": f"{load.get('id', '')}-lead", "to": load.get("id", ""), OF: load.get(TIE)}
        self.document.setdefault("run", []).append(run)
        return run

    def load_of(self, run: Document) -> int:
        """The place of the load that a lead feeds; 0 where there is none."""
        marks = [row.get(TIE) for row in self.rows("load")]
        ids = [row.get("id") for row in self.rows("load")]
        if run.get(OF) in marks:
            return marks.index(run.get(OF))
        return ids.index(run.get("to")) if run.get("to") in ids else 0

    def _tie(self) -> None:
        """Tie each lead to the load that it feeds, and give every load a mark of its own."""
        used = [int(row[TIE]) for row in self.rows("load") if isinstance(row.get(TIE), int)]
        number = max(used, default=0)
        for row in self.rows("load"):
            if not isinstance(row.get(TIE), int):
                number += 1
                row[TIE] = number
            for run in self.rows("run"):
                if OF not in run and run.get("to") == row.get("id"):
                    run[OF] = row[TIE]

    @property
    def exported(self) -> Document:
        """The document as a file would hold it: no private marks, and a name."""
        document = copy.deepcopy(source_rows.shown(self.document))
        for table in ("load", "run"):
            for row in document.get(table, []):
                if isinstance(row, dict):
                    row.pop(TIE, None)
                    row.pop(OF, None)
                    if isinstance(row.get("contacts"), list) and "" in row["contacts"]:
                        row.pop("contacts")
        rows = [row for row in document.pop(readings.TABLE, []) if readings.FRESH not in row]
        return {"format": 1, "name": NAMELESS} | document | ({readings.TABLE: rows} if rows else {})

    def _tidy(self, table: str, index: int) -> None:
        """Drop what says nothing any more, so that an opened answer leaves no trace."""
        if table in SECTIONS and table in self.document and not self.document[table]:
            del self.document[table]
            source_rows.sunlit(self.document, self.shelf)
        if table in ("source", "sun"):
            source_rows.tidy(self.document, self.shelf)
        if table == "run":
            keep = [run for run in self.rows("run") if set(run) - {"id", "to", OF}]
            self.document["run"] = keep
            if not keep:
                del self.document["run"]

    def _rename(self, old: str, new: str, index: int) -> None:
        """A load's own lead follows its new name; another load's never does."""
        run = self._run(index, make=False)
        if run:
            run["to"] = new
            if run.get("id") == f"{old}-lead":
                run["id"] = f"{new}-lead"
        if any(row.get("id") == old for row in self.rows("load")):
            return
        groups = self.document.get("keyed_together", [])
        self.document |= (
            {"keyed_together": [[new if one == old else one for one in group] for group in groups]} if groups else {}
        )
        readings.follow(self.document, old, new)

    def fault(self, problems: tuple[Problem, ...], question: Question, index: int = 0) -> Problem | None:
        """The fault that concerns one answer, or None."""
        return faults.of_answer(self, problems, question, index)

    def place(self, problem: Problem) -> faults.Spot:
        """Where a fault can be mended, and its place in the words of the questions."""
        return faults.locate(self, problem)

    # -- equipment

    def add_load(self, equipment: str | None) -> int:
        """Add a load of a class, or one with figures of its own; its index."""
        self._remember()
        taken = {str(row.get("id")) for row in self.rows("load")}
        base = (equipment or "load").split("-")[0][:30]
        name, number = base, 1
        while name in taken or name in RESERVED:
            number += 1
            name = f"{base}-{number}"
        row: Document = {"id": name} | ({"class": equipment} if equipment else {})
        self.document.setdefault("load", []).append(row)
        self._tie()
        return len(self.rows("load")) - 1

    def remove_load(self, index: int) -> None:
        """Take a load out, with the lead that feeds it."""
        if index >= len(self.rows("load")):
            return
        self._remember()
        gone = self.rows("load").pop(index).get(TIE)
        self.document["run"] = [run for run in self.rows("run") if run.get(OF) != gone]
        for key in ("load", "run"):
            if not self.document.get(key):
                self.document.pop(key, None)

    # -- history

    def _remember(self, place: Place | None = None) -> None:
        """Keep the state before a change; typing on in one field is one change."""
        self.dirty = True
        if place is None or place != self._last:
            self._past = [*self._past[-HISTORY:], (copy.deepcopy(self.document), place)]
        self._last = place

    def undo(self) -> bool:
        """Take the last answer back; False when there is none. ``focus`` is then the field that changed."""
        if not self._past:
            return False
        self.document, self.focus = self._past.pop()
        self._last = None
        return True

    # -- what follows from the answers

    def problems(self) -> tuple[Problem, ...]:
        """Everything wrong with the answers, by dotted key."""
        try:
            profile.from_document(self.exported, self.shelf)
        except Problems as error:
            return error.found
        return ()

    def usable(self) -> Document:
        """The document without the answers that cannot be read."""
        document = self.exported
        for _ in range(20):
            try:
                profile.from_document(document, self.shelf)
            except Problems as error:
                if readings.faulty(document, error.found):
                    continue
                if not any(cut(document, problem.where) for problem in error.found):
                    return fresh(NAMELESS)
            else:
                return document
        return fresh(NAMELESS)

    def reckoned(self, stop: Stop | None = None) -> Plan | Problems:
        """The plan or the verdict, as the door asks, for the answers that can be read; or why there is none."""
        try:
            return self._outcome(profile.from_document(self.usable(), self.shelf).station, stop)
        except Problems as error:
            return error

    def result(self, stop: Stop | None = None) -> Plan:
        """The plan or the verdict, as the door asks; answers that cannot be read are an error here.

        Raises:
            Problems: faulty answers, or nothing to plan for.
        """
        return self._outcome(profile.from_document(self.exported, self.shelf).station, stop)

    def _outcome(self, station: Station, stop: Stop | None) -> Plan:
        if self.mode != JUDGE:
            return self._made(station, stop)
        if not station.loads:
            raise Problems([Problem("load", "there is none", "describe at least one piece of equipment")])
        return Plan(checking.check(station, self.shelf, self.choices))

    def _made(self, station: Station, stop: Stop | None = None) -> Plan:
        if self.mode == UPGRADE:
            return upgrading.upgrade(station, self.shelf, stop)
        return planning.plan(station, self.shelf, stop=stop)

    def mended(self, stop: Stop | None = None) -> Mending | None:
        """How a judged station could be mended: the cheapest single change first; None where it cannot be read."""
        try:
            return repairing.repair(profile.from_document(self.exported, self.shelf).station, self.shelf, stop)
        except Problems:
            return None

    # -- draft

    def keep(self) -> str | None:
        """Keep the draft; what went wrong if it could not be kept."""
        head = {"mode": self.mode, "step": self.step}
        return self.draft.keep({"draft": head, "station": self.document})

    @property
    def worth_keeping(self) -> bool:
        """Whether anything has been said since it was opened."""
        return self.dirty
