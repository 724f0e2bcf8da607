"""Text for the screen that is never read as markup, whatever its owner typed."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static


def plain(text: str) -> Content:
    """``text`` as it stands."""
    return Content(text)


class Plain(Static):
    """A block of text shown as it stands."""

    def __init__(self, text: str = "", *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(Content(text), id=id, classes=classes, markup=False)

    def say(self, text: str) -> None:
        """Show another text."""
        self.update(Content(text))
