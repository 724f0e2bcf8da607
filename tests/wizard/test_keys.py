"""Keys that mean the same everywhere, and keys that stand only where they are of use."""

from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Select

from wizard import store
from wizard.interview.opening import from_file
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.screens.app import ShackrailApp
from wizard.screens.door import DOORS, Door

from .test_screens import picture, settle

NEVER = 3600.0
"""A pause before the tally that no test waits for."""

DEEP = 20
"""More screens than ever lie one behind the other."""


async def to_the_doors(pilot: Pilot[str]) -> None:
    """Esc, and nothing but Esc, until the doors are there."""
    for _ in range(DEEP):
        if isinstance(pilot.app.screen, Door):
            return
        await pilot.press("escape")
        await settle(pilot)
    raise AssertionError(pilot.app.screen)


async def test_escape_leads_back_from_everywhere() -> None:
    """From every door, from what lies behind it and from every page over it."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for place in range(len(DOORS)):
            await pilot.press("home", *["down"] * place, "enter")
            await settle(pilot)
            await pilot.press("enter")
            await settle(pilot)
            await to_the_doors(pilot)
        app.go_on(from_file(store.worked()["chapel-row"], app.shelf, JUDGE))
        await settle(pilot)
        for key in ("f1", "f5", "f7", "f8", "f9", "f10"):
            await pilot.press(key)
            await settle(pilot)
        await to_the_doors(pilot)


async def test_escape_is_back_on_every_step() -> None:
    """One step at a time, and from the first step to the doors."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.go_on(Session(app.shelf, PLAN))
        app.to_step("site")
        await settle(pilot)
        walked = []
        while not isinstance(app.screen, Door):
            walked.append(app.session.step)
            await pilot.press("escape")
            await settle(pilot)
        steps = app.session.steps
        assert walked == list(reversed(steps[: steps.index("site") + 1]))


async def test_escape_at_the_doors_says_how_to_leave() -> None:
    """There is nothing behind them: a sentence names the key."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, Door)
        assert any("Ctrl+Q leaves" in str(one.message) for one in app._notifications)


async def test_escape_in_an_open_list_closes_the_list_alone() -> None:
    """A drop-down is left first, and the step stays."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin(PLAN)
        app.to_step("wishes")
        await settle(pilot)
        app.screen.query(Select).first().focus()
        await pilot.press("enter")
        await settle(pilot)
        assert app.screen.query_one("SelectOverlay").has_focus
        await pilot.press("escape")
        await settle(pilot)
        assert app.session.step == "wishes"


async def test_f8_takes_out_only_what_is_there(own_folders: Path) -> None:
    """On the line that adds, the key is dimmed and does nothing; on equipment it works."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, PLAN)
        session.add_load("hf-qrp")
        app.go_on(session)
        app.to_step("loads")
        await settle(pilot)
        assert app.screen.active_bindings["f8"].enabled
        await pilot.press("end")
        await settle(pilot)
        assert not app.screen.active_bindings["f8"].enabled
        await pilot.press("f8")
        await settle(pilot)
        assert len(session.rows("load")) == 1
        app.to_readings()
        await settle(pilot)
        assert not app.screen.active_bindings["f8"].enabled


async def test_help_names_the_keys_of_its_own_screen() -> None:
    """The list of equipment adds and removes; a form does not."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        session = Session(app.shelf, PLAN)
        session.add_load("hf-qrp")
        app.go_on(session)
        for step, there in (("loads", True), ("leads", False)):
            app.to_step(step)
            await settle(pilot)
            await pilot.press("f1")
            await settle(pilot)
            assert ("take the highlighted piece of equipment out" in picture(app)) is there
            assert "papers to print" not in picture(app)
            await pilot.press("escape")
            await settle(pilot)
