"""Stations on a vehicle, a battery, or a battery behind a supply, typed into a session."""

import tomllib

import pytest

from catalog.shelf import built_in
from engine.planning.plan import Plan
from engine.station import profile
from wizard import drafts, questions, store
from wizard.interview.document import understood
from wizard.interview.opening import from_draft, from_file
from wizard.interview.saving import profile_text
from wizard.interview.session import JUDGE, MODES, PLAN, Session
from wizard.questions.question import BATTERY, MAINS, VEHICLE, Question

WIDE = "13.8 V ± 15 %"


def ask(table: str, key: str, kind: str | None = None) -> Question:
    """The declared question about a key, of one kind of source where there are several."""
    found = [one for one in questions.EVERY if (one.table, one.key) == (table, key)]
    return next(one for one in found if one.kind == kind)


USE = ask("", "use")
AH, CHEMISTRY = ask("source", "amp_hours", BATTERY), ask("source", "chemistry", BATTERY)
CRANKING, ENGINE = ask("source", "cranking", VEHICLE), ask("source", "engine", VEHICLE)
SUPPLIED, LATITUDE = ask("source", "continuous", MAINS), ask("sun", "latitude")
HOURS, OUTAGE = ask("wishes", "hours", BATTERY), ask("wishes", "hours")


def described(use: str = "") -> Session:
    """A session with one radio."""
    session = Session(built_in())
    session.answer(USE, use)
    session.add_load("hf-20w")
    session.answer(ask("load", "window"), WIDE)
    return session


def sources(session: Session) -> list[tuple[str, str | None]]:
    """Name and class of every source that a file would hold."""
    station = profile.from_document(session.exported, session.shelf).station
    return [(one.id, one.technology) for one in station.sources]


@pytest.mark.parametrize(
    ("use", "there", "not_there"),
    [
        ("", {"supply"}, {"vehicle", "battery", "sun"}),
        ("fixed", {"supply"}, {"vehicle", "battery", "sun"}),
        ("amplifier", {"supply"}, {"vehicle", "battery", "sun"}),
        ("mobile", {"vehicle"}, {"supply", "battery", "sun"}),
        ("battery", {"battery", "sun"}, {"supply", "vehicle"}),
    ],
)
def test_the_steps_follow_the_use(use: str, there: set[str], not_there: set[str]) -> None:
    """Each use is asked about its own source, and about no other, whether planned or judged."""
    for mode in (PLAN, JUDGE):
        session = Session(built_in(), mode)
        session.answer(USE, use)
        assert there <= set(session.steps)
        assert not not_there & set(session.steps)


def test_the_mains_are_asked_about_only_where_there_are_mains() -> None:
    """A vehicle or a battery alone has no wall circuit; a described supply brings the questions back."""
    mains = {(one.table, one.key) for one in questions.MAINS}
    for use, asked in (("", True), ("fixed", True), ("mobile", False), ("battery", False)):
        session = described(use)
        assert mains.issubset({(one.table, one.key) for one in session.asked("site")}) is asked, use
    session.document["source"] = [{"id": "supply", "class": "linear"}]
    assert mains <= {(one.table, one.key) for one in session.asked("site")}


def test_the_first_answer_makes_the_source_and_the_last_opened_one_takes_it_away() -> None:
    """The row has its class from the first letter on, and nothing is left of it when everything is opened."""
    for use, asked, text, row in (
        ("battery", AH, "20 Ah", {"id": "battery", "class": "battery", "amp_hours": "20 Ah"}),
        ("mobile", CRANKING, "600 A", {"id": "vehicle", "class": "vehicle", "cranking": "600 A"}),
        ("fixed", SUPPLIED, "25 A", {"id": "supply", "continuous": "25 A"}),
    ):
        session, bare = described(use), described(use)
        session.answer(asked, text)
        assert session.exported["source"] == [row]
        session.answer(asked, "")
        assert session.document == bare.document


def test_a_battery_charged_by_the_sun_says_so_and_forgets_it() -> None:
    """Any answer about the sun makes the panels charge the battery; opened again, neither is left."""
    session, bare = described("battery"), described("battery")
    for document in (session, bare):
        document.answer(AH, "50 Ah")
    session.answer(LATITUDE, "-33.5")
    assert session.exported["sun"] == {"latitude": -33.5}
    assert session.exported["source"][0]["charged_by"] == "sun"
    session.answer(LATITUDE, "")
    assert session.document == bare.document


def test_a_sun_described_before_the_battery_charges_it_too() -> None:
    """The order of the answers does not matter."""
    session = described("battery")
    session.answer(LATITUDE, "47")
    session.answer(AH, "50 Ah")
    assert session.exported["source"][0]["charged_by"] == "sun"


def test_changing_the_use_back_and_forth_loses_nothing() -> None:
    """What was said of a source comes back with its use, and no file holds it meanwhile."""
    session = described("battery")
    for asked, text in ((AH, "20 Ah"), (CHEMISTRY, "lfp"), (LATITUDE, "47"), (HOURS, "3 h")):
        session.answer(asked, text)
    on_battery = session.exported
    session.answer(USE, "mobile")
    assert "source" not in session.exported
    assert "sun" not in session.exported
    assert "wishes" not in session.exported
    negative = ask("run", "negative", VEHICLE)
    for asked, text in ((CRANKING, "600 A"), (negative, "battery post")):
        session.answer(asked, text)
    in_vehicle = session.exported
    session.answer(USE, "fixed")
    session.answer(SUPPLIED, "25 A")
    assert sources(session) == [("supply", None)]
    assert "negative" not in str(session.exported)
    at_home = session.exported
    for use, before in (("battery", on_battery), ("mobile", in_vehicle), ("fixed", at_home), ("battery", on_battery)):
        session.answer(USE, use)
        assert session.exported["source"] == before["source"]
        assert {key: session.exported.get(key) for key in ("sun", "wishes")} == {
            key: before.get(key) for key in ("sun", "wishes")
        }
        assert not session.problems()
    session.answer(USE, "mobile")
    assert session.text(negative) == "battery post"


def test_an_amplifier_at_home_keeps_the_supply() -> None:
    """Fixed and amplifier live from the same source."""
    session = described("fixed")
    session.answer(SUPPLIED, "25 A")
    session.answer(USE, "amplifier")
    assert session.text(SUPPLIED) == "25 A"


def test_undo_and_a_draft_keep_what_is_set_aside() -> None:
    """Neither leaving nor undoing loses an answer that the present use does not ask for."""
    session = described("battery")
    session.answer(AH, "20 Ah")
    session.answer(USE, "mobile")
    assert session.keep() is None
    again = from_draft(drafts.unfinished()[0], built_in())
    assert again is not None
    again.answer(USE, "battery")
    assert again.text(AH) == "20 Ah"
    session.undo()
    assert session.text(AH) == "20 Ah"


@pytest.mark.parametrize("broken", ["[station._aside]\nbattery = 3\n", "[station._aside.battery]\nsource = [3]\n"])
def test_a_draft_whose_set_aside_answers_are_broken_is_no_draft(broken: str) -> None:
    """A draft edited by hand is passed over, never a crash."""
    drafts.folder().mkdir(parents=True)
    path = drafts.folder() / "x.toml"
    path.write_text(f'[draft]\nmode = "plan"\nstep = "use"\n[station]\nname = "x"\n{broken}')
    assert from_draft(path, built_in()) is None


def test_an_outage_brings_the_battery_step_and_each_answer_goes_to_its_own_row() -> None:
    """A supply and a battery stand side by side; the leads need no word about where they begin."""
    session = described("fixed")
    session.answer(ask("run", "length"), "1 m")
    assert "battery" not in session.steps
    session.answer(OUTAGE, "2 h")
    assert session.steps[-2:] == ("battery", "result")
    session.answer(AH, "50 Ah")
    session.answer(CHEMISTRY, "lfp")
    session.answer(SUPPLIED, "30 A")
    rows = session.exported["source"]
    assert rows[0] == {"id": "supply", "continuous": "30 A"}
    assert rows[1]["amp_hours"] == "50 Ah"
    assert rows[1]["charged_by"] == "supply"
    assert "continuous" not in rows[1]
    assert session.exported["changeover"] == [{"id": "changeover"}]
    assert not session.problems()


def test_no_hours_without_mains_means_no_battery_and_brings_it_back() -> None:
    """Emptied, the wish takes the battery out of the file; typed again, it is as it was."""
    session = described("fixed")
    session.answer(OUTAGE, "2 h")
    session.answer(AH, "50 Ah")
    with_battery = session.exported
    session.answer(OUTAGE, "")
    assert "source" not in session.exported
    assert "changeover" not in session.exported
    session.answer(OUTAGE, "2 h")
    assert session.exported == with_battery


def test_faults_lead_to_the_step_of_their_own_source() -> None:
    """A wrong unit in the battery's row beside a supply is found, named and led to the battery's step."""
    session = described("fixed")
    session.answer(OUTAGE, "2 h")
    session.answer(SUPPLIED, "30 A")
    session.answer(AH, "50 V")
    (problem,) = session.problems()
    assert session.fault((problem,), AH) is problem
    assert session.fault((problem,), SUPPLIED) is None
    assert session.place(problem) == ("battery", AH.asks, AH, 0)
    session.answer(AH, "50 Ah")
    session.answer(ask("source", "continuous", BATTERY), "x")
    assert session.place(session.problems()[0])[0] == "battery"


def test_a_fault_of_the_sun_is_found() -> None:
    """Bad text in the new fields is kept, named, and left out of the tally."""
    session = described("battery")
    session.answer(LATITUDE, "north")
    (problem,) = session.problems()
    assert session.fault((problem,), LATITUDE) is problem
    assert session.place(problem)[0] == "sun"
    assert session.text(LATITUDE) == "north"
    made = session.reckoned()
    assert isinstance(made, Plan)
    assert made.verdict.station.sun is None or made.verdict.station.sun.latitude is None


def test_worked_stations_show_in_the_steps_of_their_kind() -> None:
    """Whatever feeds a station from a file has its step, with its answers in it."""
    shelf = built_in()
    for name, step, asked in (
        ("heron-tor", "battery", ask("source", "temperature", BATTERY)),
        ("gravel-pit", "sun", LATITUDE),
        ("cooper-row", "battery", CHEMISTRY),
        ("ferry-lane", "vehicle", ENGINE),
    ):
        path = store.worked()[name]
        session = from_file(path, shelf, PLAN)
        assert step in session.steps, name
        held = tomllib.loads(path.read_text(encoding="utf-8"))
        said = (
            held["sun"]
            if asked.table == "sun"
            else next((row for row in held.get("source", []) if asked.key in row), {})
        )
        assert session.text(asked) == str(said.get(asked.key, "")), name


def test_an_opened_file_stays_as_it_is_while_nothing_is_answered() -> None:
    """Opening, and looking at every step, changes no byte of what would be saved."""
    shelf = built_in()
    for name, path in store.worked().items():
        station = profile.read(path.read_text(encoding="utf-8"), shelf).station
        for mode in MODES:
            session = Session(shelf, mode, profile.station_document(station))
            for step in session.steps:
                session.step = step
                session.asked(step)
            assert profile.from_document(session.exported, shelf).station == station, name


def test_every_new_answer_is_echoed() -> None:
    """Ampere-hours, temperatures and shares are read back in plain units."""
    for asked, text, said in (
        (AH, "20Ah", "= 20 Ah"),
        (ask("source", "temperature", BATTERY), "41 F", "= 5 °C"),
        (CRANKING, "650A", "= 650 A"),
    ):
        assert understood(asked, text) == said


def test_a_battery_station_typed_ends_in_the_profile_of_the_same_file() -> None:
    """Typed or written, the bytes are the same."""
    session = described("battery")
    for asked, text in ((CHEMISTRY, "lfp"), (AH, "50 Ah"), (ask("run", "length"), "1 m")):
        session.answer(asked, text)
    text = (
        'format = 1\nname = "My station"\nuse = "battery"\n'
        f'[[load]]\nid = "hf"\nclass = "hf-20w"\nwindow = "{WIDE}"\n'
        '[[source]]\nid = "battery"\nclass = "battery"\nchemistry = "lfp"\namp_hours = "50 Ah"\n'
        '[[run]]\nid = "hf-lead"\nto = "hf"\nlength = "1 m"\n'
    )
    from engine.planning import plan as planning

    planned = planning.plan(profile.read(text, session.shelf).station, session.shelf)
    assert profile_text(session.result().verdict) == profile_text(planned.verdict)
