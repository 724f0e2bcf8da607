"""A step made of questions: one screen for all of them."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.events import DescendantFocus

from engine.terms import PowerInput
from wizard import questions
from wizard.interview import steps
from wizard.interview.document import understood
from wizard.interview.faults import unreadable
from wizard.interview.hints import Hints
from wizard.interview.steps import JUDGE
from wizard.questions.question import Question
from wizard.questions.uses import CHOOSE, DESCRIBE, FOLDS, USES
from wizard.screens import keymap
from wizard.screens.base import StepScreen
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.cards import Cards, CardsAnswer
from wizard.screens.widgets.plain import Plain
from wizard.view.loads import class_of


class Form(StepScreen):
    """Questions one below the other, with the help of the one in focus beneath."""

    KEYS = keymap.FORM
    BINDINGS = keymap.bindings(KEYS)

    def __init__(self) -> None:
        super().__init__(classes="form")

    def asked(self) -> Iterator[tuple[str, Question, int]]:
        """The questions: a heading for each group, the question, and which row it is about."""
        for question in self.session.asked(self.step_id):
            yield "", question, 0

    def body(self) -> ComposeResult:
        """The questions."""
        with VerticalScroll(id="form", can_focus=False):
            group, some, hints = "", False, Hints(self.session)
            for heading, question, index in self.asked():
                some = True
                if heading and heading != group:
                    group = heading
                    yield Plain(heading, classes="group")
                yield self.field(question, index, hints.of(question, index))
            if not some:
                yield Plain("Add your equipment first: each piece gets a lead here.", classes="group")

    def field(self, question: Question, index: int, taken: str) -> Answer:
        """A question with its field."""
        return Answer(question, index, self.session.text(question, index), taken, question.choices(self.session.shelf))

    def on_mount(self) -> None:
        """Show what was understood, and put the cursor into the first field."""
        self.echo()
        answers = list(self.query(Answer))
        meant = [one for one in answers if one.question.place(one.index) == self.session.focus]
        self.session.focus = None
        for answer in (meant or self.beginning(answers))[:1]:
            self.set_focus(answer.field)

    def beginning(self, answers: list[Answer]) -> list[Answer]:
        """The answers, beginning with the one that is asked first."""
        return answers

    def echo(self) -> None:
        """What every answer was understood as, or what is wrong with it."""
        problems = self.session.problems()
        for answer in self.query(Answer):
            asked = answer.text or answer.question.key == "id"
            problem = self.session.fault(problems, answer.question, answer.index) if asked else None
            answer.echo(problem, understood(answer.question, answer.text))

    def unreadable(self, answer: Answer) -> bool:
        """Whether an answer must be typed again, whatever the others say."""
        asked = bool(answer.text.strip()) or answer.question.key == "id"
        return asked and unreadable(self.session, answer.question, answer.index)

    def on_answer_given(self, event: Answer.Given) -> None:
        """Take an answer into the session."""
        event.stop()
        self.session.answer(event.answer.question, event.text, event.answer.index)
        self.wizard.changed()
        self.echo()

    def on_answer_entered(self, event: Answer.Entered) -> None:
        """Enter goes to the next question, from the last one to Next; what cannot be read is asked again."""
        event.stop()
        if self.unreadable(event.answer):
            event.answer.again()
        elif event.answer is list(self.query(Answer))[-1]:
            self.query_one("#next").focus()
        else:
            self.focus_next()

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Keep the question in focus in sight, and the hardware cursor with it for screen readers."""
        answer = self.focused_answer()
        if answer:
            answer.scroll_visible(animate=False)
            asked = answer.question
            self.query_one("#intro", Plain).say(f"{asked.asks}\n{asked.why}\nFind it: {asked.where}")

    def focused_answer(self) -> Answer | None:
        """The question in focus."""
        here = self.focused
        return next((one for one in here.ancestors if isinstance(one, Answer)), None) if here else None

    def action_unknown(self) -> None:
        """I don't know: empty the answer in focus."""
        answer = self.focused_answer()
        if answer:
            answer.clear()

    def help_text(self) -> str:
        """The help of the question in focus."""
        answer = self.focused_answer()
        if answer is None:
            return self.step.intro
        asked = answer.question
        lines = [
            asked.asks,
            "",
            asked.why,
            "",
            f"Where to find it: {asked.where}",
            f"Write for example: {asked.example}",
        ]
        if answer.taken:
            lines.append(f"While it is open: {answer.taken}")
        return "\n".join(lines)


class Use(Form):
    """The first step: a name, and the use as cards."""

    step_id = "use"

    def field(self, question: Question, index: int, taken: str) -> Answer:
        """A question with its field; the use is chosen among cards."""
        if question.key != "use":
            return super().field(question, index, taken)
        return CardsAnswer(question, index, self.session.text(question, index), "at home", USES)

    def on_answer_entered(self, event: Answer.Entered) -> None:
        """A card that is taken is the last answer here: go on."""
        if isinstance(event.answer, CardsAnswer):
            event.stop()
            event.prevent_default()
            self.action_next()


class Folded(Form):
    """A step that the plan can do without: its questions are folded until somebody wants them, or has answered."""

    def __init__(self, opened: bool = False) -> None:
        super().__init__()
        self.opened = opened

    @property
    def folded(self) -> bool:
        """Whether only the two ways to go on are shown."""
        asked = self.session.asked(self.step_id)
        meant = self.session.focus is not None and any(one.place(0) == self.session.focus for one in asked)
        return not (self.opened or meant or any(self.session.text(one) for one in asked)) and self.foldable

    @property
    def foldable(self) -> bool:
        """Whether the plan chooses here."""
        return self.session.mode != JUDGE

    def body(self) -> ComposeResult:
        """The questions, or the two ways to go on."""
        if not self.folded:
            self.opened = True
            yield from super().body()
            return
        with VerticalScroll(id="form", can_focus=False):
            yield Cards(FOLDS[self.step_id], CHOOSE, id="fold")

    def on_mount(self) -> None:
        """Choose at once."""
        for fold in self.query(Cards):
            fold.focus()

    def on_cards_taken(self, event: Cards.Taken) -> None:
        """Go on, or open the questions."""
        event.stop()
        if event.key == DESCRIBE:
            self.wizard.show(type(self)(opened=True))
        else:
            self.action_next()


class SupplyForm(Folded):
    """The supply."""

    step_id = "supply"


class VehicleForm(Form):
    """The vehicle."""

    step_id = "vehicle"


class BatteryForm(Folded):
    """The battery."""

    step_id = "battery"


class SunForm(Folded):
    """The panels."""

    step_id = "sun"

    @property
    def foldable(self) -> bool:
        """Without panels there is nothing to say of the sun, whatever the door."""
        return True


class SiteForm(Form):
    """The site."""

    step_id = "site"


class WishesForm(Form):
    """The wishes."""

    step_id = "wishes"


class Leads(Form):
    """One lead to each load that takes direct current."""

    step_id = "leads"

    def asked(self) -> Iterator[tuple[str, Question, int]]:
        """The questions about each lead."""
        asked = steps.leads(self.session.mode, self.session.document, self.session.shelf)
        for index, load in enumerate(self.session.rows("load")):
            row = class_of(self.session, index)
            if row and row.feed != PowerInput.DC:
                continue
            for question in asked:
                yield f"The lead to {load.get('id', '')}", question, index


class LoadForm(Form):
    """One piece of equipment."""

    step_id = "loads"

    def __init__(self, index: int) -> None:
        super().__init__()
        self.index = self.load = index

    def asked(self) -> Iterator[tuple[str, Question, int]]:
        """The questions that suit this kind of equipment."""
        row = class_of(self.session, self.index)
        for question in questions.LOAD:
            if question.key in steps.pointless(row):
                continue
            yield row.title if row else "Equipment with figures of its own", question, self.index

    def action_back(self) -> None:
        """Back to the list of equipment."""
        self.wizard.to_step("loads")

    def action_next(self) -> None:
        """Done with this piece: back to the list."""
        self.wizard.to_step("loads")

    def action_undo(self) -> None:
        """Take the last answer back; the list if the piece itself is gone."""
        if self.session.undo():
            self.wizard.changed()
            there = self.index < len(self.session.rows("load"))
            self.wizard.show(LoadForm(self.index)) if there else self.wizard.to_step("loads")
