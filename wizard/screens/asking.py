"""What every screen shares; it loads neither engine nor catalogue, so that the doors stand at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual.screen import Screen, ScreenResultType

from wizard.screens import keymap
from wizard.screens.keymap import Command

if TYPE_CHECKING:
    from engine.planning.judge import Stop
    from engine.planning.plan import Plan
    from engine.station.table import Problems
    from wizard.interview.background import Fault
    from wizard.interview.session import Session
    from wizard.screens.app import ShackrailApp

NARROW, SHORT, WIDE = 60, 16, 100
RECKONED = "reckoned"
"""The name under which the plan or the verdict is worked out."""

MOVING = "Tab and arrows           move between fields; Enter goes on"
Made = TypeVar("Made")


class Asking(Screen[ScreenResultType]):
    """A screen that may wait for what is worked out in the background."""

    @property
    def wizard(self) -> ShackrailApp:
        """The program."""
        return cast("ShackrailApp", self.app)

    @property
    def session(self) -> Session:
        """The station being described."""
        return self.wizard.session

    def ask(
        self,
        name: str,
        make: Callable[[Session, Stop], Made],
        done: Callable[[Made], None],
        usable: bool = False,
    ) -> None:
        """Make something of the station in the background; ``done`` takes it while this screen is there.

        With ``usable`` it depends only on the answers that can be read.
        """
        from wizard.interview.background import Fault

        def take(made: Made | Fault) -> None:
            if isinstance(made, Fault):
                self.failed(name, self.wizard.trouble(made))
            else:
                done(made)

        self.wizard.ask(self, name, make, take, usable)

    def reckon(self, done: Callable[[Plan | Problems], None]) -> None:
        """Plan or judge what can be read of the answers."""
        self.ask(RECKONED, lambda session, stop: session.reckoned(stop), done, usable=True)

    def reckon_all(self, done: Callable[[Plan | Problems], None]) -> None:
        """Plan or judge the answers; those that cannot be read are in the way."""
        from engine.station.table import Problems

        problems = self.session.problems()
        if problems:
            done(Problems(problems))
        else:
            self.reckon(done)

    def failed(self, name: str, sentence: str) -> None:
        """Say that what was asked for under ``name`` cannot be worked out."""
        self.wizard.tell(sentence)

    def on_unmount(self) -> None:
        """Wait for nothing any more."""
        self.wizard.work.leave(self)


class Base(Asking[None]):
    """A screen of the wizard."""

    KEYS: ClassVar[tuple[Command, ...]] = ()
    """What can be done here."""

    def help_text(self) -> str:
        """What the help page says here."""
        return ""

    def action_help(self) -> None:
        """Open the help page."""
        from wizard.screens.page import Page

        here = [one for one in self.KEYS if self.check_action(one.action, ())]
        keys = [*keymap.lines((*here, *keymap.EVERYWHERE)), MOVING]
        self.app.push_screen(Page("Help", self.help_text(), keys))
