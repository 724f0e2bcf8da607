"""The step that lists the equipment as a table, edited in place."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import OptionList

from wizard.interview.document import understood
from wizard.interview.faults import unreadable
from wizard.interview.hints import Hints
from wizard.questions.question import Question
from wizard.screens import keymap
from wizard.screens.base import StepScreen
from wizard.screens.form import LoadForm
from wizard.screens.pick import Pick
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.drawn import Drawn
from wizard.screens.widgets.loads_table import LoadsTable
from wizard.screens.widgets.plain import Plain
from wizard.view.loads import CLASS, NAME, question_of

EMPTY = "Radios first, then the small things. Enter opens the list of classes; everyday words find one."
ROW = "Enter: all questions about this one.  Right: a cell.  F7: one more."
CELL = "Enter changes it here."


class Equipment(StepScreen):
    """What draws: add, change and remove."""

    KEYS = keymap.EQUIPMENT
    BINDINGS = keymap.bindings(KEYS)
    step_id = "loads"

    def __init__(self, adding: bool = False) -> None:
        super().__init__(classes="table")
        self.adding = adding

    @property
    def listed(self) -> LoadsTable:
        """The table."""
        return self.query_one(LoadsTable)

    def body(self) -> ComposeResult:
        """The heads, the rows with adding as the last, and a fixed place where a cell is edited."""
        with Vertical(id="form"):
            yield Drawn(id="head")
            yield LoadsTable(self.session)
            yield Vertical(id="cell")

    def on_mount(self) -> None:
        """Put the cursor on the table."""
        listed = self.listed
        listed.lay_out()
        listed.focus()
        if self.adding:
            self.call_after_refresh(self.action_add)

    def on_loads_table_moved(self) -> None:
        """Say what Enter does here, and what the cell is for."""
        listed = self.listed
        self.query_one("#head", Drawn).show_lines([listed.columns.head()] if self.session.rows("load") else [])
        self.query_one("#intro", Plain).say(self._about(listed.load, listed.column))
        self.refresh_bindings()

    def _about(self, load: int | None, column: str) -> str:
        if load is None:
            return EMPTY
        question = question_of(self.session, load, column)
        if column in (NAME, CLASS) or question is None:
            return ROW
        return f"{question.asks} {CELL}\n{question.where}"

    async def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens a piece, edits a cell, or adds one."""
        event.stop()
        listed = self.listed
        if event.option.id == "add":
            self.action_add()
            return
        question = question_of(self.session, event.option_index, listed.column)
        if listed.column in (NAME, CLASS) or question is None:
            self.wizard.to_load(event.option_index)
        else:
            await self._edit(question, event.option_index)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show which cell is meant, and which keys there are for this line."""
        event.stop()
        self.listed.mark()

    # -- editing a cell

    async def _edit(self, question: Question, index: int) -> None:
        """Ask for one answer in the fixed place beneath the table."""
        taken = Hints(self.session).of(question, index)
        choices = question.choices(self.session.shelf)
        answer = Answer(question, index, self.session.text(question, index), taken, choices)
        place = self.query_one("#cell", Vertical)
        await place.remove_children()
        await place.mount(answer)
        answer.again()
        self._echo(answer)

    def _echo(self, answer: Answer) -> None:
        problem = self.session.fault(self.session.problems(), answer.question, answer.index) if answer.text else None
        answer.echo(problem, understood(answer.question, answer.text))

    def on_answer_given(self, event: Answer.Given) -> None:
        """Take an answer into the session as it is typed."""
        event.stop()
        self.session.answer(event.answer.question, event.text, event.answer.index)
        self.wizard.changed()
        self._echo(event.answer)
        self.listed.mark()

    def on_answer_entered(self, event: Answer.Entered) -> None:
        """Enter leaves the cell; what cannot be read is asked again."""
        event.stop()
        asked = event.answer
        if asked.text.strip() and unreadable(self.session, asked.question, asked.index):
            asked.again()
        else:
            self._leave_cell()

    def _leave_cell(self) -> None:
        self.query_one("#cell", Vertical).remove_children()
        self.listed.focus()

    def action_back(self) -> None:
        """Out of a cell first, then the step before; what was typed stays."""
        if self.query(Answer):
            self._leave_cell()
        else:
            super().action_back()

    def action_unknown(self) -> None:
        """I don't know: empty the cell being edited."""
        for answer in self.query(Answer):
            answer.clear()

    # -- adding and removing

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only equipment can be taken out, not the line that adds."""
        if action == "remove" and self._highlighted() is None:
            return None
        return super().check_action(action, parameters)

    def _highlighted(self) -> int | None:
        """The piece of equipment under the cursor."""
        listed = next(iter(self.query(LoadsTable)), None)
        return listed.load if listed else None

    def action_add(self) -> None:
        """Pick a class of equipment."""
        self.app.push_screen(Pick(list(self.session.shelf.equipment.values())), self._picked)

    def _picked(self, name: str | None) -> None:
        if name is not None:
            index = self.session.add_load(name or None)
            self.wizard.changed()
            self.wizard.show(LoadForm(index))

    def action_remove(self) -> None:
        """Take the highlighted piece out; Undo brings it back."""
        place = self._highlighted()
        if place is not None:
            gone = self.session.rows("load")[place].get("id", "")
            self.session.remove_load(place)
            self.wizard.changed()
            self.wizard.to_step("loads")
            self.wizard.tell(f"{gone} is taken out; Undo brings it back")

    def help_text(self) -> str:
        """What this step wants."""
        return (
            "List everything that draws direct current from the same supply. Radios decide the size of the supply; "
            "small things add up and have windows of their own.\n\nPick a class, then correct its figures from the "
            "manual where you can: what you leave open is taken at the careful end of the class and written down."
        )
