"""What cannot be read, or is not whole yet: it is kept, said, asked again, and found from the result."""

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from catalog.shelf import built_in
from engine.station import profile
from wizard import drafts, questions, store
from wizard.commands.main import main
from wizard.interview import readings
from wizard.interview.claims import KINDS
from wizard.interview.faults import unreadable
from wizard.interview.opening import from_draft, from_file
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.interview.steps import STEPS
from wizard.lines.readings import BenchInterview
from wizard.questions.question import Question
from wizard.questions.readings import AT, READING, places
from wizard.screens.app import ShackrailApp
from wizard.screens.claim import Claim
from wizard.screens.form import Form
from wizard.screens.reading_form import ReadingForm
from wizard.screens.readings import Readings
from wizard.screens.widgets.answer import Answer

from .test_bench_screens import ATTIC, METER
from .test_plain import scripted
from .test_screens import picture, settle

NEVER = 3600.0
"""A pause before the tally that no test waits for."""


def ask(table: str, key: str, part: int | None = None) -> Question:
    """The declared question about a key."""
    every = (*questions.EVERY, *READING)
    return next(one for one in every if (one.table, one.key, one.part) == (table, key, part))


def attic(folder: Path) -> Session:
    """The attic, opened from its file to be judged."""
    path = folder / "attic.toml"
    path.write_text(ATTIC, encoding="utf-8")
    return from_file(path, built_in(), JUDGE)


async def press(pilot: Pilot[str], *keys: str) -> None:
    """Keys, each with all its consequences."""
    for key in keys:
        await pilot.press(key)
        await settle(pilot)


def in_focus(app: ShackrailApp) -> tuple[Question, int]:
    """The question and the row of the field in focus."""
    screen = app.screen
    assert isinstance(screen, Form)
    answer = screen.focused_answer()
    assert answer is not None
    return answer.question, answer.index


# -- Enter goes to the field that is meant

FAULTS: dict[str, tuple[dict[str, list[dict[str, Any]]], Question, int]] = {
    "the second load": ({"load": [{}, {"window": "12 A"}]}, ask("load", "window"), 1),
    "a lead that is not the first": ({"run": [{"to": "vhf", "length": "x"}, {"to": "hf"}]}, ask("run", "length"), 1),
    "the far contact": ({"run": [{"to": "hf", "contacts": ["ring terminal", "x"]}]}, ask("run", "contacts", 1), 0),
    "the supply": ({"source": [{"peak": "1 V"}]}, ask("source", "peak"), 0),
    "the place of a reading": ({"reading": [{"at": "x", "state": "keyed", "volts": "12 V"}]}, AT, 0),
    "a part of a lead": ({"reading": [{"at": "hf-lead", "state": "keyed", "volts": "12 V"}]}, AT, 0),
    "volts that are missing": ({"reading": [{"at": "hf", "state": "keyed"}]}, ask("reading", "volts"), 0),
}


@pytest.mark.parametrize("name", FAULTS)
async def test_enter_on_a_fault_goes_to_the_very_field(name: str) -> None:
    """From the result to the answer that is in the way, on whichever form and in whichever row."""
    rows, question, index = FAULTS[name]
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, JUDGE)
        for load in ("hf-100w", "vhf-50w"):
            session.add_load(load)
        before = {"source": [{"id": "supply"}], "run": [{"to": "hf"}], "load": session.rows("load")} | rows
        for table, said in before.items():
            kept = session.rows(table)
            made = [(kept[at] if at < len(kept) else {}) | row for at, row in enumerate(said)]
            session.document[table] = [
                {"id": f"{row['to']}-lead"} | row if table == "run" else {"id": "supply"} | row
                if table == "source" else row for row in made
            ]  # fmt: skip
        app.go_on(session)
        app.to_step("result")
        await settle(pilot)
        await press(pilot, "enter")
        assert in_focus(app)[1] == index
        assert in_focus(app)[0].place(index) == question.place(index)
        assert app.session.focus is None


async def test_a_fault_of_the_whole_table_goes_to_its_step() -> None:
    """No equipment at all: the step that lists it."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.go_on(Session(app.shelf, JUDGE))
        app.to_step("result")
        await settle(pilot)
        assert "SOUND" not in picture(app)
        await press(pilot, "enter")
        assert app.session.step == "loads"


# -- Enter on what cannot be read


async def test_nonsense_and_enter_stays_and_the_next_typing_takes_its_place() -> None:
    """The text is selected; what is typed next replaces it, and Enter then goes on."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, PLAN)
        session.add_load("hf-qrp")
        app.go_on(session)
        app.to_step("leads")
        await settle(pilot)
        await press(pilot, *"xyz", "enter")
        assert in_focus(app)[0].key == "length"
        assert session.text(questions.LEAD[0]) == "xyz"
        await press(pilot, *"2", "space", "m")
        assert session.text(questions.LEAD[0]) == "2 m"
        await press(pilot, "enter")
        focused = app.focused
        assert focused is not None and focused.id == "next"


async def test_enter_on_a_name_that_is_empty_stays() -> None:
    """A load must have a name; an open answer of any other kind goes on."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, PLAN)
        session.add_load(None)
        app.go_on(session)
        app.to_step("loads")
        await settle(pilot)
        await press(pilot, "home", "enter", "f2", "enter")
        assert in_focus(app)[0].key == "id"
        await press(pilot, "x", "enter", "enter")
        assert in_focus(app)[0].key == "receive"


def test_an_answer_that_only_contradicts_another_can_be_read() -> None:
    """More in receive than keyed, a size without its length: each may be the other's fault, so Enter goes on."""
    session = Session(built_in())
    session.add_load("hf-100w")
    for key, text in (("receive", "30 A"), ("transmit", "20 A"), ("lead", "12 AWG")):
        session.answer(ask("load", key), text)
        assert not unreadable(session, ask("load", key))
    assert session.problems()
    for key, text in (("receive", "30 V"), ("mode", "x"), ("lead", "13 AWG"), ("id", "a b")):
        session.answer(ask("load", key), text)
        assert unreadable(session, ask("load", key)), key


async def test_a_claim_asks_again_for_a_figure_that_cannot_be_read() -> None:
    """The same holds where somebody's claim is typed."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        app.push_screen(Claim(KINDS[0]))
        await settle(pilot)
        await press(pilot, "x", "enter", *"14", "space", *"AWG", "enter")
        assert app.claimed["cable"] == {"conductor": "14 AWG"}
        screen = app.screen
        here = app.focused
        assert isinstance(screen, Claim) and here is not None
        assert here is list(screen.query(Answer))[1].field


def test_each_end_of_a_lead_has_its_own_fault() -> None:
    """What is wrong with one contact is said beside that one alone."""
    session = Session(built_in(), JUDGE)
    session.add_load("hf-100w")
    session.document["run"] = [{"id": "hf-lead", "to": "hf", "contacts": ["ring terminal", "x"]}]
    session = Session(session.shelf, JUDGE, session.document)
    near, far = ask("run", "contacts", 0), ask("run", "contacts", 1)
    assert session.fault(session.problems(), near) is None
    assert session.fault(session.problems(), far) is not None


# -- readings


async def test_an_incomplete_reading_is_kept_and_says_what_it_lacks(own_folders: Path) -> None:
    """Only a remark is typed: back on the list it still stands there, uncounted; F3, F4 and a jump alike."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        session = attic(own_folders)
        app.go_on(session)
        told = set[str]()
        for number, ways in enumerate((("f3",), ("f4",), ("escape",), ("f5", "6", "f8")), 1):
            app.to_readings()
            await settle(pilot)
            await press(pilot, "f7")
            session.answer(ask("reading", "note"), f"remark {number}", number - 1)
            await press(pilot, *ways)
            assert isinstance(app.screen, Readings)
            told |= {str(one.message) for one in app._notifications}
            assert len(session.rows("reading")) == number
            assert "kept and not counted yet" in picture(app) and "Which volts did it show?" in picture(app)
        assert any("kept, and not counted yet" in message for message in told)
        assert [row["note"] for row in session.exported["reading"]] == [f"remark {one}" for one in range(1, 5)]


@pytest.mark.parametrize("ways", [("f3",), ("f4",), ("escape",), ("f5", "6"), ("f6",)], ids="-".join)
async def test_a_reading_of_which_nothing_was_answered_leaves_no_trace(
    ways: tuple[str, ...], own_folders: Path
) -> None:
    """Added and left, whichever way: it is in nobody's way and in no file."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        session = attic(own_folders)
        before = session.exported
        app.go_on(session)
        app.to_readings()
        await settle(pilot)
        await press(pilot, "f7")
        assert isinstance(app.screen, ReadingForm)
        await press(pilot, *ways)
        assert session.exported == before and session.problems() == ()
        app.to_readings()
        await settle(pilot)
        assert session.rows("reading") == []


async def test_a_station_without_loads_is_never_sound(own_folders: Path) -> None:
    """Planned, judged or measured, on the tally, the result and the readings: nothing is as it should be yet."""
    for mode in (PLAN, JUDGE):
        app = ShackrailApp(debounce=0.0)
        async with app.run_test(size=(80, 24)) as pilot:
            session = Session(app.shelf, mode)
            session.document |= {"name": "Empty", "source": [{"id": "supply"}]}
            session.put("reading", [{"at": "supply", "state": "keyed", "volts": "13.8 V"}])
            app.go_on(session)
            for step in ("", "site", "result"):
                app.to_step(step) if step else app.to_readings()
                await settle(pilot)
                said = picture(app)
                assert "SOUND" not in said and "as it should be" not in said
    said_lines: list[str] = []
    assert BenchInterview(session, scripted({}, []), said_lines.append).run() == 0
    assert any(readings.NO_LOADS in line for line in said_lines)


def test_every_place_that_is_offered_can_be_read() -> None:
    """On every worked station; nothing at the voltage of the mains, no fuse where there is none."""
    shelf = built_in()
    for path in store.worked().values():
        session = from_file(path, shelf, JUDGE)
        runs = {row["id"] for row in session.rows("run")}
        for place, _ in places(session.document, shelf):
            session.put(
                "reading",
                [{"state": "keyed"} | {"amps" if place in runs else "volts": "5 A" if place in runs else "12 V"}],
            )
            readings.set_place(session, 0, place)
            assert session.problems() == (), (path.stem, place)


def test_no_mains_terminal_is_offered_to_a_meter() -> None:
    """A valve amplifier plugs into the wall: its terminals are not among the places."""
    session = Session(built_in(), JUDGE)
    session.add_load("amp-valve")
    session.add_load("hf-100w")
    assert [place for place, _ in places(session.document, session.shelf)] == ["hf", "supply"]


# -- line by line


def test_an_incomplete_reading_is_asked_for_again_line_by_line(own_folders: Path) -> None:
    """What is missing is asked once more; still open, it is kept as a draft, and the rest is saved."""
    session = attic(own_folders)
    said: list[str] = []
    answers = {
        "two points lie": ["supply", "hf", ""],
        "Which volts": ["", "13.8 V", "", ""],
        "remark": ["", "warm"],
        "Save the station": ["measured.toml"],
    }
    assert BenchInterview(session, scripted(answers, []), said.append).run() == 0
    text = "\n".join(said)
    assert "this reading is kept, and not counted yet" in text and "kept as a draft" in text
    saved = profile.read((own_folders / "measured.toml").read_text(encoding="utf-8"), session.shelf).station
    assert [(one.at, one.volts) for one in saved.readings] == [("supply", 13.8)]
    (path,) = drafts.unfinished()
    draft = from_draft(path, session.shelf)
    assert draft is not None
    assert [row.get("note") for row in draft.rows("reading")] == [None, "warm"]


def test_an_answer_can_be_taken_out_again_line_by_line(own_folders: Path) -> None:
    """Ohms typed beside volts: the word clear opens them again; a wrong answer, then an empty line, is left open."""
    session = attic(own_folders)
    said: list[str] = []
    answers = {
        "two points lie": ["hf", ""],
        "Which volts": ["12 V"],
        "Which ohms": ["1 ohm", "clear"],
        "Which current": ["x", ""],
    }
    assert BenchInterview(session, scripted(answers, []), said.append).run() == 0
    (row,) = session.rows("reading")
    assert row["volts"] == "12 V" and "ohms" not in row and "amps" not in row
    assert "left open" in said


def test_bytes_that_are_no_text_are_asked_for_again(own_folders: Path) -> None:
    """A line in another encoding ends in no traceback: it is named, and the next line is the answer."""
    import os
    import subprocess
    import sys

    env = {**os.environ, "PYTHONPATH": os.pathsep.join([str(Path(__file__).parents[2]), *sys.path])}
    for locale in ("C.UTF-8", "C", "POSIX"):
        found = subprocess.run(
            [sys.executable, "-m", "wizard.commands.main", "ask"],
            input=b"Caf\xe9\nAttic\n\n\xed\xa0\x80\nhf-qrp\n",
            capture_output=True,
            env={**env, "LC_ALL": locale, "LANG": locale},
            timeout=120,
            check=False,
        )
        assert found.returncode == 130, found.stderr
        assert found.stdout.count(b"not UTF-8 text") == 2
        assert b"Traceback" not in found.stderr
    kept = [from_draft(path, built_in()) for path in drafts.unfinished()]
    assert [one.document["name"] for one in kept if one] == ["Attic"] * 3


def test_asking_about_no_file_is_a_sentence() -> None:
    """The file that was meant is named."""
    assert main(["ask", "nowhere.toml"]) == 2


def test_a_station_at_which_everything_can_be_read_has_no_faulty_reading(own_folders: Path) -> None:
    """Nothing is missing from a whole reading."""
    session = attic(own_folders)
    session.put("reading", [{"at": "hf", "state": "keyed", "volts": "12 V", **METER}])
    assert readings.missing(session) == []


async def test_bytes_replaced_by_the_terminal_stand_in_the_field_to_be_corrected() -> None:
    """The mark in place of a byte that is no text is typed like any other letter, and kept."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin(PLAN)
        await settle(pilot)
        field = app.focused
        assert isinstance(field, Input)
        field.insert_text_at_cursor("Caf�")
        await settle(pilot)
        assert app.session.document["name"] == "Caf�"
        assert set(app.session.steps) <= set(STEPS)
