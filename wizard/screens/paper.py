"""A paper over the whole screen, as it would be printed, and saving it as a text file."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Footer, Input

from engine.characters import escaped
from wizard import store
from wizard.interview.saving import InTheWay, save_text
from wizard.screens import keymap
from wizard.screens.widgets.plain import Line, Plain
from wizard.store import Held


class Paper(ModalScreen[None]):
    """Lines to read; F10 writes them to a file."""

    BINDINGS = keymap.bindings(keymap.PAPER)

    def __init__(self, title: str, lines: Sequence[str], file_name: str) -> None:
        super().__init__()
        self.heading, self.text, self.file_name = title, "".join(f"{escaped(line)}\n" for line in lines), file_name

    def compose(self) -> ComposeResult:
        """The paper and its keys."""
        with Vertical(id="paper"):
            yield Plain(f"{self.heading}   (Esc leaves it, F10 saves it as a text file to print)", id="heading")
            with VerticalScroll():
                yield Plain(self.text)
            yield Footer(compact=True, show_command_palette=False)

    def on_mount(self) -> None:
        """Let the arrows scroll."""
        self.query_one(VerticalScroll).focus()

    def action_leave_page(self) -> None:
        """Back to the screen beneath."""
        self.dismiss(None)

    def action_save(self) -> None:
        """Ask where to write it."""
        self.app.push_screen(SaveText(self.text, self.file_name))


class SaveText(ModalScreen[None]):
    """A line for the file's name."""

    BINDINGS = keymap.bindings(keymap.CHOOSING)

    def __init__(self, text: str, file_name: str) -> None:
        super().__init__()
        self.text, self.file_name = text, file_name
        self._shown: Held | None = None

    def compose(self) -> ComposeResult:
        """The name and what to expect."""
        with Vertical(classes="dialog"):
            yield Plain("Save this page as a text file (Enter saves, Esc goes back):", classes="group")
            yield Line(self.file_name, compact=True, id="path")
            yield Plain("", id="said")

    def on_mount(self) -> None:
        """Type at once."""
        self.query_one("#path", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Write it; a file that is there is replaced when Enter is pressed again."""
        event.stop()
        said = self.query_one("#said", Plain)
        try:
            path = store.typed_path(event.value)
            save_text(path, self.text, self._shown)
        except InTheWay as error:
            self._shown = error.there
            said.say(f"! {error}: Enter again puts this one in its place")
            return
        except store.StoreError as error:
            said.say(f"! {error}")
            return
        from wizard.screens.widgets.plain import plain

        self.notify(plain(f"saved to {path}").plain, markup=False, timeout=6)
        self.dismiss(None)

    def action_cancel(self) -> None:
        """Do not save."""
        self.dismiss(None)
