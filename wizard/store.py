"""Files on disk: station files read, profiles and drafts written whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
import tomllib
from datetime import datetime
from pathlib import Path

import platformdirs

from catalog import shelf
from engine.parts import Shelf
from engine.station.profile import LARGEST
from engine.station.table import Problem, Problems
from wizard.commands.nearby import either, stations_like

DRAFTS_KEPT = 8


class StoreError(Exception):
    """A file that could not be read or written: which one, why, and what to do instead."""


def own_catalogue() -> Path:
    """The folder of the owner's own catalogue rows."""
    return platformdirs.user_config_path("shackrail") / "catalog"


def load_shelf() -> Shelf:
    """The built-in catalogue with the owner's own rows.

    Raises:
        Problems: every fault of the owner's tables.
    """
    folder = own_catalogue()
    return shelf.load(folder) if folder.is_dir() else shelf.built_in()


def worked() -> dict[str, Path]:
    """The worked stations that come with the catalogue, by name."""
    return {path.stem: path for path in sorted(shelf.STATIONS.glob("*.toml"))}


def find(name: str) -> Path:
    """The station file meant by ``name``: a path, or the name of a worked station."""
    path = Path(name)
    return path if path.exists() else worked().get(name, path)


def read_text(path: Path) -> str:
    """The text of a station file.

    Raises:
        StoreError: it cannot be read.
    """
    try:
        if path.exists() and not path.is_file():
            raise StoreError(f"{path}: is not an ordinary file; name a station file")
        if path.is_file() and path.stat().st_size > 4 * LARGEST:
            raise StoreError(f"{path}: the file is too large for a station; check that it is the right file")
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise StoreError(f"{path}: not a text file in UTF-8; check that it is a station file") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "not a usable path"
        instead = _instead_of(path) if isinstance(error, FileNotFoundError) else "name a station file"
        raise StoreError(f"{path}: {reason}; {instead}") from None


def _instead_of(path: Path) -> str:
    """What a file that is not there may have meant."""
    meant = stations_like(path, worked())
    return f"did you mean {either(meant)}?" if meant else f"the worked stations are: {', '.join(worked())}"


def save(path: Path, text: str) -> bool:
    """Write ``text`` to ``path`` whole or not at all; False when the file holds the same content already.

    Raises:
        StoreError: it cannot be written, or a file that is no station file is in the way.
    """
    with contextlib.suppress(StoreError, tomllib.TOMLDecodeError):
        if path.exists() and _same(read_text(path), text):
            return False
    if path.exists() and (not path.is_file() or not is_station_file(path)):
        raise StoreError(f"{path}: is there already and is not a station file; choose another name")
    try:
        _replace(path, text)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "not a usable path"
        raise StoreError(f"{path}: cannot be written ({reason}); choose another place") from None
    return True


def save_text(path: Path, text: str, replace: bool = False) -> None:
    """Write a paper to ``path`` whole or not at all; a file that is there is only replaced where that is meant.

    Raises:
        StoreError: it cannot be written, or is in the way of something else.
    """
    try:
        if path.exists() and (not path.is_file() or is_station_file(path)):
            raise StoreError(f"{path}: is there already and is not a text of this sort; choose another name")
        if path.exists() and not replace:
            raise StoreError(f"{path}: is there already; Enter again puts this one in its place")
        _replace(path, text)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "not a usable path"
        raise StoreError(f"{path}: cannot be written ({reason}); choose another place") from None


def _same(old: str, new: str) -> bool:
    return tomllib.loads(old) == tomllib.loads(new)


def is_station_file(path: Path) -> bool:
    """Whether a file looks like a station file, so that saving over it is what its owner means."""
    try:
        return "format" in tomllib.loads(read_text(path))
    except (StoreError, tomllib.TOMLDecodeError):
        return False


def _replace(path: Path, text: str) -> None:
    """A new file beside the old one, then one rename: a full disk or a power cut leaves the old one whole."""
    target = path.resolve() if path.is_symlink() else path
    handle, name = tempfile.mkstemp(prefix=f".{target.name[:40]}.", dir=target.parent, text=True)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask()
        os.chmod(name, mode)
        os.replace(name, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def draft_folder() -> Path:
    """The folder of drafts."""
    return platformdirs.user_state_path("shackrail") / "drafts"


def new_draft() -> Path:
    """A name for the draft of a session that starts now."""
    return draft_folder() / f"{datetime.now():%Y-%m-%d-%H%M%S-%f}.toml"


def save_draft(path: Path, text: str) -> str | None:
    """Keep a draft; what went wrong if it could not be kept."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _replace(path, text)
    except OSError as error:
        return f"the draft cannot be kept in {path.parent}: {error.strerror}"
    for old in drafts()[DRAFTS_KEPT:]:
        drop_draft(old)
    return None


def drafts() -> list[Path]:
    """The drafts kept, newest first."""
    try:
        return sorted(draft_folder().glob("*.toml"), reverse=True)
    except OSError:
        return []


def note_trouble(text: str) -> str:
    """Write the details of a fault of the program to a file; where they are."""
    path = platformdirs.user_state_path("shackrail") / "trouble.txt"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    except OSError:
        return "could not be written"
    return str(path)


def drop_draft(path: Path) -> None:
    """Forget a draft that has become a profile."""
    with contextlib.suppress(OSError):
        path.unlink()


def problems_of(path: Path, error: Problems) -> list[str]:
    """The faults of a file, one line each, with the file's name."""
    return [f"{path}: {problem}" for problem in error.found] or [f"{path}: {Problem('', 'faulty', 'mend it')}"]
