"""Lines with a meaning on the screen: a role becomes a colour of the theme, text is never read as markup."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.events import Click
from textual.message import Message
from textual.widgets import Static

from wizard.view.frame import part_at
from wizard.view.span import ACCENT, DIM, MARK, PLAIN, STRONG, WIRE, Line

STYLES = {PLAIN: "", DIM: "$quiet", STRONG: "bold", ACCENT: "$accent", WIRE: "$wire"} | {
    outcome: f"${outcome}" for outcome in MARK
}
"""The style of each role."""


def content(lines: Sequence[Line], chosen: str = "") -> Content:
    """``lines`` in the colours of the theme; what belongs to the ``chosen`` part stands out."""
    rows = [
        Content.assemble(*((span.text, _style(span.role, bool(chosen) and span.part == chosen)) for span in line))
        for line in lines
    ]
    return Content("\n").join(rows)


def _style(role: str, chosen: bool) -> str:
    return f"{STYLES[role]} reverse".strip() if chosen else STYLES[role]


class Drawn(Static):
    """A drawing, whose parts the mouse can choose."""

    class Pointed(Message):
        """The mouse chose a part."""

        def __init__(self, drawn: Drawn, part: str) -> None:
            super().__init__()
            self.drawn, self.part = drawn, part

        @property
        def control(self) -> Drawn:
            """The drawing."""
            return self.drawn

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__("", id=id, classes=classes, markup=False)
        self.lines: Sequence[Line] = ()

    def show_lines(self, lines: Sequence[Line], chosen: str = "") -> None:
        """Show a drawing, one of its parts standing out."""
        self.lines = lines
        self.update(content(lines, chosen))

    def on_click(self, event: Click) -> None:
        """Tell which part was pointed at."""
        place = event.get_content_offset(self)
        if place is not None and place.y < len(self.lines):
            part = part_at(self.lines[place.y], place.x)
            if part:
                event.stop()
                self.post_message(self.Pointed(self, part))
