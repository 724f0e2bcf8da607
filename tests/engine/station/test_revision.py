"""A profile brought up to date in its owner's own words: comments, order and spelling stay."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from catalog.shelf import STATIONS, built_in
from engine.advice.report import derived
from engine.planning import plan as planning
from engine.station import profile
from engine.station.model import Reading, Run, Site, Station, Wishes
from engine.station.revision import revised

OWN = """\
# my own head
format = 1   # the format
name = "Attic desk"

# what draws, and why the old set stays
[[load]]
transmit = "22 A"     # measured, not from the manual
id = "hf"
class = "hf-100w"

[[load]]
# the club's
id = "vhf"
class = "vhf-50w"

# the site comes last here
[site]
hottest = "95 F"  # under the roof
mains = "230 V"

# how it runs
[[run]]
id = "hf-lead"
to = "hf"
length = "5 ft"
conductor = "#10"   # AWG
note = '''
[[load]]
is no heading here
'''
"""
Change = Callable[[Station], Station]


def station(text: str) -> Station:
    """The station in a text."""
    return profile.read(text, built_in()).station


def changed(text: str, change: Change) -> str:
    """The text brought up to date after a change, which must succeed and read as the changed station."""
    after = change(station(text))
    made = revised(text, after, None, built_in())
    assert made is not None
    assert station(made) == after
    return made


def test_nothing_changed_is_the_same_bytes() -> None:
    """Whatever its order, spelling and comments: not one byte differs (round trip)."""
    assert changed(OWN, lambda one: one) == OWN


@pytest.mark.parametrize("path", sorted(STATIONS.glob("*.toml")), ids=lambda one: one.stem)
def test_a_worked_station_is_kept_and_what_is_derived_comes_beneath(path: object) -> None:
    """The owner's part stays byte for byte; a second time nothing changes at all (round trip)."""
    text = path.read_text(encoding="utf-8")  # type: ignore[attr-defined]
    beneath = {"verdict": {"outcome": "sound"}, "finding": [{"rule": "x", "says": "y"}]}
    once = revised(text, station(text), beneath, built_in())
    assert once is not None and once.startswith(text)
    assert revised(once, station(text), beneath, built_in()) == once
    assert revised(once, station(text), None, built_in()) == text


CHANGES: dict[str, tuple[Change, str, str]] = {
    "a value": (
        lambda one: replace(one, loads=(replace(one.loads[0], transmit=20.0), one.loads[1])),
        'transmit = "22 A"     # measured', 'transmit = "20 A"     # measured',
    ),
    "a key comes": (
        lambda one: replace(one, loads=(one.loads[0], replace(one.loads[1], note="lent"))),
        'class = "vhf-50w"\n', 'class = "vhf-50w"\nnote = "lent"\n',
    ),
    "a key goes": (lambda one: replace(one, site=replace(one.site, mains=None)), 'mains = "230 V"\n', ""),
    "a row goes": (
        lambda one: replace(one, loads=one.loads[:1]), '[[load]]\n# the club\'s\nid = "vhf"\nclass = "vhf-50w"\n\n', "",
    ),
    "a section comes": (
        lambda one: replace(one, wishes=Wishes(budget=250)), "here\n'''\n", "here\n'''\n\n[wishes]\nbudget = 250\n",
    ),
    "a section goes": (
        lambda one: replace(one, site=Site()),
        '# the site comes last here\n[site]\nhottest = "95 F"  # under the roof\nmains = "230 V"\n\n', "",
    ),
    "a part is renamed": (
        lambda one: replace(one, runs=(replace(one.runs[0], id="lead"),)), 'id = "hf-lead"', 'id = "lead"',
    ),
    "the station is renamed": (lambda one: replace(one, name="Loft"), '"Attic desk"', '"Loft"'),
    "the first key comes": (lambda one: replace(one, use="fixed"), 'desk"\n', 'desk"\nuse = "fixed"\n'),
}  # fmt: skip


@pytest.mark.parametrize(("change", "old", "new"), CHANGES.values(), ids=CHANGES)
def test_only_what_changed_changes(change: Change, old: str, new: str) -> None:
    """Everything else is the same bytes: comments, order, "#10" and "95 F" (round trip)."""
    assert OWN.count(old) == 1
    assert changed(OWN, change) == OWN.replace(old, new)


def test_new_rows_stand_with_those_of_their_sort() -> None:
    """A run comes after the last run, a first reading at the end, with an empty line before each."""
    made = changed(OWN, lambda one: replace(one, runs=(*one.runs, Run(id="vhf-lead", start=None, end="vhf"))))
    assert made == OWN + '\n[[run]]\nid = "vhf-lead"\nto = "vhf"\n'
    read = Reading(at="hf", across=None, state="keyed", volts=12.5)
    made = changed(OWN, lambda one: replace(one, readings=(read,)))
    assert made == OWN + '\n[[reading]]\nat = "hf"\nstate = "keyed"\nvolts = "12.5 V"\n'


def test_rows_that_change_places_take_their_comments_along() -> None:
    """In another order each row still holds its own remarks."""
    made = changed(OWN, lambda one: replace(one, loads=(one.loads[1], one.loads[0])))
    assert made.index("# the club's") < made.index("# measured, not from the manual")


def test_what_stands_beneath_the_line_is_taken_up() -> None:
    """A reading appended to a profile, beneath what was derived, is not lost when that is written anew."""
    text = (
        OWN + profile.LINE + '[verdict]\noutcome = "thin"\n[[reading]]\nat = "hf"\nstate = "keyed"\nvolts = "12.5 V"\n'
    )
    text += "[wishes]\nbudget = 250\n"
    made = revised(text, station(text), {"verdict": {"outcome": "sound"}}, built_in())
    assert made is not None
    assert made.startswith(OWN)
    assert station(made) == station(text)
    assert "thin" not in made


@pytest.mark.parametrize("own", ['load = [{id = "hf", class = "hf-100w"}]', '[["load"]]\nid = "hf"\nclass = "hf-100w"'])
def test_what_cannot_be_changed_in_its_place_is_said(own: str) -> None:
    """Rows written in a way that cannot be taken apart are left as they are, or the caller is told: never lost."""
    text = f'format = 1\nname = "x"\n{own}\n'
    before = station(text)
    assert revised(text, before, None, built_in()) == text
    more = replace(before, loads=(*before.loads, replace(before.loads[0], id="two")))
    made = revised(text, more, None, built_in())
    assert made is None or station(made) == more


@pytest.mark.parametrize("name", ["harbour-street", "granary-steps", "mill-brow"])
def test_a_plan_goes_into_its_owners_file(name: str) -> None:
    """Planned, revised and planned again: every line of the owner's is still there, and the bytes settle."""
    text = (STATIONS / f"{name}.toml").read_text(encoding="utf-8")
    made = planning.plan(station(text), built_in())
    once = revised(text, made.verdict.station, derived(made.verdict), built_in())
    assert once is not None
    assert [line for line in text.splitlines() if line not in once.splitlines()] == []
    read = profile.read(once, built_in())
    again = planning.plan(planning.reopen(read.station, read.choices), built_in())
    assert revised(once, again.verdict.station, derived(again.verdict), built_in()) == once
