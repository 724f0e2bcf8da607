"""Radio power against volts and current: readings of real sets, no make named, and common practice."""

import math

import numpy as np
import pytest

from catalog.shelf import built_in
from engine.physics import power

READINGS = [(7.5, 4.7), (13.0, 7.2), (32.0, 10.0), (77.0, 15.0)]
"""A 75 W VHF FM set at its four powers (readings of one set, from memory)."""


def test_the_measured_set_is_the_rows_own() -> None:
    """The shipped curve holds the published readings and gives each of them back (readings of one set)."""
    row = built_in().powers["vhf-75w"]
    assert list(row.points) == READINGS
    for watts, amps in READINGS:
        assert power.keyed_amps(row.points, watts) == pytest.approx(amps)


def test_current_is_not_in_proportion_to_power() -> None:
    """At a tenth of its power the set draws 4.7 A, three times what proportion says (readings of one set)."""
    (low, low_amps), *_, (full, full_amps) = READINGS
    assert low_amps / (full_amps * low / full) > 3
    assert power.keyed_amps(READINGS, full / 2) > 0.6 * full_amps


def test_the_root_law_fits_the_readings() -> None:
    """A standing current and a part with the root of the power come within 12 % of all readings (least squares)."""
    roots = np.array([[1, math.sqrt(watts)] for watts, _ in READINGS])
    amps = np.array([amps for _, amps in READINGS])
    (standing, slope), *_ = np.linalg.lstsq(roots, amps, rcond=None)
    assert standing > 0
    assert roots @ np.array([standing, slope]) == pytest.approx(amps, rel=0.12)


@pytest.mark.parametrize(("place", "middle"), [(0, 10.06), (1, 21.45), (2, 52.07)])
def test_between_two_points_the_nearest_two_decide(place: int, middle: float) -> None:
    """Where the root of the power is halfway between two points, so is the current; no other point counts (by hand).

    ((√7.5 + √13) / 2)² = 10.06 W, ((√13 + √32) / 2)² = 21.45 W, ((√32 + √77) / 2)² = 52.07 W.
    """
    (_, low), (_, high) = READINGS[place : place + 2]
    assert power.keyed_amps(READINGS, middle) == pytest.approx((low + high) / 2, abs=0.002)


def test_a_curve_of_many_points_scales_to_the_sets_own_current() -> None:
    """A set of the class that draws 18 A at full power draws 18 / 15 of the curve at every power (proportion)."""
    for watts, amps in READINGS:
        assert power.reduced_amps(READINGS, watts / 77, 18) == pytest.approx(amps * 18 / 15)


@pytest.mark.parametrize(("watts", "amps"), READINGS[1:3])
def test_two_points_foretell_the_others(watts: float, amps: float) -> None:
    """From its lowest and highest powers alone, those between come within 15 %: less than a model's spread."""
    ends = (READINGS[0], READINGS[-1])
    assert power.keyed_amps(ends, watts) == pytest.approx(amps, rel=0.15)
    assert all(row.spread >= 0.15 for row in built_in().powers.values() if len(row.points) == 2)


def test_a_100_w_hf_set_at_5_w() -> None:
    """One set drew 6.85 A for about 5 W (published readings of HF sets on battery): within the model's spread."""
    row = built_in().powers["hf-100w"]
    assert power.keyed_amps(row.points, 5) == pytest.approx(6.85, rel=row.spread)


def test_half_power_of_a_100_w_hf_set() -> None:
    """Half the power might mean 15 A instead of 20 A, not 10 A (common practice, a published tutorial)."""
    row = built_in().powers["hf-100w"]
    assert power.reduced_amps(row.points, 0.5, 20) == pytest.approx(15, rel=0.1)


@pytest.mark.parametrize("full", [18.0, 23.0])
def test_an_owners_own_key_down_current_holds(full: float) -> None:
    """At full power a set draws what its owner says, and less below (18 to 23 A of the class, common practice)."""
    points = built_in().powers["hf-100w"].points
    assert power.reduced_amps(points, 1.0, full) == pytest.approx(full)
    assert 0.1 * full < power.reduced_amps(points, 0.1, full) < full


def test_low_power_of_a_50_w_mobile() -> None:
    """5 to 7 W takes 4 to 5 A; 50 W takes 12 A, near the class's usual (common practice; NCVEC T4A01)."""
    points = built_in().powers["vhf-50w"].points
    for watts in (5, 6, 7):
        assert 4 <= power.keyed_amps(points, watts) <= 5
    assert power.keyed_amps(points, 50) == pytest.approx(12, rel=0.1)


def test_curves_end_at_the_usual_current_of_their_class() -> None:
    """The last point of a curve is the usual key-down current of the first class it serves (one set of figures)."""
    shelf = built_in()
    for row in shelf.powers.values():
        usual = shelf.equipment[row.classes[0]].transmit
        assert usual is not None and row.points[-1][1] == pytest.approx(usual.usual), row.id
        for name in row.classes:
            draw = shelf.equipment[name]
            assert draw.transmit is not None and row.points[0][1] > draw.receive.usual, (row.id, name)


def test_no_class_has_two_curves() -> None:
    """Which curve is meant is never in doubt (this house's schema)."""
    named = [name for row in built_in().powers.values() for name in row.classes]
    assert len(named) == len(set(named))


def test_a_curve_is_not_stretched() -> None:
    """Below its first point the current stays, above its last there is no answer (careful reading of a table)."""
    assert power.keyed_amps(READINGS, 1) == 4.7
    with pytest.raises(ValueError, match="77 W"):
        power.keyed_amps(READINGS, 100)


def test_power_at_12_volts() -> None:
    """A 13.8 V design gives roughly 60 to 75 % at 12.0 V (common practice); one 100 W set gave 60 W (readings)."""
    found = power.output_share(12.0)
    assert (found.low, found.high) == pytest.approx((0.60, 0.75), abs=0.01)
    assert found.low <= found.usual <= found.high
    assert found.low <= 0.728 <= found.high, "a knee of 1.5 V: (10.5 / 12.3)², worked in a public discussion"


def test_the_square_law_halves_power_at_the_root_of_a_half() -> None:
    """13.7 V down to 9.68 V costs 3 dB by the plain square law (a published worked figure)."""
    assert power.output_share(9.68, 13.7).high == pytest.approx(0.5, abs=0.002)


def test_more_volts_give_no_more_power() -> None:
    """Level control holds full power above nominal; below every knee nothing is left (physics)."""
    high, none = power.output_share(15.0), power.output_share(0.0)
    assert (high.low, high.usual, high.high) == (1, 1, 1)
    assert (none.low, none.usual, none.high) == (0, 0, 0)


@pytest.mark.parametrize(
    ("watts", "reference", "decibels"), [(50, 100, -3), (200, 100, 3), (10, 100, -10), (5, 20, -6)]
)
def test_decibels(watts: float, reference: float, decibels: float) -> None:
    """Half is -3 dB, double 3 dB, a tenth -10 dB, a quarter -6 dB (NCVEC T5B09 to T5B11, from memory)."""
    assert power.decibels(watts, reference) == pytest.approx(decibels, abs=0.03)
