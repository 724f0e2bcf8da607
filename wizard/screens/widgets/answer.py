"""One question on the screen: what is asked, the answer, and what was understood or what is wrong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Select

from engine.characters import escaped
from engine.station.table import Problem
from wizard.questions.question import NOT_KNOWN, Question
from wizard.screens.widgets.plain import Line, Plain, plain


class Answer(Vertical):
    """A question and its field."""

    class Given(Message):
        """The owner changed the answer."""

        def __init__(self, answer: Answer, text: str) -> None:
            super().__init__()
            self.answer, self.text = answer, text

    class Entered(Message):
        """The owner pressed Enter in the field."""

        def __init__(self, answer: Answer) -> None:
            super().__init__()
            self.answer = answer

    def __init__(
        self, question: Question, index: int, text: str, taken: str, choices: Sequence[tuple[str, str]] = ()
    ) -> None:
        super().__init__(classes="answer")
        self.question, self.index, self.text, self.taken, self.choices = question, index, text, taken, choices

    def compose(self) -> ComposeResult:
        """The question, its field, and the line beneath."""
        with Horizontal(classes="line"):
            yield Plain(self.question.label or self.question.asks, classes="asks")
            yield from self._field()
            yield Plain("", classes="echo")

    def _field(self) -> Iterator[Widget]:
        if self.choices and (not self.text or any(key == self.text for key, _ in self.choices)):
            yield Select(
                [(plain(says), key) for key, says in self.choices],
                prompt=NOT_KNOWN,
                value=self.text or Select.NULL,
                compact=True,
                classes="field",
            )
        else:
            yield Line(
                self.text,
                placeholder=f"e.g. {self.question.example}",
                compact=True,
                select_on_focus=False,
                classes="field",
            )

    @property
    def field(self) -> Widget:
        """The widget that takes the focus."""
        return self.query_one(".field")

    def echo(self, problem: Problem | None, understood: str) -> None:
        """Say what was understood, what is wrong, or what is taken while the answer is open."""
        line = self.query_one(".echo", Plain)
        line.set_class(problem is not None, "wrong")
        if problem is not None:
            line.say(f"! {problem.what}; {problem.instead}")
        elif self.text:
            line.say(understood)
        else:
            line.say(f"assumed {self.taken}" if self.taken else "open")

    def clear(self) -> None:
        """Empty the field."""
        field = self.field
        if isinstance(field, Select):
            field.clear()
        elif isinstance(field, Input):
            field.value = ""

    def again(self) -> None:
        """Ask for it once more: the text selected, so that typing replaces it."""
        field = self.field
        field.focus()
        if isinstance(field, Input):
            field.select_all()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Pass a typed answer on."""
        event.stop()
        self._give(event.value)

    def on_select_changed(self, event: Select.Changed) -> None:
        """Pass a chosen answer on."""
        event.stop()
        self._give("" if event.value is Select.NULL else str(event.value))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter: whoever asks goes on, or asks again."""
        event.stop()
        self.post_message(self.Entered(self))

    def _give(self, text: str) -> None:
        if text != escaped(self.text):
            self.text = text
            self.post_message(self.Given(self, text))
