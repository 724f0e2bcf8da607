"""The doors: a first supply, an amplifier to add, a second opinion, a file, a worked station, a draft."""

from __future__ import annotations

from pathlib import Path

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from engine.station.table import Problems
from wizard import store
from wizard.drafts import set_aside, unfinished
from wizard.interview.opening import from_draft, from_file, newest_drafts
from wizard.interview.session import Session
from wizard.interview.steps import JUDGE, PLAN, UPGRADE
from wizard.screens import keymap
from wizard.screens.base import Base
from wizard.screens.choose_station import Which
from wizard.screens.claim import Told
from wizard.screens.drafts import Drafts
from wizard.screens.open import Open
from wizard.screens.symptoms import Symptoms
from wizard.screens.where import Where
from wizard.screens.widgets.foot import Foot
from wizard.screens.widgets.plain import Plain, plain

SHOWN = 3
"""Drafts that the doors show."""

WELCOME = (
    "Clean power for every radio, at its own terminals, while it transmits, on the supply's worst day. "
    "Choose a door; arrows move, Enter opens."
)
DOORS = (
    ("first", "A first supply", "you have radios, or will have: find the rest"),
    ("amplifier", "An amplifier to add", "to a station that you have saved; keep what may stay"),
    ("judge", "A second opinion", "describe what stands there today and have it judged"),
    ("meter", "What a meter showed", "type readings, see which part is at fault"),
    ("notice", "What I notice", "dies on key-down, hum, a hot plug: what tells causes apart"),
    ("told", "Someone told me", "a claim in plain figures: does it hold?"),
    ("where", "Where can it live?", "one radio against mains, car and battery, at a glance"),
    ("open", "Open a station file", "go on with a profile of yours"),
    ("judge-file", "Judge a station file", "a profile as it stands, nothing chosen"),
    ("worked", "A worked station", "look at an example from start to end"),
)


OPENING = {"amplifier": UPGRADE, "open": PLAN, "judge-file": JUDGE, "worked": PLAN}
"""The doors that begin with a file, and what is done with it."""


class Door(Base):
    """Where everybody starts."""

    KEYS = keymap.DOOR
    BINDINGS = keymap.bindings(KEYS)

    def __init__(self) -> None:
        super().__init__()
        self.drafts = newest_drafts(SHOWN)

    def compose(self) -> ComposeResult:
        """The doors and the drafts."""
        yield Plain("Shackrail: direct-current power for an amateur-radio station", id="heading")
        yield Plain(WELCOME, id="intro")
        with Vertical(id="middle"):
            yield OptionList(*self._options(), markup=False, id="doors")
            yield Plain("", id="said")
        yield Foot()

    def _options(self) -> list[Option]:
        doors = [Option(plain(f"{title}  -  {says}"), id=id_) for id_, title, says in DOORS]
        drafts = [Option(plain(f"Go on with the draft: {title}"), id=f"draft:{path}") for path, title in self.drafts]
        more = [Option(plain("All drafts  -  go on with one, or let it go"), id="drafts")] if unfinished() else []
        return [*doors, *drafts, *more]

    def on_mount(self) -> None:
        """Put the cursor on the first door."""
        doors = self.query_one("#doors", OptionList)
        doors.focus()
        doors.highlighted = 0

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go through a door."""
        event.stop()
        id_ = event.option.id or ""
        if id_ in OPENING:
            mode = OPENING[id_]
            self.app.push_screen(Open(id_ == "worked"), lambda path: self._opened(path, mode))
        elif id_ == "meter":
            self.app.push_screen(Which(), self._measured)
        elif id_ in ("notice", "told"):
            self.wizard.show(Symptoms() if id_ == "notice" else Told())
        elif id_ == "where":
            self.wizard.show(Where())
        elif id_ == "drafts":
            self.app.push_screen(Drafts(), self._draft)
        elif id_.startswith("draft:"):
            self._draft(Path(id_.removeprefix("draft:")))
        else:
            self.wizard.begin(JUDGE if id_ == "judge" else PLAN)

    def _measured(self, session: Session | None) -> None:
        if session is not None:
            self.wizard.measure(session)

    def _opened(self, path: Path | None, mode: str) -> None:
        if path is None:
            return
        try:
            session = from_file(path, self.wizard.shelf, mode)
            if path in store.worked().values() and _stands(session):
                session = from_file(path, self.wizard.shelf, JUDGE)
        except store.StoreError as error:
            self._say(f"! {error}")
        except Problems as error:
            self._say("\n".join(f"! {path.name}: {one}" for one in error.found[:8]))
        else:
            self.wizard.go_on(session)

    def _draft(self, path: Path | None) -> None:
        if path is None:
            self.wizard.to_door()
            return
        session = from_draft(path, self.wizard.shelf)
        if session is not None:
            self.wizard.go_on(session)
            return
        aside = set_aside(path)
        where = f"is left aside in {aside}" if aside else "stays where it is"
        self._say(f"! the draft {path.name} cannot be read; it {where}")

    def _say(self, text: str) -> None:
        self.query_one("#said", Plain).say(text)

    def action_stay(self) -> None:
        """There is nothing behind the doors: say how to leave."""
        self.wizard.tell("Ctrl+Q leaves the program; what you have typed is kept as a draft.")

    def help_text(self) -> str:
        """What the program is for."""
        doors = "\n".join(f"{title}: {says}" for _, title, says in DOORS)
        return f"{WELCOME}\n\n{doors}\n\nEverything works offline. A draft is kept at every answer."


def _stands(session: Session) -> bool:
    """Whether a worked station is described down to its cables, so that it is there to be judged."""
    runs = session.rows("run")
    return bool(runs) and all("conductor" in run for run in runs)
