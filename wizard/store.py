"""Station files on disk: which one is meant, and what it holds. Read within bounds, never waited for."""

from __future__ import annotations

import os
import re
import sys
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from catalog import files, shelf
from catalog.files import FileTrouble
from engine.parts import Shelf
from engine.station.table import Problem, Problems
from engine.station.toml import parse
from wizard.nearby import either, stations_like

STANDARD_INPUT = "-"
"""The name that stands for what is piped in."""

_BEGINS = re.compile(r"^\s*\"?format\"?\s*=", re.M)


class StoreError(Exception):
    """A file that could not be read or written: which one, why, and what to do instead."""


@dataclass(frozen=True)
class Held:
    """What a file held when it was read."""

    path: Path
    raw: bytes
    text: str

    def encoded(self, text: str) -> bytes:
        """Another text as this file writes it: with its byte-order mark and its ends of lines."""
        first, _, _ = self.raw.partition(b"\n")
        mark = b"\xef\xbb\xbf" if self.raw.startswith(b"\xef\xbb\xbf") else b""
        return mark + (text.replace("\n", "\r\n") if first.endswith(b"\r") else text).encode()

    def is_at(self, path: Path) -> bool:
        """Whether ``path`` leads to this file."""
        try:
            return os.path.samefile(self.path, path)
        except (OSError, ValueError):
            return False


def own_catalogue() -> Path:
    """The folder of the owner's own catalogue rows."""
    return platformdirs.user_config_path("shackrail") / "catalog"


def load_shelf() -> Shelf:
    """The built-in catalogue with the owner's own rows.

    Raises:
        Problems: every fault of the owner's tables.
    """
    folder = own_catalogue()
    return shelf.load(folder) if os.path.lexists(folder) else shelf.built_in()


def worked() -> dict[str, Path]:
    """The worked stations that come with the catalogue, by name."""
    return {path.stem: path for path in sorted(shelf.STATIONS.glob("*.toml"))}


def find(name: str) -> Path:
    """The station file meant by ``name``: a path, or the name of a worked station."""
    return Path(name) if os.path.lexists(name) else worked().get(name, Path(name))


def typed_path(text: str) -> Path:
    """The path meant by what was typed, ``~`` included.

    Raises:
        StoreError: nothing was typed, or there is no such home folder.
    """
    if not text.strip():
        raise StoreError("a file name is missing; write one, for example my-station.toml")
    try:
        return Path(text.strip()).expanduser()
    except (RuntimeError, ValueError):
        raise StoreError(f"{text.strip()}: there is no such home folder; write the path in full") from None


def read(path: Path) -> Held:
    """What a station file holds.

    Raises:
        StoreError: it cannot be read.
    """
    try:
        raw = files.read_bytes(path)
        return Held(path, raw, files.decode(raw))
    except FileTrouble as error:
        raise StoreError(f"{path}: {error}; name a station file, or a worked one: shackrail list stations") from None
    except FileNotFoundError:
        raise StoreError(f"{path}: {_missing(path)}") from None


def _missing(path: Path) -> str:
    if path.is_symlink():
        return "is a link that leads nowhere; mend the link, or name a station file"
    meant = stations_like(path, worked())
    instead = f"did you mean {either(meant)}?" if meant else f"the worked stations are: {', '.join(worked())}"
    return f"no such file; {instead}"


def read_standard_input() -> Held:
    """What is piped in.

    Raises:
        StoreError: it is no text, or too much.
    """
    path = Path("standard input")
    try:
        raw = files.bounded(sys.stdin.buffer.read(files.LARGEST + 1))
        return Held(path, raw, files.decode(raw))
    except (FileTrouble, OSError) as error:
        raise StoreError(f"{path}: {error}") from None


def named(name: str) -> Held:
    """What is meant by ``name`` on the command line: a station file, a worked station, or ``-``.

    Raises:
        StoreError: it cannot be read.
    """
    return read_standard_input() if name == STANDARD_INPUT else read(find(name))


def is_station(text: str) -> bool:
    """Whether a text is a station file, so that saving over it is what its owner means."""
    try:
        return "format" in parse(text)
    except Problems:
        return False


def listed(folder: Path, most: int) -> list[Path]:
    """The files in a folder that look like station files, newest first, at most so many."""
    try:
        there = [found for entry in os.scandir(folder) if (found := _dated(entry))]
    except OSError:
        return []
    newest = [path for _, path in sorted(there, reverse=True)[: 4 * most]]
    return [path for path in newest if _looks_like_a_station(path)][:most]


def _dated(entry: os.DirEntry[str]) -> tuple[float, Path] | None:
    """When an ordinary TOML file was changed, and its path; None for anything else."""
    try:
        fits = entry.name.endswith(".toml") and not entry.name.startswith(".") and entry.is_file()
        return (entry.stat().st_mtime, Path(entry.path)) if fits else None
    except OSError:
        return None


def _looks_like_a_station(path: Path) -> bool:
    """Whether a file gives a format: enough to list it, and quick even where it is no TOML at all."""
    try:
        return _BEGINS.search(read(path).text) is not None
    except StoreError:
        return False


def problems_of(path: Path, error: Problems) -> list[str]:
    """The faults of a file, one line each, with the file's name."""
    return [f"{path}: {problem}" for problem in error.found] or [f"{path}: {Problem('', 'faulty', 'mend it')}"]
