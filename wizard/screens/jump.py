"""Any step by its name."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from wizard.interview.session import Session
from wizard.interview.steps import STEPS
from wizard.screens import keymap
from wizard.screens.widgets.plain import Plain, plain


class Jump(ModalScreen[str | None]):
    """The list of steps."""

    BINDINGS = [*keymap.bindings(keymap.CHOOSING), *[(str(n), f"take({n - 1})", "") for n in range(1, 10)]]

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session

    def compose(self) -> ComposeResult:
        """One line a step."""
        with Vertical(classes="dialog"):
            yield Plain("Where to? Nothing is lost. (Esc stays here)", classes="group")
            options = [Option(plain(f"{n}  {STEPS[one].title}"), id=one) for n, one in enumerate(self.session.steps, 1)]
            yield OptionList(*options, markup=False)

    def on_mount(self) -> None:
        """Highlight the step the owner is on."""
        listed = self.query_one(OptionList)
        listed.focus()
        listed.highlighted = self.session.steps.index(self.session.step)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go there."""
        event.stop()
        self.dismiss(event.option.id)

    def action_take(self, place: int) -> None:
        """A digit takes its step at once."""
        if place < len(self.session.steps):
            self.dismiss(self.session.steps[place])

    def action_cancel(self) -> None:
        """Stay."""
        self.dismiss(None)
