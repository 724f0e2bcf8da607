"""The program on a terminal: one session, one screen at a time, and what is worked out in the background."""

from __future__ import annotations

import copy
import traceback
from collections.abc import Callable
from functools import cached_property
from importlib import import_module
from typing import TYPE_CHECKING, Any, TypeVar

from rich.text import Text
from textual.app import App
from textual.driver import Driver
from textual.events import Resize
from textual.geometry import Offset
from textual.screen import Screen

from wizard import drafts
from wizard.screens import keymap
from wizard.screens.asking import NARROW, SHORT
from wizard.screens.door import Door
from wizard.screens.driver import on_terminal
from wizard.screens.themes import DARK, THEMES
from wizard.screens.widgets.plain import plain

if TYPE_CHECKING:
    from engine.parts import Shelf
    from engine.planning.judge import Stop
    from wizard.interview.background import Fault, Work
    from wizard.interview.faults import Spot
    from wizard.interview.session import Session

DEBOUNCE = 0.4
Made = TypeVar("Made")


class ShackrailApp(App[str]):
    """The wizard."""

    TITLE = "Shackrail"
    CSS_PATH = "shackrail.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS = keymap.bindings(keymap.EVERYWHERE)
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide"), (110, "-roomy")]
    VERTICAL_BREAKPOINTS = [(0, "-short"), (SHORT + 2, "-tall")]

    def __init__(self, debounce: float = DEBOUNCE) -> None:
        super().__init__()
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = DARK
        self._session: Session | None = None
        self.debounce = debounce
        self.refused: list[str] = []
        self.troubles: list[str] = []
        self.claimed: dict[str, dict[str, str]] = {}

    # -- what is loaded behind the doors

    @cached_property
    def shelf(self) -> Shelf:
        """The catalogue, read when it is first asked for.

        Raises:
            Problems: every fault of the owner's tables.
        """
        from wizard import store

        return store.load_shelf()

    @property
    def session(self) -> Session:
        """The station being described; an empty one at first."""
        if self._session is None:
            from wizard.interview.session import Session

            self._session = Session(self.shelf)
        return self._session

    @session.setter
    def session(self, session: Session) -> None:
        self._session = session

    @cached_property
    def work(self) -> Work:
        """What is worked out beside the screens."""
        from wizard.interview.background import Work

        return Work(self.call_later)

    def load(self) -> bool:
        """Load what the doors lead to; False, and the end, where the owner's catalogue is faulty."""
        from engine.station.table import Problems

        try:
            self._load()
        except Problems as error:
            self.refused = [str(problem) for problem in error.found]
            self.exit(return_code=2)
        return not self.refused

    def _load(self) -> None:
        import_module("wizard.screens.steps")
        self.session.nearest(self.session.step)

    def get_driver_class(self) -> type[Driver]:
        """The terminal, whatever bytes are typed on it and however fast."""
        return on_terminal(super().get_driver_class())

    def on_mount(self) -> None:
        """Open the doors."""
        self.push_screen(Door())

    def _fatal_error(self) -> None:
        """A fault of the program itself: say so in a sentence, keep the draft, write the details to a file."""
        # Textual has no public hook here; without this its traceback would be what the owner sees.
        kept = self._after_fault()
        where = drafts.note_trouble(traceback.format_exc())
        said = f"shackrail stopped because of a fault of its own; {kept} Details for its makers: {where}"
        self._exit_renderables[:] = [Text(plain(said).plain)]
        self._close_messages_no_wait()

    def _after_fault(self) -> str:
        session = self._session
        if session is None:
            return "nothing was typed that could be lost."
        return drafts.after_fault(session.draft, session.keep if session.worth_keeping else None)

    def panic(self, *_renderables: object) -> None:
        """A fault in what reads the keyboard: told like any other."""
        self._fatal_error()

    # -- moving about

    def show(self, screen: Screen[None]) -> None:
        """Put ``screen`` in the place of the current one."""
        self.switch_screen(screen)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The colours of the outcomes under a theme that is not our own."""
        return dict(THEMES[0].variables)

    def to_door(self) -> None:
        """Back to the doors; the draft stays."""
        self.show(Door())

    def to_step(self, step: str) -> None:
        """Go to a step, rebuilt from the session."""
        self._stand(step)
        from wizard.screens.steps import SCREENS

        self.show(SCREENS[self.session.step]())

    def to_answer(self, spot: Spot) -> None:
        """Go to the field in which an answer is given."""
        table = spot.question.table if spot.question else ""
        self.session.focus = spot.question.place(spot.row) if spot.question else None
        if table == "reading":
            from wizard.screens.reading_form import ReadingForm

            self.show(ReadingForm(spot.row))
        elif table == "load":
            self.to_load(spot.row)
        else:
            self.to_step(spot.step)

    def to_load(self, index: int) -> None:
        """Go to one piece of equipment; to their list where it is gone."""
        self._stand("loads")
        from wizard.screens.equipment import Equipment
        from wizard.screens.form import LoadForm

        there = index < len(self.session.rows("load"))
        self.show(LoadForm(index) if there else Equipment())

    def add_load(self) -> None:
        """Go to the equipment and pick one more."""
        self._stand("loads")
        from wizard.screens.equipment import Equipment

        self.show(Equipment(adding=True))

    def _stand(self, step: str) -> None:
        """The session stands at a step, or the one in its place; the draft says so."""
        self.session.step = self.session.nearest(step)
        if self.session.worth_keeping:
            self._kept(self.session.keep())

    def begin(self, mode: str) -> None:
        """Start a new station."""
        from wizard.interview.session import Session

        self.go_on(Session(self.shelf, mode))

    def go_on(self, session: Session) -> None:
        """Go on with a station."""
        self.session = session
        self.to_step(session.step)

    def measure(self, session: Session, hint: str = "") -> None:
        """Go on with the readings of a station; one of which nothing is said yet is described first."""
        self.session = session
        if session.rows("load"):
            self.to_readings(hint)
        else:
            self.to_step(session.step)
            self.tell("Describe the station, as much as you know; F8 on its result takes the readings.")

    def to_readings(self, hint: str = "") -> None:
        """The readings of the station; ``hint`` is what they are to decide."""
        from wizard.interview import readings
        from wizard.screens.readings import Readings

        readings.let_go(self.session)
        if self.session.worth_keeping:
            self._kept(self.session.keep())
        self.show(Readings(hint))

    # -- what follows from an answer

    def changed(self) -> None:
        """An answer changed: keep the draft, work the tally out again, let go what is out of date."""
        self._kept(self.session.keep())
        self.refresh_tally()
        self.work.give_up()

    def _kept(self, trouble: str | None) -> None:
        if trouble:
            self.tell(trouble)

    def refresh_tally(self) -> None:
        """Work the tally out soon, once for a burst of typing."""
        from wizard.screens.base import StepScreen

        for screen in self.screen_stack:
            if isinstance(screen, StepScreen):
                screen.refresh_frame()
                screen.refresh_tally()

    def copy(self) -> Session:
        """The session as it is now, for work in the background."""
        from wizard.interview.session import Session

        made = Session(self.shelf, self.session.mode, copy.deepcopy(self.session.document))
        made.choices = self.session.choices
        return made

    def ask(
        self,
        waiter: Screen[Any],
        name: str,
        make: Callable[[Session, Stop], Made],
        done: Callable[[Made | Fault], None],
        usable: bool = False,
    ) -> None:
        """Make something of the station in the background and give it to ``done`` in the queue of ``waiter``.

        With ``usable`` it depends only on the answers that can be read.
        """
        session = self.copy()
        document = session.usable() if usable else session.exported
        about = (session.mode, document, session.choices)
        self.work.ask(waiter, name, about, lambda stop: make(session, stop), done)

    def trouble(self, fault: Fault) -> str:
        """Write the details of a fault of the program to a file; the sentence that says so."""
        self.troubles.append(fault.details)
        where = drafts.note_trouble(fault.details)
        return f"This cannot be worked out: a fault of the program. Your answers are kept. For its makers: {where}"

    # -- small things

    def tell(self, text: str) -> None:
        """A short message at the edge of the screen."""
        self.notify(plain(text).plain, markup=False, timeout=6)

    def action_leave(self) -> None:
        """Leave; what was typed is kept as a draft unless it is saved."""
        self.work.close()
        said = ""
        if self._session is not None and self._session.worth_keeping:
            trouble = self._session.keep()
            said = trouble or "Your answers are kept as a draft; run shackrail to go on."
        self.exit(said)

    def on_resize(self, event: Resize) -> None:
        """Say so when the window is too small to be useful."""
        small = event.size.width < NARROW or event.size.height < SHORT
        if small and not getattr(self, "_warned", False):
            self._warned = True
            self.tell(f"this window is small: {NARROW} columns by {SHORT} lines or more show everything")

    def on_descendant_focus(self) -> None:
        """Put the hardware cursor where the focus is, for screen readers."""
        here = self.focused
        if here is not None:
            region = here.region
            self.cursor_position = Offset(region.x, region.y)
