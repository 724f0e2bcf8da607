"""The lead that came with the equipment: kept, shortened, lengthened by a heavier one, or replaced."""

from typing import Any

import pytest

STATION = """
[site]
mains = "120 V"
[[load]]
id = "hf"
class = "hf-100w"
window = "13.8 V ± 15 %"
transmit = "20 A"
mode = "ssb"
lead = "{lead}"
lead_length = "{own}"
[[run]]
id = "hf-lead"
to = "hf"
length = "{way}"
"""


def planned(bench: Any, lead: str, own: str, way: str) -> Any:
    """The one lead of a planned station."""
    made = bench.plan(STATION.format(lead=lead, own=own, way=way))
    assert made.complete
    return made, made.verdict.case.leads[0]


def test_a_lead_that_reaches_and_bears_is_kept(bench: Any) -> None:
    """1.5 m of a 1.8 m lead of 10 AWG: no cable is bought."""
    made, lead = planned(bench, "10 AWG", "1.8 m", "1.5 m")
    assert lead.supplied
    assert made.verdict.station.runs[0].supplied is True
    copper = 2 * lead.length * lead.conductor.price.usual
    assert copper > 0
    assert sum(one.high for one in made.verdict.items if one.about == "hf-lead") < copper + 15


def test_a_lead_that_does_not_reach_is_lengthened_by_a_heavier_one_and_fused_for_the_thinner(bench: Any) -> None:
    """4 m of way with a 3 m lead of 10 AWG: two pieces in series, each guarded by the fuse before it."""
    made, lead = planned(bench, "10 AWG", "3 m", "4 m")
    assert lead.tail is not None
    assert sum(one.length for one in lead.pieces) == pytest.approx(4.0)
    assert lead.pieces[-1].length <= 3.0
    assert lead.pieces[0].conductor.area >= lead.pieces[1].conductor.area
    assert all(lead.guard(piece) <= piece.conductor.ampacity[60] for piece in lead.pieces)
    run = made.verdict.station.runs[0]
    assert (run.tail, float(run.tail_length), float(run.length)) == ("10 AWG", lead.tail.length, 4.0)


def test_a_lead_too_thin_to_use_is_replaced(bench: Any) -> None:
    """A 16 AWG lead cannot be behind a 25 A fuse: new cable throughout, and the reason names the refusal."""
    made, lead = planned(bench, "16 AWG", "1.8 m", "1.5 m")
    assert not lead.supplied
    assert lead.tail is None
    choice = next(one for one in made.verdict.choices if one.about == "hf-lead.conductor")
    assert any("came with it" in one.candidate for one in choice.refused)


@pytest.mark.parametrize(("lead", "own", "way"), [("10 AWG", "1.8 m", "1.5 m"), ("10 AWG", "3 m", "4 m")])
def test_such_a_profile_is_read_judged_and_planned_the_same(bench: Any, lead: str, own: str, way: str) -> None:
    """Written, read and planned again, or reopened and planned, it is the same bytes; check refuses nothing."""
    from engine.advice import report
    from engine.planning import plan as planning
    from engine.station import profile

    made, _ = planned(bench, lead, own, way)
    text = profile.write(made.verdict.station, report.derived(made.verdict))
    read = profile.read(text, bench.shelf)
    again = planning.plan(read.station, bench.shelf, read.choices).verdict
    assert profile.write(again.station, report.derived(again)) == text
    anew = planning.plan(planning.reopen(read.station, read.choices), bench.shelf).verdict
    assert profile.write(anew.station, report.derived(anew)) == text
    assert bench.unsound(again) == []


def test_two_pieces_drop_what_their_sum_drops(bench: Any) -> None:
    """Series resistance by hand: 1 m of 8 AWG and 3 m of 10 AWG, both ways, plus joints (Ohm's law)."""
    made, lead = planned(bench, "10 AWG", "3 m", "4 m")
    usual = next(one for one in made.verdict.operating.points() if one.condition.name == "usual" and one.state.keyed)
    stretch = made.verdict.operating.stretch(lead, usual.condition)
    by_hand = sum(2 * one.length * one.conductor.ohms_per_metre * (1 + 0.00393 * 2) for one in lead.pieces)
    assert stretch.copper == pytest.approx(by_hand, rel=1e-9)
    assert usual.drop["hf-lead"] == pytest.approx(usual.through["hf-lead"] * stretch.ohms)
