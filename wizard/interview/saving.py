"""Saving a profile or a paper where its owner wants it: nothing of anybody's is replaced unasked.

A profile that goes back into the file that it was read from keeps that file's comments and order.
"""

from __future__ import annotations

import os
import stat
from dataclasses import dataclass
from pathlib import Path

from catalog.files import reason
from engine.advice.report import derived
from engine.parts import Shelf
from engine.rules.check import Verdict
from engine.station import profile
from engine.station.profile import HEAD
from engine.station.revision import revised
from engine.station.toml import parse
from wizard import atomic, store
from wizard.store import Held, StoreError

_NO_STATION = "is there already and is not a station file; choose another name"


class InTheWay(StoreError):
    """Something of the owner's would be replaced: why that is asked about, and what is there."""

    def __init__(self, path: Path, why: str, there: Held) -> None:
        super().__init__(f"{path}: {why}")
        self.there = there


@dataclass(frozen=True)
class Saved:
    """What a file holds once it is saved, and whether anything had to be written for that."""

    held: Held
    fresh: bool


@dataclass(frozen=True)
class Consent:
    """What may be replaced: the file that ``held`` was read from, what the owner was ``shown``, or with ``force`` all.

    A file that has changed since it was read, or shown, is none of these.
    """

    held: Held | None = None
    shown: Held | None = None
    force: bool = False

    def covers(self, there: Held) -> bool:
        """Whether what is there may be replaced."""
        return self.force or (self.shown is not None and self.shown.raw == there.raw)

    def opened(self, path: Path) -> bool:
        """Whether ``path`` is the file that was read."""
        return self.held is not None and self.held.is_at(path)


def profile_text(verdict: Verdict) -> str:
    """The profile of a judged station."""
    return profile.write(verdict.station, derived(verdict))


def save(path: Path, verdict: Verdict, shelf: Shelf, consent: Consent) -> Saved:
    """Write a profile whole or not at all; a file that says the same already is left alone.

    Raises:
        InTheWay: what is there must not be replaced unasked.
        StoreError: it cannot be written, or what is there is no station file.
    """
    there = _there(path)
    text = profile_text(verdict)
    if there is None:
        return _write(path, text.encode(), text)
    if not store.is_station(there.text):
        raise StoreError(f"{path}: {_NO_STATION}")
    akin = consent.opened(path) or parse(there.text).get("name") == verdict.station.name
    kept = revised(there.text, verdict.station, derived(verdict), shelf) if akin else None
    if kept == there.text or parse(there.text) == parse(text):
        return Saved(there, fresh=False)
    why = _objection(path, there, kept, consent)
    if why and not consent.covers(there):
        raise InTheWay(path, why, there)
    return _write(path, text.encode(), text) if kept is None else _write(path, there.encoded(kept), kept)


def _there(path: Path) -> Held | None:
    """What a path holds; None where nothing is there, and where a link leads to nothing yet."""
    if os.path.isdir(path):
        raise StoreError(f"{path}: is a folder; choose another name")
    try:
        if os.path.lexists(path) and not _leads_to_nothing_yet(path):
            return store.read(path)
    except (StoreError, RuntimeError):
        raise StoreError(f"{path}: {_NO_STATION}") from None
    return None


def _leads_to_nothing_yet(path: Path) -> bool:
    return path.is_symlink() and not path.exists() and path.resolve().parent.is_dir()


def _objection(path: Path, there: Held, kept: str | None, consent: Consent) -> str:
    """Why the owner must be asked first; empty where what is there is what was read."""
    if not consent.opened(path):
        return f"is there already and holds {parse(there.text).get('name', 'a station')!r}"
    if consent.held is not None and consent.held.raw != there.raw:
        return "has changed since it was read"
    if _read_only(path):
        return "is marked as read-only"
    return "holds comments that cannot be kept" if kept is None and _commented(there.text) else ""


def _read_only(path: Path) -> bool:
    return not os.access(path, os.W_OK) or not path.stat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH)


def _commented(text: str) -> bool:
    above, _, _ = text.removeprefix(HEAD).partition(profile.LINE)
    return "#" in above


def save_text(path: Path, text: str, shown: Held | None = None) -> None:
    """Write a paper whole or not at all.

    Raises:
        InTheWay: another text is there.
        StoreError: it cannot be written, or a station file is in the way.
    """
    there = _there(path)
    if there is not None and store.is_station(there.text):
        raise StoreError(f"{path}: is a station file; choose another name")
    if there is not None and not Consent(shown=shown).covers(there) and there.text != text:
        raise InTheWay(path, "is there already", there)
    _write(path, text.encode(), text)


def _write(path: Path, content: bytes, text: str) -> Saved:
    try:
        atomic.write(path, content)
    except (OSError, ValueError) as error:
        raise StoreError(f"{path}: cannot be written ({reason(error)}); choose another place") from None
    return Saved(Held(path, content, text), fresh=True)
