"""The screens, driven by the keyboard alone; the session is asserted first, the picture second."""

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Select

from catalog.shelf import built_in
from engine.planning import plan as planning
from engine.station import profile
from wizard import drafts, questions, store
from wizard.interview.opening import from_file
from wizard.interview.saving import profile_text
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.screens import keymap
from wizard.screens.app import ShackrailApp
from wizard.screens.result import Result
from wizard.screens.widgets.tally import tally

from ..tools.waiting import quiet

SIZES = [(80, 24), (120, 40)]
HOSTILE = ["[/x]", "100 [A]", "[@click=app.quit]x[/]", "\\[b]", "'\"`$(x)", "Ω" * 60, "\u202eabc", "a" * 3000, "[red]"]


async def settle(pilot: Pilot[str]) -> None:
    """Wait until everything is done; no fault of the program may hide in the background."""
    await quiet(pilot)
    assert isinstance(pilot.app, ShackrailApp)
    assert pilot.app.troubles == []


async def type_in(pilot: Pilot[str], text: str) -> None:
    """Type into the field in focus."""
    field = pilot.app.focused
    assert isinstance(field, Input)
    field.value = ""
    for char in text:
        await pilot.press({" ": "space"}.get(char, char))


def picture(app: ShackrailApp) -> str:
    """Everything on the screen as plain text."""
    lines = []
    for widget in app.screen.query("*"):
        render = getattr(widget, "render", None)
        if widget.display and render and not widget.children:
            lines.append(str(render()))
    return "\n".join(lines)


@pytest.mark.parametrize("size", SIZES)
async def test_from_the_door_to_a_saved_profile_by_keyboard(size: tuple[int, int], own_folders: Path) -> None:
    """Door, name, equipment, cable, site, wishes, plan, save; the file equals that of the same station as a file."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=size, notifications=True, tooltips=True) as pilot:
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        await type_in(pilot, "Attic desk")
        await pilot.press("f4")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        await type_in(pilot, "100 w hf")
        await pilot.press("enter")
        await settle(pilot)
        for _ in range(3):
            await pilot.press("enter")
        await type_in(pilot, "22 A")
        await pilot.press("f4")
        await settle(pilot)
        await pilot.press("f4")
        await settle(pilot)
        await type_in(pilot, "5 ft")
        for _ in range(2):
            await pilot.press("f4")
            await settle(pilot)
        await type_in(pilot, "230 V")
        await pilot.press("f4")
        await settle(pilot)
        await type_in(pilot, "250")
        await pilot.press("f4")
        await settle(pilot)
        assert app.session.step == "result"
        assert "SOUND" in picture(app) or "THIN" in picture(app)
        await pilot.press("f10")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
    saved = own_folders / "attic-desk.toml"
    station = (
        'format = 1\nname = "Attic desk"\n[site]\nmains = "230 V"\n[wishes]\nbudget = 250\n'
        '[[load]]\nid = "hf"\nclass = "hf-100w"\ntransmit = "22 A"\n'
        '[[run]]\nid = "hf-lead"\nto = "hf"\nlength = "5 ft"\n'
    )
    shelf = built_in()
    planned = planning.plan(profile.read(station, shelf).station, shelf)
    assert saved.read_text() == profile_text(planned.verdict)
    assert drafts.unfinished() == []


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("mode", [PLAN, JUDGE])
async def test_back_at_every_step_loses_nothing(size: tuple[int, int], mode: str) -> None:
    """Forward through every step of both doors, beyond the last, back beyond the first: the document is as it was."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=size) as pilot:
        session = Session(app.shelf, mode)
        session.document["name"] = "Back and forth"
        session.add_load("hf-100w")
        before = session.exported
        app.go_on(session)
        await settle(pilot)
        for key in ("f4", "f4", "f3", "f3", "f4"):
            for _ in session.steps:
                await pilot.press(key)
                await settle(pilot)
                if not hasattr(app.screen, "step_id"):
                    app.go_on(session)
                    await settle(pilot)
        assert app.session.exported == before


@pytest.mark.parametrize("text", HOSTILE)
async def test_hostile_text_through_every_screen(text: str, own_folders: Path) -> None:
    """Whatever is typed is shown as it stands: no markup, no crash, no lost text, on every step and page."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24), notifications=True, tooltips=True) as pilot:
        session = Session(app.shelf)
        session.add_load("hf-100w")
        session.document |= {"name": text, "note": text}
        session.rows("load")[0] |= {"id": text, "mode": text, "transmit": text, "window": text}
        session.document["run"] = [{"id": text, "to": text, "length": text}]
        app.go_on(session)
        for step in session.steps:
            app.to_step(step)
            await settle(pilot)
            await pilot.press("f1")
            await settle(pilot)
            await pilot.press("escape")
            await settle(pilot)
        app.tell(text)
        await pilot.press("f10")
        await settle(pilot)
        app.screen.query_one("#path", Input).value = text[:200]
        await pilot.press("enter")
        await settle(pilot)
        await pilot.press("escape")
        app.to_step("loads")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.rows("load")[0]["transmit"] == text
        app.to_door()
        await settle(pilot)
    assert from_names(own_folders) == []


def from_names(folder: Path) -> list[str]:
    """The files that a test left behind."""
    return [path.name for path in folder.iterdir()]


async def test_ctrl_c_in_the_middle_keeps_a_draft() -> None:
    """Leaving by Ctrl-C keeps what was typed, and the door offers it again."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        await type_in(pilot, "Half done")
        await pilot.press("ctrl+c")
        await pilot.pause()
    assert "draft" in (app.return_value or "")
    again = ShackrailApp(debounce=0.0)
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("up", "up", "enter")
        await settle(pilot)
        assert again.session.document["name"] == "Half done"


async def test_a_file_that_cannot_be_written_is_said_and_nothing_is_lost(own_folders: Path) -> None:
    """The save page names the trouble; the session stays."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf)
        session.document["name"] = "Nowhere"
        session.add_load("hf-qrp")
        app.go_on(session)
        await settle(pilot)
        await pilot.press("f10")
        await settle(pilot)
        app.screen.query_one("#path", Input).value = str(own_folders / "no" / "such" / "folder.toml")
        await pilot.press("enter")
        await settle(pilot)
        assert "cannot be written" in picture(app)
        assert app.session.document["name"] == "Nowhere"


async def test_wrong_units_are_named_beside_the_field() -> None:
    """Volts where amperes belong: the field says so and keeps the text."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf)
        index = session.add_load("vhf-50w")
        session.rows("load")[index]["transmit"] = "12 V"
        app.go_on(session)
        app.to_step("loads")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert "is a voltage; this asks for a current" in picture(app)
        assert session.rows("load")[0]["transmit"] == "12 V"


async def test_i_dont_know_empties_the_answer_and_says_what_is_taken() -> None:
    """F2 opens the answer again and the careful value is shown."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(120, 40)) as pilot:
        session = Session(app.shelf)
        session.add_load("hf-100w")
        session.rows("load")[0]["transmit"] = "21 A"
        app.go_on(session)
        app.to_step("loads")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        for _ in range(3):
            await pilot.press("enter")
        await pilot.press("f2")
        await settle(pilot)
        assert "transmit" not in app.session.rows("load")[0]
        assert "assumed 23 A (usual 18" in picture(app)


async def test_jump_and_undo() -> None:
    """Jump goes to any step; undo brings back removed equipment."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf)
        session.document["name"] = "Jump"
        session.add_load("hf-100w")
        app.go_on(session)
        await settle(pilot)
        await pilot.press("f5")
        await settle(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert app.session.step == "loads"
        await pilot.press("f8")
        await settle(pilot)
        assert not app.session.rows("load")
        await pilot.press("f6")
        await settle(pilot)
        assert len(app.session.rows("load")) == 1


async def test_the_amplifier_door_keeps_what_may_stay(own_folders: Path) -> None:
    """Open a saved profile, add an amplifier, and see what stays and what is bought."""
    shelf = built_in()
    path = store.worked()["harbour-street"]
    planned = planning.plan(profile.read(path.read_text(encoding="utf-8"), shelf).station, shelf)
    (own_folders / "mine.toml").write_text(profile_text(planned.verdict), encoding="utf-8")
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        await type_in(pilot, "mine.toml")
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.step == "loads"
        await pilot.press("f7")
        await settle(pilot)
        await type_in(pilot, "300 W")
        await pilot.press("enter")
        await settle(pilot)
        app.to_step("result")
        await settle(pilot)
        text = picture(app)
        assert "supply stays" in text
        assert "hf-lead stays" in text
        assert "supply of its own" in text


async def test_a_second_opinion_says_how_to_mend() -> None:
    """An unsound station, judged, opens on what to replace and its price; nothing that may stay is bought."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(120, 40)) as pilot:
        app.go_on(from_file(store.worked()["quarry-road"], app.shelf, JUDGE))
        await settle(pilot)
        await settle(pilot)
        text = picture(app)
        assert "[1 Mend]" in text
        assert "replaced" in text
        screen = app.screen
        assert isinstance(screen, Result)
        assert screen.mend is not None and screen.mend.many is not None
        assert screen.mend.many.verdict.outcome != "unsound"


async def test_faults_on_the_result_lead_to_their_question() -> None:
    """An answer that cannot be read is named in the question's words, and Enter goes to its step."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf)
        session.add_load("hf-100w")
        session.answer(questions.LEAD[0], "1,5")
        app.go_on(session)
        app.to_step("result")
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, Result)
        assert [line.title for line in screen.lines] == [
            "! the lead to hf: How long is the way from the supply to its socket?"
        ]
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.step == "leads"


async def test_every_choice_of_a_drop_down_can_be_seen() -> None:
    """The list that opens shows all its words, with what they mean."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin(PLAN)
        app.to_step("wishes")
        await settle(pilot)
        select = app.screen.query(Select).first()
        select.focus()
        await pilot.press("enter")
        await settle(pilot)
        overlay = app.screen.query_one("SelectOverlay", OptionList)
        assert overlay.has_focus
        assert overlay.size.height >= len(select._options)


async def test_enter_after_the_last_question_goes_on() -> None:
    """Enter walks down the questions and then to the next step, never back."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf)
        session.add_load("hf-100w")
        app.go_on(session)
        app.to_step("leads")
        await settle(pilot)
        await pilot.press("enter", "enter")
        await settle(pilot)
        assert app.session.step == "supply"


@pytest.mark.parametrize("name", store.worked())
async def test_every_worked_station_opens_and_shows_every_section(name: str) -> None:
    """Each example goes through the worked door to its sections and their working."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("up", "enter")
        await settle(pilot)
        app.screen.query_one("#files", OptionList).highlighted = list(store.worked()).index(name)
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.step == "result"
        assert any(word in picture(app) for word in ("SOUND", "THIN", "UNKNOWN", "UNSOUND"))
        for key in "1234567":
            await pilot.press(key)
            await settle(pilot)
            await pilot.press("f9")
            await settle(pilot)
            await pilot.press("escape")
            await settle(pilot)


async def test_a_small_window_is_told_so() -> None:
    """Below sixty by sixteen one sentence says what would show everything."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(50, 12), notifications=True) as pilot:
        await settle(pilot)
        assert any("window is small" in str(one.message) for one in app._notifications)


async def test_a_hostile_profile_is_refused_at_the_door(own_folders: Path) -> None:
    """A broken file opened from the door names its faults and opens nothing."""
    (own_folders / "bad.toml").write_text(
        'format = 1\nname = "[/x]"\nbogus = "[@click=app.quit]"\n[[load]]\nid = "[red]"\n'
    )
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("8")
        await settle(pilot)
        await type_in(pilot, "bad.toml")
        await pilot.press("enter")
        await settle(pilot)
        assert "bogus" in picture(app)
        assert "cannot be a name" in picture(app)


def test_the_tally_counts_current_and_volts() -> None:
    """The tally names the key-down current, the supply, each load's lowest volts and what is assumed."""
    session = Session(built_in())
    session.add_load("hf-100w")
    session.rows("load")[0]["transmit"] = "22 A"
    lines = "\n".join(tally(session, session.reckoned(), 60, 20))
    assert "you draw 22.0 A at most" in lines
    assert "V at worst, accepts" in lines
    assert "values assumed" in lines
    assert "[" in lines


def test_no_key_is_bound_twice_on_one_screen() -> None:
    """One key, one command (this house's rule)."""
    lists = [value for value in vars(keymap).values() if isinstance(value, tuple) and value is not keymap.EVERYWHERE]
    shown = [value for value in lists if value and all(isinstance(one, keymap.Command) for one in value)]
    assert keymap.FORM in shown and keymap.CHOOSING in shown
    for commands in shown:
        keys = [key for one in (*commands, *keymap.EVERYWHERE) for key in one.keys.split(",")]
        assert len(keys) == len(set(keys))


async def test_an_answer_after_saving_is_kept_as_a_draft_again(own_folders: Path) -> None:
    """Saved, then changed, then left: the change is in a draft; saved and left untouched: there is none."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf)
        session.add_load("hf-qrp")
        app.go_on(session)
        app.to_step("result")
        await pilot.press("f10")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert (own_folders / "my-station.toml").exists()
        assert drafts.unfinished() == []
        screen = app.screen
        assert isinstance(screen, Result)
        assert screen.made is not None
        session.answer(questions.USE[0], "Later name")
        await pilot.press("ctrl+q")
        await pilot.pause()
    assert "draft" in (app.return_value or "")
    assert len(drafts.unfinished()) == 1
