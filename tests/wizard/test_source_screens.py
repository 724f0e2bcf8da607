"""A battery and a vehicle on the screens, by the keyboard alone; the session first, the picture second."""

import tomllib
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, Select

from catalog.shelf import built_in
from engine.planning import plan as planning
from engine.station import profile
from engine.terms import Use
from wizard import questions
from wizard.interview.saving import profile_text
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.screens.app import ShackrailApp
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.tally import tally

from .test_screens import settle

HOSTILE = ("[/x]", "[@click=app.quit]x[/]", "\u202eabc", "a" * 3000)
KNOWN = {"battery": "lfp", "mobile": "van"}
NEVER = 3600.0
"""A pause before the tally that no test waits for."""

RADIO = '[[load]]\nid = "hf"\nclass = "hf-20w"\nwindow = "11 to 15.5 V"\n'


async def choose(pilot: Pilot[str], text: str) -> None:
    """Choose a word from the list in focus, by the keyboard."""
    listed = pilot.app.focused
    assert isinstance(listed, Select)
    words = [value for _, value in listed._options]
    await pilot.press("enter")
    await settle(pilot)
    await pilot.press("home", *["down"] * words.index(text), "enter")
    await settle(pilot)
    assert listed.value == text


async def type_in(pilot: Pilot[str], text: str) -> None:
    """Type into the field in focus."""
    field = pilot.app.focused
    assert isinstance(field, Input)
    field.value = ""
    for char in text:
        await pilot.press({" ": "space"}.get(char, char))


async def go_to(pilot: Pilot[str], key: str) -> None:
    """Tab down to the question about a key."""
    for _ in range(30):
        here = pilot.app.focused
        found = next((one for one in here.ancestors if isinstance(one, Answer)), None) if here else None
        if found and found.question.key == key:
            return
        await pilot.press("tab")
    raise AssertionError(key)


def picture(app: ShackrailApp) -> str:
    """Everything on the screen as plain text."""
    shown = [one for one in app.screen.query("*") if one.display and hasattr(one, "render") and not one.children]
    return "\n".join(str(one.render()) for one in shown)


async def begun(pilot: Pilot[str], use: str) -> None:
    """Through the first door to a named station of one use with one radio, standing at its list of equipment."""
    await settle(pilot)
    await pilot.press("enter")
    await settle(pilot)
    await type_in(pilot, "Ridge")
    await pilot.press("enter", str(list(Use).index(Use(use)) + 1))
    await settle(pilot)
    await pilot.press("enter")
    await settle(pilot)
    await type_in(pilot, "20 w hf")
    await pilot.press("enter")
    await settle(pilot)
    await go_to(pilot, "window")
    await type_in(pilot, "11 to 15.5 V")
    await pilot.press("f4")
    await settle(pilot)
    await pilot.press("f4")
    await settle(pilot)


async def tallied(pilot: Pilot[str]) -> None:
    """Work the tally out now."""
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    app.debounce = 0.0
    app.refresh_tally()
    app.debounce = NEVER
    await settle(pilot)


async def saved(pilot: Pilot[str]) -> None:
    """On to the result and save under the name offered."""
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    for _ in app.session.steps:
        if app.session.step != "result":
            await pilot.press("f4")
            await settle(pilot)
    await pilot.press("2")
    await settle(pilot)


async def test_a_battery_station_from_the_door_to_a_saved_profile(own_folders: Path) -> None:
    """Use, radio, lead, battery: the file equals that of the same station written by hand, and the hours are drawn."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, "battery")
        await type_in(pilot, "1 m")
        await pilot.press("f4")
        await settle(pilot)
        assert app.session.step == "battery"
        await pilot.press("2")
        await settle(pilot)
        await choose(pilot, "lfp")
        await go_to(pilot, "amp_hours")
        await type_in(pilot, "50 Ah")
        await tallied(pilot)
        assert "battery lasts about" in picture(app)
        await saved(pilot)
        assert "keyed  r receive" in picture(app)
        await pilot.press("f10")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
    text = (
        f'format = 1\nname = "Ridge"\nuse = "battery"\n{RADIO}'
        '[[source]]\nid = "battery"\nclass = "battery"\nchemistry = "lfp"\namp_hours = "50 Ah"\n'
        '[[run]]\nid = "hf-lead"\nto = "hf"\nlength = "1 m"\n'
    )
    shelf = built_in()
    planned = planning.plan(profile.read(text, shelf).station, shelf)
    assert (own_folders / "ridge.toml").read_text(encoding="utf-8") == profile_text(planned.verdict)


async def test_a_vehicle_from_the_door_to_a_saved_profile(own_folders: Path) -> None:
    """Use, radio, lead with its negative, vehicle: the same file, and every condition is drawn."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot, "mobile")
        await type_in(pilot, "4 m")
        await pilot.press("enter")
        await choose(pilot, "battery post")
        await pilot.press("f4")
        await settle(pilot)
        assert app.session.step == "vehicle"
        await choose(pilot, "van")
        await tallied(pilot)
        assert "engine off: hf sees" in picture(app)
        await saved(pilot)
        assert "charging" in picture(app)
        await pilot.press("f10")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
    text = (
        f'format = 1\nname = "Ridge"\nuse = "mobile"\n{RADIO}'
        '[[source]]\nid = "vehicle"\nclass = "vehicle"\npart = "van"\n'
        '[[run]]\nid = "hf-lead"\nto = "hf"\nlength = "4 m"\nnegative = "battery post"\n'
    )
    shelf = built_in()
    planned = planning.plan(profile.read(text, shelf).station, shelf)
    assert (own_folders / "ridge.toml").read_text(encoding="utf-8") == profile_text(planned.verdict)


@pytest.mark.parametrize("use", ["battery", "mobile"])
async def test_back_at_every_step_loses_nothing(use: str) -> None:
    """Forward to the result and all the way back leaves the document as it was, planned or judged."""
    for mode in (PLAN, JUDGE):
        app = ShackrailApp(debounce=NEVER)
        async with app.run_test(size=(80, 24)) as pilot:
            session = Session(app.shelf, mode)
            session.document |= {"name": "Ridge", "use": use}
            session.add_load("hf-20w")
            session.answer(questions.BATTERY[0] if use == "battery" else questions.VEHICLE[0], KNOWN[use])
            session.answer(questions.BATTERY[1], "50 Ah") if use == "battery" else None
            before = session.exported
            app.go_on(session)
            await settle(pilot)
            walked = [session.step]
            for key in ("f4", "f3"):
                for _ in session.steps[1:]:
                    await pilot.press(key)
                    await settle(pilot)
                    walked.append(session.step)
            assert walked == [*session.steps, *reversed(session.steps[:-1])]
            assert session.exported == before


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("use", ["battery", "mobile", "fixed"])
async def test_hostile_text_in_the_new_fields(text: str, use: str) -> None:
    """Whatever stands in the new fields is shown as it stands, on every step, and kept."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24), notifications=True, tooltips=True) as pilot:
        session = Session(app.shelf)
        session.document |= {"use": use, "name": text, "wishes": {"hours": text}}
        session.add_load("hf-20w")
        asked = [*questions.BATTERY, *questions.SUN, *questions.VEHICLE, *questions.vehicle.LEAD, questions.REGION]
        said = [one for one in asked if one.kind != {"battery": "vehicle", "mobile": "battery"}.get(use)]
        for one in said:
            session.answer(one, text)
        app.go_on(session)
        for step in session.steps:
            app.to_step(step)
            await settle(pilot)
        assert [session.text(one) for one in said] == [text.strip()] * len(said)


async def test_a_battery_step_that_empties_itself_stays_until_it_is_left() -> None:
    """The last answer about the battery behind a supply may be opened again on its own step."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf)
        session.add_load("hf-20w")
        session.answer(questions.OUTAGE, "2 h")
        session.answer(questions.BATTERY[1], "50 Ah")
        app.go_on(session)
        app.to_step("battery")
        await settle(pilot)
        session.answer(questions.OUTAGE, "")
        await go_to(pilot, "amp_hours")
        await type_in(pilot, "5")
        await pilot.press("f2")
        await settle(pilot)
        await pilot.press("f3")
        await settle(pilot)
        assert app.session.step == "wishes"


def test_the_tally_says_how_long_and_what_ends_it_even_in_three_lines() -> None:
    """Current, hours and the tightest radio, first, where there is room for nothing else."""
    session = Session(built_in())
    session.document |= tomllib.loads(
        f'use = "battery"\n{RADIO}[[source]]\nid = "b"\nclass = "battery"\nchemistry = "lfp"\namp_hours = "50 Ah"\n'
    )
    first, second, third = tally(session, session.reckoned(), 76, 3)
    assert "you draw" in first
    assert "b lasts about" in second
    assert third.startswith("+ hf: ")
