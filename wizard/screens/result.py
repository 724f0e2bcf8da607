"""The plan or the verdict: what to buy, the volts, the findings, the switching order, and what was assumed."""

from __future__ import annotations

from collections.abc import Iterator

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical, VerticalScroll
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from engine.advice.tolerances import Reach, reach
from engine.findings import SOUND, UNSOUND
from engine.model.heat import heat
from engine.planning.plan import Plan
from engine.planning.repair import Mending
from engine.station.table import Problem, Problems
from wizard.interview.session import Session
from wizard.interview.steps import JUDGE
from wizard.papers.words import heat_line, terminal_line
from wizard.screens import keymap
from wizard.screens.asking import RECKONED
from wizard.screens.base import StepScreen
from wizard.screens.list_line import Line
from wizard.screens.mend import carried, mended
from wizard.screens.page import Page, page_width
from wizard.screens.papers import More
from wizard.screens.result_lines import assumed, bought, care, findings, switching, tabs
from wizard.screens.widgets.drawn import Drawn
from wizard.screens.widgets.plain import Plain, plain
from wizard.view.drawing import windows
from wizard.view.scene import Scene
from wizard.view.span import MARK
from wizard.view.span import Line as Spans
from wizard.view.station import draw
from wizard.view.summary import cost, summary
from wizard.view.volts import drawings

SECTIONS = ("Buy", "Volts", "Findings", "Order", "Assumed", "Care", "Limits")
FINDINGS, LIMITS = "Findings", "Limits"
FEW = 4
"""Fewer sound findings than this need no folding."""

FOLD = "_sound"
FOLDED = "Each was asked of this station and holds with what is to spare."
MEND = "Mend"
"""What stands in the place of Buy when a station is judged."""


class Result(StepScreen):
    """Short lists, with the reason for each line beneath."""

    KEYS = keymap.RESULT
    BINDINGS = [
        *keymap.bindings(keymap.RESULT),
        *[Binding(str(number), f"section({number - 1})", show=False) for number in range(1, len(SECTIONS) + 1)],
        Binding("left", "turn(-1)", show=False),
        Binding("right", "turn(1)", show=False),
    ]
    step_id = "result"
    tallied = railed = False

    def __init__(self) -> None:
        super().__init__()
        self.section = 0
        self.made: Plan | None = None
        self.mend: Mending | None = None
        self.mending = False
        self.reach: tuple[Reach, ...] | None = None
        self.opened = False
        self.fitted = 0
        self.unworked: dict[str, str] = {}
        self.faults: tuple[Problem, ...] = ()
        self.lines: list[Line] = []
        self.drawing: list[Spans] = []

    def body(self) -> ComposeResult:
        """The list and the detail."""
        with Vertical(id="result"):
            yield Plain("", id="verdict")
            yield Drawn(id="drawing")
            yield Drawn(id="sections")
            with Vertical(id="below"):
                yield OptionList(markup=False, id="lines")
                with VerticalScroll(id="detail"):
                    yield Plain("", id="why")

    def on_mount(self) -> None:
        """Work the station out in the background."""
        self.query_one("#next").display = False
        self.query_one("#intro", Plain).say("Working it out ...")
        self.query_one("#lines", OptionList).focus()
        self.reckon_all(self._worked_out)

    def failed(self, name: str, sentence: str) -> None:
        """Say so where the answer was to stand."""
        if name == RECKONED:
            self.query_one("#intro", Plain).say(f"! {sentence}")
            return
        self.unworked[name] = sentence
        self._arrived(0 if name == "mend" else SECTIONS.index(LIMITS))

    def _worked_out(self, made: Plan | Problems) -> None:
        intro = self.query_one("#intro", Plain)
        if isinstance(made, Problems):
            self.faults = made.found
            intro.say("Not yet: these answers are in the way. Enter on one goes to its step.")
        else:
            self.made = made
            keys = ["F8: type what a meter showed here.  F7: papers to print."] if self.session.mode == JUDGE else []
            intro.say("\n".join([*made.notes[:4], *keys]))
            intro.display = bool(made.notes or keys)
            self._picture()
            self.call_after_refresh(self._fitted)
            if self.session.mode == JUDGE and made.verdict.outcome != UNSOUND:
                self.section = 2
            elif self.session.mode == JUDGE:
                self.mending = True
                self.ask("mend", Session.mended, self._mended)
        self.show_section()

    def on_resize(self) -> None:
        """Draw the station and lay its table out anew for the new width."""
        self.refresh_frame()
        self._picture()
        self.call_after_refresh(self._fitted)

    def _fitted(self) -> None:
        """The table fits the list once the list has its place."""
        width = self.query_one("#lines").content_size.width
        if self.made is not None and not self.section and width and width != self.fitted:
            place = self.query_one("#lines", OptionList).highlighted
            self.show_section()
            self.query_one("#lines", OptionList).highlighted = place

    def _picture(self) -> None:
        """The verdict across the whole width, and the station drawn below it."""
        if self.made is None:
            return
        verdict, size = self.made.verdict, self.size
        said = self.query_one("#verdict", Plain)
        parts = (f" {MARK[verdict.outcome]} {verdict.outcome.upper()}", summary(verdict), cost(verdict))
        said.say("   ".join(filter(None, parts)))
        said.set_classes(str(verdict.outcome))
        room = max(size.height * 2 // 5 - 2, 3)
        self.drawing = draw(Scene(verdict), max(size.width - 4, 20), room)
        self.query_one("#drawing", Drawn).show_lines(self.drawing)

    def on_drawn_pointed(self, event: Drawn.Pointed) -> None:
        """The mouse chose a section, or a part of the drawing: what is to be bought for it, else what is found."""
        if event.control.id == "sections":
            event.stop()
            self.action_section(int(event.part))
        elif event.control.id == "drawing":
            event.stop()
            self._go_to_part(event.part)

    def _go_to_part(self, part: str) -> None:
        """Turn to the first line about a part, in the section shown, among what is bought, or among the findings."""
        before = self.section, self.opened
        for section in dict.fromkeys((self.section, 0, SECTIONS.index(FINDINGS))):
            self.section, self.opened = section, True
            place = next((number for number, line in enumerate(self._section()) if line.part == part), None)
            if place is not None:
                self.show_section()
                self.query_one("#lines", OptionList).highlighted = place
                return
        self.section, self.opened = before

    def _mended(self, mend: Mending | None) -> None:
        self.mend, self.mending = mend, False
        self._arrived(0)

    def _reached(self, found: tuple[Reach, ...]) -> None:
        self.reach = found
        self._arrived(SECTIONS.index(LIMITS))

    def _arrived(self, section: int) -> None:
        """Show what was worked out, if its section is still the one in sight."""
        if self.section == section:
            self.show_section()

    def show_section(self) -> None:
        """Fill the list with the section's lines."""
        first = MEND if self.session.mode == JUDGE else SECTIONS[0]
        titles = (first, *SECTIONS[1:])
        self.query_one("#sections", Drawn).show_lines([tabs(titles, self.section)])
        self.lines = list(self._section())
        if not self.lines:
            self.lines = [Line("nothing here", "")]
        listed = self.query_one("#lines", OptionList)
        listed.clear_options()
        listed.add_options(Option(plain(line.title)) for line in self.lines)
        listed.highlighted = 0 if self.lines else None
        self._detail(0)

    def _section(self) -> Iterator[Line]:
        if self.faults:
            yield from (self._fault(one) for one in self.faults)
            return
        if self.made is None:
            return
        if self.section == 0 and self.session.mode == JUDGE:
            yield from self._mending()
            return
        if SECTIONS[self.section] == LIMITS:
            yield from self._carried(self.made)
            return
        yield from (self._bought, self._volts, self._findings, switching, assumed, care)[self.section](self.made)

    def _mending(self) -> Iterator[Line]:
        if "mend" in self.unworked:
            yield Line(f"! {self.unworked['mend']}", "")
        elif self.mending:
            yield Line("looking for the cheapest repair ...", "")
        else:
            yield from mended(self.mend)

    def _carried(self, made: Plan) -> Iterator[Line]:
        if "reach" in self.unworked:
            yield Line(f"! {self.unworked['reach']}", "")
        elif self.reach is None:
            self.ask("reach", lambda _session, _stop: reach(made.verdict.case), self._reached)
            yield Line("working it out ...", "")
        else:
            yield from carried(self.reach, made.verdict.outcome == UNSOUND)

    def _bought(self, made: Plan) -> Iterator[Line]:
        self.fitted = self.query_one("#lines").content_size.width
        yield from bought(made, (self.fitted or self.size.width - 4) - 3)

    def _findings(self, made: Plan) -> Iterator[Line]:
        """What is not sound first; the sound ones in one line until it is opened."""
        whole = list(findings(made))
        sound = sum(one.outcome == SOUND for one in made.verdict.findings)
        if self.opened or sound < FEW:
            yield from whole
            return
        yield from (line for line, one in zip(whole, made.verdict.findings, strict=True) if one.outcome != SOUND)
        count = f"{sound} more findings are" if sound < len(whole) else f"all {sound} findings are"
        yield Line(f"{MARK[SOUND]} {count} sound. Enter shows them.", FOLDED, part=FOLD)

    def _fault(self, problem: Problem) -> Line:
        return Line(f"! {self.session.place(problem).words}", f"{problem.what}; {problem.instead}.")

    def _volts(self, made: Plan) -> Iterator[Line]:
        found = made.verdict.terminals
        yield from (Line(*one) for one in drawings(made.verdict, page_width(self.size.width)))
        picture = "\n".join(windows(found, max(self.size.width - 6, 40)))
        key = "[ ] window, = where the volts move, ! outside the window, o to expect while keyed"
        for one in found:
            yield Line(terminal_line(one), f"{picture}\n{key}")
        warm = heat(made.verdict.operating)
        if warm is not None and warm.total.value >= 0.5:
            yield Line(heat_line(warm), "A closed cupboard or a small room gets warm.", "\n".join(warm.total.working()))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what is behind the line."""
        event.stop()
        self._detail(event.option_index)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter opens the working, or goes to the answer that is in the way."""
        event.stop()
        if self.lines[event.option_index].part == FOLD:
            self.opened = True
            self.show_section()
        elif self.faults and event.option_index < len(self.faults):
            self.wizard.to_answer(self.session.place(self.faults[event.option_index]))
        else:
            self.action_working()

    def _detail(self, index: int) -> None:
        line = self.lines[index] if index < len(self.lines) else Line("", "")
        self.query_one("#why", Plain).say(line.detail)
        if self.drawing:
            self.query_one("#drawing", Drawn).show_lines(self.drawing, line.part)

    def action_section(self, index: int) -> None:
        """Turn to a section by its number."""
        self.section = index
        self.show_section()

    def action_turn(self, by: int) -> None:
        """Turn to the next section."""
        self.action_section((self.section + by) % len(SECTIONS))

    def action_working(self) -> None:
        """The arithmetic behind the highlighted line."""
        place = self.query_one("#lines", OptionList).highlighted
        if place is not None and place < len(self.lines):
            line = self.lines[place]
            self.app.push_screen(Page("Working", "\n\n".join(filter(None, (line.title, line.detail, line.working)))))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A plan cannot be measured yet."""
        return action != "measure" or self.session.mode == JUDGE

    def action_measure(self) -> None:
        """Type what a meter showed at this station."""
        self.wizard.to_readings()

    def action_more(self) -> None:
        """The papers, and a claim about this station."""
        if self.made is None:
            self.wizard.tell("there is no paper yet: these answers are in the way, or it is still being worked out")
        else:
            self.app.push_screen(More(self.made.verdict))

    def enough(self) -> str:
        """What to do with a result."""
        return "F10 saves it as a file. F5 changes an answer."

    def help_text(self) -> str:
        """How to read this screen."""
        return (
            "1 to 7, the left and right arrows or the mouse turn between the sections; a click on a part of the "
            "drawing leads to its line; up and down move in a list, and beneath "
            "it stands the reason of the highlighted line: Tab goes there, and arrows scroll it. Enter or F9 opens "
            "the working.\n\n"
            "+ sound: the rule holds with its margin.  ~ thin: it holds, with less than the margin.\n"
            "? unknown: a value is missing that decides.  ! unsound: the rule is broken.\n\n"
            "F7 opens the papers to print.\n"
            "F10 saves the profile: the station, every choice with its reason, every finding and assumption."
        )
