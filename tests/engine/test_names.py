"""Any name that a file may give a part is a name and nothing more: it is shown, and never computed with."""

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
import workings

from catalog.shelf import STATIONS, built_in
from engine.advice.report import report
from engine.model.heat import heat
from engine.planning import plan as planning
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station import profile
from engine.station.model import Station
from engine.station.table import NAME

HOSTILE = (
    "2m",
    "70cm",
    "for",
    "in",
    "12v-psu",
    "hf-a",
    "hf_a",
    "sqrt",
    "max",
    "None",
    "²x",
    "ﬁeld",
    "søn",
    "_",
    "-",
    "0",
)
LONG = tuple(letter * 200 for letter in "abcdefghijklmnop")


@pytest.mark.parametrize("name", ["2m", "70cm-rig", "for", "class", "None", "²x", "ﬁeld", "søn", "max", "hf_1"])
def test_a_part_of_any_name_is_judged_and_shows_its_working(bench: Any, desk: Any, name: str) -> None:
    """A name that a file may hold never breaks the arithmetic: the floor is worked out to the same figure."""
    NAME.read(name)
    plain = bench.check(desk())
    named = bench.check(desk(load_id=name, run_to=name, run_id=f"{name}-x"))
    for rule, about in (("window-floor", (name, "hf")), ("ampacity", (f"{name}-x", "lead")), ("supply-peak", None)):
        mine, its = about or ("psu", "psu")
        found, wanted = bench.only(named, rule, mine), bench.only(plain, rule, its)
        assert found.figure.value == wanted.figure.value
        assert len(found.figure.working()) == len(wanted.figure.working())


def renamed(part: Any, names: dict[str, str]) -> Any:
    """A part of a station with every id replaced, wherever it stands."""
    if isinstance(part, str):
        return names.get(part, part)
    if isinstance(part, tuple):
        return tuple(renamed(one, names) for one in part)
    if is_dataclass(part) and not isinstance(part, type):
        return replace(part, **{one.name: renamed(getattr(part, one.name), names) for one in fields(part) if one.init})
    return part


def ids(station: Station) -> list[str]:
    """The ids that the owner of a station gave."""
    return [one.id for one in (*station.loads, *station.sources, *station.strips, *station.runs)]


def outline(verdict: Verdict) -> list[tuple[str, str, float | None]]:
    """What was found, without any name."""
    return sorted(
        (one.rule, one.outcome, round(one.figure.value, 9) if one.figure else -1.0) for one in verdict.findings
    )


@pytest.mark.parametrize("names", [HOSTILE, LONG], ids=["hostile", "long"])
@pytest.mark.parametrize("station", ["harbour-street", "granary-steps", "belfry-court", "tannery-wharf", "quarry-road"])
def test_other_names_make_no_other_station(station: str, names: tuple[str, ...]) -> None:
    """A station whose parts go by hostile names is planned, judged and reported as the same station (this house)."""
    text = (STATIONS / f"{station}.toml").read_text(encoding="utf-8")
    plain = profile.read(text, built_in()).station
    assert len(ids(plain)) <= len(names)
    odd = renamed(plain, dict(zip(ids(plain), names, strict=False)))
    assert set(ids(odd)) <= set(names)
    made, wanted = planning.plan(odd, built_in()), planning.plan(plain, built_in())
    assert made.complete == wanted.complete
    for mine, its in ((made.verdict, wanted.verdict), (checking.check(odd, built_in()), None)):
        assert its is None or outline(mine) == outline(its)
        assert report(mine)["outcome"] == mine.outcome
        for figure in workings.figures_of(mine):
            assert figure.worked().value == pytest.approx(figure.value, rel=1e-9, abs=1e-9)
            assert figure.working()


def test_a_name_that_is_too_long_for_a_file_is_refused_with_a_sentence(bench: Any, desk: Any) -> None:
    """The reader says where the name stands and how long it may be."""
    with pytest.raises(profile.Problems) as refused:
        bench.check(desk(load_id="x" * 200, run_to="x" * 200))
    assert "40" in str(refused.value)


PAIR = """
[[load]]
id = "hf_a"
window = "13.8 V ± 15 %"
receive = "3 A"
follows = "steady current"
fuse = "5 A"
[[run]]
id = "lead_a"
from = "psu"
to = "hf_a"
length = "1 m"
conductor = "12 AWG"
insulation = "105 °C"
fuse = "5 A"
contacts = ["ring terminal", "keyed plug"]
"""


def test_two_names_that_differ_only_by_a_hyphen_are_two_terms(bench: Any, desk: Any) -> None:
    """20 A of one and 3 A of the other are 23 A at once, not twice either (arithmetic)."""
    verdict = bench.check(desk(load_id="hf-a", run_to="hf-a") + PAIR)
    peak = bench.only(verdict, "supply-peak", "psu").figure
    assert peak.value == pytest.approx(23.0)
    assert peak.working()[:2] == ["hf a + hf_a", "= 20.0 A + 3.0 A"]


def test_the_heat_of_two_such_names_is_the_sum_of_both(bench: Any, desk: Any) -> None:
    """hf-a beside hf_a, lead-a beside lead_a: the heat is that of the same station under plain names (arithmetic).

    By hand: the supply's loss is its current times 13.8 V times 1 / 0.85 - 1, and its current is the sum of the two
    mean currents, 3 A of them the second load's.
    """
    alike = heat(bench.check(desk(load_id="hf-a", run_to="hf-a", run_id="lead-a") + PAIR).operating)
    plain = heat(bench.check(desk() + PAIR.replace("_a", "-other")).operating)
    assert alike and plain
    assert alike.total.value == plain.total.value == pytest.approx(sum(figure.value for _, figure in plain.parts))
    current = bench.term(dict(alike.parts)["psu"], "current")
    first, second = current.terms()
    assert (first.label, second.label, second.value) == ("hf a", "hf_a", 3.0)
    assert dict(alike.parts)["psu"].value == pytest.approx((first.value + 3) * 13.8 * (1 / 0.85 - 1))
    assert {"lead a", "lead_a"} <= {one.label for one in alike.total.terms()}
