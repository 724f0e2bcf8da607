"""The state behind the screens, without a screen."""

import pytest

from catalog.shelf import built_in
from engine.planning import plan as planning
from engine.planning.plan import Plan
from engine.station import profile
from engine.station.table import Problems
from wizard import drafts, questions
from wizard.interview import steps
from wizard.interview.document import understood
from wizard.interview.opening import from_draft, from_file
from wizard.interview.saving import profile_text
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.questions.question import Question

FILE = """
format = 1
name = "Attic desk"
[site]
mains = "230 V"
[wishes]
budget = 250
[[load]]
id = "hf"
class = "hf-100w"
transmit = "22 A"
[[run]]
id = "hf-lead"
to = "hf"
length = "5 ft"
"""


def ask(table: str, key: str) -> Question:
    """The declared question about a key."""
    return next(one for one in questions.EVERY if (one.table, one.key) == (table, key))


def attic() -> Session:
    """The station of FILE, typed."""
    session = Session(built_in())
    session.answer(ask("", "name"), "Attic desk")
    session.add_load("hf-100w")
    session.answer(ask("load", "transmit"), "22 A")
    session.answer(ask("run", "length"), "5 ft")
    session.answer(ask("site", "mains"), "230 V")
    session.answer(ask("wishes", "budget"), "250")
    return session


def test_typed_and_written_give_the_same_profile() -> None:
    """A station typed into the wizard and one written as a file end in the same bytes."""
    shelf = built_in()
    written = planning.plan(profile.read(FILE, shelf).station, shelf)
    assert profile_text(attic().result().verdict) == profile_text(written.verdict)


def test_a_faulty_answer_is_kept_named_and_left_out_of_the_tally() -> None:
    """Nothing typed is lost: the faulty text stays, its fault is found, and the rest is still planned."""
    session = attic()
    asked = ask("load", "transmit")
    session.answer(asked, "22 W")
    assert session.text(asked) == "22 W"
    problem = session.fault(session.problems(), asked)
    assert problem is not None
    assert "power" in problem.what
    made = session.reckoned()
    assert isinstance(made, Plan) and made.complete
    with pytest.raises(Problems):
        session.result()


def test_undo_takes_every_answer_back_in_turn() -> None:
    """Undo walks back to the empty station."""
    session = attic()
    while session.undo():
        pass
    assert session.document == {"format": 1}


def test_an_opened_answer_leaves_no_trace() -> None:
    """I don't know, after an answer, gives the same document as never having answered."""
    session, bare = attic(), attic()
    for table, key in (("source", "continuous"), ("site", "hottest"), ("wishes", "headroom")):
        session.answer(ask(table, key), "30 A")
        session.answer(ask(table, key), "")
    assert session.document == bare.document


def test_renaming_a_load_takes_its_lead_along() -> None:
    """The lead follows its load's new name."""
    session = attic()
    for text in ("s", "sh", "short", "shortwave"):
        session.answer(ask("load", "id"), text)
    assert [(run["id"], run["to"]) for run in session.rows("run")] == [("shortwave-lead", "shortwave")]
    assert session.result().verdict.station.runs[0].length == pytest.approx(1.524)


def test_typing_through_another_loads_name_takes_nothing_from_it() -> None:
    """While hf2 is typed beside hf, the letters pass through hf; each lead stays with its own load."""
    session = attic()
    second = session.add_load("vhf-50w")
    session.answer(ask("run", "length"), "2 m", second)
    for text in ("", "h", "hf", "hf2"):
        session.answer(ask("load", "id"), text, second)
    assert session.text(ask("run", "length"), 0) == "5 ft"
    assert session.text(ask("run", "length"), second) == "2 m"
    leads = {run.end: float(run.length or 0) for run in session.result().verdict.station.runs}
    assert leads == {"hf": pytest.approx(1.524), "hf2": 2.0}
    session.answer(ask("load", "id"), "hf", second)
    session.remove_load(second)
    assert session.text(ask("run", "length"), 0) == "5 ft"


def test_undo_takes_back_an_answer_not_a_letter() -> None:
    """Typing on in one field is one change."""
    session = attic()
    for text in ("1", "13", "13 A"):
        session.answer(ask("load", "transmit"), text)
    session.undo()
    assert session.text(ask("load", "transmit")) == "22 A"
    assert session.focus == ask("load", "transmit").place(0)


def test_a_station_without_a_name_gets_one() -> None:
    """Leaving the name open is an answer too."""
    session = Session(built_in())
    session.add_load("hf-qrp")
    assert session.result().verdict.station.name == "My station"


def test_an_emptied_name_of_a_load_is_a_fault_not_a_loss() -> None:
    """A load without a name keeps its figures and says what is wrong."""
    session = attic()
    session.answer(ask("load", "id"), "")
    assert session.fault(session.problems(), ask("load", "id")) is not None
    assert session.rows("load")[0]["transmit"] == "22 A"
    assert isinstance(session.reckoned(), Problems)


def test_removing_a_load_removes_its_lead_and_undo_brings_both_back() -> None:
    """Equipment goes with its lead and comes back with it."""
    session = attic()
    session.remove_load(0)
    assert "load" not in session.document
    assert "run" not in session.document
    session.undo()
    assert session.document == attic().document


def test_a_draft_brings_everything_back() -> None:
    """A draft holds the answers, faulty ones too, the door and the step."""
    session = attic()
    session.mode, session.step = JUDGE, "site"
    session.answer(ask("site", "hottest"), "warm")
    assert session.keep() is None
    (path,) = drafts.unfinished()
    again = from_draft(path, built_in())
    assert again is not None
    assert (again.document, again.mode, again.step) == (session.document, JUDGE, "site")


def test_a_broken_draft_is_no_draft() -> None:
    """A draft that cannot be read is passed over, never a crash."""
    drafts.folder().mkdir(parents=True)
    head = '[draft]\nmode = "plan"\nstep = "use"\n'
    shapes = ('[station]\nload = ["x", 1]\n', "[station]\nsite = 3\n", '[station]\nrun = "x"\n')
    broken = ("", "= broken", "[draft]\nmode = 1\n", "draft = 3\nstation = 4\n", 'station = "x"\n' + head)
    for text in (*broken, *(head + one for one in shapes)):
        path = drafts.folder() / "x.toml"
        path.write_text(text)
        assert from_draft(path, built_in()) is None


def test_opening_a_profile_opens_its_choices_again() -> None:
    """A saved profile can be planned anew: what the plan chose is open, what the owner said stays."""
    shelf = built_in()
    text = profile_text(attic().result().verdict)
    path = drafts.folder().parent / "saved.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    opened = from_file(path, shelf, PLAN)
    assert profile_text(opened.result().verdict) == text
    assert "conductor" not in opened.rows("run")[0]
    judged = from_file(path, shelf, JUDGE)
    assert judged.rows("run")[0]["conductor"]


@pytest.mark.parametrize(
    ("table", "key", "typed", "said"),
    [
        ("load", "transmit", "22A", "= 22 A"),
        ("load", "window", "13,8 V ± 15 %", "= 11.73 to 15.87 V"),
        ("run", "length", "5 ft 6 in", "= 1.6764 m"),
        ("run", "conductor", "#10", "= 10 AWG"),
        ("run", "fuse", "none", "= none"),
        ("site", "hottest", "95 F", "= 35 °C"),
        ("load", "transmit", "22 V", ""),
    ],
)
def test_what_was_understood_is_echoed(table: str, key: str, typed: str, said: str) -> None:
    """Every readable answer is echoed in plain units."""
    session = attic()
    session.answer(ask(table, key), typed)
    assert understood(ask(table, key), session.text(ask(table, key))) == said


def test_every_question_has_a_key_and_an_example_that_reads() -> None:
    """Each declared question belongs to a declared key, and its own example is accepted."""
    for asked in questions.EVERY:
        session = attic()
        plugged = asked.table == "load" and asked.key in steps.PLUGGED
        added = session.add_load("amp-valve" if plugged else "vhf-50w")
        session.answer(questions.LOAD[0], "vhf", added)
        index = added if plugged else 0
        if asked.key == "lead_length":
            session.answer(ask("load", "lead"), "12 AWG")
        session.answer(asked, asked.example.split(", or ")[0].split(" or ")[0], index)
        faults = [one for one in session.problems() if not one.what.startswith("is missing beside")]
        assert session.fault(tuple(faults), asked, index) is None, (asked, faults)
        assert asked.why
        assert asked.where
