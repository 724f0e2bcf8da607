"""What a terminal or a machine is given to read: nothing in it is obeyed. The one edge of the command line."""

from __future__ import annotations

import json
import os
import re
import shutil
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING

from engine.characters import escaped, is_hidden

if TYPE_CHECKING:
    from wizard.view.span import Line

_BEYOND = re.compile(r"[^ -~]")


def width() -> int:
    """Columns to write in: the terminal's, within what reads well."""
    return max(60, min(shutil.get_terminal_size((100, 24)).columns, 110))


def dump(data: object) -> str:
    """One JSON object on one line; what cannot be seen in it is written as JSON escapes."""
    text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    return _BEYOND.sub(lambda found: json.dumps(found[0])[1:-1] if is_hidden(found[0]) else found[0], text)


def in_colour() -> bool:
    """Whether the answer goes to a terminal that is to show colours (https://no-color.org, and TERM=dumb)."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM", "dumb") != "dumb"


def say(*lines: str | Line) -> None:
    """Print lines; each stays one line, whatever names stand in it. What is drawn has colours on a terminal."""
    for line in lines:
        print(escaped(line) if isinstance(line, str) else _drawn(line))


def _drawn(line: Line) -> str:
    from wizard.view.span import painted, plain_text

    return painted(line, escaped) if in_colour() else escaped(plain_text(line))


def complain(lines: Iterable[str]) -> None:
    """Print what went wrong, beside the answer."""
    for line in lines:
        print(f"shackrail: {escaped(line)}", file=sys.stderr)


def confirmed(question: str) -> bool:
    """Whether the owner says yes on the terminal, beside the answer."""
    print(f"{escaped(question)} (yes or no) ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip().casefold() in ("y", "yes")


def can_be_asked() -> bool:
    """Whether somebody sits at a terminal to be asked."""
    return sys.stdin.isatty() and sys.stderr.isatty()
