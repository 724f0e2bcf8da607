"""What a question is: about one key of one table, with what is asked, why, and where its answer stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from engine.model.case import BATTERY, MAINS, VEHICLE
from engine.parts import Shelf
from engine.station.model import FIELDS
from engine.station.table import FLAG, Field
from engine.terms import SourceKind, Term

__all__ = ["BATTERY", "MAINS", "NOT_KNOWN", "VEHICLE", "Document", "Place", "Question"]

NOT_KNOWN = "I don't know"
Document = dict[str, Any]
"""A station file as plain values."""

Place = tuple[str, str, str, int]
"""One answer: table, key, kind of source and row."""


@dataclass(frozen=True)
class Question:
    """One question about one key of one table: what is asked, why, how to write it, where to find it.

    ``kind`` is the kind of source that it is about; ``of_kind`` narrows the rows ``from_shelf``, and ``only`` the words
    that the key may be; ``label`` names it in a form, where question and answer share a line.
    """

    table: str
    key: str
    asks: str
    why: str
    where: str
    example: str
    only: tuple[Term, ...] = ()
    part: int | None = None
    from_shelf: str = ""
    kind: SourceKind | None = None
    of_kind: str = ""
    label: str = ""

    def choices(self, shelf: Shelf) -> tuple[tuple[str, str], ...]:
        """The words to choose from with what they mean; none where the answer is typed."""
        if self.yes_no:
            return (("yes", "yes"), ("no", "no"))
        if self.from_shelf:
            rows = getattr(shelf, self.from_shelf)
            rows = {key: row for key, row in rows.items() if self.of_kind in ("", getattr(row, "kind", ""))}
            return tuple((key, f"{key}: {row.title}" if row.title != key else key) for key, row in rows.items())
        return tuple((one, one.says) for one in self.options)

    @property
    def options(self) -> tuple[Term, ...]:
        """The words that the answer may be; none where it is no word out of a few."""
        return self.only or tuple(one for one in self.field.shape.words if isinstance(one, Term))

    @property
    def yes_no(self) -> bool:
        """Whether it is answered with yes or no."""
        return self.field.shape is FLAG

    def place(self, index: int) -> Place:
        """The answer to it about one row."""
        return (self.table, self.key if self.part is None else f"{self.key}[{self.part}]", self.kind or "", index)

    @property
    def field(self) -> Field:
        """The key's own declaration."""
        return next(one for one in FIELDS[self.table] if one.key == self.key)
