"""Sessions from files: a draft, or a station file."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import islice
from pathlib import Path
from typing import TypeGuard

from engine.parts import Shelf
from engine.planning import plan as planning
from engine.planning import upgrade as upgrading
from engine.station import profile
from engine.station.model import SECTIONS
from wizard import drafts, store
from wizard.interview import source_rows
from wizard.interview.session import MODES, Session
from wizard.interview.steps import JUDGE, PLAN, UPGRADE
from wizard.questions.question import Document


def from_draft(path: Path, shelf: Shelf) -> Session | None:
    """The session that a draft holds, or None when it cannot be read."""
    found = drafts.read(path)
    if found is None:
        return None
    held, draft = found
    head, document = held.get("draft"), held.get("station")
    if not isinstance(head, dict) or not _shaped(document):
        return None
    session = Session(shelf, _word(head, "mode", MODES) or PLAN, document)
    session.draft, session.dirty = draft, True
    session.step = _word(head, "step", session.steps) or session.steps[0]
    return session


def draft_title(path: Path) -> str | None:
    """What a draft is called in a list: its station, its day, how many loads; None when it cannot be read."""
    found = drafts.read(path)
    station = found[0].get("station") if found else None
    if not _shaped(station):
        return None
    name, loads = station.get("name", "no name yet"), len(station.get("load", []))
    day = datetime.fromtimestamp(path.lstat().st_mtime).date()
    return f"{str(name)[:60]} ({day}, {loads} load{'' if loads == 1 else 's'})"


def newest_drafts(most: int) -> list[tuple[Path, str]]:
    """The last drafts that can be read, at most so many, each with its title."""
    titled = ((path, draft_title(path)) for path in drafts.unfinished())
    return list(islice(((path, title) for path, title in titled if title), most))


def _word(head: Document, key: str, known: Sequence[str]) -> str:
    """A word of a draft's head that is known; empty where it is none."""
    return next((one for one in known if one == head.get(key)), "")


def _shaped(document: object) -> TypeGuard[Document]:
    """Whether a draft's station has tables where tables belong; what is in them may be faulty."""
    if not isinstance(document, dict):
        return False
    lists = [document.get(name, []) for name in ("load", "source", "strip", "changeover", "run", "reading")]
    tables = [document.get(name, {}) for name in SECTIONS]
    rows = all(isinstance(one, list) and all(isinstance(row, dict) for row in one) for one in lists)
    return rows and all(isinstance(one, dict) for one in tables) and source_rows.shaped(document)


def from_file(path: Path, shelf: Shelf, mode: str, again: bool = True) -> Session:
    """A session on a station file; with ``again`` what an earlier plan chose is open to choice once more.

    Raises:
        StoreError: the file cannot be read.
        Problems: the file is faulty.
    """
    held = store.read(path)
    read = profile.read(held.text, shelf)
    station = planning.reopen(read.station, read.choices) if again and mode == PLAN else read.station
    if mode == UPGRADE:
        station = upgrading.owned(station)
    session = Session(shelf, mode, profile.station_document(station))
    session.held = None if path in store.worked().values() else held
    session.choices = read.choices if mode == JUDGE else ()
    session.step = "loads" if mode == UPGRADE else "result"
    return session
