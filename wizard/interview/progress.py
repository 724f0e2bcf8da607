"""How far a station is described: each step with its state and its answer in two words. No widget in it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum

from engine.model.case import BATTERY, MAINS, VEHICLE
from engine.terms import SourceKind
from wizard.interview import source_rows, steps
from wizard.interview.session import Session
from wizard.questions.question import Document
from wizard.questions.uses import short_use


class State(StrEnum):
    """What can be said of a step."""

    ANSWERED = "answered"
    OPEN = "open"
    FAULTY = "faulty"


@dataclass(frozen=True)
class Progress:
    """One step: its title, its state, and its answer in two words."""

    step: str
    title: str
    state: State
    words: str


def progress(session: Session) -> tuple[Progress, ...]:
    """Every step of this door but the result, in order."""
    faults = Counter(session.place(problem).step for problem in session.problems())
    return tuple(_progress(session, step, faults[step]) for step in session.steps if step != "result")


def _progress(session: Session, step: str, faults: int) -> Progress:
    words = _words(session, step)
    state = State.FAULTY if faults else State.ANSWERED if words else State.OPEN
    shown = f"{faults} unreadable" if faults else words or _open_words(session, step)
    return Progress(step, steps.STEPS[step].title, state, shown)


def _words(session: Session, step: str) -> str:
    """The answer to a step in two words; empty where nothing is answered."""
    document = session.document
    if step == "use":
        return short_use(str(document.get("use", "")))
    if step == "loads":
        return loads_words(session)
    if step == "leads":
        return _leads_words(session)
    if step in SOURCES:
        return _source_words(session, SOURCES[step])
    if step == "wishes":
        return _wishes_words(_section(document, "wishes"))
    given = len(_section(document, step))
    return f"{given} given" if given else ""


SOURCES = {"supply": MAINS, "vehicle": VEHICLE, "battery": BATTERY}
"""The steps about a source, and which kind of source each is about."""


def loads_words(session: Session) -> str:
    """How many loads there are; empty for none."""
    count = len(session.rows("load"))
    return f"{count} load{'' if count == 1 else 's'}" if count else ""


def _leads_words(session: Session) -> str:
    told = [run for run in session.rows("run") if run.get("length") and run.get("to")]
    whole = len(session.rows("load"))
    return f"{min(len(told), whole)} of {whole} given" if told and whole else ""


def _source_words(session: Session, kind: SourceKind) -> str:
    rows = source_rows.of_kind(session.document, kind, session.shelf)
    known = [str(row[key]) for row in rows[:1] for key in FIRST[kind] if row.get(key)]
    return known[0] if known else "described" if any(set(row) - {"id", "class", "charged_by"} for row in rows) else ""


FIRST = {MAINS: ("continuous", "peak", "volts"), VEHICLE: ("part",), BATTERY: ("amp_hours", "chemistry")}
"""The answers that say most about a source in a word."""


def _wishes_words(wishes: Document) -> str:
    named = {"budget": "budget {}", "hours": "{}", "prefer": "{}"}
    known = [form.format(wishes[key]) for key, form in named.items() if wishes.get(key)]
    return known[0] if known else f"{len(wishes)} given" if wishes else ""


def _section(document: Document, name: str) -> Document:
    found = document.get(name, {})
    return found if isinstance(found, dict) else {}


def _open_words(session: Session, step: str) -> str:
    """What happens while nothing is answered."""
    chosen = "to choose" if session.mode == steps.PLAN else "not described"
    return {
        "use": "at home?",
        "loads": "none yet",
        "supply": chosen,
        "battery": chosen,
        "sun": "no panels",
        "wishes": "none",
    }.get(step, "assumed")


def kept_words(session: Session) -> str:
    """Whether what was typed is saved."""
    if session.dirty:
        return "draft kept"
    return "saved" if session.held is not None else "nothing typed yet" if not session.rows("load") else "not saved"
