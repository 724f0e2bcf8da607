"""The difference of two stations: what stays, changes, comes and goes."""

from typing import Any

from engine.advice.compare import CHANGES, COMES, GOES, STAYS, compare


def test_a_station_compared_with_itself_stays(bench: Any, desk: Any) -> None:
    """Nothing changes against itself (arithmetic)."""
    verdict = bench.check(desk())
    assert {one.how for one in compare(verdict, verdict)} == {STAYS}


def test_a_thinner_lead_shows_in_parts_volts_and_findings(bench: Any, desk: Any) -> None:
    """One changed conductor: the part changes, the volts fall, a finding comes; the rest stays (this house)."""
    before, after = bench.check(desk()), bench.check(desk(run_conductor="16 AWG"))
    found = {(one.kind, one.about): one for one in compare(before, after)}
    assert found["part", "lead"].how == CHANGES
    assert "10 AWG" in found["part", "lead"].before
    assert "16 AWG" in found["part", "lead"].after
    assert found["part", "psu"].how == STAYS
    assert float(found["volts", "hf"].after.split()[0]) < float(found["volts", "hf"].before.split()[0])
    assert found["finding", "contact-takes lead"].how == COMES
    back = {(one.kind, one.about): one.how for one in compare(after, before)}
    assert back["finding", "contact-takes lead"] == GOES


def test_a_new_load_comes_with_its_current(bench: Any, desk: Any) -> None:
    """A second load adds to the current at once and comes as a part (this house)."""
    more = '\n[[load]]\nid = "lamp"\nclass = "lamp"\n[[run]]\nid = "lamp-lead"\nto = "lamp"\nfrom = "psu"\n'
    found = {(one.kind, one.about): one for one in compare(bench.check(desk()), bench.check(desk() + more))}
    assert found["part", "lamp"].how == COMES
    assert found["current", "psu"].how == CHANGES
