"""Sessions from files: a draft, or a station file."""

from __future__ import annotations

import tomllib
from pathlib import Path

from engine import plan as planning
from engine.parts import Shelf
from engine.planning import upgrade as upgrading
from engine.station import profile
from wizard import store
from wizard.interview import source_rows
from wizard.interview.session import MODES, SECTIONS, Session
from wizard.interview.steps import JUDGE, PLAN, UPGRADE


def from_draft(path: Path, shelf: Shelf) -> Session | None:
    """The session that a draft holds, or None when it cannot be read."""
    try:
        held = tomllib.loads(store.read_text(path))
        head, document = held["draft"], held["station"]
        mode, step = str(head.get("mode")), str(head.get("step"))
    except (store.StoreError, ValueError, RecursionError, KeyError, AttributeError):
        return None
    if not _shaped(document):
        return None
    session = Session(shelf, mode if mode in MODES else PLAN, document)
    session.draft, session.dirty = path, True
    session.step = step if step in session.steps else session.steps[0]
    return session


def _shaped(document: object) -> bool:
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
    read = profile.read(store.read_text(path), shelf)
    station = planning.reopen(read.station, read.choices) if again and mode == PLAN else read.station
    if mode == UPGRADE:
        station = upgrading.owned(station)
    session = Session(shelf, mode, profile.station_document(station))
    session.opened = None if path in store.worked().values() else path
    session.choices = read.choices if mode == JUDGE else ()
    session.step = "loads" if mode == UPGRADE else "result"
    return session
