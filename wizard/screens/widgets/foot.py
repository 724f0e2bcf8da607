"""The keys that work here, as many as there is room for; the help page has them all."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.events import Resize
from textual.widget import Widget
from textual.widgets import Footer
from textual.widgets._footer import FooterKey

FIRST = ("help", "leave")
"""What stays however narrow the screen is."""


class Foot(Footer):
    """A footer that fits: what finds no room is left out, never cut."""

    def __init__(self) -> None:
        super().__init__(compact=True, show_command_palette=False)
        self._fitted = 0

    def compose(self) -> ComposeResult:
        """The keys that fit, in their order."""
        self._fitted = self.size.width
        made = list(super().compose())
        yield from fitting(made, self.size.width or self.app.size.width)

    def on_resize(self, event: Resize) -> None:
        """Fit the keys anew."""
        if self._fitted != event.size.width:
            self.call_after_refresh(self.recompose)


def fitting(keys: Iterable[Widget], width: int) -> list[Widget]:
    """The keys that fit ``width`` columns together; the first of all, and how to leave, before others."""
    listed = [one for one in keys if isinstance(one, FooterKey)]
    room, kept = width, set[Widget]()
    for key in sorted(listed, key=lambda one: one.action not in FIRST):
        if _columns(key) <= room:
            room -= _columns(key)
            kept.add(key)
    return [one for one in listed if one in kept]


def _columns(key: FooterKey) -> int:
    return len(key.key_display) + len(key.description) + 2
