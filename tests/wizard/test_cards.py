"""The use as cards, and the steps that the plan can do without."""

import pytest

from engine.terms import Use
from wizard import questions
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.questions.uses import FOLDS, USES
from wizard.screens.app import ShackrailApp
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.cards import Cards

from .test_screens import picture, settle

NEVER = 3600.0
"""A pause before the tally that no test waits for."""


def test_there_is_a_card_for_every_use() -> None:
    """In the order of the words that a file may hold, each with a sentence short enough for its line."""
    assert [card.key for card in USES] == list(Use)
    folds = [card for cards in FOLDS.values() for card in cards]
    assert all(card.title and 20 < len(card.says) <= 60 for card in (*USES, *folds))


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_all_cards_are_seen_at_once(size: tuple[int, int]) -> None:
    """Title and sentence of each, without scrolling."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=size) as pilot:
        app.begin(PLAN)
        await settle(pilot)
        cards = app.screen.query_one(Cards)
        assert cards.size.height == 2 * len(USES)
        assert app.screen.query_one("#form").region.contains_region(cards.region)


@pytest.mark.parametrize("keys", [("tab", "down", "down", "enter"), ("enter", "3")])
async def test_a_card_is_taken_with_arrows_or_a_digit_and_leads_on(keys: tuple[str, ...]) -> None:
    """From the name to the cards, one of them, and the equipment is there; back again the card is marked."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin(PLAN)
        await settle(pilot)
        await pilot.press(*keys)
        await settle(pilot)
        assert app.session.document["use"] == "battery"
        assert app.session.step == "loads"
        await pilot.press("escape")
        await settle(pilot)
        cards = app.screen.query_one(Cards)
        assert (cards.chosen, cards.highlighted) == ("battery", 2)
        assert "3 ● On a battery" in str(cards.get_option_at_index(2).prompt)


async def test_a_card_is_taken_with_the_mouse_and_given_up_with_f2() -> None:
    """A click takes it; I don't know opens the question again."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin(PLAN)
        await settle(pilot)
        await pilot.click(Cards, offset=(8, 2))
        await settle(pilot)
        assert app.session.document["use"] == "mobile"
        await pilot.press("escape")
        await settle(pilot)
        app.screen.query_one(Cards).focus()
        await pilot.press("f2")
        await settle(pilot)
        assert "use" not in app.session.document


async def test_arrows_alone_choose_nothing() -> None:
    """Looking at a card is not taking it."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin(PLAN)
        await settle(pilot)
        await pilot.press("tab", "down", "f4")
        await settle(pilot)
        assert "use" not in app.session.document
        assert app.session.step == "loads"


@pytest.mark.parametrize(("use", "step"), [("fixed", "supply"), ("battery", "battery"), ("battery", "sun")])
async def test_what_the_plan_chooses_is_folded(use: str, step: str) -> None:
    """One card goes on without an answer, the other opens the questions; answered, they are open at once."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, PLAN)
        session.document["use"] = use
        app.go_on(session)
        app.to_step(step)
        await settle(pilot)
        before = session.exported
        assert not app.screen.query(Answer)
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.steps.index(app.session.step) == session.steps.index(step) + 1
        assert session.exported == before
        await pilot.press("escape")
        await settle(pilot)
        await pilot.press("2")
        await settle(pilot)
        asked = [one.question for one in app.screen.query(Answer)]
        assert asked == list(session.asked(step))
        session.answer(next(one for one in asked if not one.options and not one.from_shelf), "12")
        app.to_step(step)
        await settle(pilot)
        assert app.screen.query(Answer)


async def test_a_second_opinion_asks_about_the_supply_at_once() -> None:
    """What stands there is described: nothing is folded."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.go_on(Session(app.shelf, JUDGE))
        app.to_step("supply")
        await settle(pilot)
        assert app.screen.query(Answer)


async def test_a_fault_in_a_folded_step_opens_it() -> None:
    """What cannot be read is an answer: its field is there to mend it."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, PLAN)
        session.add_load("hf-qrp")
        session.answer(questions.SUPPLY[1], "12 A")
        app.go_on(session)
        app.to_answer(session.place(session.problems()[0]))
        await settle(pilot)
        assert "is a current; this asks for a voltage" in picture(app)
