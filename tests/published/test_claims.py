"""What someone told you, against exam items, tables and a published mistake."""

import math
from typing import Any

import pytest

from engine.advice.claims import cable, efficiency, raised
from engine.advice.claims.gauges import size as sized
from engine.advice.claims.result import DOUBTFUL, HOLDS, REFUTED, Judged

STRANDED = 1.02
"""Resistance of stranded copper over that of the solid in the tables (NEC ch. 9 table 8, read in a secondary copy)."""


def loses(bench: Any, size: str, amps: float, length: float, volts: float | None) -> Judged:
    """A claim about a cable's loss."""
    row = sized(size, bench.shelf.conductors)
    assert row is not None
    return cable.drop(row, amps, length, volts, bench.shelf.limits)


def test_a_published_drop_in_feet_for_metres_is_refuted(bench: Any) -> None:
    """30 A over 3 m of 14 AWG printed as 0.50 V (a published mistake): 30 x 6 x 8.284 mohm/m is 1.49 V.

    2.525 ohm/1000 ft of NBS Handbook 100 is 8.284 mohm/m; over 3 ft it would be 0.45 V. Stranded as leads are, and
    as the check reckons, 2 % more.
    """
    found = loses(bench, "14 AWG", 30, 3, 0.5)
    assert found.outcome == REFUTED
    assert found.figures[0].value == pytest.approx(STRANDED * 30 * 6 * 2.525 / 304.8, rel=0.005)
    assert "solid wire: 1.49 V" in found.says
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
    assert found.figures[0].value == pytest.approx(STRANDED * volts, abs=0.006)
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


def test_a_ten_percent_table_is_not_for_radios(bench: Any) -> None:
    """22 A over 5 m of 12 AWG: 22 x 10 x 5.21 mohm is 1.15 V, within 10 % and far beyond 3 % (ABYC E-11)."""
    found = loses(bench, "12 AWG", 22, 5, None)
    assert found.outcome != HOLDS
    assert "table for 10 %" in found.mistake


@pytest.mark.parametrize(
    ("size", "ohms_per_1000_ft"),
    [("5 AWG", 0.3133), ("7 AWG", 0.4982), ("9 AWG", 0.7921), ("11 AWG", 1.260), ("13 AWG", 2.003), ("15 AWG", 3.184)],
)
def test_gauges_between_the_catalogue_s(bench: Any, size: str, ohms_per_1000_ft: float) -> None:
    """Odd gauges of the standard annealed copper table (NBS Circular 31, from memory; ASTM B258 gives the same)."""
    row = sized(size, bench.shelf.conductors)
    assert row is not None
    assert row.ohms_per_metre == pytest.approx(STRANDED * ohms_per_1000_ft / 304.8, rel=0.005)
    smaller = [one for one in bench.shelf.conductors.values() if one.system == "AWG" and one.area < row.area]
    assert row.ampacity == max(smaller, key=lambda one: one.area).ampacity
    assert loses(bench, size, 5, 1, 0.5).outcome == HOLDS


def test_metric_sizes_between_the_catalogue_s(bench: Any) -> None:
    """3 mm² lies between 2.5 and 4 of IEC 60228 class 5: 7.98 and 4.95 ohm/km, each some 16 % above 17.241/area."""
    row = sized("3 mm²", bench.shelf.conductors)
    assert row is not None
    excess = [7.98 * 2.5 / 17.241, 4.95 * 4 / 17.241]
    assert min(excess) * 17.241 / 3 <= row.ohms_per_metre * 1000 <= max(excess) * 17.241 / 3
    assert sized("300 mm²", bench.shelf.conductors) is None
    assert sized("39 AWG", bench.shelf.conductors) is None
    assert sized("10 AWG", bench.shelf.conductors) is bench.shelf.conductors["10 AWG"]


def test_eight_amperes_are_not_enough_for_a_hundred_watts() -> None:
    """100 W draws 18 to 23 A (common practice); 8 A is radio watts over 12 V (a published mistake)."""
    found = efficiency.draw(100, 8)
    assert found.outcome == REFUTED
    assert "radio frequency" in found.mistake
    least, _, most = (one.value for one in found.figures)
    assert least == pytest.approx(18, abs=0.1)
    assert 23 <= most <= 24.1


def test_the_exam_s_fifty_watts() -> None:
    """A 50 W FM mobile wants 12 A at 13.8 V (NCVEC T4A01): 12 A holds, 4 A is refuted, 10 A is for the manual."""
    assert efficiency.draw(50, 12).outcome == HOLDS
    assert efficiency.draw(50, 4).outcome == REFUTED
    assert efficiency.draw(50, 10).outcome == DOUBTFUL


@pytest.mark.parametrize(("amps", "volts"), [(50, 13.8), (20, 28), (14, 50)])
def test_a_stage_of_three_hundred_watts(amps: float, volts: float) -> None:
    """43, 54 and 43 % of the direct current's watts: ordinary for a linear stage (common practice, no source)."""
    assert efficiency.draw(300, amps, volts).outcome == HOLDS
    assert efficiency.draw(300, 300 / volts, volts).outcome == REFUTED


@pytest.mark.parametrize(
    ("watts", "amps", "volts"),
    [
        (5, 1.5, 13.8), (10, 3, 13.8), (20, 6.5, 13.8), (100, 22, 13.8), (75, 15, 13.8), (200, 42, 13.8),
        (160, 30, 13.8), (300, 50, 13.8), (550, 100, 13.8), (1000, 45, 50), (1300, 52, 50),
    ],
)  # fmt: skip
def test_ordinary_sets_are_never_refuted(watts: float, amps: float, volts: float) -> None:
    """Key-down currents by class as owners and manuals state them (common practice, no source)."""
    assert efficiency.draw(watts, amps, volts).outcome != REFUTED


@pytest.mark.parametrize("volts", [13.8, 28, 50])
def test_no_linear_stage_passes_class_b(volts: float) -> None:
    """A linear stage cannot pass pi/4, 78.5 % (class B, by theory); a switching one may."""
    amps = 500 / volts / (math.pi / 4)
    assert efficiency.draw(500, amps, volts).outcome == REFUTED
    assert efficiency.draw(500, amps, volts, efficiency.STAGES["switching"]).outcome != REFUTED


def test_more_radio_than_direct_power_is_named() -> None:
    """1000 W from 10 A at 50 V would be twice what goes in (energy)."""
    assert "more radio power than direct power" in efficiency.draw(1000, 10, 50).mistake


def test_fifteen_volts_for_a_ten_percent_set(bench: Any) -> None:
    """13.8 V + 10 % is 15.18 V; 15 V and 2 % of tolerance are 15.3 V (arithmetic): refused."""
    found = raised.raised_for(bench.shelf.equipment["hf-100w"], 15.0)
    assert found.outcome == REFUTED
    assert found.figures[0].value == pytest.approx(15.3)


def test_fifteen_volts_for_a_fifteen_percent_set_is_for_all_that_hangs_on_it(bench: Any) -> None:
    """13.8 V + 15 % is 15.87 V (47 CFR 2.1055(d)): 15.3 V is inside it, and other loads are asked about."""
    assert raised.raised_for(bench.shelf.equipment["vhf-50w"], 15.0).outcome == DOUBTFUL


def test_raising_the_supply_of_a_station_asks_the_rules(bench: Any, desk: Any) -> None:
    """A station's own ceiling, its supply's own knob: refused where the rules refuse it (this house)."""
    knob = {"source_adjustable": True, "source_lowest": "11 V", "source_highest": "16 V", "source_locked": True}
    ten = bench.station(desk(load_window="13.8 V ± 10 %", **knob))
    assert raised.raised_in(ten, bench.shelf, 15.1).outcome == REFUTED
    fifteen = bench.station(desk(**knob))
    assert raised.raised_in(fifteen, bench.shelf, 14.2).outcome == HOLDS
    fixed = bench.station(desk())
    assert "cannot be set" in raised.raised_in(fixed, bench.shelf, 14.2).says
    assert "11.00 V to 16.00 V only" in raised.raised_in(fifteen, bench.shelf, 17.0).says
