"""Lines with a meaning on the screen: a role becomes a colour of the theme, text is never read as markup."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widgets import Static

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
    """A drawing."""

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__("", id=id, classes=classes, markup=False)

    def show_lines(self, lines: Sequence[Line], chosen: str = "") -> None:
        """Show a drawing, one of its parts standing out."""
        self.update(content(lines, chosen))
