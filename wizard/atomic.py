"""A file written whole or not at all, and what a killed writer left behind taken away."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

try:
    import fcntl
except ImportError:  # a system without locks of this sort: age tells there
    fcntl = None  # type: ignore[assignment]

PREFIX, SUFFIX = ".shackrail-", ".tmp"
"""How a file that is being written is called, so that nobody else's is ever taken away."""

LONG = 86_400
"""Seconds after which a file still being written was given up, where no lock can tell."""

PRIVATE = 0o600


def write(path: Path, content: bytes, private: bool = False) -> None:
    """Write a new file beside the old one, then rename it: a full disk or a power cut leaves the old one whole.

    A link is written through, and stays a link; a ``private`` file, for its owner's eyes alone, takes a link's place.

    Raises:
        OSError: it cannot be written; the old one is as it was.

    """
    target = path if private else _behind_links(path)
    mode = PRIVATE if private else _mode(target)
    sweep(target.parent)
    handle, name = _begin(target.parent)
    try:
        _fill(handle, content, mode)
        os.replace(name, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise
    finally:
        os.close(handle)


def _behind_links(path: Path) -> Path:
    try:
        return path.resolve() if path.is_symlink() else path
    except RuntimeError:
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from None


def _mode(target: Path) -> int:
    """The rights of the file that is there, else those that a new one gets."""
    try:
        there = os.lstat(target).st_mode
    except FileNotFoundError:
        return 0o666 & ~_umask()
    if not stat.S_ISREG(there):
        raise OSError(errno.EINVAL, "is not an ordinary file")
    return stat.S_IMODE(there)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _begin(folder: Path) -> tuple[int, str]:
    """A new file that is locked while it is written: its handle and its name."""
    while True:
        handle, name = tempfile.mkstemp(prefix=PREFIX, suffix=SUFFIX, dir=folder)
        if _lock(handle, wait=True) and _is_there(handle, name):
            return handle, name
        os.close(handle)  # swept away between its making and its locking


def _is_there(handle: int, name: str) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), os.lstat(name))
    except FileNotFoundError:
        return False


def _lock(handle: int, wait: bool) -> bool:
    """Lock an open file; False where somebody else holds it. Where nothing can be locked, only a writer may go on."""
    if fcntl is None:
        return wait
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        return wait
    return True


def _fill(handle: int, content: bytes, mode: int) -> None:
    with open(handle, "wb", closefd=False) as file:
        file.write(content)
        file.flush()
        os.fsync(handle)
    if hasattr(os, "fchmod"):
        os.fchmod(handle, mode)


def sweep(folder: Path) -> None:
    """Take away what writers that were killed left half written in a folder; files in use stay."""
    for path in _half_written(folder):
        with contextlib.suppress(OSError):
            if _given_up(path):
                os.unlink(path)


def _half_written(folder: Path) -> Iterator[str]:
    try:
        with os.scandir(folder) as there:
            for entry in there:
                ours = entry.name.startswith(PREFIX) and entry.name.endswith(SUFFIX)
                if ours and entry.is_file(follow_symlinks=False):
                    yield entry.path
    except OSError:
        return


def _given_up(path: str) -> bool:
    """Whether nobody is writing a file any more: a killed writer's lock is gone with it."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
    try:
        if fcntl is None:
            return time.time() - os.fstat(handle).st_mtime > LONG
        return _lock(handle, wait=False)
    finally:
        os.close(handle)
