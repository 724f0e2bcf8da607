"""The program on a terminal: one session, one screen at a time, and the tally worked out in the background."""

from __future__ import annotations

import copy
import traceback

from rich.text import Text
from textual.app import App
from textual.geometry import Offset
from textual.screen import Screen

from wizard import keymap, store
from wizard.screens.base import NARROW, SHORT, Base
from wizard.screens.door import Door
from wizard.screens.equipment import Equipment
from wizard.screens.form import Leads, SiteForm, SupplyForm, Use, WishesForm
from wizard.screens.result import Result
from wizard.session import Session
from wizard.widgets.plain import plain
from wizard.widgets.tally import Tally, tally

SCREENS: dict[str, type[Base]] = {
    "use": Use,
    "loads": Equipment,
    "supply": SupplyForm,
    "leads": Leads,
    "site": SiteForm,
    "wishes": WishesForm,
    "result": Result,
}
DEBOUNCE = 0.4


class ShackrailApp(App[str]):
    """The wizard."""

    TITLE = "Shackrail"
    CSS_PATH = "shackrail.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS = keymap.bindings(keymap.EVERYWHERE)
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]

    def __init__(self, debounce: float = DEBOUNCE) -> None:
        super().__init__()
        self.shelf = store.load_shelf()
        self.session = Session(self.shelf)
        self.debounce = debounce
        self._timer: object = None

    def on_mount(self) -> None:
        """Open the doors."""
        self.push_screen(Door())

    def _fatal_error(self) -> None:
        """A fault of the program itself: say so in a sentence, keep the draft, write the details to a file."""
        # Textual has no public hook here; without this its traceback would be what the owner sees.
        if self.session.worth_keeping:
            self.session.keep()
        where = store.note_trouble(traceback.format_exc())
        said = "shackrail stopped because of a fault of its own; your answers are kept as a draft."
        self._exit_renderables.append(Text(f"{said} Details for its makers: {where}"))
        self._close_messages_no_wait()

    # -- moving about

    def show(self, screen: Screen[None]) -> None:
        """Put ``screen`` in the place of the current one."""
        self.switch_screen(screen)

    def to_door(self) -> None:
        """Back to the doors; the draft stays."""
        self.show(Door())

    def to_step(self, step: str) -> None:
        """Go to a step, rebuilt from the session."""
        self.session.step = step
        if self.session.worth_keeping and self.session.saved is None:
            self._kept(self.session.keep())
        self.show(SCREENS[step]())

    def begin(self, mode: str) -> None:
        """Start a new station."""
        self.go_on(Session(self.shelf, mode))

    def go_on(self, session: Session) -> None:
        """Go on with a station."""
        self.session = session
        self.to_step(session.step)

    # -- what follows from an answer

    def changed(self) -> None:
        """An answer changed: keep the draft, work the tally out again."""
        self._kept(self.session.keep())
        self.refresh_tally()

    def _kept(self, trouble: str | None) -> None:
        if trouble:
            self.tell(trouble)

    def refresh_tally(self) -> None:
        """Work the tally out soon, once for a burst of typing."""
        if self._timer is not None:
            self._timer.stop()  # type: ignore[attr-defined]
        self._timer = self.set_timer(max(self.debounce, 0.001), self._work_tally)

    def _work_tally(self) -> None:
        box = next(iter(self.screen.query(Tally)), None)
        if box is None or not box.display:
            return
        session = Session(self.shelf, self.session.mode, copy.deepcopy(self.session.document))
        width, lines = box.content_size.width or 40, box.content_size.height or 4

        def work() -> None:
            found = tally(session, width, lines)
            self.call_from_thread(self._show_tally, box, "\n".join(found))

        self.run_worker(work, thread=True, exclusive=True, group="tally", exit_on_error=False)

    def _show_tally(self, box: Tally, text: str) -> None:
        if box.is_mounted:
            box.say(text)

    # -- small things

    def tell(self, text: str) -> None:
        """A short message at the edge of the screen."""
        self.notify(plain(text).plain, markup=False, timeout=6)

    def action_leave(self) -> None:
        """Leave; what was typed is kept as a draft unless it is saved."""
        said = ""
        if self.session.saved is None and self.session.worth_keeping:
            trouble = self.session.keep()
            said = trouble or "Your answers are kept as a draft; run shackrail to go on."
        self.exit(said)

    def on_resize(self) -> None:
        """Say so when the window is too small to be useful."""
        small = self.size.width < NARROW or self.size.height < SHORT
        if small and not getattr(self, "_warned", False):
            self._warned = True
            self.tell(f"this window is small: {NARROW} columns by {SHORT} lines or more show everything")

    def on_descendant_focus(self) -> None:
        """Put the hardware cursor where the focus is, for screen readers."""
        here = self.focused
        if here is not None:
            region = here.region
            self.cursor_position = Offset(region.x, region.y)
