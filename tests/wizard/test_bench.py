"""Readings in a session and line by line, without a screen."""

from datetime import date
from pathlib import Path

from catalog.shelf import built_in
from engine.planning import plan as planning
from engine.planning.plan import Plan
from engine.station import profile
from wizard import questions
from wizard.commands.main import main
from wizard.interview import readings
from wizard.interview.opening import from_draft, from_file
from wizard.interview.saving import profile_text
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.lines.readings import BenchInterview

from .test_bench_screens import ATTIC, METER
from .test_plain import scripted

ROWS = [
    {"at": "supply", "state": "keyed", "volts": "13.8 V", **METER},
    {"at": "hf", "state": "keyed", "volts": "11.9 V", "amps": "20 A", **METER},
    {"at": "hf-lead", "across": "fuse", "state": "keyed", "keyed": ["hf"], "volts": "900 mV", "note": "warm", **METER},
]


def measured(folder: Path) -> Session:
    """The attic with three readings, opened from its file."""
    path = folder / "attic.toml"
    path.write_text(ATTIC, encoding="utf-8")
    session = from_file(path, built_in(), JUDGE)
    session.put("reading", [dict(row) for row in ROWS])
    return session


def test_readings_pass_through_draft_profile_and_reopening(own_folders: Path) -> None:
    """Kept as a draft, saved as a profile, opened again: the same readings, key by key."""
    session = measured(own_folders)
    assert session.keep() is None
    again = from_draft(session.draft.path, session.shelf)
    assert again is not None and again.exported["reading"] == ROWS
    path = own_folders / "saved.toml"
    path.write_text(profile_text(session.result().verdict), encoding="utf-8")
    for mode in (JUDGE, PLAN):
        assert from_file(path, session.shelf, mode).exported["reading"] == ROWS


def test_saving_readings_keeps_the_reasons_of_an_earlier_plan(own_folders: Path) -> None:
    """A planned profile, measured and saved again, still says why each part was chosen."""
    shelf = built_in()
    text = 'format = 1\nname = "New"\n[[load]]\nid = "hf"\nclass = "hf-100w"\ntransmit = "20 A"\n'
    planned = planning.plan(profile.read(text, shelf).station, shelf)
    path = own_folders / "new.toml"
    path.write_text(profile_text(planned.verdict), encoding="utf-8")
    session = from_file(path, shelf, JUDGE)
    session.put("reading", [{"at": "hf", "state": "keyed", "volts": "13.2 V"}])
    saved = profile.read(profile_text(session.result().verdict), shelf)
    assert planned.verdict.choices
    assert saved.choices == profile.read(profile_text(planned.verdict), shelf).choices


def test_readings_follow_a_new_name_typed_letter_by_letter(own_folders: Path) -> None:
    """The load, its lead and the readings at both keep together while the name is typed."""
    session = measured(own_folders)
    name = next(one for one in questions.LOAD if one.key == "id")
    for text in ("h", "", "r", "ra", "rad"):
        session.answer(name, text, 0)
    rows = session.rows("reading")
    assert [row["at"] for row in rows] == ["supply", "rad", "rad-lead"]
    assert rows[2]["keyed"] == ["rad"]
    assert session.problems() == ()


def test_a_half_typed_reading_spoils_nothing_else(own_folders: Path) -> None:
    """One reading without a place is left out and counted; the station and the other readings are judged."""
    session = measured(own_folders)
    session.put("reading", [{"state": "keyed", "volts": "12"}, *ROWS[:2]])
    found, unread = readings.diagnosed(session)
    assert unread == 1
    assert [one.about for one in found.causes] == ["hf-lead"]
    made = session.reckoned()
    assert isinstance(made, Plan) and made.verdict.station.name == "Attic desk"
    assert session.place(session.problems()[0]).words.startswith("reading 1: ")


def test_undo_takes_back_place_removal_and_addition(own_folders: Path) -> None:
    """Each is one change."""
    session = measured(own_folders)
    readings.set_place(session, 0, "hf-lead contacts")
    assert session.rows("reading")[0]["across"] == "contacts"
    assert readings.place_of(session.rows("reading")[0]) == "hf-lead contacts"
    session.undo()
    assert session.rows("reading") == ROWS
    readings.remove(session, 1)
    session.undo()
    index = readings.add(session, None, date(2026, 11, 25))
    assert (index, session.rows("reading")[3]["instrument"]) == (3, "digital multimeter")
    session.undo()
    assert session.rows("reading") == ROWS


def test_a_leg_goes_with_its_part_of_a_lead(own_folders: Path) -> None:
    """One leg is told in the list of readings, and forgotten when the reading moves to plain terminals."""
    session = measured(own_folders)
    session.put("reading", [{**ROWS[2], "leg": "positive"}])
    assert "across its fuse (positive leg)" in readings.summary(session.rows("reading")[0])
    readings.set_place(session, 0, "hf-lead contacts")
    assert session.rows("reading")[0]["leg"] == "positive"
    readings.set_place(session, 0, "hf")
    assert "leg" not in session.rows("reading")[0] and session.problems() == ()


def test_the_readings_line_by_line(own_folders: Path) -> None:
    """Typed at the prompts, with a wrong place and a wrong unit on the way, they end in the lead and in another file.

    The station's own was changed by hand meanwhile, and stays as it is.
    """
    path = own_folders / "attic.toml"
    path.write_text(ATTIC, encoding="utf-8")
    said: list[str] = []
    answers = {
        "two points lie": ["attic", "list", "supply", "hf", ""],
        "Which volts": ["13.8 A", "13.8 V", "11.9 V"],
        "Which current": ["20 A", "20 A"],
        "Which sort of meter was it": ["digital multimeter", "digital multimeter"],
        "Save the station": ["attic.toml", "measured.toml"],
        "in its place": ["no"],
    }
    session = from_file(path, built_in(), JUDGE)
    edited = f"{ATTIC}# measured on a cold day\n"
    path.write_text(edited, encoding="utf-8")
    assert BenchInterview(session, scripted(answers, []), said.append).run() == 0
    text = "\n".join(said)
    assert "'attic' is no place of this station" in text
    assert "hf-lead fuse" in text
    assert "is a current; this asks for" in text
    assert "is lost in hf-lead at 20 A" in text and "Measure next" in text
    assert path.read_text(encoding="utf-8") == edited
    kept = profile.read((own_folders / "measured.toml").read_text(encoding="utf-8"), built_in()).station
    assert [(one.at, one.volts) for one in kept.readings] == [("supply", 13.8), ("hf", 11.9)]


def test_an_alarm_line_by_line(own_folders: Path) -> None:
    """17 V at the supply, typed at the prompt: the alarm is the first thing said, and the next state offered is none.

    No word of the answer asks to key.
    """
    path = own_folders / "attic.toml"
    path.write_text(ATTIC, encoding="utf-8")
    said: list[str] = []
    prompts: list[str] = []
    answers = {"two points lie": ["supply", "supply", ""], "What did the radio do": ["receive", "back"]}
    answers |= {"Which volts": ["17 V"], "Save the station": [""]}
    session = from_file(path, built_in(), JUDGE)
    assert BenchInterview(session, scripted(answers, prompts), said.append).run() == 0
    start = said.index("Attic desk (" + date.today().isoformat() + "): ALARM")
    assert said[start + 1].startswith("! WARNING: 17.0 V at supply, at receive")
    assert not any(" keyed" in line for line in said[start:])
    states = [prompt for prompt in prompts if prompt.startswith("What did the radio do")]
    assert "[keyed]" in states[0] and "[no load]" in states[1]


def test_asking_about_a_file_that_is_not_there_is_a_sentence(capsys: object) -> None:
    """The status for a file that cannot be read, and no traceback."""
    assert main(["ask", "no-such.toml"]) == 2
