"""A choice among a few as cards: a title and a sentence each, taken with arrows and Enter, a digit or the mouse."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from wizard.questions.question import Question
from wizard.questions.uses import Card
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.plain import Plain, plain


class Cards(OptionList):
    """A few choices, one below the other."""

    BINDINGS = [Binding(str(digit), f"take({digit})", show=False) for digit in range(1, 10)]

    class Taken(Message):
        """A card was taken."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    def __init__(self, cards: Sequence[Card], chosen: str = "", *, classes: str = "", id: str | None = None) -> None:
        super().__init__(id=id, classes=f"cards {classes}".strip(), markup=False, compact=True)
        self.cards, self.chosen = cards, chosen

    def on_mount(self) -> None:
        """Lay the cards out, the cursor on the one that is chosen."""
        self.show(self.chosen)

    def show(self, chosen: str) -> None:
        """Show which card is chosen."""
        place = self.highlighted
        self.chosen = chosen
        self.clear_options()
        self.add_options(Option(_face(number, card, chosen)) for number, card in enumerate(self.cards, 1))
        known = [number for number, card in enumerate(self.cards) if card.key == chosen]
        self.highlighted = known[0] if known else place or 0

    def action_take(self, digit: int) -> None:
        """A digit takes its card at once."""
        if digit <= len(self.cards):
            self.highlighted = digit - 1
            self.post_message(self.Taken(self.cards[digit - 1].key))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or the mouse takes a card."""
        event.stop()
        self.post_message(self.Taken(self.cards[event.option_index].key))


def _face(number: int, card: Card, chosen: str) -> Content:
    mark = "●" if card.key == chosen else "○"
    title = Content.assemble((f" {number} {mark} ", "$accent"), plain(card.title).stylize("bold"))
    return Content("\n").join([title, Content.assemble("     ", plain(card.says))])


class CardsAnswer(Answer):
    """A question whose choices are laid out as cards."""

    def __init__(self, question: Question, index: int, text: str, taken: str, cards: Sequence[Card]) -> None:
        super().__init__(question, index, text, taken)
        self.cards = cards

    def compose(self) -> ComposeResult:
        """The question, what was understood, and the cards beneath."""
        yield Plain(self.question.label or self.question.asks, classes="asks whole")
        yield Cards(self.cards, self.text, classes="field")
        yield Plain("", classes="echo")

    def clear(self) -> None:
        """Take no card."""
        self.query_one(Cards).show("")
        self._give("")

    def again(self) -> None:
        """Ask for it once more."""
        self.field.focus()

    def on_cards_taken(self, event: Cards.Taken) -> None:
        """Pass the card on; taking one is the whole answer."""
        event.stop()
        self.query_one(Cards).show(event.key)
        self._give(event.key)
        self.post_message(self.Entered(self))
