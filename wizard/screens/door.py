"""The doors: a first supply, an amplifier to add, a second opinion, a file, a worked station, a draft."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
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

WELCOME = "Clean power for every radio, at its own terminals, while it transmits, on the supply's worst day."
DOORS = (
    (
        "first",
        "A first supply",
        "You have radios, or will have. It asks which ones and how you use them; all else may stay open. You get "
        "what to buy and why, what a meter should show, and the order of switching on.",
        "about 3 minutes; three answers are enough",
    ),
    (
        "amplifier",
        "An amplifier to add",
        "It asks for the file of your saved station and which amplifier. You get what may stay, what is replaced and "
        "why, and what the step costs.",
        "about 2 minutes",
    ),
    (
        "judge",
        "What stands there today",
        "It asks for equipment, supply, leads and fuses as they are. You get a verdict with its findings, and the "
        "cheapest way to mend what is unsound.",
        "about 10 minutes; what you do not know may stay open",
    ),
    (
        "meter",
        "What a meter showed",
        "It asks for a station and readings from a hand-held meter. You get the part at fault, or the one measurement "
        "that would tell.",
        "about 3 minutes with the meter at hand",
    ),
    (
        "notice",
        "What I notice",
        "Dies on key-down, hum, a hot plug: choose what you notice. You get its causes, the likeliest first, and what "
        "tells them apart.",
        "about 1 minute",
    ),
    (
        "told",
        "Someone told me",
        "It asks for the figures of a claim: a cable, a current, a length. You get whether it holds, and why.",
        "about 1 minute",
    ),
    (
        "where",
        "Where can it live?",
        "One radio against mains, car and each kind of battery, drawn against its own window. Nothing is asked but "
        "which radio.",
        "at once",
    ),
    ("open", "Go on with a station file", "A profile of yours is opened and planned anew.", "at once"),
    (
        "judge-file",
        "Check a station file",
        "A profile as it stands, nothing chosen: its verdict, and how to mend it.",
        "at once",
    ),
    (
        "worked",
        "A worked station",
        "Look at an example from start to end: a desk, a car, a hill top, a repeater.",
        "at once",
    ),
)
"""Each door: its id, its title, what it asks and gives, how long it takes."""

DIGITS = "1234567890"
"""The key of each door, in their order; the tenth is nought, as on the keyboard."""

GROUPS = {"first": "Plan", "judge": "Second opinion", "open": "Files"}
"""The doors before which a group begins."""

GO_ON = "Every answer you gave is there; it opens at the step where you left it."

FROM_FILE = ("amplifier", "open", "judge-file", "worked")
"""The doors that begin with a file."""


class Door(Base):
    """Where everybody starts."""

    KEYS = keymap.DOOR
    BINDINGS = [
        *keymap.bindings(KEYS),
        *[Binding(digit, f"open({place})", show=False) for place, digit in enumerate(DIGITS)],
    ]

    def __init__(self) -> None:
        super().__init__()
        self.drafts: list[tuple[Path, str]] = []

    def compose(self) -> ComposeResult:
        """The doors and the drafts, and beside them what the door under the cursor asks and gives."""
        yield Plain("Shackrail: direct-current power for an amateur-radio station", id="heading")
        with Vertical(id="middle"):
            with Vertical(id="entry"):
                yield OptionList(*self._doors(), markup=False, id="doors")
                yield Plain("", id="said")
            yield Plain("", id="about")
        yield Foot()

    def _doors(self) -> list[Option]:
        options: list[Option] = []
        for digit, (id_, title, _, _) in zip(DIGITS, DOORS, strict=True):
            if id_ in GROUPS:
                options.append(_group(GROUPS[id_]))
            options.append(Option(plain(f"  {digit}  {title}"), id=id_))
        return options

    def action_open(self, place: int) -> None:
        """A digit goes through its door at once."""
        self._go(DOORS[place][0])

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Say what the door under the cursor asks and gives, and how long it takes."""
        event.stop()
        door = next((one for one in DOORS if one[0] == event.option.id), None)
        about = f"{door[2]}\n{door[3].capitalize()}." if door else GO_ON
        self.query_one("#about", Plain).say(about)

    def on_mount(self) -> None:
        """Put the cursor on the first door; once the doors are seen, load what lies behind them."""
        doors = self.query_one("#doors", OptionList)
        doors.focus()
        doors.action_first()
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
        newest = [Option(plain(f"     {title}"), id=f"draft:{path}") for path, title in self.drafts]
        more = [Option(plain("     All drafts: go on with one, or let it go"), id="drafts")] if unfinished() else []
        return [*([_group("Go on")] if more else []), *newest, *more]

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go through a door."""
        event.stop()
        self._go(event.option.id or "")

    def _go(self, id_: str) -> None:
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
        doors = "\n".join(f"{title}: {says}" for _, title, says, _ in DOORS)
        return f"{WELCOME}\n\n{doors}\n\nEverything works offline. A draft is kept at every answer."


def _stands(session: Session) -> bool:
    """Whether a worked station is described down to its cables, so that it is there to be judged."""
    runs = session.rows("run")
    return bool(runs) and all("conductor" in run for run in runs)


def _group(title: str) -> Option:
    return Option(Content(title).stylize("$accent bold"), disabled=True)
