"""Someone told me: a claim in plain figures, and whether it holds, with the arithmetic."""

from __future__ import annotations

from dataclasses import replace

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.events import DescendantFocus
from textual.widgets import Button, OptionList
from textual.widgets.option_list import Option

from engine.advice.claims.result import Judged
from engine.station.table import Problem, Problems
from wizard.interview.claims import KINDS, OPEN, Kind, judge, words_for
from wizard.interview.document import understood
from wizard.papers.claims import claim_lines
from wizard.screens import keymap
from wizard.screens.asking import Base
from wizard.screens.page import Page, page_width
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.foot import Foot
from wizard.screens.widgets.plain import Plain, plain

INTRO = "What were you told? Enter opens its questions; the verdict comes with the arithmetic."


class Told(Base):
    """The kinds of claim; ``over`` another screen it goes back to that, else to the doors."""

    KEYS = keymap.CLAIMS
    BINDINGS = keymap.bindings(KEYS)

    def __init__(self, over: bool = False) -> None:
        super().__init__()
        self.over = over

    def compose(self) -> ComposeResult:
        """One line a kind."""
        yield Plain("Someone told me", id="heading")
        yield Plain(INTRO, id="intro")
        with Vertical(id="notice"):
            yield OptionList(
                *(Option(plain(f"that {one.title}"), id=one.id) for one in KINDS), markup=False, id="kinds"
            )
        yield Foot()

    def on_mount(self) -> None:
        """Choose at once."""
        listed = self.query_one("#kinds", OptionList)
        listed.focus()
        listed.highlighted = 0

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Ask for its figures."""
        event.stop()
        self.app.push_screen(Claim(KINDS[event.option_index]))

    def action_back(self) -> None:
        """Back to where it was opened."""
        if self.over:
            self.app.pop_screen()
        else:
            self.wizard.to_door()

    def help_text(self) -> str:
        """What this is for."""
        return (
            "A claim is a handful of figures: a cable, a current, a length; watts and amperes; a higher setting. "
            "Choose its kind, type the figures, and see whether the arithmetic holds."
        )


class Claim(Base):
    """The figures of one claim, and the verdict beneath."""

    KEYS = keymap.CLAIM
    BINDINGS = keymap.bindings(KEYS)

    def __init__(self, kind: Kind) -> None:
        super().__init__()
        self.kind = kind
        self.found: Judged | None = None
        self.unread: set[str] = set()

    @property
    def said(self) -> dict[str, str]:
        """The figures typed so far; they outlive this screen."""
        return self.wizard.claimed.setdefault(self.kind.id, {})

    def compose(self) -> ComposeResult:
        """The questions and the verdict."""
        yield Plain(f"Someone told me that {self.kind.title}", id="heading")
        yield Plain("", id="intro")
        with Vertical(id="notice"):
            with VerticalScroll(id="figures", can_focus=False):
                for question in (*self.kind.needs, *self.kind.may):
                    words = words_for(question, self.session)
                    text = self.said.get(question.key, "")
                    asked = replace(question, words=words)
                    yield Answer(asked, 0, text, OPEN.get(question.key, ""), words)
            with VerticalScroll(id="detail"):
                yield Plain("", id="why")
        with Horizontal(id="buttons"):
            yield Button(plain("Back"), id="back", compact=True)
        yield Foot()

    def on_mount(self) -> None:
        """Show what is known, and type at once."""
        self._judge()
        self.query(Answer).first().field.focus()

    def on_answer_given(self, event: Answer.Given) -> None:
        """Take a figure and judge anew."""
        event.stop()
        self.said[event.answer.question.key] = event.text
        self._judge()

    def on_answer_entered(self, event: Answer.Entered) -> None:
        """Enter goes to the next figure; one that cannot be read is asked again."""
        event.stop()
        if event.answer.question.key in self.unread:
            event.answer.again()
        else:
            self.focus_next()

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Keep the question in focus in sight, with its reason above."""
        answer = self._focused()
        if answer:
            answer.scroll_visible(animate=False)
            self.query_one("#intro", Plain).say(answer.question.why)

    def _focused(self) -> Answer | None:
        here = self.focused
        return next((one for one in here.ancestors if isinstance(one, Answer)), None) if here else None

    def _judge(self) -> None:
        problems: tuple[Problem, ...] = ()
        try:
            self.found = judge(self.kind, self.said, self.session)
        except Problems as error:
            problems, self.found = error.found, None
        self.unread = {one.where for one in problems}
        open_ = [one.asks for one in self.kind.needs if not self.said.get(one.key, "").strip()]
        waits = f"Still open: {' '.join(open_)}" if open_ else "One figure cannot be read yet: see above."
        self.query_one("#why", Plain).say(self._verdict(self.size.width - 4) or waits)
        for answer in self.query(Answer):
            fault = next((one for one in problems if one.where == answer.question.key), None)
            answer.echo(fault if answer.text else None, understood(answer.question, answer.text))

    def _verdict(self, width: int) -> str:
        return "\n".join(claim_lines(self.found, max(width, 40))) if self.found else ""

    def on_button_pressed(self, event: Button.Pressed) -> None:
        """Back by mouse or Enter."""
        event.stop()
        self.action_back()

    def action_back(self) -> None:
        """Back to the kinds of claim; the figures stay."""
        self.app.pop_screen()

    def action_unknown(self) -> None:
        """I don't know: empty the figure in focus."""
        answer = self._focused()
        if answer:
            answer.clear()

    def action_working(self) -> None:
        """The verdict on a page of its own."""
        self.app.push_screen(
            Page("Working", self._verdict(page_width(self.size.width)) or "some figures are still open")
        )

    def help_text(self) -> str:
        """The help of the question in focus."""
        answer = self._focused()
        asked = f"{answer.question.asks}\n\n{answer.question.why}\n\n" if answer else ""
        return asked + "The verdict stands beneath; F9 shows all of it."
