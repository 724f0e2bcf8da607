"""The three standard streams, whatever state the program was started in."""

from __future__ import annotations

import io
import os
import sys
from typing import IO, Any


def ready() -> None:
    """Make the streams usable: one that is closed leads nowhere, one that meets odd bytes goes on."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, _nowhere(mode))
    for stream, errors in ((sys.stdin, "surrogateescape"), (sys.stdout, "replace"), (sys.stderr, "replace")):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=errors)


def _nowhere(mode: str) -> IO[Any]:
    return os.fdopen(os.open(os.devnull, os.O_RDONLY if mode == "r" else os.O_WRONLY), mode, encoding="utf-8")


def gone() -> int:
    """Nobody reads the answer any more: nothing further is written, and nothing is said at the end. The status."""
    nowhere = _nowhere("w")
    try:
        os.dup2(nowhere.fileno(), sys.stdout.fileno())
    except (OSError, ValueError):  # a stream without a file behind it
        sys.stdout = nowhere
    return 0
