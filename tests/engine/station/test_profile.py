"""The saved profile: the same bytes again and again, every fault at once, and nothing of the owner's lost."""

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import catalog.shelf
from catalog.shelf import built_in
from engine.advice.report import derived
from engine.planning.plan import Plan, plan, reopen
from engine.station import profile
from engine.station.profile import Profile
from engine.station.table import Problems

STATIONS = sorted(catalog.shelf.STATIONS.glob("*.toml"))

OWN = """\
format = 1
name = "Two words"
note = "It's the \\"old\\" room"

[site]
mains = "120 V"
coldest = "0 °C"

[wishes]
headroom = "0 %"

[[load]]
id = "hf"
lowest = "12.0 V"
highest = "15 V"
rest = "0 A"
receive = "1,5 A"
transmit = "20 amps"

[[source]]
id = "psu"
volts = "13.80 V"
adjustable = false
over_voltage = false

[[run]]
id = "lead"
from = "psu"
to = "hf"
length = "5 ft"
conductor = "#10"
fuse = "none"
contacts = ["ring terminal", "keyed plug"]
"""


def read(text: str) -> Profile:
    """The profile in a text, on the shipped shelf."""
    return profile.read(text, built_in())


def saved(made: Plan) -> str:
    """The profile's text of a plan."""
    return profile.write(made.verdict.station, derived(made.verdict))


@cache
def planned(text: str) -> str:
    """The profile of a station file, planned anew as the command does: what an earlier plan chose is open again."""
    found = read(text)
    return saved(plan(reopen(found.station, found.choices), built_in()))


def faults(text: str) -> dict[str, str]:
    """The faults of a file by key: what is wrong and what to write instead."""
    with pytest.raises(Problems) as caught:
        read(text)
    assert all(one.what and one.instead for one in caught.value.found)
    told: dict[str, str] = {}
    for one in caught.value.found:
        told[one.where] = f"{told.get(one.where, '')}{one.what}; {one.instead}\n"
    return told


@pytest.mark.parametrize("path", STATIONS, ids=lambda one: one.stem)
def test_planning_a_planned_profile_again_gives_the_same_bytes(path: Path) -> None:
    """Plan, write, read, plan, write: the same bytes, and so for ever (this house's promise of stable files)."""
    once = planned(path.read_text(encoding="utf-8"))
    assert planned(once) == once


@pytest.mark.parametrize("path", STATIONS, ids=lambda one: one.stem)
def test_reading_and_keeping_what_was_chosen_gives_the_same_bytes(path: Path) -> None:
    """Read with its choices kept and written again, a profile is the same bytes, reasons included (round trip)."""
    once = planned(path.read_text(encoding="utf-8"))
    found = read(once)
    assert saved(plan(found.station, built_in(), found.choices)) == once


def test_reopening_a_profile_gives_back_the_station_as_it_was() -> None:
    """With the choices taken out again, only the leads that were laid out remain beside the owner's (round trip)."""
    text = (catalog.shelf.STATIONS / "harbour-street.toml").read_text(encoding="utf-8")
    before, found = read(text).station, read(planned(text))
    assert found.choices
    after = reopen(found.station, found.choices)
    assert (after.loads, after.site, after.wishes) == (before.loads, before.site, before.wishes)
    assert all((run.conductor, run.fuse, run.contacts) == (None, None, None) for run in after.runs)
    assert all((source.part, source.continuous) == (None, None) for source in after.sources)


def test_the_owners_spelling_is_kept() -> None:
    """12.0 V stays 12.0 V, 5 ft stays 5 ft, 1,5 A stays 1,5 A; nought, none and false are kept (round trip)."""
    station = read(OWN).station
    text = profile.write(station)
    for words in ('"12.0 V"', '"5 ft"', '"1,5 A"', '"20 amps"', '"13.80 V"', '"0 °C"', '"0 %"', '"0 A"'):
        assert words in text, words
    document, own = tomllib.loads(text), tomllib.loads(OWN)
    own["run"][0]["conductor"] = "10 AWG"
    assert document == own
    assert read(text).station == station
    assert profile.write(read(text).station) == text


def test_a_fuse_of_none_and_no_word_of_a_fuse_are_different() -> None:
    """Written "none" it is judged as unfused; left out it is a gap that the plan fills (this house's file format)."""
    station = read(OWN).station
    assert station.runs[0].fuse == 0.0
    again = read(profile.write(station)).station
    assert again.runs[0].fuse == 0.0
    silent = replace(station, runs=(replace(station.runs[0], fuse=None),))
    assert read(profile.write(silent)).station.runs[0].fuse is None


def test_every_fault_is_told_at_once_with_key_and_remedy() -> None:
    """Thirteen faults in one file are thirteen problems, each with its dotted key (this house's errors)."""
    text = """
    format = 2
    nmae = "x"
    name = "Broken"
    keyed_together = [["hf", "ghost"]]
    [site]
    mains = 230
    hottest = "95"
    [wishes]
    prefer = "speed"
    [[load]]
    id = "hf"
    class = "hf-100x"
    transmit = "100 W"
    mode = "sbb"
    [[source]]
    id = "psu"
    continuous = "25 A"
    peak = "20 A"
    [[run]]
    id = "lead"
    from = "psu"
    to = "hf"
    conductor = "11 AWG"
    insulation = "61 °C"
    contacts = ["ring terminal", "magnet"]
    """
    told = faults(text)
    assert set(told) == {
        "format", "nmae", "keyed_together[0]", "site.mains", "site.hottest", "wishes.prefer", "load[0].class",
        "load[0].transmit", "load[0].mode", "source[0].peak", "run[0].conductor", "run[0].insulation",
        "run[0].contacts[1]",
    }  # fmt: skip
    assert "name" in told["nmae"]
    assert "hf-100w" in told["load[0].class"]
    assert "current drain" in told["load[0].transmit"]
    assert "ssb" in told["load[0].mode"]
    assert "has no unit" in told["site.mains"] and "has no unit" in told["site.hottest"]
    assert "105 °C" in told["run[0].insulation"]


@pytest.mark.parametrize(
    ("line", "where", "nearest"),
    [
        ('[[load]]\nid = "hf"\ntransmitt = "20 A"', "load[0].transmitt", "transmit"),
        ('[[source]]\nid = "p"\ncontinous = "20 A"', "source[0].continous", "continuous"),
        ('[[run]]\nid = "r"\nto = "hf"\nlenght = "1 m"', "run[0].lenght", "length"),
        ('[site]\nmain = "230 V"', "site.main", "mains"),
        ("[wishes]\nbugdet = 200", "wishes.bugdet", "budget"),
        ("loads = 1", "loads", "load"),
    ],
)
def test_unknown_keys_are_named_with_the_nearest_known(line: str, where: str, nearest: str) -> None:
    """A key that is not known is a fault that names the nearest known key (this house's errors)."""
    told = faults(f'format = 1\nname = "x"\n{line}\n')
    assert f"'{nearest}'" in told[where]


@pytest.mark.parametrize(
    ("lines", "where", "word"),
    [
        ('[site]\nextension = "14 AWG"', "site.extension_length", "missing beside"),
        ('[site]\ncircuit_length = "5 m"', "site.circuit_wire", "missing beside"),
        ('[site]\nextension = "13 AWG"\nextension_length = "5 m"', "site.extension", "not in the catalogue"),
        ('[site]\nmains = "0 V"', "site.mains", "is zero"),
        ('[site]\ngenerator = "0 W"', "site.generator", "is zero"),
        ('[site]\ngenerator = "2 kVA"', "site.generator", "kva"),
        ('[[load]]\nid = "a"\nclass = "hf-100w"\nwall = "100 W"', "load[0].wall", "plugs into the wall"),
        ('[[load]]\nid = "a"\nclass = "amp-valve"\nwall = "0 W"', "load[0].wall", "is zero"),
        ('[[source]]\nid = "a"\ncircuit = "0 A"', "source[0].circuit", "is zero"),
    ],
)
def test_faults_of_the_mains_side_are_named(lines: str, where: str, word: str) -> None:
    """Half a wire, nought and what does not apply are refused with their place (this house's file format)."""
    assert word in faults(f'format = 1\nname = "x"\n{lines}\n')[where].casefold()


@pytest.mark.parametrize(
    ("lines", "where", "word"),
    [
        *((f'[[source]]\nid = "p"\n{key} = "0 {unit}"', f"source[0].{key}", "is zero") for key, unit in (
            ("volts", "V"), ("continuous", "A"), ("efficiency", "%"), ("power_factor", "%"), ("amp_hours", "Ah"),
            ("cranking", "A"), ("health", "%"), ("charge", "%"), ("depth", "%"),
        )),
        ('[[source]]\nid = "p"\nhealth = "101 %"', "source[0].health", "above 100 %"),
        ('[[source]]\nid = "p"\ntolerance = "50 %"', "source[0].tolerance", "half or more"),
        ('[[load]]\nid = "a"\nkeyed = "101 %"', "load[0].keyed", "more than all the time"),
        ('[[run]]\nid = "r"\nto = "a"\nlength = "0 m"', "run[0].length", "is zero"),
        ('[[load]]\nid = "a\\nb"', "load[0].id", "cannot be seen (\\n)"),
        ('[[load]]\nid = "a"\ninlet = "x\\u001b[2J"', "load[0].inlet", "cannot be seen (\\x1b)"),
        ('[[load]]\nid = "a"\nnote = "x\\u202e"', "load[0].note", "cannot be seen (\\u202e)"),
    ],
)  # fmt: skip
def test_limits_stand_where_the_key_is_declared(lines: str, where: str, word: str) -> None:
    """Nought and more than all where it means nothing, and what a terminal would obey (this house's file format)."""
    assert word in faults(f'format = 1\nname = "x"\n{lines}\n')[where]


def test_a_name_is_one_line_and_a_note_may_be_several() -> None:
    """A line feed in a name would make lines of its own in every answer (this house's file format)."""
    assert "cannot be seen (\\n)" in faults('format = 1\nname = "Good\\n+ sound   forged"')["name"]
    assert read('format = 1\nname = "x"\nnote = "one\\ntwo\\tthree"').station.note == "one\ntwo\tthree"


@pytest.mark.parametrize("number", ["0x" + "F" * 5000, "1" + "0" * 400, "-1e308", "nan", "9007199254740993000"])
@pytest.mark.parametrize("key", ["format", "name", "note", "use"])
def test_a_number_without_end_is_refused_in_words(key: str, number: str) -> None:
    """Whatever key it stands at, it is never written out again (this house's errors)."""
    head = "".join(f"{name} = {value}\n" for name, value in (("format", 1), ("name", '"x"')) if name != key)
    for where, said in faults(f"{head}{key} = {number}\n").items():
        assert len(where) + len(said) < 400


@pytest.mark.parametrize(
    ("runs", "word"),
    [
        ([("a", "psu", "hf"), ("b", "psu", "hf")], "already fed by"),
        ([("a", "s1", "s2"), ("b", "s2", "s1")], "in a circle"),
        ([("a", "hf", "hf")], "not a source or strip"),
        ([("a", "psu", "psu")], "not a load or strip"),
        ([("hf", "psu", "hf")], "is also"),
    ],
)
def test_leads_must_form_a_tree(runs: list[tuple[str, str, str]], word: str) -> None:
    """Double feeds, circles, leads from loads and ids used twice are refused (this house's file format)."""
    text = 'format = 1\nname = "x"\n[[load]]\nid = "hf"\n[[source]]\nid = "psu"\n'
    text += '[[strip]]\nid = "s1"\n[[strip]]\nid = "s2"\n'
    text += "".join(f'[[run]]\nid = "{id_}"\nfrom = "{start}"\nto = "{end}"\n' for id_, start, end in runs)
    assert any(word in said for said in faults(text).values())


def test_a_reason_is_dropped_when_its_value_was_edited_by_hand() -> None:
    """The owner's fuse beats the plan's: its reason goes, the others stay, and planning again keeps the fuse."""
    text = planned((catalog.shelf.STATIONS / "harbour-street.toml").read_text(encoding="utf-8"))
    before = read(text)
    run = next(one for one in before.station.runs if one.end == "hf")
    old = next(one.chosen for one in before.choices if one.about == f"{run.id}.fuse").split(" A ")[0]
    head, line, rest = text.partition("# ---")
    edited = head.replace(f'fuse = "{old} A"', 'fuse = "30 A"', 1) + line + rest
    assert edited != text
    after = read(edited)
    gone = {one.about for one in before.choices} - {one.about for one in after.choices}
    assert gone == {f"{run.id}.fuse"}
    again = plan(reopen(after.station, after.choices), built_in())
    assert next(one for one in again.verdict.station.runs if one.id == run.id).fuse == 30


# Hostile files: only Problems may come out, and in a moment.

HOSTILE = [
    "",
    "\x00",
    "format = 1",
    "[[[",
    "format = 1\nname = 'x'\nload = 5",
    "format = 1\nname = 'x'\nload = [1, 'a', []]",
    "format = 1\nname = 'x'\nsite = [1]",
    "format = 1\nname = 'x'\n[[choice]]\nabout = 1",
    "format = 1\nname = 'x'\nchoice = 'no'",
    "format = 1\nname = 'x'\nchoice = [[[]]]",
    'format = 1\nname = "\\u0000"',
    "format = 1e999\nname = 'x'",
    "format = nan\nname = 'x'",
    "format = 1\nname = 'x'\n[wishes]\nbudget = inf",
    "format = 1\nname = 'x'\n[wishes]\nbudget = -1",
    "format = true\nname = 'x'",
    "format = 1\nname = 1979-05-27",
    "a = " + "[" * 100_000,
    "a" * 2_000_000,
    "format = 1\nname = 'x'\n" + "[[load]]\nid = 'a'\n" * 300,
    "format = 1\nname = 'x'\n[[run]]\nid = 'r'\nto = 'r'\ntogether = 2.5",
    "format = 1\nname = 'x'\n[[load]]\nid = '../../etc'",
    "n = 1" + "0" * 5000,
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_files_are_refused_in_words(text: str) -> None:
    """Huge, deeply nested, ill-typed or invisible: refused with problems, never with another error (this house)."""
    with pytest.raises(Problems) as caught:
        read(text)
    assert all(one.what and one.instead for one in caught.value.found)


SCALARS = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=30), st.dates(), st.times(), st.datetimes(),
    st.sampled_from(["22 A", "13.8 V", "hf", "psu", "none", "5 ft", "12 AWG", "ring terminal", "ssb"]),
)  # fmt: skip
VALUES = st.recursive(
    SCALARS, lambda one: st.lists(one, max_size=3) | st.dictionaries(st.text(max_size=8), one, max_size=3)
)
NAMES = [
    "format",
    "name",
    "use",
    "note",
    "keyed_together",
    "site",
    "wishes",
    "load",
    "source",
    "strip",
    "run",
    "choice",
]
KEYS = sorted({
    "id", "class", "window", "lowest", "highest", "receive", "transmit", "mode", "keyed", "fuse", "volts", "continuous",
    "peak", "part", "from", "to", "length", "conductor", "insulation", "together", "contacts", "owned", "note", "mains",
    "about", "chosen", "because", "filled", "refused", "budget", "outlets",
})  # fmt: skip
TABLE = st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=8)
ROWS = st.one_of(VALUES, TABLE, st.lists(st.one_of(TABLE, VALUES), max_size=3))


@given(st.dictionaries(st.sampled_from(NAMES), ROWS, max_size=8), st.booleans())
@settings(max_examples=600, deadline=None)
def test_wrong_types_everywhere_give_problems_and_nothing_else(document: dict[str, Any], headed: bool) -> None:
    """Any document at all is either a station that can be written and read again, or Problems (this house)."""
    if headed:
        document = {**document, "format": 1, "name": "x"}
    try:
        found = profile.from_document(document, built_in())
    except Problems:
        return
    assert read(profile.write(found.station)).station == found.station


@given(st.text(max_size=300))
@settings(max_examples=300, deadline=None)
def test_any_text_is_a_station_or_problems(text: str) -> None:
    """Arbitrary text below a good head gives a station or Problems, never another error (this house)."""
    try:
        read(f'format = 1\nname = "x"\n{text}')
    except Problems as problems:
        said = problems.found
    else:
        said = ()
    assert all(one.what and one.instead for one in said)
