"""A line typed on a plain terminal or piped in, whatever bytes it holds."""

from __future__ import annotations

import io
import sys

from engine.characters import escaped

NO_TEXT = "! this line holds bytes that are not UTF-8 text; type it again"


def read_line(prompt: str) -> str:
    """One line after ``prompt``, without what cannot be seen; one with bytes that are no UTF-8 text is asked for again.

    Raises:
        EOFError: the input has ended.
    """
    if isinstance(sys.stdin, io.TextIOWrapper) and sys.stdin.errors == "strict":
        sys.stdin.reconfigure(errors="surrogateescape")
    while True:
        text = input(escaped(prompt))
        if not any("\ud800" <= char <= "\udfff" for char in text):
            return escaped(text, allowed="\t")
        print(NO_TEXT)
