"""One row of the benchmark's table, and the two clocks behind it: CPU time of a call, and of a whole process."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Ratio:
    """What was measured, in units of what it is held against; ``aim`` is 0 where none is set.

    ``more`` says that more is better, as with files a second.
    """

    what: str
    value: float
    unit: str
    aim: float = 0
    more: bool = False

    @property
    def met(self) -> bool:
        """Whether the aim is met."""
        return self.value >= self.aim if self.more else self.value <= self.aim


def line(ratio: Ratio) -> str:
    """A row as text."""
    aim = f"{'at least' if ratio.more else 'at most'} {ratio.aim:g}" if ratio.aim else ""
    verdict = ("met" if ratio.met else "missed") if ratio.aim else ""
    return f"{ratio.what:<44} {ratio.value:8.2f} {ratio.unit:<26} {aim:<13} {verdict}".rstrip()


def seconds(call: Callable[[], object], rounds: int = 5) -> float:
    """The least CPU time of a call among several [s]."""
    return min(_once(call) for _ in range(rounds))


def _once(call: Callable[[], object]) -> float:
    begun = time.process_time()
    call()
    return time.process_time() - begun


@cache
def surroundings() -> dict[str, str]:
    """The environment of a child: compiled modules as an installed program has them, files of its own, no owner's."""
    folder = tempfile.mkdtemp(prefix="bench-")
    own = {key: f"{folder}/{key}" for key in ("PYTHONPYCACHEPREFIX", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "HOME")}
    kept = {key: text for key, text in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, **own, "XDG_DATA_HOME": folder, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}


def process_seconds(*arguments: str, rounds: int = 5) -> float:
    """The least CPU time of a Python process among several [s]; the first, which compiles, does not count."""
    command = [sys.executable, *arguments]
    return min([_process_once(command) for _ in range(rounds + 1)][1:])


def _process_once(command: Sequence[str]) -> float:
    child = subprocess.Popen(command, env=surroundings(), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, _, used = os.wait4(child.pid, 0)
    child.returncode = 0
    return used.ru_utime + used.ru_stime
