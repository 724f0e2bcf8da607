"""Reading a file that somebody else wrote: an ordinary one, of a bounded size, and never waiting for it."""

from __future__ import annotations

import os
import stat
from pathlib import Path

LARGEST = 4_000_000
"""Bytes accepted in one file."""

_AT_ONCE = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)


class FileTrouble(Exception):
    """Why a file cannot be read, and what to do instead."""

    def __init__(self, what: str, instead: str) -> None:
        super().__init__(f"{what}; {instead}")
        self.what, self.instead = what, instead


def read_bytes(path: Path, follow: bool = True) -> bytes:
    """The bytes of an ordinary file; a link is refused where it is not to be followed.

    Raises:
        FileNotFoundError: nothing is there.
        FileTrouble: what is there is no ordinary file, too large, or out of reach.

    """
    if not follow and os.path.islink(path):
        raise FileTrouble("is a link", "put the file itself there")
    try:
        handle = os.open(path, os.O_RDONLY | _AT_ONCE | (0 if follow else _NO_LINK))
    except FileNotFoundError:
        raise
    except (OSError, ValueError) as error:
        raise FileTrouble(reason(error), "check the path") from None
    try:
        return _content(handle)
    except OSError as error:
        raise FileTrouble(reason(error), "check the file") from None
    finally:
        os.close(handle)


def _content(handle: int) -> bytes:
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        raise FileTrouble("is not an ordinary file", "name a file")
    with open(handle, "rb", closefd=False) as file:
        return bounded(file.read(LARGEST + 1))


def bounded(found: bytes) -> bytes:
    """What was read, if it is no more than ``LARGEST``.

    Raises:
        FileTrouble: it is more.

    """
    if len(found) > LARGEST:
        raise FileTrouble("the file is too large", "check that it is the right file")
    return found


def decode(found: bytes) -> str:
    r"""The text in ``found``: UTF-8, without its byte-order mark, every line ended by ``\n``.

    Raises:
        FileTrouble: it is no such text.

    """
    try:
        text = found.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = found[: error.start].count(b"\n") + 1
        raise FileTrouble("not a text file in UTF-8", f"check line {line}, or the file") from None
    return text.replace("\r\n", "\n")


def reason(error: OSError | ValueError) -> str:
    """An error of the system in a few words."""
    return error.strerror if isinstance(error, OSError) and error.strerror else "not a usable path"
