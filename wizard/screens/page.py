"""A page of plain text over the current screen: help, and the working of a figure."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen

from wizard.screens.widgets.plain import Plain


class Page(ModalScreen[None]):
    """Text to read; any of Esc, Enter, F1 leaves it."""

    BINDINGS = [("escape,enter,f1,f3,ctrl+b,f9,q", "leave_page", "Back")]

    def __init__(self, title: str, text: str, keys: Sequence[str] = ()) -> None:
        super().__init__()
        self.heading, self.text, self.keys = title, text, keys

    def compose(self) -> ComposeResult:
        """The text, and under help the keys."""
        with Vertical(classes="dialog"):
            yield Plain(f"{self.heading}   (Esc leaves this page)", classes="group")
            with VerticalScroll():
                yield Plain(self.text)
                if self.keys:
                    yield Plain("\n".join(["Keys", *self.keys]), classes="keys")

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one(VerticalScroll).focus()

    def action_leave_page(self) -> None:
        """Back to the screen beneath."""
        self.dismiss(None)


def page_width(columns: int) -> int:
    """The columns that a page's text has on a screen of ``columns``."""
    return max(min(columns * 9 // 10, 100) - 8, 40)
