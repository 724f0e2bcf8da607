"""Which station was measured: the one at hand, one from a file, a worked one, or one still to be described."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, cast

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from engine.station.table import Problems
from wizard import store
from wizard.interview.opening import from_file
from wizard.interview.session import Session
from wizard.interview.steps import JUDGE
from wizard.screens import keymap
from wizard.screens.open import files_here
from wizard.screens.widgets.plain import Line, Plain, plain

if TYPE_CHECKING:
    from wizard.screens.app import ShackrailApp

HERE, DESCRIBE = "here", "describe"


class Which(ModalScreen[Session | None]):
    """A line for a path, and a list of what is at hand."""

    BINDINGS = keymap.bindings(keymap.CHOOSING)

    def __init__(self) -> None:
        super().__init__()
        self.paths = [*files_here(), *store.worked().values()]

    @property
    def wizard(self) -> ShackrailApp:
        """The program."""
        return cast("ShackrailApp", self.app)

    def compose(self) -> ComposeResult:
        """The list first, then the line."""
        with Vertical(classes="dialog"):
            yield Plain("Which station was measured? Enter chooses, Esc goes back.", classes="group")
            yield OptionList(*self._options(), markup=False, id="files")
            yield Plain("Or write the path of its file:")
            yield Line(placeholder="my-station.toml", compact=True, id="path")
            yield Plain("", id="said")

    def _options(self) -> list[Option]:
        session, worked = self.wizard.session, store.worked().values()
        made = [Option(plain("not saved yet: describe it first; F8 on its result measures"), id=DESCRIBE)]
        if session.mode == JUDGE and session.rows("load"):
            name = session.document.get("name", "") or "without a name"
            made.insert(0, Option(plain(f"the one at hand: {name}"), id=HERE))
        for place, path in enumerate(self.paths):
            title = f"an example: {path.stem}" if path in worked else path.name
            made.append(Option(plain(title), id=f"file:{place}"))
        return made

    def on_mount(self) -> None:
        """Choose at once."""
        listed = self.query_one("#files", OptionList)
        listed.focus()
        listed.highlighted = 0

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Open the path typed."""
        event.stop()
        try:
            self._open(store.typed_path(event.value))
        except store.StoreError as error:
            self._say(f"! {error}")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take the one highlighted."""
        event.stop()
        id_ = event.option.id or ""
        if id_ == HERE:
            self.dismiss(self.wizard.session)
        elif id_ == DESCRIBE:
            self.dismiss(Session(self.wizard.shelf, JUDGE))
        else:
            self._open(self.paths[int(id_.partition(":")[2])])

    def _open(self, path: Path) -> None:
        try:
            self.dismiss(from_file(path, self.wizard.shelf, JUDGE))
        except store.StoreError as error:
            self._say(f"! {error}")
        except Problems as error:
            self._say("\n".join(f"! {path.name}: {one}" for one in error.found[:6]))

    def _say(self, text: str) -> None:
        self.query_one("#said", Plain).say(text)

    def action_cancel(self) -> None:
        """Choose nothing."""
        self.dismiss(None)
