"""The doors stand before engine and catalogue are loaded, and lead on whether those are there yet or not."""

import subprocess
import sys
from pathlib import Path

import platformdirs
from textual.widgets import OptionList

from wizard.interview.session import Session
from wizard.screens.app import ShackrailApp
from wizard.screens.door import DOORS, Door
from wizard.screens.form import Use

ROOT = Path(__file__).parents[2]
LIGHT = {"engine", "engine.characters", "engine.units", "engine.station", "engine.station.table", "engine.station.toml"}


def test_the_doors_need_no_engine_no_catalogue_and_no_pint() -> None:
    """In a fresh process; drafts need the little that reads a text within bounds."""
    code = "import sys, wizard.screens.app; print(*sys.modules)"
    ended = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    loaded = [one for one in ended.stdout.split() if one.split(".")[0] in ("engine", "catalog", "pint", "wizard")]
    assert "wizard.screens.door" in loaded
    assert {one for one in loaded if not one.startswith("wizard")} <= LIGHT | {"catalog", "catalog.files"}
    assert not [one for one in loaded if one.startswith(("wizard.interview.", "wizard.view.", "wizard.questions."))]


async def test_a_key_pressed_at_once_goes_through_the_door() -> None:
    """Enter on the first door, before anything behind it was asked for."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, Use)


async def test_drafts_come_below_the_doors_once_they_are_seen() -> None:
    """No door moves, and the cursor stays on the first."""
    session = Session(ShackrailApp().shelf)
    session.document["name"] = "Left open"
    session.keep()
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, Door)
        doors = app.screen.query_one("#doors", OptionList)
        named = [one for one in doors.options if one.id]
        assert [one.id for one in named[: len(DOORS)]] == [id_ for id_, *_ in DOORS]
        assert "Left open" in str(named[len(DOORS)].prompt)
        assert doors.highlighted is not None and doors.options[doors.highlighted].id == "first"


async def test_a_faulty_catalogue_of_the_owner_ends_the_wizard_in_sentences() -> None:
    """Where, what and what instead, on the terminal that is given back; the status of a file that cannot be read."""
    own = platformdirs.user_config_path("shackrail") / "catalog"
    own.mkdir(parents=True)
    (own / "contacts.toml").write_text("[[contact]]\n", encoding="utf-8")
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
    assert app.return_code == 2
    assert any("contact[0].id: is missing" in line for line in app.refused)
