"""What must hold whatever the figures: more copper, less length and cooler air never hurt; fuses guard wires."""

import random
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from catalog.shelf import built_in
from engine.findings import Finding
from engine.model.case import Lead
from engine.physics import copper
from engine.planning import plan
from engine.rules import book, wire
from engine.rules.check import Verdict, check
from engine.station import profile

SIZES = [one.id for one in sorted(built_in().conductors.values(), key=lambda one: -one.ohms_per_metre)]
AREAS = {one.id: one.area for one in built_in().conductors.values()}
FOLLOWS = ("steady current", "steady power", "resistive")
CONDITIONS = ("light", "usual", "sagging")

STATION = """
format = 1
name = "random"
[site]
coldest = "5 °C"
hottest = "{hottest} °C"
[[load]]
id = "a"
window = "13.8 V ± 15 %"
receive = "1 A"
transmit = "{amps} A"
mode = "{mode}"
follows = "{follows}"
[[load]]
id = "b"
window = "13.8 V ± 15 %"
receive = "0.5 A"
busy = "{busy} A"
follows = "steady power"
[[source]]
id = "psu"
volts = "13.8 V"
continuous = "60 A"
[[strip]]
id = "strip"
[[run]]
id = "feed"
from = "psu"
to = "strip"
length = "{shared} m"
conductor = "{trunk}"
insulation = "105 °C"
fuse = "60 A"
contacts = ["ring terminal", "ring terminal"]
[[run]]
id = "a-lead"
from = "strip"
to = "a"
length = "{length} m"
conductor = "{size}"
insulation = "105 °C"
fuse = "{fuse} A"
contacts = ["ring terminal", "keyed plug"]
[[run]]
id = "b-lead"
from = "strip"
to = "b"
length = "1 m"
conductor = "14 AWG"
insulation = "105 °C"
fuse = "15 A"
contacts = ["ring terminal", "barrel plug"]
"""

FIGURES = st.fixed_dictionaries({
    "hottest": st.integers(20, 60),
    "amps": st.integers(1, 30),
    "busy": st.integers(1, 6),
    "mode": st.sampled_from(["ssb", "cw", "fm"]),
    "follows": st.sampled_from(FOLLOWS),
    "shared": st.sampled_from([0.3, 1.0, 2.0]),
    "length": st.sampled_from([0.3, 1.0, 2.5, 6.0]),
    "trunk": st.sampled_from(["8 AWG", "6 AWG", "16 mm²"]),
    "size": st.sampled_from(SIZES),
    "fuse": st.sampled_from([3, 10, 20, 30, 40]),
})  # fmt: skip


def verdict(**figures: Any) -> Verdict:
    """The verdict on the station with these figures."""
    shelf = built_in()
    return check(profile.read(STATION.format(**figures), shelf).station, shelf)


def volts(made: Verdict, loads: str) -> list[float]:
    """The volts at some loads in every state and condition; zero where the leads cannot carry what is asked."""
    return [
        point.volts[load] if point.fed else 0.0
        for point in sorted(made.operating.points(), key=lambda one: (one.state.name, one.condition.name))
        for load in loads
    ]


def assert_never_lower(better: Verdict, worse: Verdict, loads: str) -> None:
    """No load sees less in ``better`` than in ``worse``, in any state and condition."""
    pairs = list(zip(volts(better, loads), volts(worse, loads), strict=True))
    assert all(one >= other - 1e-9 for one, other in pairs), pairs


BEHIND = {"size": "a", "length": "a", "trunk": "ab", "shared": "ab"}
"""The loads behind what is changed: a better branch may let its own load draw more, so its neighbour sees less."""


@given(FIGURES, st.sampled_from(SIZES), st.sampled_from(["size", "trunk"]))
@settings(max_examples=150, deadline=None)
def test_thicker_copper_never_lowers_a_voltage(figures: dict[str, Any], other: str, key: str) -> None:
    """Thicker copper of less resistance in branch or trunk: no load behind it sees less (Ohm's law)."""
    thin, thick = sorted((figures[key], other), key=SIZES.index)
    assume(AREAS[thin] <= AREAS[thick])
    assert_never_lower(verdict(**{**figures, key: thick}), verdict(**{**figures, key: thin}), BEHIND[key])


@given(FIGURES, st.floats(0.1, 8).map(lambda one: round(one, 2)), st.sampled_from(["length", "shared"]))
@settings(max_examples=150, deadline=None)
def test_longer_never_raises_a_voltage(figures: dict[str, Any], other: float, key: str) -> None:
    """A longer branch or trunk: no load behind it sees more, in any state and condition (Ohm's law)."""
    short, long = sorted((figures[key], other))
    assert_never_lower(verdict(**{**figures, key: short}), verdict(**{**figures, key: long}), BEHIND[key])


@given(FIGURES, st.integers(20, 80))
@settings(max_examples=150, deadline=None)
def test_hotter_never_raises_a_voltage(figures: dict[str, Any], other: int) -> None:
    """Hotter air around the cables: no load sees more (IEC 60028: copper's resistance rises with temperature).

    For a resistive load the one at its own end: drawing less when hot, it leaves its neighbour more.
    """
    cool, hot = sorted((figures["hottest"], other))
    loads = "a" if figures["follows"] == "resistive" else "ab"
    assert_never_lower(verdict(**{**figures, "hottest": cool}), verdict(**{**figures, "hottest": hot}), loads)


@given(st.integers(1, 60), st.sampled_from([3, 5, 10, 15, 20, 25, 30, 40]), st.sampled_from(FOLLOWS))
@settings(max_examples=150, deadline=None)
def test_a_load_above_its_fuse_is_always_unsound(amps: int, fuse: int, follows: str) -> None:
    """Whatever else holds, a fuse below the load's own current is unsound (a fuse opens above its rating)."""
    figures = {"hottest": 30, "busy": 1, "mode": "ssb", "shared": 0.3, "length": 1.0, "trunk": "6 AWG", "size": "8 AWG"}
    made = verdict(**figures, amps=amps, fuse=fuse, follows=follows)
    (found,) = (one for one in made.findings if (one.rule, one.about) == ("fuse-carries", "a-lead"))
    if amps > fuse:
        assert found.outcome == "unsound" and made.outcome == "unsound"
    elif follows == "steady current":
        assert found.outcome != "unsound"


@given(FIGURES)
@settings(max_examples=100, deadline=None)
def test_energy_adds_up_in_a_whole_station(figures: dict[str, Any]) -> None:
    """In every state and condition what the source gives is what loads and leads take (conservation of energy)."""
    made = verdict(**figures)
    for point in (one for one in made.operating.points() if one.fed):
        given_ = point.volts["psu"] * point.amps["psu"]
        loads = sum(point.volts[one] * point.amps[one] for one in ("a", "b"))
        lost = sum(point.drop[one] * point.through[one] for one in ("feed", "a-lead", "b-lead"))
        assert loads + lost == pytest.approx(given_, rel=1e-6, abs=1e-9)


@given(
    st.sampled_from(SIZES), st.sampled_from(sorted(built_in().insulations)), st.integers(-20, 90), st.integers(2, 30)
)
@settings(max_examples=300, deadline=None)
def test_ampacity_only_falls(size: str, skin: str, ambient: int, together: int) -> None:
    """Hotter air or more loaded conductors together never allow more (33 CFR 183.425 and its bundle factors)."""
    table, celsius = built_in().conductors[size].ampacity, built_in().insulations[skin].celsius
    here = copper.ampacity(table, celsius, ambient, together)
    assert 0 <= copper.ampacity(table, celsius, ambient + 5, together) <= here
    assert copper.ampacity(table, celsius, ambient, together + 1) <= here


@given(st.floats(0, 200), st.floats(0, 200), st.floats(-40, 100))
def test_more_current_is_never_cooler(one: float, other: float, ambient: float) -> None:
    """Temperature rises with the square of the current and starts at the ambient (heat balance)."""
    low, high = sorted((one, other))
    cool, hot = (copper.temperature(amps, 45, 105, ambient) for amps in (low, high))
    assert ambient <= cool <= hot


# Plans over random stations of the shipped catalogue.

CLASSES = ["hf-100w", "hf-qrp", "hf-20w", "vhf-50w", "vhf-75w", "lamp", "tuner", "small-computer", "laptop"]


def random_text(dice: random.Random) -> str:
    """One to three loads of random classes, with leads of random length to some of them."""
    kinds = [dice.choice(CLASSES) for _ in range(dice.randint(1, 3))]
    loads = "".join(f'[[load]]\nid = "n{n}"\nclass = "{kind}"\n' for n, kind in enumerate(kinds))
    runs = "".join(
        f'[[run]]\nid = "r{n}"\nto = "n{n}"\nlength = "{dice.choice([0.5, 1, 2, 3])} m"\n'
        for n in range(len(kinds))
        if dice.random() < 0.5
    )
    mains = dice.choice(["120 V", "230 V"])
    source = '[[source]]\nid = "psu"\n' if runs else ""
    return f'format = 1\nname = "random"\n[site]\nmains = "{mains}"\ncircuit = "15 A"\n{loads}{source}{runs}'


def fused(lead: Lead, made: Verdict) -> bool:
    """Whether the lead has a fuse of its own or one upstream that its conductor may carry."""
    ratings = [one.fuse_rating for one in made.case.path(lead.end) if one.fuse_rating]
    return bool(lead.fuse_rating) or (bool(ratings) and min(ratings) <= wire.allowed(lead).value)


@pytest.mark.parametrize("seed", range(24))
def test_every_lead_of_a_plan_is_fused_within_its_conductor(seed: int) -> None:
    """No planned lead is without a fuse, and none has one above what its conductor may carry (33 CFR 183.425).

    The conductor's allowance is worked out here from the catalogue's row: column x ambient x bundle.
    """
    shelf = built_in()
    made = plan.plan(profile.read(random_text(random.Random(seed)), shelf).station, shelf)
    assert made.complete, made.notes
    case = made.verdict.case
    assert case.leads
    for lead in case.leads:
        assert lead.conductor is not None and lead.missing == ()
        assert fused(lead, made.verdict), lead.id
        column = max(one for one in lead.conductor.ampacity if one <= lead.insulation.celsius)
        ambient = ((column - max(lead.ambient, 30)) / (column - 30)) ** 0.5
        bundle = 1.0 if lead.together == 2 else 0.7
        assert lead.fuse_rating <= lead.conductor.ampacity[column] * ambient * bundle + 1e-9, lead.id


@pytest.mark.parametrize("seed", range(24, 36))
def test_nothing_planned_is_refused_by_check(seed: int) -> None:
    """A plan written down, read back and checked holds no unsound finding (this house's promise)."""
    shelf = built_in()
    made = plan.plan(profile.read(random_text(random.Random(seed)), shelf).station, shelf)
    again = check(profile.read(profile.write(made.verdict.station), shelf).station, shelf)
    assert [one.says for one in again.findings if one.outcome == "unsound"] == []


def test_findings_come_worst_first(bench: Any, desk: Callable[..., str]) -> None:
    """Outcome first, danger second, so that what burns is read before what annoys (this house's order)."""
    found: tuple[Finding, ...] = bench.check(desk(run_fuse="100 A", run_length="15 m")).findings
    keys = [(one.severity, book.BY_ID[one.rule].danger) for one in found]
    assert keys == sorted(keys, reverse=True)
    assert found[0].rule == "fuse-guards"
