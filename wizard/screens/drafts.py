"""All drafts: go on with one, or let it go."""

from __future__ import annotations

from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from wizard import drafts
from wizard.interview.opening import draft_title
from wizard.screens import keymap
from wizard.screens.widgets.plain import Plain, plain


class Drafts(ModalScreen[Path | None]):
    """The list of drafts, the last written first."""

    BINDINGS = keymap.bindings(keymap.DRAFTS)

    def __init__(self) -> None:
        super().__init__()
        self.paths = drafts.unfinished()
        self._asked: Path | None = None

    def compose(self) -> ComposeResult:
        """One line a draft."""
        with Vertical(classes="dialog"):
            yield Plain("Drafts (Enter goes on with one, Delete lets it go, Esc goes back):", classes="group")
            yield OptionList(*map(_option, self.paths), markup=False, id="drafts")
            yield Plain("", id="said")

    def on_mount(self) -> None:
        """Choose at once."""
        listed = self.query_one(OptionList)
        listed.focus()
        listed.highlighted = 0

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go on with the one highlighted."""
        event.stop()
        self.dismiss(self.paths[event.option_index])

    def action_let_go(self) -> None:
        """Let the highlighted draft go, once that is asked."""
        listed, said = self.query_one(OptionList), self.query_one("#said", Plain)
        if listed.highlighted is None:
            return
        path = self.paths[listed.highlighted]
        if self._asked != path:
            self._asked = path
            said.say("! Delete again lets this draft go")
            return
        drafts.Draft(path).finish()
        self.paths.remove(path)
        listed.remove_option_at_index(listed.highlighted)
        said.say("let go")

    def action_cancel(self) -> None:
        """Open nothing."""
        self.dismiss(None)


def _option(path: Path) -> Option:
    return Option(plain(draft_title(path) or f"{path.name}: cannot be read"))
