"""Saving the profile: where to, and what went wrong if it could not be written."""

from __future__ import annotations

import re
from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input

from engine.planning.plan import Plan
from engine.station.table import Problems
from wizard import store
from wizard.interview.saving import Consent, InTheWay, save
from wizard.interview.session import Session
from wizard.screens import keymap
from wizard.screens.asking import Asking
from wizard.screens.widgets.plain import Line, Plain
from wizard.store import Held


class Save(Asking[None], ModalScreen[None]):
    """A line for the file's name."""

    BINDINGS = keymap.bindings(keymap.CHOOSING)

    def __init__(self) -> None:
        super().__init__()
        self._shown: Held | None = None

    def compose(self) -> ComposeResult:
        """The name and what to expect."""
        with Vertical(classes="dialog"):
            yield Plain("Save the station profile as (Enter saves, Esc goes back):", classes="group")
            held = self.session.held
            yield Line(str(held.path) if held else _file_name(self.session), compact=True, id="path")
            yield Plain("", id="said")

    def on_mount(self) -> None:
        """Type at once."""
        self.query_one("#path", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Write the profile."""
        event.stop()
        said = self.query_one("#said", Plain)
        try:
            path = store.typed_path(event.value)
        except store.StoreError as error:
            said.say(f"! {error}")
            return
        said.say("Working it out ...")
        self.reckon_all(lambda made: self._write(path, made))

    def failed(self, name: str, sentence: str) -> None:
        """Say so, and save nothing."""
        self.query_one("#said", Plain).say(f"! not saved. {sentence}")

    def _write(self, path: Path, made: Plan | Problems) -> None:
        """Write what was worked out; the answers stay whatever happens."""
        said = self.query_one("#said", Plain)
        if isinstance(made, Problems):
            places = [f"- {self.session.place(one)[1]}: {one.what}; {one.instead}" for one in made.found[:6]]
            said.say("! not saved, because:\n" + "\n".join(places))
            return
        try:
            saved = save(path, made.verdict, self.session.shelf, Consent(self.session.held, self._shown))
        except InTheWay as error:
            self._shown = error.there
            said.say(f"! {error}: Enter again puts this one in its place")
            return
        except store.StoreError as error:
            said.say(f"! {error}")
            return
        self.session.held, self.session.dirty = saved.held, False
        self.session.draft.finish()
        self.wizard.tell(f"saved to {path}")
        self.dismiss(None)

    def action_cancel(self) -> None:
        """Do not save."""
        self.dismiss(None)


def _file_name(session: Session) -> str:
    name = re.sub(r"[^\w]+", "-", str(session.document.get("name", "")).casefold()).strip("-")
    return f"{name[:60] or 'my-station'}.toml"
