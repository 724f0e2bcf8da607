"""The toolkit's smallest application with a field: what the wizard's first picture is held against."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.widgets import Input


class Smallest(App[None]):
    """One field."""

    def compose(self) -> ComposeResult:
        """The field."""
        yield Input(placeholder="some words to be seen in the field")


if __name__ == "__main__":
    Smallest().run()
