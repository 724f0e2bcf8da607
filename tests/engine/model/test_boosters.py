"""A booster as a load to its battery and a source to its radio: power in, power out, and what its own lead carries."""

from collections.abc import Callable
from typing import Any

import pytest

BEHIND = """
[[run]]
id = "boosted"
from = "pack"
to = "boost"
length = "0.5 m"
conductor = "{size}"
insulation = "105 °C"
fuse = "{fuse}"
fuse_type = "battery post"
contacts = ["ring terminal", "ring terminal"]
[[source]]
id = "boost"
class = "booster"
volts = "13.8 V"
continuous = "25 A"
peak = "30 A"
efficiency = "{efficiency}"
lowest = "{lowest}"
cut_off = "10.5 V"
outlets = ["stud"]
"""


@pytest.fixture
def boosted(packed: Callable[..., str]) -> Callable[..., str]:
    """Writes a set of 20 A behind a booster on a battery of 100 Ah."""

    def write(
        size: str = "8 AWG", fuse: str = "40 A", lowest: str = "11.5 V", efficiency: str = "90 %", **more: Any
    ) -> str:
        own = {"source_amp_hours": "100 Ah", "source_continuous": "100 A", "source_depth": "80 %",
               "run_from": "boost", "run_fuse_type": None}  # fmt: skip
        behind = BEHIND.format(size=size, fuse=fuse, lowest=lowest, efficiency=efficiency)
        return packed(**(own | more)) + behind

    return write


IDLE = 0.3 * 12 / 11.5
"""What the booster takes itself: 0.3 A at 12 V (common practice), as amperes at 11.5 V."""


def test_20_a_out_take_26_7_a_in(bench: Any, boosted: Callable[..., str]) -> None:
    """20 A at 13.8 V from 11.5 V at 90 % takes 26.7 A (common practice, worked), and what it draws idle beside."""
    verdict = bench.check(boosted())
    amps, _ = verdict.operating.demand.worst_peak("boosted")
    assert amps - IDLE == pytest.approx(26.7, abs=0.05)


def test_the_larger_current_sizes_the_battery_side(bench: Any, boosted: Callable[..., str]) -> None:
    """26.7 A and more are what the battery's lead and fuse carry, not the 20 A of the radio's (power law).

    Nothing is said of the radio's own fuse, so that 125 % of the heating current counts on both sides.
    """
    text = boosted(load_fuse=None)
    for rule, factor in (("fuse-carries", 1.25), ("ampacity", 1.0)):
        before, behind = (bench.finding(text, rule, lead).figure.value for lead in ("boosted", "lead"))
        assert before == pytest.approx((26.67 + IDLE) * factor, abs=0.05)
        assert behind == pytest.approx(20 * factor)
    assert bench.finding(boosted(fuse="30 A"), "fuse-carries", "boosted").outcome == "unsound"
    assert bench.finding(text, "fuse-carries", "boosted").outcome == "sound"


def test_power_in_is_power_out_and_losses(bench: Any, boosted: Callable[..., str]) -> None:
    """What enters is 13.8 V · 20 A over 0.9 and 3.6 W idle, at whatever volts reach its input (energy)."""
    operating = bench.check(boosted()).operating
    boost = operating.case.feed["boost"]
    keyed = [one for one in operating.points() if one.state.is_keyed]
    assert len(keyed) == 3
    for point in keyed:
        into = point.amps["boost"] * point.volts["boost"]
        assert point.volts[boost.terminals] == pytest.approx(13.8, rel=0.02)
        assert into == pytest.approx(13.8 * point.amps["hf"] / 0.9 + 3.6, rel=1e-6)
        assert point.amps["pack"] == pytest.approx(point.amps["boost"])


def test_the_radio_no_longer_sees_the_battery(bench: Any, boosted: Callable[..., str]) -> None:
    """A ±5 % set works from full to nearly flat: its volts are the booster's (purpose of such a converter)."""
    found = bench.finding(boosted(load_window="13.8 V ± 5 %", run_length="0.5 m"), "window-floor", "hf")
    assert found.outcome != "unsound" and found.figure.value > 13.8 * 0.95


def test_it_stops_at_its_cut_off(bench: Any, boosted: Callable[..., str]) -> None:
    """Its input is judged like a load's: a battery that sags below its least volts is refused there (its rating)."""
    assert bench.finding(boosted(lowest="11.5 V"), "window-floor", "boost").outcome == "sound"
    long = boosted(lowest="12.6 V", size="14 AWG")
    assert bench.finding(long, "window-floor", "boost").outcome == "unsound"


def test_a_worse_booster_draws_more_and_lasts_shorter(bench: Any, boosted: Callable[..., str]) -> None:
    """At 80 % instead of 90 % it takes an eighth more, and the hours shrink by more than a tenth (power law)."""
    good, bad = (bench.check(boosted(efficiency=one)) for one in ("90 %", "80 %"))
    amps = [one.operating.demand.worst_peak("boosted")[0] - IDLE for one in (good, bad)]
    assert amps[1] / amps[0] == pytest.approx(9 / 8, rel=1e-6)
    hours = [bench.only(one, "battery-ends", "pack").figure.value for one in (good, bad)]
    assert hours[1] < 0.9 * hours[0]
