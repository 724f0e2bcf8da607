"""What someone told you, against exam items, tables and a published mistake."""

from typing import Any

import pytest

from engine import claim
from engine.claims.result import DOUBTFUL, HOLDS, REFUTED


def loses(bench: Any, size: str, amps: float, length: float, volts: float | None) -> claim.Judged:
    """A claim about a cable's loss."""
    return claim.drop(bench.shelf.conductors[size], amps, length, volts, bench.shelf.limits)


def test_a_published_drop_in_feet_for_metres_is_refuted(bench: Any) -> None:
    """30 A over 3 m of 14 AWG printed as 0.50 V (a published mistake): 30 x 6 x 8.284 mohm/m is 1.49 V.

    2.525 ohm/1000 ft of NBS Handbook 100 is 8.284 mohm/m; over 3 ft it would be 0.45 V.
    """
    found = loses(bench, "14 AWG", 30, 3, 0.5)
    assert found.outcome == REFUTED
    assert found.figures[0].value == pytest.approx(30 * 6 * 2.525 / 304.8, rel=0.005)
    assert str(found.figures[0]) == "1.49 V"
    assert "feet and metres" in found.mistake
    assert "WARNING" in found.care


def test_one_conductor_counted_is_named(bench: Any) -> None:
    """10 A, 10 m of 4 mm²: 4.95 ohm/km (IEC 60228) makes 0.99 V of the loop; 0.48 V is the way out alone."""
    found = loses(bench, "4 mm²", 10, 10, 0.45)
    assert found.outcome == REFUTED
    assert "only one conductor" in found.mistake


@pytest.mark.parametrize(("size", "volts", "holds"), [("10 AWG", 0.43, True), ("12 AWG", 0.69, False)])
def test_a_national_licence_exam_item(bench: Any, size: str, volts: float, holds: bool) -> None:
    """22 A, the battery 3 m away, half a volt: 10 AWG passes at 0.43 V, 12 AWG fails at 0.69 V (Canada, basic)."""
    found = loses(bench, size, 22, 3, 0.5)
    assert found.figures[0].value == pytest.approx(volts, abs=0.006)
    assert (found.outcome != REFUTED) is holds


def test_a_claim_with_room_holds(bench: Any) -> None:
    """5 A over 1 m of 10 AWG is 33 mV (10 x 3.277 mohm): far within half a volt."""
    assert loses(bench, "10 AWG", 5, 1, 0.5).outcome == HOLDS
    assert loses(bench, "10 AWG", 5, 1, None).outcome == HOLDS


def test_a_cable_that_burns_is_never_enough(bench: Any) -> None:
    """60 A in 14 AWG: 45 A is the most of any insulation (33 CFR 183.425, table 5), however short it is."""
    found = loses(bench, "14 AWG", 60, 0.2, None)
    assert found.outcome == REFUTED
    assert "burns it" in found.care


def test_eight_amperes_are_not_enough_for_a_hundred_watts() -> None:
    """100 W draws 18 to 23 A (common practice); 8 A is radio watts over 12 V (a published mistake)."""
    found = claim.draw(100, 8)
    assert found.outcome == REFUTED
    assert "radio frequency" in found.mistake
    least, most = (one.value for one in found.figures)
    assert least == pytest.approx(18, abs=0.1)
    assert 23 <= most <= 24.1


def test_the_exam_s_fifty_watts() -> None:
    """A 50 W FM mobile wants 12 A at 13.8 V (NCVEC T4A01): 12 A holds, 4 A is refuted, 10 A is for the manual."""
    assert claim.draw(50, 12).outcome == HOLDS
    assert claim.draw(50, 4).outcome == REFUTED
    assert claim.draw(50, 10).outcome == DOUBTFUL


def test_fifteen_volts_for_a_ten_percent_set(bench: Any) -> None:
    """13.8 V + 10 % is 15.18 V; 15 V and 2 % of tolerance are 15.3 V (arithmetic): refused."""
    found = claim.raised_for(bench.shelf.equipment["hf-100w"], 15.0)
    assert found.outcome == REFUTED
    assert found.figures[0].value == pytest.approx(15.3)


def test_fifteen_volts_for_a_fifteen_percent_set_is_for_all_that_hangs_on_it(bench: Any) -> None:
    """13.8 V + 15 % is 15.87 V (47 CFR 2.1055(d)): 15.3 V is inside it, and other loads are asked about."""
    assert claim.raised_for(bench.shelf.equipment["vhf-50w"], 15.0).outcome == DOUBTFUL


def test_raising_the_supply_of_a_station_asks_the_rules(bench: Any, desk: Any) -> None:
    """A station's own ceiling, its supply's own knob: refused where the rules refuse it (this house)."""
    knob = {"source_adjustable": True, "source_lowest": "11 V", "source_highest": "16 V", "source_locked": True}
    ten = bench.station(desk(load_window="13.8 V ± 10 %", **knob))
    assert claim.raised_in(ten, bench.shelf, 15.1).outcome == REFUTED
    fifteen = bench.station(desk(**knob))
    assert claim.raised_in(fifteen, bench.shelf, 14.2).outcome == HOLDS
    fixed = bench.station(desk())
    assert "cannot be set" in claim.raised_in(fixed, bench.shelf, 14.2).says
    assert "11.00 V to 16.00 V only" in claim.raised_in(fifteen, bench.shelf, 17.0).says
