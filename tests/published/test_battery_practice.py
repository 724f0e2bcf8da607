"""The trade's sayings about batteries, through station files and rules; and reserve figures of regulation."""

from collections.abc import Callable
from typing import Any

import pytest

from catalog.shelf import built_in
from engine.model.endurance import endurance
from engine.model.operating import own_condition
from engine.physics import cells

HALF = {
    "source_chemistry": "flooded", "source_amp_hours": "100 Ah", "source_depth": "50 %",
    "source_continuous": "25 A", "source_peak": "60 A", "run_conductor": "8 AWG", "run_length": "0.5 m",
}  # fmt: skip
"""A solar battery of the usual size of which half is drawn in the evening, and a short heavy lead."""

NARROW, WIDE = "13.8 V ± 10 %", "13.8 V ± 15 %"

BEHIND = """
[[run]]
id = "boosted"
from = "pack"
to = "boost"
length = "0.5 m"
conductor = "8 AWG"
insulation = "105 °C"
fuse = "40 A"
fuse_type = "battery post"
contacts = ["ring terminal", "ring terminal"]
[[source]]
id = "boost"
class = "booster"
part = "booster-25"
"""


def test_half_discharged_under_use_is_about_12_volts(bench: Any, packed: Callable[..., str]) -> None:
    """A lead-acid system half discharged stands at about 12.0 V while keyed (common practice, no source).

    Below the 12.42 V floor of a ±10 % set, above the 11.73 V of a ±15 % one (47 CFR 80.915 and 2.1055 for the two).
    """
    operating = bench.check(packed(**HALF)).operating
    condition = own_condition(operating.case.feeds[0].corner("half charged"))
    keyed = next(one for one in operating.states if one.is_keyed)
    volts = operating.point(keyed, condition).volts["pack"]
    assert volts == pytest.approx(12.0, abs=0.15)
    assert 13.8 * 0.85 < volts < 13.8 * 0.90


def test_a_narrow_set_misbehaves_in_the_evening_and_a_wide_one_does_not(bench: Any, packed: Callable[..., str]) -> None:
    """±10 % is refused on the half-discharged battery, ±15 % works to the end of it (common practice, no source)."""
    narrow, wide = (packed(**HALF, load_window=one) for one in (NARROW, WIDE))
    found = bench.finding(narrow, "window-floor", "hf")
    assert found.outcome == "unsound" and found.limit.value == pytest.approx(12.42)
    assert bench.finding(wide, "window-floor", "hf").outcome != "unsound"
    assert "below the lowest volts of its window" in bench.finding(narrow, "battery-ends", "pack").says
    assert bench.finding(narrow, "battery-ends", "pack").outcome == "thin"
    assert bench.finding(wide, "battery-ends", "pack").outcome == "sound"


def test_a_booster_cures_it(bench: Any, packed: Callable[..., str]) -> None:
    """Behind a booster the narrow set works to the depth accepted, at a price in hours (common practice, no source)."""
    text = packed(**HALF, load_window=NARROW, run_from="boost", run_fuse="30 A", run_fuse_type=None) + BEHIND
    assert bench.finding(text, "window-floor", "hf").outcome == "sound"
    assert bench.finding(text, "battery-ends", "pack").outcome == "sound"
    boosted, plain = (bench.check(one) for one in (text, packed(**HALF)))
    with_, without = (endurance(one.operating, one.case.feeds[0]) for one in (boosted, plain))
    assert with_ is not None and without is not None
    assert with_.first.name == without.first.name == "depth"
    assert 0.7 * without.hours < with_.hours < without.hours, "its losses, and more current from fewer volts"


def test_the_planner_puts_the_booster_there(bench: Any, packed: Callable[..., str]) -> None:
    """A plan for the narrow set on that battery finds the booster, and nothing in it is unsound (common practice)."""
    lead = dict.fromkeys(("run_conductor", "run_insulation", "run_fuse", "run_fuse_type", "run_contacts"))
    made = bench.plan(packed(**{**HALF, **lead}, load_window=NARROW))
    assert made.complete and bench.unsound(made.verdict) == []
    assert [one.kind for one in made.verdict.case.feeds] == ["battery", "booster"]
    assert any("a booster holds the volts up" in note for note in made.notes)


@pytest.mark.parametrize("name", ["flooded", "agm", "gel"])
def test_full_lead_acid_is_no_13_8_volts(bench: Any, packed: Callable[..., str], name: str) -> None:
    """A rested full battery shows 12.6 to 13.2 V (public tables): no 13.8 V source, and never 11.7 V either."""
    verdict = bench.check(packed(source_chemistry=name))
    volts = verdict.case.feeds[0].corner("full").volts
    assert 12.6 <= volts <= 13.2


def test_three_and_four_lithium_ion_cells_are_too_low_and_too_high(bench: Any, packed: Callable[..., str]) -> None:
    """3 cells stand at 9 to 12.6 V, 4 cells at 12 to 16.8 V: neither suits 11.73 to 15.87 V (common practice)."""
    three, four = (packed(source_chemistry=one, source_amp_hours="100 Ah") for one in ("li-ion-3", "li-ion-4"))
    assert bench.finding(three, "window-floor", "hf").outcome == "unsound"
    assert bench.finding(three, "window-ceiling", "hf").outcome == "sound"
    assert bench.finding(four, "window-ceiling", "hf").outcome == "unsound"


def test_reserve_of_six_hours_by_regulation(bench: Any, packed: Callable[..., str]) -> None:
    """Half the transmit current and the receivers for 6 h: 20 A and 1 A ask 6·(10 + 1) = 66 Ah (47 CFR 80.862(d)).

    A station that draws 1 A always and 20 A more for half the time has 6 h of it on the envelope; a real battery of
    that size with its losses gives less.
    """
    text = packed(
        source_chemistry="flooded", source_amp_hours="66 Ah", load_transmit="21 A", load_keyed="50 %",
        source_continuous="25 A", load_window="10 to 16 V",
    )  # fmt: skip
    verdict = bench.check(text)
    made = endurance(verdict.operating, verdict.case.feeds[0])
    assert made is not None and made.ideal == pytest.approx(6.0)
    depth = made.end("depth")
    assert depth is not None and 3 < depth.hours < 6


@pytest.mark.parametrize(("amp_hours", "amps", "hours"), [(12, "1.5 A", 8), (100, "2 A", 50)])
def test_hours_are_ampere_hours_over_average_current(
    bench: Any, packed: Callable[..., str], amp_hours: int, amps: str, hours: float
) -> None:
    """Capacity in ampere-hours over the average current: how long a battery powers a station (NCVEC T4A09)."""
    text = packed(
        source_amp_hours=f"{amp_hours} Ah", load_receive=amps, load_transmit=None, load_busy=amps, load_mode=None,
        load_keyed=None, source_continuous=None,
    )  # fmt: skip
    verdict = bench.check(text)
    made = endurance(verdict.operating, verdict.case.feeds[0])
    assert made is not None and made.ideal == pytest.approx(hours)


def test_a_battery_that_drives_10_ka_wants_a_fuse_that_breaks_it(bench: Any, packed: Callable[..., str]) -> None:
    """13.2 V over about a milliohm are more than the 5 kA of a post fuse; 20 kA break it (ABYC E-11, secondary)."""
    big = {"source_amp_hours": "300 Ah", "source_continuous": "100 A"}
    least = cells.internal_ohms(built_in().chemistries["lfp"], 300, 25, 1, "low")
    assert 13.2 / least > 10_000
    post = bench.finding(packed(**big, run_conductor="6 AWG"), "fuse-breaking", "lead")
    assert post.outcome != "sound" and post.limit.value == 5000
    large = packed(**big, run_conductor="6 AWG", run_fuse_type="high breaking")
    assert bench.finding(large, "fuse-breaking", "lead").outcome == "sound"
