"""What a meter showed: the readings of a station, what they show together, and what to measure next."""

from __future__ import annotations

from datetime import date

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Button, OptionList
from textual.widgets.option_list import Option

from engine.diagnosis.result import Diagnosis
from engine.planning.judge import Stop
from wizard.interview import readings
from wizard.interview.session import Session
from wizard.papers.bench import CARE, diagnosis_lines
from wizard.screens import keymap
from wizard.screens.base import StepScreen
from wizard.screens.page import Page, page_width
from wizard.screens.widgets.drawn import Drawn
from wizard.screens.widgets.foot import Foot
from wizard.screens.widgets.plain import Plain, plain
from wizard.view.frame import task_line
from wizard.view.span import Line

HOW = "Enter on a line changes it. Two readings tell most: at the supply and at the radio, both while it is keyed."


class Readings(StepScreen):
    """The list of readings, and beneath it what they show."""

    KEYS = keymap.READINGS
    BINDINGS = keymap.bindings(KEYS)
    step_id = "result"
    tallied = railed = False

    def __init__(self, hint: str = "") -> None:
        super().__init__()
        self.hint = hint
        self.found: Diagnosis | None = None

    def top(self, width: int) -> Line:
        """Where the owner is."""
        return task_line(self.session, "what a meter showed", width)

    def compose(self) -> ComposeResult:
        """Heading, what to do, the readings, the diagnosis, buttons."""
        yield Drawn(id="heading")
        yield Drawn(id="steps")
        yield Plain("Working it out ...", id="intro")
        with Vertical(id="readings"):
            yield OptionList(*self._options(), id="read", markup=False)
            with VerticalScroll(id="detail"):
                yield Plain("", id="why")
        with Horizontal(id="buttons"):
            yield Button(plain("Back"), id="back", compact=True)
            yield Button(plain("Result"), id="next", compact=True)
        yield Foot()

    def _options(self) -> list[Option]:
        rows = [Option(plain(readings.summary(row))) for row in self.session.rows(readings.TABLE)]
        return [*rows, Option(plain("+ add what the meter showed"), id="add")]

    def on_mount(self) -> None:
        """Put the cursor on the list, and work out what the readings show."""
        listed = self.query_one("#read", OptionList)
        listed.focus()
        listed.highlighted = listed.option_count - 1
        self.ask("readings", _work, self._worked_out)

    def failed(self, name: str, sentence: str) -> None:
        """Say so where the diagnosis was to stand."""
        self.query_one("#intro", Plain).say(f"! {sentence}")

    def _worked_out(self, made: tuple[Diagnosis | None, int]) -> None:
        self.found, unread = made
        begun = bool(self.session.rows(readings.TABLE))
        words = [readings.what_next(self.found) if begun and self.found else HOW]
        if self.found is None:
            words = [f"{readings.NO_LOADS} F5 leads there."]
        if unread:
            words.insert(0, self._not_counted(unread))
        if self.hint:
            words.append(f"To be decided: {self.hint}.")
        self.query_one("#intro", Plain).say("\n".join(words))
        self.query_one("#why", Plain).say("\n".join([*self._shown(self.size.width - 5), "", CARE[0]]))

    def _not_counted(self, unread: int) -> str:
        """How many readings are kept and not counted, and what the first of them lacks."""
        said = f"! {unread} of the readings {'is' if unread == 1 else 'are'} kept and not counted yet"
        for one in readings.missing(self.session)[:1]:
            return f"{said}. {self.session.place(one).words} {one.what}; {one.instead}."
        return f"{said}."

    def _shown(self, width: int) -> list[str]:
        name = str(self.session.document.get("name", "")) or "the station"
        return list(diagnosis_lines(name, self.found, max(width, 40))) if self.found else []

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter changes a reading, or adds one."""
        event.stop()
        if event.option.id == "add":
            self.action_add()
        else:
            self._open(event.option_index)

    def _open(self, index: int) -> None:
        from wizard.screens.reading_form import ReadingForm

        self.wizard.show(ReadingForm(index, self.hint))

    def action_add(self) -> None:
        """Add a reading where it would tell most."""
        index = readings.add(self.session, self.found, date.today())
        self.wizard.changed()
        self._open(index)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only a reading can be taken out, not the line that adds."""
        if action == "remove" and self._highlighted() is None:
            return None
        return super().check_action(action, parameters)

    def _highlighted(self) -> int | None:
        """The reading under the cursor."""
        listed = next(iter(self.query("#read").results(OptionList)), None)
        place = listed.highlighted if listed else None
        return place if place is not None and place < len(self.session.rows(readings.TABLE)) else None

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show which keys there are for this line."""
        event.stop()
        self.refresh_bindings()

    def action_remove(self) -> None:
        """Take the highlighted reading out; Undo brings it back."""
        place = self._highlighted()
        if place is not None:
            readings.remove(self.session, place)
            self.wizard.changed()
            self.wizard.to_readings(self.hint)
            self.wizard.tell("the reading is taken out; Undo brings it back")

    def action_undo(self) -> None:
        """Take the last change back."""
        if self.session.undo():
            self.wizard.changed()
            self.wizard.to_readings(self.hint)
        else:
            self.wizard.tell("nothing to take back")

    def action_back(self) -> None:
        """Back to the step that the station is on."""
        self.wizard.to_step(self.session.step)

    def action_next(self) -> None:
        """The verdict on the station."""
        self.wizard.to_step("result")

    def action_working(self) -> None:
        """The whole diagnosis on a page of its own."""
        self.app.push_screen(Page("All", "\n".join([*self._shown(page_width(self.size.width)), "", *CARE[:3]])))

    def help_text(self) -> str:
        """How to measure, and what this screen does with it."""
        return (
            "Type what a meter showed, one reading after another. Beneath the list stands what they show together: "
            "the part at fault, or the measurement that would tell most; adding a reading begins with that one.\n\n"
            + "\n".join(CARE[:3])
            + "\n\nF10 saves the readings with the station; those of a later day are held against them. "
            "F4 shows the verdict on the station as it is described, F5 leads to its description."
        )


def _work(session: Session, _stop: Stop) -> tuple[Diagnosis | None, int]:
    return readings.diagnosed(session)
