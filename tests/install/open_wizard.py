"""The wizard in a real terminal, from its doors to a saved profile; needs nothing but Python.

``python tests/install/open_wizard.py PROGRAM [ARGUMENT ...]`` starts the program in a pseudo-terminal of 80 columns by
24 lines, in an empty folder, with configuration and drafts of its own, and ends with status 0 when the wizard has
written a profile and gone again.
"""

from __future__ import annotations

import codecs
import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import tempfile
import termios
import time
import unicodedata
from collections.abc import Sequence
from pathlib import Path

COLUMNS, LINES = 80, 24
PATIENCE = 120
"""Seconds after which a picture that does not come is given up; a busy machine is slow."""

LOOK = 0.2
QUIET = 3
"""How long one look lasts [s], and how many of them in a row show the same before the next key is pressed."""

ENTER, SAVE, NEXT, QUIT = "\r", "\x1b[21~", "\x1bOS", "\x11"
"""Enter, F10, F4 and Ctrl-Q as a terminal sends them."""

PIECES = re.compile(
    r"\x1b\[(?P<figures>[0-9;:?<=>!$\"' ]*)(?P<final>[@-~])"  # a control sequence
    r"|\x1b[\]P_^X](?:[^\x07\x1b]|\x1b(?!\\))*(?:\x07|\x1b\\)"  # a string for the terminal itself
    r"|\x1b[ -/]*[0-OQ-WYZ\\`-~]"  # other escapes
    r"|[\x00-\x1a\x1c-\x1f\x7f]"
    r"|[^\x00-\x1f\x7f]+"
)
"""ECMA-48: what a program may write to a terminal, one piece at a time."""


class Screen:
    """What stands on the terminal: the few orders of ECMA-48 that place text; all others only colour it."""

    def __init__(self) -> None:
        self.rows = [[" "] * COLUMNS for _ in range(LINES)]
        self.x = self.y = 0
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        self._rest = ""

    def __str__(self) -> str:
        return "\n".join("".join(row).rstrip() for row in self.rows)

    def feed(self, data: bytes) -> None:
        """Write what the program sent; a piece that is cut off waits for its rest."""
        text, at = self._rest + self._decode(data), 0
        while found := PIECES.match(text, at):
            if found["final"]:
                self._order(found["final"], found["figures"])
            elif text[at] != "\x1b":
                self._write(found[0])
            at = found.end()
        self._rest = text[at:]

    def _order(self, final: str, figures: str) -> None:
        counts = [int(part) if part.isdigit() else 0 for part in figures.split(";")]
        first = max(counts[0], 1)
        if final in "Hf":
            self._go((counts[1] if len(counts) > 1 else 1) - 1, first - 1)
        elif final in "ABCD":
            right, down = {"A": (0, -1), "B": (0, 1), "C": (1, 0), "D": (-1, 0)}[final]
            self._go(self.x + right * first, self.y + down * first)
        elif final == "J":
            self.rows = [[" "] * COLUMNS for _ in range(LINES)]
        elif final == "K":
            self.rows[self.y][self.x :] = [" "] * (COLUMNS - self.x)

    def _go(self, x: int, y: int) -> None:
        self.x, self.y = min(max(x, 0), COLUMNS - 1), min(max(y, 0), LINES - 1)

    def _write(self, text: str) -> None:
        if text in "\r\n\b":
            self._go(*{"\r": (0, self.y), "\n": (self.x, self.y + 1), "\b": (self.x - 1, self.y)}[text])
            return
        for char in text if text.isprintable() else "":
            if self.x < COLUMNS:
                self.rows[self.y][self.x] = char
            self.x += 2 if unicodedata.east_asian_width(char) in "WF" else 1


class Terminal:
    """A program in a pseudo-terminal, and what it shows."""

    def __init__(self, command: Sequence[str], folder: Path, env: dict[str, str]) -> None:
        self.screen = Screen()
        self.ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", LINES, COLUMNS, 0, 0))
        self.program = subprocess.Popen(
            command, cwd=folder, env=env, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True
        )
        os.close(theirs)

    def press(self, keys: str) -> None:
        """Type, and look until nothing moves any more."""
        os.write(self.ours, keys.encode())
        before, still, until = "", 0, time.monotonic() + PATIENCE
        while still < QUIET and time.monotonic() < until and self._look():
            still = still + 1 if str(self.screen) == before else 0
            before = str(self.screen)

    def wait_for(self, *words: str) -> None:
        """Look until one of ``words`` is shown.

        Raises:
            SystemExit: it does not come; the message holds what is shown instead.
        """
        until = time.monotonic() + PATIENCE
        while not any(word in str(self.screen) for word in words):
            if time.monotonic() > until or not self._look():
                raise SystemExit(f"the wizard does not show {' or '.join(map(repr, words))}, but:\n{self.screen}")

    def _look(self) -> bool:
        """Take what the program wrote, waiting a little; False when it is gone."""
        if not select.select([self.ours], [], [], LOOK)[0]:
            return self.program.poll() is None
        try:
            data = os.read(self.ours, 65536)
        except OSError:  # on Linux this is how the end of the other side is told
            return False
        self.screen.feed(data)
        return bool(data)

    def leave(self) -> int:
        """Wait until the program has gone; its exit status."""
        until = time.monotonic() + PATIENCE
        while self._look() and time.monotonic() < until:
            pass
        return self.program.wait(timeout=PATIENCE)

    def close(self) -> None:
        """End the program, if it is still there."""
        self.program.kill()
        self.program.wait()
        os.close(self.ours)


STAGES = (
    ("", "A first supply"),
    (ENTER, "What do you call this station?"),
    ("Attic desk", "Attic desk"),
    (NEXT, "add a radio"),
    (ENTER, "Type to narrow"),
    ("100 w hf", "100 W HF transceiver of an older make"),
    (ENTER, "A short name for it"),
)
"""What is typed, and what must then be shown, from the doors to a station of one radio."""

MOST_STEPS = 20


def to_a_saved_profile(terminal: Terminal) -> None:
    """From the doors through every step to the result, saved under the name that is offered.

    Raises:
        SystemExit: the wizard shows something else, or ends with an error.
    """
    for keys, shown in STAGES:
        terminal.press(keys)
        terminal.wait_for(shown)
    for _ in range(MOST_STEPS):
        terminal.press(NEXT)
        if "● Result" in str(terminal.screen):
            break
    terminal.wait_for("SOUND", "THIN")
    terminal.press(SAVE)
    terminal.wait_for("Save the station profile")
    terminal.press(ENTER)
    terminal.wait_for("saved to")
    terminal.press(QUIT)
    if terminal.leave():
        raise SystemExit(f"the wizard left with an error:\n{terminal.screen}")


def alone(folder: Path) -> dict[str, str]:
    """The surroundings of a stranger: a home of their own, and nothing that points back to this checkout."""
    kept = {key: text for key, text in os.environ.items() if not key.startswith(("XDG_", "PYTHON", "VIRTUAL_ENV"))}
    return {**kept, "HOME": str(folder / "home"), "TERM": "xterm-256color", "LC_ALL": "C.UTF-8"}


def main(command: Sequence[str]) -> None:
    """Start ``command`` in an empty folder and walk it; what it saved is then judged by it.

    Raises:
        SystemExit: there is no saved profile at the end, or it is not sound.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        env = alone(folder)
        terminal = Terminal(command, folder, env)
        try:
            to_a_saved_profile(terminal)
        finally:
            terminal.close()
        (saved,) = folder.glob("*.toml")
        judged = subprocess.run([*command, "check", saved.name], cwd=folder, env=env, capture_output=True, check=False)
        if judged.returncode:
            raise SystemExit(f"{saved.name} is not sound:\n{(judged.stdout + judged.stderr).decode()}")
        print(f"the wizard opened in a terminal and saved {saved.name}")


if __name__ == "__main__":
    main(sys.argv[1:])
