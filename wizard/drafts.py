"""Drafts: what is typed and not saved yet, for its owner's eyes alone. One that is not finished is never deleted."""

from __future__ import annotations

import contextlib
import json
import os
import secrets
import stat
import time
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

import platformdirs

from catalog import files
from engine.station import toml
from engine.station.table import Problems
from wizard import atomic

FINISHED_KEPT = 8
FINISHED_DAYS = 90
"""How many drafts that were saved or let go are kept, and for how long."""

ASIDE = ".aside"
"""The end of the name of a draft that made trouble."""

ELSEWHERE = "this draft goes on in another window too; what is typed here is kept beside it"


def folder() -> Path:
    """The folder of drafts."""
    return platformdirs.user_state_path("shackrail") / "drafts"


def finished() -> Path:
    """The folder of the drafts that were saved or let go."""
    return folder() / "finished"


def _new_path() -> Path:
    """A name that no other session has, whatever the clock says."""
    return folder() / f"{datetime.now():%Y-%m-%d-%H%M%S}-{secrets.token_hex(4)}.toml"


class Draft:
    """The draft of one session; ``opened`` when it was begun in an earlier one."""

    def __init__(self, path: Path | None = None, written: bytes | None = None) -> None:
        self.path = path or _new_path()
        self.opened = written is not None
        self._written = written

    def keep(self, document: Mapping[str, Any]) -> str | None:
        """Write the draft; what is to be said about it, where something is."""
        said = None
        try:
            content = toml.dump(document).encode()
            _private(folder())
            if self._is_anothers():
                self.path, said = _new_path(), ELSEWHERE
            atomic.write(self.path, content, private=True)
            self._written = content
        except OSError as error:
            return f"the draft cannot be kept in {self.path.parent}: {files.reason(error)}"
        except (ValueError, TypeError, RecursionError):
            return f"an answer cannot be written down, so the draft is not kept: undo it{self._as_data(document)}"
        return said

    def _is_anothers(self) -> bool:
        """Whether somebody else has written to the file since."""
        try:
            there = files.read_bytes(self.path, follow=False)
        except FileNotFoundError:
            return False
        except files.FileTrouble:
            return True
        return there != self._written

    def _as_data(self, document: Mapping[str, Any]) -> str:
        """Keep what TOML cannot hold in another form, beside the draft; where it is."""
        path = self.path.with_suffix(ASIDE)
        try:
            atomic.write(path, json.dumps(document, default=str).encode(), private=True)
        except (OSError, ValueError, TypeError, RecursionError):
            return ""
        return f". What was typed is left in {path}"

    def finish(self) -> None:
        """Lay the draft among the finished ones: it is saved, or its owner lets it go. A link is only taken away."""
        with contextlib.suppress(OSError):
            if stat.S_ISREG(os.lstat(self.path).st_mode):
                _private(finished())
                os.replace(self.path, finished() / self.path.name)
            else:
                os.unlink(self.path)
        self._written = None
        _make_room()


def _private(place: Path) -> None:
    """Make a folder for its owner's eyes alone."""
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    if not place.is_symlink() and stat.S_IMODE(place.stat().st_mode) != 0o700:
        place.chmod(0o700)


def _make_room() -> None:
    """Forget the oldest of the finished drafts."""
    oldest = time.time() - FINISHED_DAYS * 86_400
    for place, (changed, path) in enumerate(_dated(finished(), ".toml")):
        if place >= FINISHED_KEPT or changed < oldest:
            with contextlib.suppress(OSError):
                path.unlink()


def _dated(place: Path, end: str) -> list[tuple[float, Path]]:
    """The ordinary files of a folder whose names end so, the last written first."""
    try:
        with os.scandir(place) as there:
            mine = [entry for entry in there if entry.name.endswith(end) and entry.is_file(follow_symlinks=False)]
            return sorted(((entry.stat().st_mtime, Path(entry.path)) for entry in mine), reverse=True)
    except OSError:
        return []


def unfinished() -> list[Path]:
    """The drafts that are neither saved nor let go, the last written first."""
    return [path for _, path in _dated(folder(), ".toml")]


def read(path: Path) -> tuple[dict[str, Any], Draft] | None:
    """What a draft holds, and the draft to go on with; None when it cannot be read."""
    try:
        raw = files.read_bytes(path, follow=False)
        return toml.parse(files.decode(raw)), Draft(path, raw)
    except (files.FileTrouble, FileNotFoundError, Problems):
        return None


def set_aside(path: Path) -> Path | None:
    """Give a draft that makes trouble another name, under which nothing opens it; None where that cannot be done."""
    aside = path.with_suffix(ASIDE)
    if aside.exists():
        aside = path.with_name(f"{path.stem}-{secrets.token_hex(4)}{ASIDE}")
    try:
        os.rename(path, aside)
    except OSError:
        return None
    return aside


def note_trouble(text: str) -> str:
    """Write the details of a fault of the program to a file; where they are."""
    path = folder().parent / "trouble.txt"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        atomic.write(path, text.encode(errors="backslashreplace"), private=True)
    except OSError:
        return "could not be written"
    return str(path)


def after_fault(draft: Draft, keep: Callable[[], str | None] | None) -> str:
    """What became of the answers after a fault of the program, in a sentence; it never fails itself.

    ``keep`` writes them down, where there is anything to keep. A draft that was gone on with gets another name, so
    that the fault does not come back with it.
    """
    try:
        trouble = keep() if keep else None
        aside = set_aside(draft.path) if draft.opened else None
    except Exception:  # the one place where nothing may fail: the terminal must be given back
        return "your last answers could not be kept."
    if aside:
        return f"the draft that it was working on is left aside in {aside}."
    return trouble or ("your answers are kept as a draft." if keep else "nothing was typed that could be lost.")
