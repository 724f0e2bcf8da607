"""What all steps share: the heading, the tally, going back and forth, undo, help and saving."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.timer import Timer
from textual.widgets import Button

from engine.planning.plan import Plan
from engine.station.table import Problems
from wizard.interview.steps import JUDGE, STEPS, Step
from wizard.screens.asking import RECKONED, WIDE, Base
from wizard.screens.widgets.drawn import Drawn
from wizard.screens.widgets.foot import Foot
from wizard.screens.widgets.plain import Plain, plain
from wizard.screens.widgets.tally import Tally
from wizard.view import frame
from wizard.view.span import Line

RAIL = 22
"""The columns of the rail until it is laid out."""


class StepScreen(Base):
    """One step of the wizard, rebuilt from the session whenever it is shown."""

    step_id = "use"
    tallied = True
    """Whether the running tally stands here."""

    railed = True
    """Whether the steps stand at the left where there is room."""

    load: int | None = None
    """The piece of equipment that is described here."""

    outcome = ""
    """What the station comes to, once that is worked out."""

    _soon: Timer | None = None

    @property
    def step(self) -> Step:
        """The step shown."""
        return STEPS[self.step_id]

    @property
    def at(self) -> int:
        """The place of the step among those of the station."""
        return self.session.steps.index(self.session.nearest(self.step_id))

    def top(self, width: int) -> Line:
        """The line at the top: the station, and what is known of it in a few words."""
        return frame.top_line(self.session, width)

    def compose(self) -> ComposeResult:
        """Top line and steps, rail, body, drawing, buttons, footer."""
        yield Drawn(id="heading")
        yield Drawn(id="steps")
        with Horizontal(id="middle"):
            if self.railed:
                yield Drawn(id="rail")
            with Vertical(id="centre"):
                yield Plain(self.step.intro, id="intro")
                yield from self.body()
            if self.tallied:
                yield Tally(id="tally")
        yield from self.buttons()
        yield Foot()

    def buttons(self) -> ComposeResult:
        """Back and Next, and what else is one key away."""
        with Horizontal(id="buttons"):
            yield Button(plain("Back"), id="back", compact=True)
            yield Button(plain("Next"), id="next", compact=True)
            yield Plain("", id="enough")

    def body(self) -> ComposeResult:
        """What the step is about."""
        yield from ()

    def on_mount(self) -> None:
        """Fill the frame, start the tally. Textual calls this beside a subclass's own ``on_mount``."""
        self.set_class(self.railed, "railed")
        self.refresh_frame()
        self.refresh_tally()

    def on_resize(self) -> None:
        """Fit frame and tally into their new place."""
        self.refresh_frame()
        self.refresh_tally()

    # -- the frame

    def refresh_frame(self) -> None:
        """Top line, steps and rail as the answers are now."""
        if not self.is_mounted:
            return
        self.set_class(not self.session.rows("load"), "bare")
        width, here = max(self.size.width - 2, 10), self.session.nearest(self.step_id)
        self.query_one("#heading", Drawn).show_lines([self.top(width)])
        self.query_one("#steps", Drawn).show_lines([frame.steps_line(self.session, here, width)])
        for rail in self.query("#rail").results(Drawn):
            columns = rail.content_size.width or RAIL
            rail.show_lines(frame.rail(self.session, here, columns, self.outcome, self.load))
        for said in self.query("#enough").results(Plain):
            said.say(self.enough())

    def enough(self) -> str:
        """That the plan is one key away, once something draws current."""
        if not self.session.rows("load"):
            return ""
        made = "verdict" if self.session.mode == JUDGE else "plan"
        more = " and said; each answer sharpens it" if self.size.width >= WIDE else ""
        return f"F9: the {made}; what is open is assumed{more}."

    def on_drawn_pointed(self, event: Drawn.Pointed) -> None:
        """The mouse chose a step, or a piece of equipment, in the frame."""
        if event.control.id not in ("rail", "steps"):
            return
        event.stop()
        step, _, place = event.part.partition(":")
        if event.part == frame.ADD:
            self.wizard.add_load()
        elif place:
            self.wizard.to_load(int(place))
        else:
            self.wizard.to_step(step)

    # -- the tally

    def refresh_tally(self) -> None:
        """Work the tally out soon, once for a burst of typing; the one under way is out of date."""
        if not self.tallied:
            return
        self.wizard.work.forget(self, RECKONED)
        if self._soon is not None:
            self._soon.stop()
        self._soon = self.set_timer(max(self.wizard.debounce, 0.001), self._work_tally)

    def _work_tally(self) -> None:
        box = self.query_one(Tally)
        if not box.display:
            return
        if box.is_empty:
            box.say("working it out ...")
        self.reckon(self._show_tally)

    def _show_tally(self, made: Plan | Problems) -> None:
        self.query_one(Tally).show_tally(self.session, made)
        self.outcome = "" if isinstance(made, Problems) else str(made.verdict.outcome)
        self.refresh_frame()

    def failed(self, name: str, sentence: str) -> None:
        """A tally that fails says so in its own place."""
        if self.tallied and name == RECKONED:
            self.query_one(Tally).say(f"! {sentence}")
        else:
            super().failed(name, sentence)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Without equipment there is no plan to show."""
        return None if action == "plan" and not self.session.rows("load") else True

    # -- moving about

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

    def action_plan(self) -> None:
        """The plan or the verdict at once, whatever is still open."""
        self.wizard.to_step("result")

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

        self.app.push_screen(Save())
