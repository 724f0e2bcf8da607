"""Opening a station file, or one of the worked stations."""

from __future__ import annotations

from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from engine.station.toml import parse
from wizard import store
from wizard.screens import keymap
from wizard.screens.widgets.plain import Line, Plain, plain

FEW = 40


class Open(ModalScreen[Path | None]):
    """A line for a path, and a list of what is at hand."""

    BINDINGS = keymap.bindings(keymap.CHOOSING)

    def __init__(self, worked: bool) -> None:
        super().__init__()
        self.worked = worked
        self.paths = list(store.worked().values()) if worked else files_here()

    def compose(self) -> ComposeResult:
        """The line and the list."""
        with Vertical(classes="dialog"):
            if self.worked:
                yield Plain("Worked stations (Enter opens one, Esc goes back):", classes="group")
            else:
                yield Plain("Which station file? Write its path, or Tab to the list. (Esc goes back)", classes="group")
                yield Line(placeholder="my-station.toml", compact=True, id="path")
                yield Plain("", id="said")
            options = [Option(plain(_title(path, self.worked))) for path in self.paths]
            yield OptionList(*options, markup=False, id="files")

    def on_mount(self) -> None:
        """Type or choose at once."""
        self.query_one("#files" if self.worked else "#path").focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Take the path typed, if a file is there."""
        event.stop()
        try:
            path = store.typed_path(event.value)
            store.read(path)
        except store.StoreError as error:
            self.query_one("#said", Plain).say(f"! {error}")
        else:
            self.dismiss(path)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take the one highlighted."""
        event.stop()
        self.dismiss(self.paths[event.option_index])

    def action_cancel(self) -> None:
        """Open nothing."""
        self.dismiss(None)


def files_here() -> list[Path]:
    """The station files in the current folder, newest first."""
    try:
        return store.listed(Path.cwd(), FEW)
    except OSError:  # the folder is gone
        return []


def _title(path: Path, worked: bool) -> str:
    if not worked:
        return path.name
    document = parse(path.read_text(encoding="utf-8"))
    return f"{document['name']}: {document.get('note', '')}"
