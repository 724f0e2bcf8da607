"""What frames every screen: the top line, the steps as a rail or a line, a footer that fits, the plan one key away."""

import pytest
from textual.widgets import OptionList
from textual.widgets._footer import FooterKey

from catalog.shelf import built_in
from wizard import questions
from wizard.interview.progress import State, progress
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.screens.app import ShackrailApp
from wizard.screens.form import LoadForm
from wizard.screens.widgets.drawn import Drawn
from wizard.screens.widgets.foot import Foot
from wizard.view.frame import part_at, rail, steps_line, top_line
from wizard.view.span import Line, plain_text, width_of

from .test_screens import picture, settle

NEVER = 3600.0
"""A pause before the tally that no test waits for."""

SIZES = [(60, 20), (80, 24), (104, 30), (120, 40), (200, 60)]


def described(mode: str = PLAN) -> Session:
    """Two radios at home, a length known, a budget."""
    session = Session(built_in(), mode)
    session.document |= {"name": "Attic desk", "use": "fixed"}
    session.add_load("hf-100w")
    session.add_load("vhf-50w")
    session.answer(questions.LEAD[0], "1.5 m", 1)
    session.answer(questions.WISHES[0], "250")
    return session


def row_of(drawn: Drawn, part: str) -> tuple[int, int]:
    """The column and the row at which a part stands in a drawing."""
    places = ((x, y) for y, line in enumerate(drawn.lines) for x in range(width_of(line)) if part_at(line, x) == part)
    return next(places)


def texts(lines: list[Line]) -> list[str]:
    """Lines without their colours."""
    return [plain_text(line) for line in lines]


def test_the_top_line_names_station_use_loads_and_whether_it_is_saved() -> None:
    """And it is cut at its end, never wrapped."""
    session = described()
    assert plain_text(top_line(session, 78)) == "Attic desk  at home · 2 loads · draft kept"
    assert "second opinion" in plain_text(top_line(described(JUDGE), 78))
    session.document["name"] = "x" * 300
    for width in (20, 58, 78):
        assert width_of(top_line(session, width)) <= width


def test_each_step_says_its_answer_in_two_words() -> None:
    """What is answered, what is open and will be assumed or chosen, what cannot be read."""
    session = described()
    assert {one.step: (one.state, one.words) for one in progress(session)} == {
        "use": (State.ANSWERED, "at home"),
        "loads": (State.ANSWERED, "2 loads"),
        "leads": (State.ANSWERED, "1 of 2 given"),
        "supply": (State.OPEN, "to choose"),
        "site": (State.OPEN, "assumed"),
        "wishes": (State.ANSWERED, "budget 250"),
    }
    session.answer(questions.LEAD[0], "1,5", 0)
    faulty = {one.step: one.words for one in progress(session) if one.state == State.FAULTY}
    assert faulty == {"leads": "1 unreadable"}


def test_the_rail_has_a_line_for_each_step_and_each_load() -> None:
    """The step shown has a mark of its own, and so has the load that is described."""
    lines = texts(rail(described(), "loads", 23, "thin", load=1))
    assert lines[:5] == ["✓ Use        at home", "● Equipment  2 loads", "    hf", "    vhf ◀", "    + add"]
    assert lines[-1] == "~ Result     thin"


@pytest.mark.parametrize("use", ["fixed", "mobile", "battery"])
@pytest.mark.parametrize("width", [36, 58, 78])
def test_the_steps_fit_one_line(use: str, width: int) -> None:
    """With all their names, or with marks and the name of the one shown."""
    session = Session(built_in())
    session.document |= {"use": use, "wishes": {"hours": "2 h"}}
    for step in session.steps:
        line = steps_line(session, step, width)
        assert width_of(line) <= width
        assert {span.part for span in line} >= set(session.steps)


@pytest.mark.parametrize("size", SIZES)
async def test_the_footer_fits_and_always_says_how_to_leave(size: tuple[int, int]) -> None:
    """No key stands beyond the edge; help and leaving are always there."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=size) as pilot:
        app.go_on(described())
        for step in app.session.steps:
            app.to_step(step)
            await settle(pilot)
            keys = list(app.screen.query_one(Foot).query(FooterKey))
            assert {"Help", "Quit"} <= {key.description for key in keys}
            assert all(key.region.right <= size[0] for key in keys)


async def test_the_mouse_chooses_a_step_and_a_load_in_the_rail() -> None:
    """A click on a step goes there, one on a load opens it, one on the line that adds opens the picker."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        app.go_on(described())
        await settle(pilot)
        drawn = app.screen.query_one("#rail", Drawn)
        gutter = drawn.content_region.offset - drawn.region.offset
        for part, at in (("wishes", "wishes"), ("load:1", "loads")):
            x, y = row_of(drawn, part)
            await pilot.click("#rail", offset=(x + gutter.x, y + gutter.y))
            await settle(pilot)
            assert app.session.step == at
            drawn = app.screen.query_one("#rail", Drawn)
        assert isinstance(app.screen, LoadForm) and app.screen.index == 1
        x, y = row_of(drawn, "add")
        await pilot.click("#rail", offset=(x + gutter.x, y + gutter.y))
        await settle(pilot)
        assert app.screen.query_one("#classes", OptionList).option_count > 10


async def test_the_mouse_chooses_a_step_in_the_line() -> None:
    """At 80 columns the steps are one line, and each can be pointed at."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.go_on(described())
        await settle(pilot)
        assert not app.screen.query_one("#rail").display
        x, _ = row_of(app.screen.query_one("#steps", Drawn), "site")
        await pilot.click("#steps", offset=(x + 1, 0))
        await settle(pilot)
        assert app.session.step == "site"


async def test_the_plan_is_one_key_away_once_something_draws() -> None:
    """Without equipment the key says what is missing; with one load it shows the plan, and the screen says so."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.begin(PLAN)
        await settle(pilot)
        assert "F9" not in picture(app)
        await pilot.press("f9")
        await settle(pilot)
        assert app.session.step == "use"
        app.session.add_load("vhf-50w")
        app.to_step("site")
        await settle(pilot)
        assert "F9: the plan; what is open is assumed" in picture(app)
        await pilot.press("f9")
        await settle(pilot)
        assert app.session.step == "result"
        assert "SOUND" in picture(app)


async def test_nothing_jumps_at_a_tab() -> None:
    """Every question stays in its row while the focus goes through a form that fits the screen."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        app.go_on(described())
        app.to_load(0)
        await settle(pilot)
        rows = [one.region for one in app.screen.query(".answer")]
        assert len(rows) >= 10
        for _ in rows:
            await pilot.press("tab")
            await settle(pilot)
            assert [one.region for one in app.screen.query(".answer")] == rows


@pytest.mark.parametrize(("size", "most"), [((80, 24), 7), ((120, 40), 10), ((104, 24), 7)])
async def test_a_form_shows_at_least_seven_questions(size: tuple[int, int], most: int) -> None:
    """Counted by those whose first line is inside the form."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=size) as pilot:
        app.go_on(described())
        app.to_load(0)
        await settle(pilot)
        form = app.screen.query_one("#form").region
        seen = [one for one in app.screen.query(".answer") if form.contains_region(one.region)]
        assert len(seen) >= most
