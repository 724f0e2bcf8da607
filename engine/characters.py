"""Characters that a terminal obeys or an eye cannot see: found in a text, and shown as escapes."""

from __future__ import annotations

import unicodedata

JOINERS = "\u200c\u200d"
"""Invisible, and part of how several scripts and many pictures are written."""

_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
"""Control, format (marks of writing direction among them), half a pair, and the two separators of lines."""

_SHORT = {"\n": "\\n", "\r": "\\r", "\t": "\\t"}


def is_hidden(char: str) -> bool:
    """Whether a character steers what is shown, or shows nothing (Unicode general category)."""
    return unicodedata.category(char) in _HIDDEN and char not in JOINERS


def first_hidden(text: str, allowed: str = "") -> str:
    """The first hidden character of ``text`` that is not ``allowed``; empty where there is none."""
    if text.isascii() and text.isprintable():
        return ""
    return next((char for char in text if char not in allowed and is_hidden(char)), "")


def escaped(text: str, allowed: str = "") -> str:
    r"""``text`` with every hidden character written out, but for those ``allowed``.

    >>> escaped("a\x1b[2Jb\n\u202ec")
    'a\\x1b[2Jb\\n\\u202ec'
    >>> escaped("a\nb", allowed="\n")
    'a\nb'
    """
    if not first_hidden(text, allowed):
        return text
    return "".join(_written(char) if char not in allowed and is_hidden(char) else char for char in text)


def _written(char: str) -> str:
    code = ord(char)
    if 0xDC80 <= code <= 0xDCFF:  # a byte of a file's name that is no text
        return f"\\x{code - 0xDC00:02x}"
    if char in _SHORT:
        return _SHORT[char]
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
