"""Meter readings in a session: adding, placing, summing up; no widget in it.

They stand in the very document that a file would hold, one ``[[reading]]`` table each.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from engine.diagnosis.diagnosis import diagnose, face_read
from engine.diagnosis.next_measurement import Measurement
from engine.diagnosis.result import ALARM, CANNOT_TELL, FOUND, Diagnosis
from engine.rules import check as checking
from engine.station import profile
from engine.station.table import Problem
from engine.terms import ACROSS, LoadState
from wizard.questions.question import Document

if TYPE_CHECKING:
    from wizard.interview.session import Session

TABLE = "reading"
SAID = ("volts", "amps", "ohms")
CARRIED = ("instrument", "amps_instrument", "date")
"""What one reading most often has in common with the one before."""

NO_LOADS = "Readings show nothing yet: describe what draws current first."
"""What is said of the readings of a station at which nothing draws current."""

FRESH = "_fresh"
"""The private mark of a reading that was added and of which nothing is answered yet; no file ever holds it."""

_ROW = re.compile(r"reading\[(\d+)\]")


def diagnosed(session: Session) -> tuple[Diagnosis | None, int]:
    """What the readings show so far, and how many of them cannot be read yet; None where nothing draws current."""
    document = session.usable()
    station = profile.from_document(document, session.shelf).station
    unread = len(session.exported.get(TABLE, [])) - len(station.readings)
    if not station.loads:
        return None, unread
    verdict = checking.check(station, session.shelf)
    face = face_read(verdict.faces, station.readings)
    return diagnose(face, station.readings, session.shelf.instruments, verdict.assumptions), unread


def add(session: Session, found: Diagnosis | None, today: date) -> int:
    """Add a reading at the place that would tell most, with the day and the meters of the one before; its index.

    ``found`` is what the readings show so far. While there is an alarm a reading begins with nothing switched on.
    """
    let_go(session)
    rows = session.rows(TABLE)
    before = rows[-1] if rows else {}
    state = LoadState.NO_LOAD if found and found.alarm else LoadState.KEYED
    carried = {key: before[key] for key in CARRIED if key in before}
    row: Document = {FRESH: True, "state": state, "date": today.isoformat()} | carried
    if found and found.next:
        row |= _there(found.next, session)
    session.put(TABLE, [*rows, row])
    return len(rows)


def _there(one: Measurement, session: Session) -> Document:
    """The place of a measurement, as a reading states it."""
    row: Document = {"at": one.at} | ({"across": one.across} if one.across else {})
    row |= {"leg": one.leg} if one.leg else {}
    row["state"] = one.read_state
    if one.keyed and one.at not in one.keyed and len(session.rows("load")) > 1:
        row["keyed"] = list(one.keyed)
    return row


def remove(session: Session, index: int) -> None:
    """Take a reading out; undo brings it back."""
    session.put(TABLE, [row for place, row in enumerate(session.rows(TABLE)) if place != index])


def let_go(session: Session) -> None:
    """Forget a reading that was added and of which nothing was answered."""
    rows = [row for row in session.rows(TABLE) if FRESH not in row]
    if rows:
        session.document[TABLE] = rows
    else:
        session.document.pop(TABLE, None)


def missing(session: Session, index: int | None = None) -> list[Problem]:
    """What keeps one reading, or any of them, from being counted."""
    found = [one for one in session.problems() if _ROW.match(one.where)]
    return [one for one in found if index is None or one.where.startswith(f"{TABLE}[{index}]")]


def place_of(row: Document) -> str:
    """Where a reading was taken, in one word or two."""
    return " ".join(str(row[key]) for key in ("at", "across") if key in row)


def set_place(session: Session, index: int, text: str) -> None:
    """Take the place of a reading, ``hf`` or ``hf-lead fuse``; empty opens it again."""
    rows = session.rows(TABLE)
    if index >= len(rows) or place_of(rows[index]) == text.strip():
        return
    at, _, across = text.strip().rpartition(" ")
    words = {"at": at.strip(), "across": across} if at and across in ACROSS else {"at": text.strip()}
    gone = ("at", "across", FRESH) if "across" in words else ("at", "across", "leg", FRESH)
    row = {key: value for key, value in rows[index].items() if key not in gone}
    row = {key: value for key, value in words.items() if value} | row
    session.put(TABLE, [*rows[:index], row, *rows[index + 1 :]])
    if words["at"] == "supply" and not session.rows("source"):
        session.document["source"] = [{"id": "supply"}]


def summary(row: Document) -> str:
    """One reading in one line."""
    where = f"{row.get('at', '?')}" + (f", across its {row['across']}" if row.get("across") else "")
    where += f" ({row['leg']} leg)" if row.get("leg") else ""
    figures = [str(row[key]) for key in SAID if key in row] or ["nothing read yet"]
    more = [str(row[key]) for key in ("instrument", "date") if key in row]
    return f"{where}, {row.get('state', '?')}: {', '.join(figures)}" + (f"  ({', '.join(more)})" if more else "")


def follow(document: Document, old: str, new: str) -> None:
    """Readings follow a part's new name."""
    rows = document.get(TABLE, [])
    names = {old: new, f"{old}-lead": f"{new}-lead"}
    known = {row.get("id") for row in document.get("run", []) if isinstance(row, dict)}
    for row in rows if isinstance(rows, list) else ():
        at = row.get("at")
        if at == old or (at == f"{old}-lead" and at not in known):
            row["at"] = names[at]
        if isinstance(row.get("keyed"), list):
            row["keyed"] = [names.get(one, one) if one == old else one for one in row["keyed"]]


def faulty(document: Document, problems: Sequence[Problem]) -> bool:
    """Take readings with faults out of a document; False where none has any."""
    rows = document.get(TABLE)
    bad = {int(match[1]) for one in problems if (match := _ROW.match(one.where))}
    if not bad or not isinstance(rows, list):
        return False
    document[TABLE] = [row for place, row in enumerate(rows) if place not in bad]
    return True


def what_next(found: Diagnosis) -> str:
    """What a diagnosis asks its owner to do, in a few words."""
    if found.outcome == ALARM:
        return "Switch off and unplug first: what to do stands below."
    if found.outcome == FOUND:
        return "A fault is found: what to do stands below." + (" One more reading would narrow it." * bool(found.next))
    if found.outcome == CANNOT_TELL and not found.next:
        return "Nothing is proved yet. The notes below say what is wanting: F5 leads to the station's description."
    if found.outcome == CANNOT_TELL:
        return "Nothing is proved yet: take the measurement below and add it (F7)."
    return "What was read is as it should be."
