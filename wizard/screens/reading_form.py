"""One meter reading: where, in which state, what was shown, and by what."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from wizard.interview import readings
from wizard.questions.question import Question
from wizard.questions.readings import asked
from wizard.screens.form import Form
from wizard.screens.widgets.answer import Answer
from wizard.view.frame import task_line
from wizard.view.span import Line

TAKEN = {
    "keyed": "the one at the place of the reading",
    "amps": "what the equipment is stated to draw, give or take",
    "instrument": "an ordinary hand-held digital multimeter",
    "amps_instrument": "a clamp, or the supply's own meter",
    "leg": "both legs together",
}
"""What is taken while an answer is open."""


class ReadingForm(Form):
    """The questions about one reading."""

    step_id = "result"
    tallied = railed = False

    def __init__(self, index: int, hint: str = "") -> None:
        super().__init__()
        self.index, self.hint = index, hint

    def top(self, width: int) -> Line:
        """Which reading of which station."""
        return task_line(self.session, f"reading {self.index + 1}", width)

    def asked(self) -> Iterator[tuple[str, Question, int]]:
        """The questions of a reading."""
        for question in asked(self.session.document, self.session.shelf):
            yield "", question, self.index

    def body(self) -> ComposeResult:
        """The questions, the place as one of its own."""
        shelf = self.session.shelf
        with VerticalScroll(id="form", can_focus=False):
            for _, question, index in self.asked():
                text = self._text(question)
                yield Answer(question, index, text, TAKEN.get(question.key, ""), question.choices(shelf))

    def _text(self, question: Question) -> str:
        rows = self.session.rows(readings.TABLE)
        if question.key == "at" and self.index < len(rows):
            return readings.place_of(rows[self.index])
        return self.session.text(question, self.index)

    def beginning(self, answers: list[Answer]) -> list[Answer]:
        """Begin at what the meter showed where the place is known already."""
        known = any(one.question.key == "at" and one.text for one in answers)
        return [one for one in answers if one.question.key == ("volts" if known else "at")]

    def on_answer_given(self, event: Answer.Given) -> None:
        """Take an answer into the session; a place may name a part of a lead."""
        if event.answer.question.key != "at":
            super().on_answer_given(event)
            return
        event.prevent_default()
        event.stop()
        readings.set_place(self.session, self.index, event.text)
        self.wizard.changed()
        self.echo()

    def action_back(self) -> None:
        """Done with this reading: back to the list. What was answered stays; what is wanting is said."""
        wanting = readings.missing(self.session, self.index)
        self.wizard.to_readings(self.hint)
        if wanting:
            words = "; ".join(dict.fromkeys(self.session.place(one).words for one in wanting))
            self.wizard.tell(f"kept, and not counted yet: {words}")

    def action_next(self) -> None:
        """Done with this reading."""
        self.action_back()

    def action_undo(self) -> None:
        """Take the last answer back; the list if the reading itself is gone."""
        if self.session.undo():
            self.wizard.changed()
            there = self.index < len(self.session.rows(readings.TABLE))
            self.wizard.show(ReadingForm(self.index, self.hint)) if there else self.wizard.to_readings(self.hint)
