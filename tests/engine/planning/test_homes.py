"""Where one radio can live: its window against what each kind of source does, on the same lead."""

import pytest

from catalog.shelf import built_in
from engine.findings import SEVERITY, SOUND, UNSOUND
from engine.planning.homes import LEAD_ACID, LITHIUM, Living, homes
from engine.station.model import Load
from engine.station.table import Problems
from wizard.view import homes as drawing
from wizard.view.span import plain_text, width_of

WIRE_12 = 5.211e-3
"""Resistance of 12 AWG stranded copper at 20 °C [Ω/m]: ASTM B 258 gives 1.588 Ω per 1000 ft."""


def living(lowest: float = 12.42, highest: float = 15.18) -> Living:
    """The homes of a 100 W set with a window of its own."""
    return homes(Load("radio", equipment="hf-100w", lowest=lowest, highest=highest), built_in())


def test_a_narrow_window_misbehaves_in_the_evening_and_a_wide_one_does_not() -> None:
    """At home both are content; on lead-acid through an evening only the wide one is (common practice)."""
    narrow, wide = living(12.42), living(11.0)
    assert narrow.home("mains").outcome == wide.home("mains").outcome == SOUND
    assert narrow.home(LEAD_ACID).outcome == UNSOUND and "booster" in narrow.home(LEAD_ACID).says
    assert wide.home(LEAD_ACID).outcome != UNSOUND
    assert narrow.home("boosted").outcome == SOUND


def test_the_volts_in_a_car_by_hand() -> None:
    """13.2 V at idle, 12 mΩ behind the posts, 23 A through 3 m of 12 AWG, fuse and contacts, 20 % as built."""
    home, row = living().home("running"), built_in().vehicles["car"]
    copper = WIRE_12 * 3.0
    least, most = copper * 1.0 + 0.005, copper * 1.25 + 0.012
    high = row.running.low - 23 * (row.ohms.high + least * 1.2)
    low = row.running.low - 23 * (row.ohms.high + most * 1.2)
    assert low < home.lowest < high
    assert home.highest == row.running.usual


def test_a_battery_falls_and_lithium_holds() -> None:
    """Of the same radio, lithium iron phosphate shows more volts to the end of an evening than lead-acid does."""
    found = living()
    assert found.home(LITHIUM).lowest > found.home(LEAD_ACID).lowest
    assert found.home("off").lowest < found.home("running").lowest < found.home("charging").lowest
    assert found.home("charging").highest == built_in().vehicles["car"].charging


@pytest.mark.parametrize("lower", [12.42, 12.0, 11.5, 11.0])
def test_a_wider_window_never_lives_worse(lower: float) -> None:
    """Whatever accepts more is at home in every place in which the other is."""
    narrow, wide = living(12.42, 15.18), living(lower, 15.9)
    for home in narrow.homes:
        assert SEVERITY[wide.home(home.name).outcome] <= SEVERITY[home.outcome]


def test_what_takes_no_12_volts_is_told_so() -> None:
    """A valve amplifier plugs into the wall; a 50 V amplifier has no home on a car."""
    for name in ("amp-valve", "amp-50v-1kw"):
        with pytest.raises(Problems, match="12 V"):
            homes(Load("x", equipment=name), built_in())


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_page_fits_and_says_it(width: int) -> None:
    """Every line keeps to the width; every home has its mark, its volts and its sentence."""
    found = living()
    lines = list(drawing.draw(found, width))
    assert max(map(width_of, lines)) <= width
    text = "\n".join(map(plain_text, lines))
    assert all(home.title[:20] in text for home in found.homes)
    assert drawing.headline(found).startswith("At home yes")
