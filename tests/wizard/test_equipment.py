"""The equipment as a table that is edited in place, and the picker that finds everyday words."""

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from catalog.shelf import built_in
from wizard.interview.session import PLAN, Session
from wizard.questions.everyday import WORDS, found_by
from wizard.screens.app import ShackrailApp
from wizard.screens.form import LoadForm
from wizard.screens.pick import GROUPS
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.loads_table import LoadsTable
from wizard.view.loads import Columns, load_row, question_of
from wizard.view.span import plain_text, width_of

from .test_screens import picture, settle, type_in

NEVER = 3600.0
"""A pause before the tally that no test waits for."""


def two_loads() -> Session:
    """A radio with a figure of its own, and a small computer."""
    session = Session(built_in(), PLAN)
    session.add_load("hf-100w")
    session.add_load("small-computer")
    session.rows("load")[0]["transmit"] = "22A"
    return session


async def at_the_table(pilot: Pilot[str], session: Session) -> None:
    """Stand at the first row of the equipment."""
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    app.go_on(session)
    app.to_step("loads")
    await settle(pilot)


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("2 m", "vhf-50w"),
        ("2m", "vhf-50w"),
        ("dual band", "vhf-50w"),
        ("linear", "amp-160w-vhf"),
        ("FT8", "hf-qrp"),
        ("pc", "small-computer"),
        ("light", "lamp"),
        ("100 w", "hf-100w"),
        ("50 w v", "vhf-50w"),
        ("20 w", "hf-20w"),
        ("5 w", "hf-qrp"),
        ("500w", "amp-500w"),
        ("walkie", "vhf-5w"),
    ],
)
def test_everyday_words_find_a_class(text: str, first: str) -> None:
    """What people say (common usage, no source); a whole number comes before one that only begins so."""
    found = [row.id for row in found_by(text, built_in().equipment.values(), GROUPS)]
    assert found[0] == first


def test_words_belong_to_classes_that_exist() -> None:
    """And every class has some."""
    assert set(WORDS) == set(built_in().equipment)


def test_the_columns_fit_any_width_and_the_mode_goes_first() -> None:
    """Name, class, receive, key-down, window and mode; no row is wider than its place."""
    session = two_loads()
    for width in (52, 56, 76, 95, 190):
        columns = Columns.of(width)
        assert ("mode" in columns.names) is (width >= 63)
        for load in (0, 1):
            assert width_of(load_row(session, load, columns)) == width
    assert plain_text(load_row(session, 0, Columns.of(76))).split() == (
        ["hf", "100", "W", "HF", "transceiver", "2", "A", "22", "A", "12.4", "to", "15.2", "V", "ssb"]
    )


def test_a_cell_answers_the_question_that_suits_its_class() -> None:
    """Key-down for a radio, the busiest for a computer, the wall for what plugs into it; a mode only for a radio."""
    session = two_loads()
    session.add_load("amp-valve")
    keys = [getattr(question_of(session, load, "key-down"), "key", None) for load in range(3)]
    assert keys == ["transmit", "busy", "wall"]
    assert question_of(session, 1, "mode") is None


async def test_a_cell_is_edited_in_place() -> None:
    """Right to the cell, Enter, a figure, Enter: it stands in the table, and the cursor is on it again."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        await at_the_table(pilot, two_loads())
        before = app.screen.query_one(LoadsTable).region
        await pilot.press("right", "right", "enter")
        await settle(pilot)
        await type_in(pilot, "1.2 A")
        await settle(pilot)
        assert "= 1.2 A" in picture(app)
        assert app.screen.query_one(LoadsTable).region == before
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.rows("load")[0]["receive"] == "1.2 A"
        table = app.screen.query_one(LoadsTable)
        assert table.has_focus and (table.highlighted, table.column) == (0, "receive")
        assert "1.2 A" in str(table.get_option_at_index(0).prompt)
        assert not app.screen.query(Answer)


async def test_a_cell_that_cannot_be_read_is_asked_again_and_kept() -> None:
    """Enter stays there; Esc leaves the cell, not the step, and the text stays in the table with its mark."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        await at_the_table(pilot, two_loads())
        await pilot.press("right", "right", "right", "enter")
        await settle(pilot)
        await type_in(pilot, "12 V")
        await pilot.press("enter")
        await settle(pilot)
        assert app.screen.query(Answer)
        assert "is a voltage; this asks for a current" in picture(app)
        await pilot.press("escape")
        await settle(pilot)
        assert app.session.step == "loads" and app.screen.query_one(LoadsTable).has_focus
        assert app.session.rows("load")[0]["transmit"] == "12 V"
        assert "✗ 12 V" in str(app.screen.query_one(LoadsTable).get_option_at_index(0).prompt)


async def test_the_name_opens_all_questions_about_a_piece() -> None:
    """So does the class; and a cell that is none of this class."""
    app = ShackrailApp(debounce=NEVER)
    for keys in (("enter",), ("right", "enter"), ("down", *["right"] * 5, "enter")):
        app = ShackrailApp(debounce=NEVER)
        async with app.run_test(size=(80, 24)) as pilot:
            await at_the_table(pilot, two_loads())
            await pilot.press(*keys)
            await settle(pilot)
            assert isinstance(app.screen, LoadForm)


@pytest.mark.parametrize("text", ["[/x]", "[@click=app.quit]x[/]", "\u202eabc", "a" * 3000])
async def test_hostile_text_in_the_table(text: str) -> None:
    """Names and figures are shown as they stand, at any width."""
    for size in ((60, 20), (120, 40)):
        app = ShackrailApp(debounce=NEVER)
        async with app.run_test(size=size, notifications=True, tooltips=True) as pilot:
            session = two_loads()
            session.rows("load")[0] |= {"id": text, "receive": text, "window": text, "mode": text, "class": text}
            await at_the_table(pilot, session)
            await pilot.press("right", "right", "enter")
            await settle(pilot)
            await pilot.press("escape")
            await settle(pilot)
            assert session.rows("load")[0]["receive"] == text


async def test_the_picker_shows_groups_until_something_is_typed() -> None:
    """Then the best match first, and something else is always the last."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        await at_the_table(pilot, two_loads())
        await pilot.press("f7")
        await settle(pilot)
        listed = app.screen.query_one("#classes", OptionList)
        assert "- Radios -" in str(listed.get_option_at_index(0).prompt)
        await type_in(pilot, "nothing like it")
        await settle(pilot)
        assert [option.id for option in listed.options] == ["own"]
