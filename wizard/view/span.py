"""Text with a meaning: what every face colours in its own way, and a plain terminal prints as it stands."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from engine.findings import SOUND, THIN, UNKNOWN, UNSOUND

PLAIN, DIM, STRONG, ACCENT, WIRE = "plain", "dim", "strong", "accent", "wire"
ROLES = (PLAIN, DIM, STRONG, ACCENT, WIRE, SOUND, THIN, UNKNOWN, UNSOUND)
"""What a piece of text means: one of these names, or the outcome that it tells."""

MARK = {SOUND: "✓", THIN: "~", UNKNOWN: "?", UNSOUND: "✗"}
"""The mark that stands beside each outcome, so that nothing depends on colour."""

_ASCII = str.maketrans(
    {"─": "-", "━": "=", "│": "|", "├": "+", "└": "`", "┬": "+", "┤": "|", "┌": "+", "┐": "+", "┘": "+", "●": "o"}
    | {"◀": "<", "▶": ">", "▐": "[", "▌": "]", "█": "#", "░": ".", "✓": "+", "✗": "!", "◆": "*", "−": "-", "·": ","}
    | {"²": "2", "Ω": "ohm", "°": " deg ", "±": "+/-", "×": "x", "→": "->"}
)


@dataclass(frozen=True)
class Span:
    """A piece of a line: its text, what it means, and the part of the station that it belongs to."""

    text: str
    role: str = PLAIN
    part: str = ""


Line = tuple[Span, ...]


def width_of(line: Iterable[Span]) -> int:
    """The columns that a line takes."""
    return sum(len(span.text) for span in line)


def padded(line: Line, width: int) -> Line:
    """A line filled with blanks up to ``width`` columns."""
    blank = width - width_of(line)
    return (*line, Span(" " * blank)) if blank > 0 else line


def clipped(line: Line, width: int) -> Line:
    """A line of at most ``width`` columns; what is cut off ends in an ellipsis."""
    if width_of(line) <= width:
        return line
    kept: list[Span] = []
    room = width - 1
    for span in line:
        kept.append(Span(span.text[:room], span.role, span.part))
        room -= len(kept[-1].text)
        if room <= 0:
            break
    return (*kept, Span("…", DIM))


def plain_text(line: Iterable[Span]) -> str:
    """A line without its meanings."""
    return "".join(span.text for span in line).rstrip()


def ascii_text(text: str) -> str:
    """A drawing for terminals that know plain characters alone."""
    return text.translate(_ASCII).encode("ascii", "replace").decode("ascii")


_SHADE = {DIM: "2", STRONG: "1", ACCENT: "33", WIRE: "", SOUND: "32", THIN: "33;1", UNKNOWN: "36", UNSOUND: "31;1"}
"""The sixteen-colour codes of ECMA-48 for each meaning; the mark and the word stand beside them."""


def painted(line: Iterable[Span], shown: Callable[[str], str]) -> str:
    """A line for a terminal of sixteen colours; ``shown`` makes each text harmless."""
    return "".join(_shaded(shown(span.text), _SHADE.get(span.role, "")) for span in line)


def _shaded(text: str, code: str) -> str:
    return f"\x1b[{code}m{text}\x1b[0m" if code and text.strip() else text
