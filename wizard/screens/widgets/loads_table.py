"""The table of equipment on the screen: rows with the arrows up and down, cells with those left and right."""

from __future__ import annotations

from textual.binding import Binding
from textual.events import Resize
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from wizard.interview.session import Session
from wizard.screens.widgets.drawn import content
from wizard.screens.widgets.plain import plain
from wizard.view.loads import NAME, Columns, load_row

ADD = "+ add a radio, an amplifier or anything else that draws"
EDGE = 3
"""The columns that the list itself takes."""


class LoadsTable(OptionList):
    """Every load a row, the last row adds one."""

    BINDINGS = [Binding("left", "aside(-1)", show=False), Binding("right", "aside(1)", show=False)]

    class Moved(Message):
        """The cursor stands on another cell."""

    def __init__(self, session: Session) -> None:
        super().__init__(id="loads", markup=False)
        self.session = session
        self.columns = Columns.of(76)
        self.column = NAME

    @property
    def load(self) -> int | None:
        """The piece of equipment under the cursor; None on the line that adds."""
        place = self.highlighted
        return place if place is not None and place < len(self.session.rows("load")) else None

    def lay_out(self) -> None:
        """Write every row anew; the cursor stays."""
        self.columns = Columns.of(max((self.size.width or self.app.size.width) - EDGE, 30))
        if self.column not in self.columns.names:
            self.column = NAME
        place = self.highlighted
        rows = [
            Option(content([load_row(self.session, n, self.columns)])) for n in range(len(self.session.rows("load")))
        ]
        self.clear_options()
        self.add_options([*rows, Option(plain(ADD), id="add")])
        self.highlighted = min(place or 0, len(rows)) if rows else 0
        self.mark()

    def on_resize(self, event: Resize) -> None:
        """Fit the columns."""
        self.lay_out()

    def mark(self) -> None:
        """Show which cell of the row under the cursor is meant."""
        for place in range(len(self.session.rows("load"))):
            chosen = self.column if place == self.highlighted else ""
            row = load_row(self.session, place, self.columns)
            self.replace_option_prompt_at_index(place, content([row], chosen))
        self.post_message(self.Moved())

    def action_aside(self, by: int) -> None:
        """Go to the next cell of the row."""
        names = self.columns.names
        self.column = names[max(0, min(names.index(self.column) + by, len(names) - 1))]
        self.mark()
