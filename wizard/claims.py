"""Claims as questions: the figures that someone named, and the verdict on them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from engine import claim as claims
from engine import profile
from engine.claim import Judged
from engine.fields import CONDUCTOR, TEXT, Field, Problem, Problems, Reader, nearest, quantity
from engine.units import AMPS, LENGTH, VOLTS, WATTS
from wizard.bench_questions import Listed
from wizard.question import Question
from wizard.session import Session

HERE = "the station at hand"


@dataclass(frozen=True)
class Claimed(Listed):
    """A question about a figure of a claim, which belongs to no station."""

    @property
    def field(self) -> Field:
        """The figure's own declaration."""
        return FIELDS[self.key]


FIELDS = {
    one.key: one
    for one in (
        Field("conductor", CONDUCTOR, "the size of each conductor"),
        Field("amps", quantity(AMPS), "the current"),
        Field("length", quantity(LENGTH), "one way"),
        Field("drop", quantity(VOLTS), "the loss that is claimed"),
        Field("watts", quantity(WATTS), "radio-frequency power"),
        Field("volts", quantity(VOLTS), "the voltage at which it is drawn"),
        Field("raise", quantity(VOLTS), "the higher setting"),
        Field("for", TEXT, "the class of equipment"),
    )
}

_AS_TOLD = "What you were told; the claim is judged by its own figures."


def _ask(key: str, asks: str, example: str, why: str = _AS_TOLD, where: str = "What was said.") -> Claimed:
    return Claimed("claim", key, asks, why, where, example)


@dataclass(frozen=True)
class Kind:
    """A kind of claim: what is said, the figures that it needs, and those that may be left open."""

    id: str
    title: str
    needs: tuple[Claimed, ...]
    may: tuple[Claimed, ...] = ()


KINDS = (
    Kind(
        "cable",
        "a cable is enough, or loses only so many volts",
        (
            _ask("conductor", "Which size of cable?", "14 AWG, or 2.5 mm²"),
            _ask("amps", "At which current?", "30 A"),
            _ask("length", "How long, one way?", "3 m, or 10 ft", "Current goes out and back: the loop is twice this."),
        ),
        (
            _ask(
                "drop", "How many volts are lost, as you were told?", "0.5 V", "Left open: is the cable enough at all?"
            ),
        ),
    ),
    Kind(
        "current",
        "so many amperes are enough for so many watts",
        (
            _ask("watts", "For how many watts of radio output?", "100 W"),
            _ask("amps", "How many amperes are enough, as you were told?", "8 A"),
        ),
        (_ask("volts", "At which voltage?", "13.8 V", "Left open: 13.8 V."),),
    ),
    Kind(
        "raise",
        "the supply's voltage should be turned up",
        (
            _ask("raise", "Up to how many volts?", "15 V"),
            _ask("for", "For which equipment?", "hf-100w", "Everything on the supply must bear the higher voltage."),
        ),
    ),
)
OPEN = {"volts": f"{claims.NOMINAL:g} V", "drop": "whether it is enough is judged instead"}


def judge(kind: Kind, said: Mapping[str, str], session: Session) -> Judged | None:
    """The verdict on a claim as typed; None while a figure that it needs is open.

    Raises:
        Problems: figures that cannot be read.
    """
    reader = Reader()
    given: dict[str, Any] = {}
    for one in (*kind.needs, *kind.may):
        if text := said.get(one.key, "").strip():
            given[one.key] = reader.value(one.field.shape, text, one.key)
    reader.done()
    if any(one.key not in given for one in kind.needs):
        return None
    return _JUDGES[kind.id](given, session)


def _cable(given: Mapping[str, Any], session: Session) -> Judged:
    row = _row(session.shelf.conductors, given["conductor"], "conductor")
    return claims.drop(row, given["amps"], given["length"], given.get("drop"), session.shelf.limits)


def _current(given: Mapping[str, Any], _session: Session) -> Judged:
    return claims.draw(given["watts"], given["amps"], given.get("volts", claims.NOMINAL))


def _raise(given: Mapping[str, Any], session: Session) -> Judged:
    if given["for"] == HERE:
        station = profile.from_document(session.usable(), session.shelf).station
        return claims.raised_in(station, session.shelf, given["raise"])
    return claims.raised_for(_row(session.shelf.equipment, given["for"], "for"), given["raise"])


_JUDGES = {"cable": _cable, "current": _current, "raise": _raise}


def _row(rows: Mapping[str, Any], name: str, where: str) -> Any:
    if name not in rows:
        raise Problems([Problem(where, f"{name[:40]!r} is not in the catalogue", f"write {nearest(name, rows)}")])
    return rows[name]


def words_for(question: Question, session: Session) -> tuple[tuple[str, str], ...]:
    """The words to choose from: classes of equipment, and the station at hand."""
    if question.key != "for":
        return ()
    here = ((HERE, f"{HERE}: {session.document.get('name', '') or 'without a name'}"),)
    rows = [(key, row.title) for key, row in session.shelf.equipment.items() if row.feed == "dc"]
    return (*(here if session.rows("source") and session.rows("load") else ()), *rows)
