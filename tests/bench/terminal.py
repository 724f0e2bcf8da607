"""A program in a pseudo-terminal: when its first picture stands, and how much memory it fills."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Sequence
from dataclasses import dataclass

from tests.bench.ratio import surroundings

ENOUGH = 20
"""Letters by which a picture is known from an empty screen."""

ORDERS = re.compile(rb"\x1b\[[0-9;:?<=>!$\"' ]*[@-~]|\x1b[\]P_^X].*?(?:\x07|\x1b\\)|\x1b.", re.S)
"""What is for the terminal itself (ECMA-48)."""

PATIENCE, REST, ROUNDS = 60, 3, 3
"""Seconds to wait for a picture; seconds after which all that loads behind it is there; how often it is tried."""


@dataclass(frozen=True)
class Start:
    """What a start took: CPU time and elapsed time [s], and the most memory [KiB on Linux]."""

    cpu: float
    elapsed: float
    memory: int


def first_picture(arguments: Sequence[str]) -> Start:
    """The least of several starts up to the first picture; the first, which compiles, does not count."""
    starts = [_start(arguments, 0) for _ in range(ROUNDS + 1)][1:]
    return Start(min(one.cpu for one in starts), min(one.elapsed for one in starts), starts[0].memory)


def settled(arguments: Sequence[str]) -> int:
    """The most memory that a program fills until it waits for its user."""
    return min(_start(arguments, REST).memory for _ in range(2))


def _start(arguments: Sequence[str], rest: float) -> Start:
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    begun = time.monotonic()
    child = subprocess.Popen(
        [sys.executable, *arguments], env=surroundings(), stdin=theirs, stdout=theirs, stderr=theirs
    )
    os.close(theirs)
    try:
        _until_picture(ours)
        elapsed = time.monotonic() - begun
        _drain(ours, rest)
    finally:
        child.kill()
        _, _, used = os.wait4(child.pid, 0)
        child.returncode = 0
        os.close(ours)
    return Start(used.ru_utime + used.ru_stime, elapsed, used.ru_maxrss)


def _until_picture(terminal: int) -> None:
    shown, end = b"", time.monotonic() + PATIENCE
    while sum(char.isalpha() for char in ORDERS.sub(b"", shown).decode("utf-8", "ignore")) < ENOUGH:
        if time.monotonic() > end or not select.select([terminal], [], [], PATIENCE)[0]:
            raise SystemExit("no picture came")
        shown += os.read(terminal, 65536)


def _drain(terminal: int, rest: float) -> None:
    """Read on for a while, so that the program never waits for its terminal."""
    end = time.monotonic() + rest
    while (left := end - time.monotonic()) > 0:
        if select.select([terminal], [], [], left)[0]:
            os.read(terminal, 65536)
