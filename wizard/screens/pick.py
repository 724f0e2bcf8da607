"""The page on which a class of equipment is picked: everyday words find it."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from engine.parts import Equipment as Row
from engine.terms import PowerInput
from wizard.questions.everyday import found_by
from wizard.screens import keymap
from wizard.screens.widgets.plain import Line, Plain, plain

GROUPS = {"radio": "Radios", "amplifier": "Amplifiers", "accessory": "Accessories", "computer": "Computers"}


class Pick(ModalScreen[str | None]):
    """All classes of equipment, narrowed by typing."""

    BINDINGS = keymap.bindings(keymap.CHOOSING)

    def __init__(self, rows: list[Row]) -> None:
        super().__init__()
        self.rows = rows

    def compose(self) -> ComposeResult:
        """A line to type in and the list."""
        with Vertical(classes="dialog"):
            yield Plain("Which kind of equipment? Type to narrow, arrows to choose, Enter to take, Esc to leave.")
            yield Line(placeholder="for example 100 W, 2 m, linear, FT8, pc, light", compact=True, id="narrow")
            yield OptionList(id="classes", markup=False)

    def on_mount(self) -> None:
        """Show everything."""
        self._fill("")
        self.query_one("#narrow", Input).focus()

    def _fill(self, text: str) -> None:
        listed = self.query_one("#classes", OptionList)
        listed.clear_options()
        if text.strip():
            listed.add_options(map(_option, found_by(text, self.rows, GROUPS)))
        else:
            for group, title in GROUPS.items():
                listed.add_option(Option(plain(f"- {title} -"), disabled=True))
                listed.add_options(_option(row) for row in self.rows if row.group == group)
        listed.add_option(Option(plain("something else, with figures of its own"), id="own"))
        listed.highlighted = next(
            (n for n in range(listed.option_count) if not listed.get_option_at_index(n).disabled), 0
        )

    def on_input_changed(self, event: Input.Changed) -> None:
        """Narrow the list."""
        event.stop()
        self._fill(event.value)

    def on_key(self, event: object) -> None:
        """Arrows move in the list while the line keeps the focus."""
        key = getattr(event, "key", "")
        if self.query_one("#narrow", Input).has_focus and key in ("down", "up", "pagedown", "pageup"):
            listed = self.query_one("#classes", OptionList)
            getattr(listed, {"down": "action_cursor_down", "up": "action_cursor_up"}.get(key, f"action_{_page(key)}"))()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter takes the highlighted class."""
        event.stop()
        listed = self.query_one("#classes", OptionList)
        if listed.highlighted is not None:
            self._take(listed.get_option_at_index(listed.highlighted).id)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or a click in the list."""
        event.stop()
        self._take(event.option.id)

    def _take(self, id_: str | None) -> None:
        if id_:
            self.dismiss("" if id_ == "own" else id_)

    def action_cancel(self) -> None:
        """Add nothing."""
        self.dismiss(None)


def _page(key: str) -> str:
    return {"pagedown": "page_down", "pageup": "page_up"}.get(key, "page_down")


def _draw(row: Row) -> str:
    if row.feed != PowerInput.DC:
        return "plugs into the wall"
    span = row.transmit or row.busy or row.receive
    return f"{span.low:g} to {span.high:g} A"


def _option(row: Row) -> Option:
    return Option(plain(f"{row.title}  ({_draw(row)})"), id=row.id)
