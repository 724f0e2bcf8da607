"""Where assumptions are written down while a station is made whole."""

from __future__ import annotations

from engine.findings import Assumption
from engine.units import Kind, show


class Notebook:
    """Collects assumptions while a station is completed."""

    def __init__(self) -> None:
        self.found: list[Assumption] = []

    def note(self, about: str, value: str, basis: str, find: str) -> None:
        """Write one assumption down."""
        self.found.append(Assumption(about, value, basis, find))

    def replace(self, about: str, value: str, basis: str, find: str) -> None:
        """Write another value in the place of the one that stands there; nothing where none does."""
        one = Assumption(about, value, basis, find)
        self.found = [one if other.about == about else other for other in self.found]

    def take(self, given: float | None, otherwise: float, kind: Kind, about: str, basis: str, find: str) -> float:
        """The owner's value, or the assumed one with a note."""
        if given is not None:
            return given
        self.note(about, show(otherwise, kind), basis, find)
        return otherwise
