"""Readings, symptoms, claims and papers by keyboard; the session is asserted first, the picture second."""

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from catalog.shelf import built_in
from engine.station import profile
from wizard import drafts
from wizard.interview import readings
from wizard.interview.claims import KINDS
from wizard.interview.opening import from_draft, from_file
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.questions.readings import places
from wizard.screens.app import ShackrailApp
from wizard.screens.claim import Claim
from wizard.screens.papers import PAPERS
from wizard.screens.reading_form import ReadingForm
from wizard.screens.readings import Readings
from wizard.screens.result import SECTIONS, Result
from wizard.screens.symptoms import Symptoms
from wizard.screens.widgets.answer import Answer
from wizard.screens.widgets.plain import Plain

from .test_screens import HOSTILE, picture, settle, type_in

ATTIC = """
format = 1
name = "Attic desk"
[[load]]
id = "hf"
class = "hf-100w"
transmit = "20 A"
[[source]]
id = "supply"
class = "switch-mode"
volts = "13.8 V"
continuous = "25 A"
peak = "30 A"
[[run]]
id = "hf-lead"
from = "supply"
to = "hf"
length = "10 ft"
conductor = "12 AWG"
insulation = "60 °C"
fuse = "25 A"
contacts = ["ring terminal", "keyed plug"]
"""
METER = {"instrument": "digital multimeter", "date": "2026-11-24"}


@pytest.fixture
def attic(own_folders: Path) -> Path:
    """A station of one radio, with 10 ft of 12 AWG, in a file."""
    path = own_folders / "attic.toml"
    path.write_text(ATTIC, encoding="utf-8")
    return path


async def to_readings(pilot: Pilot[str]) -> None:
    """From the doors through What a meter showed to the first file in the folder."""
    await settle(pilot)
    await pilot.press("down", "down", "down", "enter")
    await settle(pilot)
    await pilot.press("down", "enter")
    await settle(pilot)
    assert isinstance(pilot.app.screen, Readings)


async def choose(pilot: Pilot[str], key: str, down: int) -> None:
    """Choose the word that stands ``down`` places below the one chosen, in the field of one question."""
    await focus(pilot, key)
    await pilot.press("enter", *["down"] * down, "enter")
    await settle(pilot)


async def focus(pilot: Pilot[str], key: str) -> None:
    """Tab to the field of one question."""
    screen = pilot.app.screen
    assert isinstance(screen, ReadingForm)
    order = [answer.question.key for answer in screen.query(Answer)]
    here = screen.focused_answer()
    move = order.index(key) - order.index(here.question.key if here else "at")
    await pilot.press(*["tab" if move > 0 else "shift+tab"] * abs(move))
    here = screen.focused_answer()
    assert here and here.question.key == key


async def add_reading(pilot: Pilot[str], volts: str, amps: str = "", supply: bool = False, meter: bool = True) -> None:
    """Add one reading by the keyboard, at the radio or at the supply."""
    await pilot.press("f7")
    await settle(pilot)
    screen = pilot.app.screen
    assert isinstance(screen, ReadingForm)
    at = str(readings.place_of(screen.session.rows("reading")[-1]))
    words = [key for key, _ in places(screen.session.document, screen.session.shelf)]
    want = "supply" if supply else "hf"
    if at != want:
        await focus(pilot, "at")
        move = words.index(want) - (words.index(at) if at else -1)
        await pilot.press("enter", *["down" if move > 0 else "up"] * abs(move), "enter")
        await settle(pilot)
    await focus(pilot, "volts")
    await type_in(pilot, volts)
    if amps:
        await focus(pilot, "amps")
        await type_in(pilot, amps)
    if meter and "instrument" not in screen.session.rows("reading")[-1]:
        await choose(pilot, "instrument", 1)
    await pilot.press("f4")
    await settle(pilot)


def read(session: Session) -> list[dict[str, Any]]:
    """The readings of a session without their day."""
    return [{k: v for k, v in row.items() if k != "date"} for row in session.rows("reading")]


async def test_two_readings_by_keyboard_name_the_lead(attic: Path) -> None:
    """13.8 V at the supply, 11.9 V at the radio, 20 A: 95 mohm and 38 W on the path (Ohm's law), over half too much."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_readings(pilot)
        await add_reading(pilot, "13.8 V", supply=True)
        await add_reading(pilot, "11.9 V", amps="20 A")
        assert read(app.session) == [
            {"at": "supply", "state": "keyed", "volts": "13.8 V", "instrument": "digital multimeter"},
            {"at": "hf", "state": "keyed", "volts": "11.9 V", "amps": "20 A", "instrument": "digital multimeter"},
        ]
        found, unread = readings.diagnosed(app.session)
        assert unread == 0
        assert [(one.kind, one.about) for one in found.causes] == [("path", "hf-lead")]
        text = picture(app)
        assert "FOUND" in text and "95.0 mΩ and 38.0 W" in text
        assert "Measure next" in text
        await pilot.press("f10")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
    kept = profile.read(attic.read_text(encoding="utf-8"), built_in()).station
    assert [(one.at, one.volts, one.amps) for one in kept.readings] == [("supply", 13.8, None), ("hf", 11.9, 20.0)]
    assert drafts.unfinished() == []


async def test_a_supply_at_11_9_volts_is_at_fault(attic: Path) -> None:
    """If the supply's own terminals show 11.9 V, keyed, the supply is at fault, whatever meter it was."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_readings(pilot)
        await add_reading(pilot, "11.9 V", amps="20 A", supply=True, meter=False)
        found, _ = readings.diagnosed(app.session)
        assert [(one.kind, one.about) for one in found.causes] == [("supply", "supply")]
        assert "11.9 V at supply, hf keyed" in picture(app)


async def test_an_alarm_leads_on_the_screen_and_the_next_reading_is_not_keyed(attic: Path) -> None:
    """17 V at the supply: what to do stands first, and a reading that is added begins with nothing switched on."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_readings(pilot)
        app.session.put("reading", [{"at": "supply", "state": "receive", "volts": "17 V", **METER}])
        app.to_readings()
        await settle(pilot)
        text = picture(app)
        assert "Switch off and unplug first" in text and "ALARM" in text and "WARNING: 17.0 V at supply" in text
        await pilot.press("f7")
        await settle(pilot)
        row = app.session.rows("reading")[-1]
        assert (row["at"], row["state"], "keyed" in row) == ("supply", "no load", False)


async def test_a_reading_begins_where_it_would_tell_most(attic: Path) -> None:
    """Adding takes the place that the diagnosis asks for, and the meter of the reading before."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_readings(pilot)
        app.session.put("reading", [{"at": "hf", "state": "keyed", "volts": "11.9 V", **METER}])
        app.to_readings()
        await settle(pilot)
        await pilot.press("f7")
        await settle(pilot)
        assert readings.place_of(app.session.rows("reading")[-1]) == "supply"
        assert app.session.rows("reading")[-1]["instrument"] == "digital multimeter"
        await pilot.press("f3")
        await settle(pilot)
        assert len(app.session.rows("reading")) == 1


async def test_a_described_station_goes_on_to_its_readings() -> None:
    """A second opinion that is described in the wizard leads from its result to the readings, and back."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, JUDGE)
        session.add_load("hf-100w")
        session.rows("load")[0]["transmit"] = "20 A"
        app.go_on(session)
        app.to_step("result")
        await settle(pilot)
        await pilot.press("f8")
        await settle(pilot)
        await add_reading(pilot, "11.9 V", amps="20 A", supply=True)
        assert app.session.rows("source") == [{"id": "supply"}]
        assert app.session.problems() == ()
        await pilot.press("f4")
        await settle(pilot)
        assert isinstance(app.screen, Result)
        draft = from_draft(session.draft.path, app.shelf)
        assert draft is not None and draft.exported == session.exported


async def test_a_plan_is_not_measured() -> None:
    """What is only planned has no volts to read: its result offers no meter, neither in the footer nor in the help."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        session = Session(app.shelf, PLAN)
        session.add_load("hf-qrp")
        app.go_on(session)
        app.to_step("result")
        await settle(pilot)
        await pilot.press("f8")
        await settle(pilot)
        assert isinstance(app.screen, Result)
        assert "Meter" not in picture(app)
        await pilot.press("f1")
        await settle(pilot)
        assert "Working" in picture(app) and "Meter" not in picture(app)


async def test_a_symptom_leads_to_readings(attic: Path) -> None:
    """Dies on key-down, its first cause, its measurement: the readings open and say what they are to decide."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press(*["down"] * 4, "enter")
        await settle(pilot)
        listed = app.screen.query_one("#lines", OptionList)
        shown = [str(listed.get_option_at_index(place).prompt) for place in range(listed.option_count)]
        assert shown == [row.title for row in app.shelf.symptoms.values()]
        await pilot.press("enter")
        await settle(pilot)
        cause = app.shelf.symptoms["dies-on-key-down"].causes[0]
        assert cause.apart in picture(app)
        await pilot.press("enter")
        await settle(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert app.session.document["name"] == "Attic desk"
        assert isinstance(app.screen, Readings)
        assert f"To be decided: {cause.ask}" in picture(app)


async def test_every_symptom_shows_every_cause() -> None:
    """Each row of the catalogue opens, each cause with what tells it apart."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        for row in app.shelf.symptoms.values():
            app.show(Symptoms(row))
            await settle(pilot)
            for place, cause in enumerate(row.causes):
                app.screen.query_one("#lines", OptionList).highlighted = place
                await pilot.pause()
                assert cause.apart in str(app.screen.query_one("#why", Plain).content)


async def test_a_claim_is_refuted_with_its_arithmetic() -> None:
    """30 A over 3 m of 14 AWG at half a volt: 30 x 6 m x 0.01724 / 2.08 mm2 = 1.49 V (IEC 60028), feet for metres.

    Stranded copper has 2 % more: 30 x 6 x 8.45 mohm is 1.52 V.
    """
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press(*["down"] * 5, "enter")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        for text in ("14 AWG", "30 A", "3 m", "0.5 V"):
            await type_in(pilot, text)
            await pilot.press("enter")
        await settle(pilot)
        said = picture(app)
        assert "REFUTED" in said and "1.49 V" in said and "feet and metres were exchanged" in said
        await pilot.press("f9")
        await settle(pilot)
        assert "30.0 A × 6.00 m × 8.5 mΩ" in picture(app)
        await pilot.press("escape", "f3")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert "REFUTED" in picture(app)


async def test_a_claim_in_wrong_units_is_named_beside_its_figure() -> None:
    """Metres where amperes belong: said beside the figure, and no verdict is given."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        app.claimed["cable"] = {"conductor": "13 AWG", "amps": "3 m", "length": "3 m"}
        await settle(pilot)
        await pilot.press(*["down"] * 5, "enter")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert "this asks for a current" in picture(app)
        assert "cannot be read yet" in picture(app)


async def test_every_kind_of_claim_is_judged_on_its_page() -> None:
    """The example beside each question is a figure that can be read; with all of them there is a verdict."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        for kind in KINDS:
            app.claimed[kind.id] = {one.key: one.example.split(",")[0] for one in (*kind.needs, *kind.may)}
            app.show(Claim(kind))
            await settle(pilot)
            assert isinstance(app.screen, Claim) and app.screen.found, kind.id
            assert app.screen.found.outcome.upper() in picture(app)


async def test_a_raised_supply_is_judged_for_the_station_at_hand(attic: Path) -> None:
    """15 V for the open station: its supply cannot be set, which the verdict says (the station's own words)."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        app.claimed["raise"] = {"raise": "15 V", "for": "the station at hand"}
        app.go_on(from_file(attic, app.shelf, JUDGE))
        await settle(pilot)
        await pilot.press("f7")
        await settle(pilot)
        await pilot.press("up", "enter")
        await settle(pilot)
        await pilot.press("down", "down", "enter")
        await settle(pilot)
        text = picture(app)
        assert "raise the supply of Attic desk to 15 V: REFUTED" in text
        await pilot.press("f3", "f3")
        await settle(pilot)
        assert isinstance(app.screen, Result)


async def test_papers_open_and_are_saved(attic: Path, own_folders: Path) -> None:
    """Each paper opens from the result, fits eighty columns and is written as text; a second time asks first."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.go_on(from_file(attic, app.shelf, JUDGE))
        await settle(pilot)
        for place, sort in enumerate(PAPERS):
            await pilot.press("f7")
            await settle(pilot)
            await pilot.press(*["down"] * place, "enter")
            await settle(pilot)
            assert "Attic desk" in picture(app)
            await pilot.press("f10")
            await settle(pilot)
            await pilot.press("enter")
            await settle(pilot)
            text = (own_folders / f"attic-desk-{sort.id}.txt").read_text(encoding="utf-8")
            assert "Attic desk" in text
            assert max(map(len, text.splitlines())) <= 80
            await pilot.press("f10")
            await settle(pilot)
            await pilot.press("enter")
            await settle(pilot)
            assert "saved to" in picture(app)
            await pilot.press("escape")
            await settle(pilot)
        assert isinstance(app.screen, Result)


@pytest.mark.parametrize("name", ["no/such/folder/card.txt", "attic.toml", "."])
async def test_a_paper_that_cannot_be_written_says_so(name: str, attic: Path) -> None:
    """A missing folder, a station file in the way, a folder: a sentence, and what is there stays as it is."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        app.go_on(from_file(attic, app.shelf, JUDGE))
        await settle(pilot)
        await pilot.press("f7")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        await pilot.press("f10")
        await settle(pilot)
        app.screen.query_one("#path", Input).value = name
        for _ in range(2):
            await pilot.press("enter")
            await settle(pilot)
            assert "choose another" in picture(app)
    assert attic.read_text(encoding="utf-8") == ATTIC


async def test_the_result_shows_the_one_change_first_and_how_far_it_carries(attic: Path) -> None:
    """10 ft of 12 AWG at 20 A is too thin by the rules; the next size alone mends it, and the reach says so too."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        app.go_on(from_file(attic, app.shelf, JUDGE))
        await settle(pilot)
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, Result)
        assert screen.mend is not None and screen.mend.single is not None
        assert screen.lines[0].title.startswith("one change is enough")
        assert "10 AWG" in screen.lines[0].title
        await pilot.press(str(SECTIONS.index("Limits") + 1))
        await settle(pilot)
        await settle(pilot)
        assert screen.reach
        assert any(line.title.startswith("hf-lead, longest lead, now 3.05 m") for line in screen.lines)


@pytest.mark.parametrize("text", HOSTILE)
async def test_hostile_text_in_readings_and_claims(text: str, attic: Path) -> None:
    """Whatever stands in a reading or a claim is shown as it stands and kept; the rest is still judged."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24), notifications=True, tooltips=True) as pilot:
        session = from_file(attic, app.shelf, JUDGE)
        app.session = session
        row = {"at": text, "state": text, "volts": text, "note": text, "keyed": [text]}
        session.put("reading", [row, {"at": "supply", "state": "keyed", "volts": "11.9 V", **METER}])
        app.to_readings(text)
        await settle(pilot)
        found, unread = readings.diagnosed(session)
        assert (unread, found.outcome) == (1, "found")
        await pilot.press("up", "up", "enter")
        await settle(pilot)
        assert isinstance(app.screen, ReadingForm)
        await pilot.press("f3")
        await settle(pilot)
        assert session.rows("reading")[0] == row
        await pilot.press("f4")
        await settle(pilot)
        screen = app.screen
        assert isinstance(screen, Result)
        assert screen.faults and all(one.where.startswith("reading[0]") for one in screen.faults)
        await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, ReadingForm)
        app.claimed["cable"] = dict.fromkeys(("conductor", "amps", "length"), text)
        app.to_door()
        await settle(pilot)
        await pilot.press(*["down"] * 5, "enter")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert "REFUTED" not in picture(app)


async def test_a_faulty_file_at_the_readings_door_is_named(own_folders: Path) -> None:
    """A station file with a fault opens nothing; the fault is said on the page that asks for it."""
    (own_folders / "bad.toml").write_text('format = 1\nbogus = "[/x]"\n', encoding="utf-8")
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("down", "down", "down", "enter")
        await settle(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert "bogus" in picture(app)
        assert app.screen.query_one("#files", OptionList)
