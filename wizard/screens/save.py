"""Saving the profile: where to, and what went wrong if it could not be written."""

from __future__ import annotations

import re
from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input

from engine.plan import Plan
from engine.station.table import Problems
from wizard import store
from wizard.commands.stations import profile_text
from wizard.interview.session import Session
from wizard.screens.base import Asking
from wizard.screens.widgets.plain import Plain


class Save(Asking[None], ModalScreen[None]):
    """A line for the file's name."""

    BINDINGS = [("escape", "cancel", "Cancel")]

    def __init__(self) -> None:
        super().__init__()
        self._confirmed = ""

    def compose(self) -> ComposeResult:
        """The name and what to expect."""
        with Vertical(classes="dialog"):
            yield Plain("Save the station profile as (Enter saves, Esc goes back):", classes="group")
            yield Input(
                str(self.session.saved or self.session.opened or _file_name(self.session)), compact=True, id="path"
            )
            yield Plain("", id="said")

    def on_mount(self) -> None:
        """Type at once."""
        self.query_one("#path", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Write the profile."""
        event.stop()
        said = self.query_one("#said", Plain)
        path = Path(event.value.strip()).expanduser()
        if not event.value.strip():
            said.say("! write a file name, for example my-station.toml")
            return
        if (
            path.exists()
            and path != self.session.saved
            and self._confirmed != str(path)
            and store.is_station_file(path)
        ):
            self._confirmed = str(path)
            said.say(f"! {path} is a station file already: Enter again puts this one in its place")
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
            store.save(path, profile_text(made.verdict))
        except store.StoreError as error:
            said.say(f"! {error}")
            return
        self.session.saved, self.session.dirty = path, False
        store.drop_draft(self.session.draft)
        self.wizard.tell(f"saved to {path}")
        self.dismiss(None)

    def action_cancel(self) -> None:
        """Do not save."""
        self.dismiss(None)


def _file_name(session: Session) -> str:
    name = re.sub(r"[^\w]+", "-", str(session.document.get("name", "")).casefold()).strip("-")
    return f"{name[:60] or 'my-station'}.toml"
