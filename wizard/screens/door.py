"""The doors: a first supply, an amplifier to add, a second opinion, a file, a worked station, a draft."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from wizard.drafts import set_aside, unfinished
from wizard.screens import keymap
from wizard.screens.asking import Base
from wizard.screens.widgets.foot import Foot
from wizard.screens.widgets.plain import Plain, plain

if TYPE_CHECKING:
    from wizard.interview.session import Session

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

FROM_FILE = ("amplifier", "open", "judge-file", "worked")
"""The doors that begin with a file."""


class Door(Base):
    """Where everybody starts."""

    KEYS = keymap.DOOR
    BINDINGS = keymap.bindings(KEYS)

    def __init__(self) -> None:
        super().__init__()
        self.drafts: list[tuple[Path, str]] = []

    def compose(self) -> ComposeResult:
        """The doors and the drafts."""
        yield Plain("Shackrail: direct-current power for an amateur-radio station", id="heading")
        yield Plain(WELCOME, id="intro")
        with Vertical(id="middle"):
            yield OptionList(*self._doors(), markup=False, id="doors")
            yield Plain("", id="said")
        yield Foot()

    def _doors(self) -> list[Option]:
        return [Option(plain(f"{title}  -  {says}"), id=id_) for id_, title, says in DOORS]

    def on_mount(self) -> None:
        """Put the cursor on the first door; once the doors are seen, load what lies behind them."""
        doors = self.query_one("#doors", OptionList)
        doors.focus()
        doors.highlighted = 0
        self.call_after_refresh(self._once_seen)

    def _once_seen(self) -> None:
        """The first refresh lays the doors out; they are seen with the next."""
        self.call_after_refresh(self._load_behind)

    def _load_behind(self) -> None:
        """What the doors lead to, and the drafts, below the doors so that none of them moves."""
        if not self.is_attached or not self.wizard.load():
            return
        from wizard.interview.opening import newest_drafts

        self.drafts = newest_drafts(SHOWN)
        self.query_one("#doors", OptionList).add_options(self._drafts())

    def _drafts(self) -> list[Option]:
        newest = [Option(plain(f"Go on with the draft: {title}"), id=f"draft:{path}") for path, title in self.drafts]
        more = [Option(plain("All drafts  -  go on with one, or let it go"), id="drafts")] if unfinished() else []
        return [*newest, *more]

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go through a door."""
        event.stop()
        id_ = event.option.id or ""
        if id_.startswith("draft:"):
            self._draft(Path(id_.removeprefix("draft:")))
        elif self.wizard.load():
            self._through(id_)

    def _through(self, door: str) -> None:
        """What stands behind a door is loaded only now."""
        from wizard.interview.steps import JUDGE, PLAN
        from wizard.screens.choose_station import Which
        from wizard.screens.claim import Told
        from wizard.screens.drafts import Drafts
        from wizard.screens.open import Open
        from wizard.screens.symptoms import Symptoms
        from wizard.screens.where import Where

        if door in FROM_FILE:
            self.app.push_screen(Open(door == "worked"), lambda path: self._opened(path, door))
        elif door == "meter":
            self.app.push_screen(Which(), self._measured)
        elif door == "drafts":
            self.app.push_screen(Drafts(), self._draft)
        elif door in ("notice", "told", "where"):
            behind: dict[str, type[Base]] = {"notice": Symptoms, "told": Told, "where": Where}
            self.wizard.show(behind[door]())
        else:
            self.wizard.begin(JUDGE if door == "judge" else PLAN)

    def _measured(self, session: Session | None) -> None:
        if session is not None:
            self.wizard.measure(session)

    def _opened(self, path: Path | None, door: str) -> None:
        from engine.station.table import Problems
        from wizard import store
        from wizard.interview.opening import from_file
        from wizard.interview.steps import JUDGE, PLAN, UPGRADE

        if path is None:
            return
        mode = {"amplifier": UPGRADE, "judge-file": JUDGE}.get(door, PLAN)
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
        from wizard.interview.opening import from_draft

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
