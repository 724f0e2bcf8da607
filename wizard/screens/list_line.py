"""One line of a list that has something behind it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Line:
    """What stands in the list, what is behind it, and its working."""

    title: str
    detail: str
    working: str = ""
