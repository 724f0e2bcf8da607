"""What I notice: symptoms, the causes that each may have, and what tells them apart."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Button, OptionList
from textual.widgets.option_list import Option

from engine.parts import Shelf, Symptom, SymptomCause
from wizard.interview.session import Session
from wizard.papers.symptoms import NO_POWER_PROBLEM
from wizard.screens import keymap
from wizard.screens.asking import Base
from wizard.screens.choose_station import Which
from wizard.screens.widgets.foot import Foot
from wizard.screens.widgets.plain import Plain, plain

INTRO = "What do you notice? Enter opens its causes; beneath stands what to do before anything else."
CAUSES = "The likeliest first. Beneath stands what tells it from the others. Enter or F8: measure it."


class Symptoms(Base):
    """The list of symptoms; with one of them, the list of its causes."""

    KEYS = keymap.SYMPTOMS
    BINDINGS = keymap.bindings(KEYS)

    def __init__(self, symptom: Symptom | None = None) -> None:
        super().__init__()
        self.symptom = symptom
        self.place = 0

    def compose(self) -> ComposeResult:
        """Heading, what to do, the list, what is behind its line."""
        yield Plain(f"What I notice{': ' + self.symptom.title if self.symptom else ''}", id="heading")
        yield Plain(f"First: {self.symptom.first}\n{CAUSES}" if self.symptom else INTRO, id="intro")
        with Vertical(id="notice"):
            yield OptionList(*self._options(), id="lines", markup=False)
            with VerticalScroll(id="detail"):
                yield Plain("", id="why")
        with Horizontal(id="buttons"):
            yield Button(plain("Back"), id="back", compact=True)
            yield Button(plain("Measure"), id="measure", compact=True)
        yield Foot()

    def _options(self) -> list[Option]:
        if self.symptom is None:
            return [Option(plain(one.title), id=one.id) for one in self.wizard.shelf.symptoms.values()]
        return [Option(plain(f"{n}. {_title(one)}")) for n, one in enumerate(self.symptom.causes, 1)]

    def on_mount(self) -> None:
        """Put the cursor on the list."""
        listed = self.query_one("#lines", OptionList)
        listed.focus()
        listed.highlighted = 0

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what is behind the line."""
        event.stop()
        self.place = event.option_index
        shelf = self.wizard.shelf
        if self.symptom:
            text = behind(self.symptom.causes[self.place], shelf)
        else:
            row = list(shelf.symptoms.values())[self.place]
            text = f"First: {row.first}\n\n{len(row.causes)} causes: {'; '.join(one.cause for one in row.causes)}."
        self.query_one("#why", Plain).say(text)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens a symptom's causes, or measures a cause."""
        event.stop()
        if self.symptom is None:
            self.wizard.show(Symptoms(list(self.wizard.shelf.symptoms.values())[event.option_index]))
        else:
            self.action_measure()

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """Back and Measure by mouse or Enter."""
        event.stop()
        self.action_back() if event.button.id == "back" else self.action_measure()

    def action_back(self) -> None:
        """From the causes to the symptoms, from there to the doors."""
        self.wizard.show(Symptoms()) if self.symptom else self.wizard.to_door()

    def action_measure(self) -> None:
        """Choose the station that was measured, and go on with its readings."""
        hint = self.symptom.causes[self.place].ask if self.symptom else ""
        self.app.push_screen(Which(), lambda chosen: self._chosen(chosen, hint))

    def _chosen(self, session: Session | None, hint: str) -> None:
        if session is not None:
            self.wizard.measure(session, hint)

    def help_text(self) -> str:
        """How to read this screen."""
        return (
            "Choose what you notice, then look through the causes: each with what tells it from the others, the "
            "measurement or question that decides, and what then to do. Most power troubles are told apart by volts "
            "at both ends of the lead while transmitting; F8 takes them and says what they show.\n\n"
            "A cause that is no lack of power is marked so: thicker cable will not help there."
        )


def _title(one: SymptomCause) -> str:
    return f"{one.cause}{' (not a lack of power)' if one.about in NO_POWER_PROBLEM else ''}"


def behind(one: SymptomCause, shelf: Shelf) -> str:
    """What tells a cause apart, what decides, what then to do, and who says so."""
    lines = [f"It is this if: {one.apart}.", f"What decides: {one.ask}.", f"Then: {one.then}."]
    return "\n".join([*lines, f"Basis: {shelf.sources[one.source].title}."])
