"""What all steps share: the heading, the tally, going back and forth, undo, help and saving."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.screen import Screen
from textual.widgets import Button, Footer

from wizard.session import Session
from wizard.steps import STEPS, Step
from wizard.widgets.plain import Plain, plain
from wizard.widgets.tally import Tally

if TYPE_CHECKING:
    from wizard.app import ShackrailApp

NARROW, SHORT = 60, 16


class Base(Screen[None]):
    """A screen of the wizard."""

    @property
    def wizard(self) -> ShackrailApp:
        """The program."""
        return cast("ShackrailApp", self.app)

    @property
    def session(self) -> Session:
        """The station being described."""
        return self.wizard.session

    def help_text(self) -> str:
        """What the help page says here."""
        return ""

    def action_help(self) -> None:
        """Open the help page."""
        from wizard.screens.page import Page

        self.app.push_screen(Page("Help", self.help_text()))


class StepScreen(Base):
    """One step of the wizard, rebuilt from the session whenever it is shown."""

    step_id = "use"

    @property
    def step(self) -> Step:
        """The step shown."""
        return STEPS[self.step_id]

    @property
    def at(self) -> int:
        """The place of the step among those of the station."""
        return self.session.steps.index(self.session.nearest(self.step_id))

    def heading(self) -> str:
        """Where the owner is."""
        steps = self.session.steps
        name = str(self.session.document.get("name", "")) or "a station without a name"
        return f"{self.at + 1} of {len(steps)}  {self.step.title}  |  {name}"

    def compose(self) -> ComposeResult:
        """Heading, body, tally, buttons, footer."""
        yield Plain(self.heading(), id="heading")
        yield Plain(self.step.intro, id="intro")
        with Horizontal(id="middle"):
            yield from self.body()
            yield Tally("", id="tally")
        with Horizontal(id="buttons"):
            yield Button(plain("Back"), id="back", compact=True)
            yield Button(plain("Next"), id="next", compact=True)
        yield Footer(compact=True, show_command_palette=False)

    def body(self) -> ComposeResult:
        """What the step is about."""
        yield from ()

    def on_mount(self) -> None:
        """Start the tally. Textual calls this beside a subclass's own ``on_mount``."""
        self.wizard.refresh_tally()

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """Back and Next by mouse or Enter."""
        event.stop()
        if event.button.id == "back":
            self.action_back()
        elif event.button.id == "next":
            self.action_next()

    def action_back(self) -> None:
        """Go to the step before, or to the doors."""
        steps = self.session.steps
        place = self.at
        if place == 0:
            self.wizard.to_door()
        else:
            self.wizard.to_step(steps[place - 1])

    def action_next(self) -> None:
        """Go to the next step."""
        steps = self.session.steps
        place = self.at
        if place + 1 < len(steps):
            self.wizard.to_step(steps[place + 1])

    def action_jump(self) -> None:
        """Choose any step."""
        from wizard.screens.jump import Jump

        self.app.push_screen(Jump(self.session), self._jumped)

    def _jumped(self, step: str | None) -> None:
        if step:
            self.wizard.to_step(step)

    def action_undo(self) -> None:
        """Take the last answer back."""
        if self.session.undo():
            self.wizard.changed()
            self.wizard.to_step(self.step_id)
        else:
            self.wizard.tell("nothing to take back")

    def action_save(self) -> None:
        """Save the profile."""
        from wizard.screens.save import Save

        self.app.push_screen(Save(self.session))
