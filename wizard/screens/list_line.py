"""One line of a list that has something behind it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Line:
    """What stands in the list, what is behind it, its working, and the part of the station that it is about."""

    title: str
    detail: str
    working: str = ""
    part: str = ""
