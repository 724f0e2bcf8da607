"""The step that lists the equipment, and the page on which a class is picked."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from engine.parts import Equipment as Row
from engine.terms import PowerInput
from wizard.screens import keymap
from wizard.screens.base import StepScreen
from wizard.screens.form import LoadForm
from wizard.screens.widgets.plain import Line, Plain, plain

GROUPS = {"radio": "Radios", "amplifier": "Amplifiers", "accessory": "Accessories", "computer": "Computers"}


class Equipment(StepScreen):
    """What draws: add, change and remove."""

    KEYS = keymap.EQUIPMENT
    BINDINGS = keymap.bindings(KEYS)
    step_id = "loads"

    def __init__(self, adding: bool = False) -> None:
        super().__init__()
        self.adding = adding

    def body(self) -> ComposeResult:
        """The list, with adding as its last line."""
        with Vertical(id="form"):
            yield OptionList(*self._options(), id="loads", markup=False)

    def _options(self) -> list[Option]:
        shelf = self.session.shelf
        made = []
        for row in self.session.rows("load"):
            known = shelf.equipment.get(str(row.get("class", "")))
            draw = f", {row['transmit']} key-down" if "transmit" in row else ""
            made.append(Option(plain(f"{row.get('id', '')}: {known.title if known else 'own figures'}{draw}")))
        return [*made, Option(plain("+ add a radio, an amplifier or anything else that draws"), id="add")]

    def on_mount(self) -> None:
        """Put the cursor on the list."""
        chosen = self.query_one("#loads", OptionList)
        chosen.focus()
        chosen.highlighted = 0 if self.session.rows("load") else chosen.option_count - 1
        if self.adding:
            self.call_after_refresh(self.action_add)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens a piece, or adds one."""
        event.stop()
        if event.option.id == "add":
            self.action_add()
        else:
            self.wizard.show(LoadForm(event.option_index))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only equipment can be taken out, not the line that adds."""
        if action == "remove" and self._highlighted() is None:
            return None
        return super().check_action(action, parameters)

    def _highlighted(self) -> int | None:
        """The piece of equipment under the cursor."""
        listed = next(iter(self.query("#loads").results(OptionList)), None)
        place = listed.highlighted if listed else None
        return place if place is not None and place < len(self.session.rows("load")) else None

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show which keys there are for this line."""
        event.stop()
        self.refresh_bindings()

    def action_add(self) -> None:
        """Pick a class of equipment."""
        self.app.push_screen(Pick(list(self.session.shelf.equipment.values())), self._picked)

    def _picked(self, name: str | None) -> None:
        if name is not None:
            index = self.session.add_load(name or None)
            self.wizard.changed()
            self.wizard.show(LoadForm(index))

    def action_remove(self) -> None:
        """Take the highlighted piece out; Undo brings it back."""
        place = self._highlighted()
        if place is not None:
            gone = self.session.rows("load")[place].get("id", "")
            self.session.remove_load(place)
            self.wizard.changed()
            self.wizard.to_step("loads")
            self.wizard.tell(f"{gone} is taken out; Undo brings it back")

    def help_text(self) -> str:
        """What this step wants."""
        return (
            "List everything that draws direct current from the same supply. Radios decide the size of the supply; "
            "small things add up and have windows of their own.\n\nPick a class, then correct its figures from the "
            "manual where you can: what you leave open is taken at the careful end of the class and written down."
        )


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
            yield Line(placeholder="for example HF, mobile, lamp", compact=True, id="narrow")
            yield OptionList(id="classes", markup=False)

    def on_mount(self) -> None:
        """Show everything."""
        self._fill("")
        self.query_one("#narrow", Input).focus()

    def _fill(self, text: str) -> None:
        listed = self.query_one("#classes", OptionList)
        listed.clear_options()
        words = text.casefold().split()
        for group, title in GROUPS.items():
            rows = [row for row in self.rows if row.group == group and _matches(row, title, words)]
            if rows:
                listed.add_option(Option(plain(f"- {title} -"), disabled=True))
                listed.add_options(Option(plain(f"{row.title}  ({_draw(row)})"), id=row.id) for row in rows)
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


def _matches(row: Row, title: str, words: list[str]) -> bool:
    text = f"{row.title} {row.id} {title} {row.group}".casefold()
    return all(word in text for word in words)


def _draw(row: Row) -> str:
    if row.feed != PowerInput.DC:
        return "plugs into the wall"
    span = row.transmit or row.busy or row.receive
    return f"{span.low:g} to {span.high:g} A"
