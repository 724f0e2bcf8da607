"""Text for the screen: never read as markup, never obeyed by the terminal, whatever its owner typed.

This is the one place where text of others reaches the screen.
"""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Input, Static

from engine.characters import escaped


def plain(text: str) -> Content:
    """``text`` as it stands; what cannot be seen is written out."""
    return Content(escaped(text, allowed="\n"))


class Plain(Static):
    """A block of text shown as it stands."""

    def __init__(self, text: str = "", *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(plain(text), id=id, classes=classes, markup=False)

    def say(self, text: str) -> None:
        """Show another text."""
        self.update(plain(text))


class Line(Input):
    """A field for one line; what cannot be seen is written out, so that it can be deleted."""

    def validate_value(self, value: str) -> str:
        """The value as it is shown."""
        return escaped(value)

    def replace(self, text: str, start: int, end: int) -> None:
        """Put what was typed or pasted in the place of a part of the value."""
        super().replace(escaped(text), start, end)
