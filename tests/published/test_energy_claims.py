"""What someone told you of hours, ampere-hours, duty, panels, charging and age, against worked examples."""

from typing import Any

import pytest

from engine.advice.claims import age, charging, duty, hours, panel
from engine.advice.claims.result import DOUBTFUL, HOLDS, REFUTED, Judged


def lasts(bench: Any, amp_hours: float, amps: float, claimed: float, *sorts: str, **more: float) -> Judged:
    """A claim about a battery's hours."""
    rows = [bench.shelf.chemistries[one] for one in sorts] or list(bench.shelf.chemistries.values())
    return hours.battery_hours(amp_hours, amps, claimed, rows, **more)


def test_ampere_hours_over_amperes(bench: Any) -> None:
    """The exam's rule: hours are ampere-hours over the average current (NCVEC T4A09). 100 Ah at 5 A: 20 h."""
    found = lasts(bench, 100, 5, 20)
    assert found.figures[0].value == pytest.approx(20)


@pytest.mark.parametrize("sort", ["flooded", "agm", "gel"])
def test_hours_to_empty_are_not_usable_hours(bench: Any, sort: str) -> None:
    """Hours to empty sold as usable hours (a published mistake): 20 h by the label, half of it by common practice."""
    found = lasts(bench, 100, 5, 20, sort)
    assert found.outcome == REFUTED
    assert "until the battery is empty" in found.mistake
    assert lasts(bench, 100, 5, 9.5, sort).outcome == HOLDS
    assert lasts(bench, 100, 5, 13, sort).outcome == DOUBTFUL


def test_a_large_current_costs_more_than_its_share(bench: Any) -> None:
    """200 Ah on 20 h, k 1.2, 20 A: 8.7 h to empty (a worked example of Peukert's law, from memory), not 10."""
    found = lasts(bench, 200, 20, 10, "flooded", celsius=26.7)
    assert found.outcome == REFUTED
    empty = found.figures[2].terms()[0].value
    assert empty == pytest.approx(8.7, abs=0.05)
    assert found.figures[2].value == pytest.approx(0.8 * empty)


def test_lithium_gives_nearly_its_label(bench: Any) -> None:
    """100 Ah of iron phosphate at 5 A: four fifths at least, all of it at the most (common practice)."""
    assert lasts(bench, 100, 5, 15, "lfp").outcome == HOLDS
    assert lasts(bench, 100, 5, 19, "lfp").outcome == DOUBTFUL
    assert lasts(bench, 100, 5, 24, "lfp").outcome == REFUTED


def test_cold_and_age_take_their_share(bench: Any) -> None:
    """At -1.1 °C a lead-acid battery must be 1.40 times as large (a published table); at 80 % of its capacity 1.25."""
    warm, cold = (lasts(bench, 100, 5, 9, "agm", celsius=celsius) for celsius in (26.7, -1.1))
    assert warm.figures[1].terms()[0].value == pytest.approx(20, rel=0.01)
    assert cold.figures[2].terms()[0].value == pytest.approx(20 * (1 / 1.4) ** 1.05, rel=0.01)
    assert (warm.outcome, cold.outcome) == (HOLDS, DOUBTFUL)
    assert lasts(bench, 100, 5, 9.5, "agm", health=0.8).outcome == DOUBTFUL


def test_an_unknown_sort_is_reckoned_with_all(bench: Any) -> None:
    """20 h of 100 Ah at 5 A: right for one sort, wrong for another; the sort is asked for."""
    found = lasts(bench, 100, 5, 20)
    assert found.outcome == DOUBTFUL
    assert any("Name the sort" in line for line in found.because)


def averages(bench: Any, mode: str, claimed: float, keyed: float = 0.25, receive: float = 1.0) -> Judged:
    """A claim about the mean current of a set of 22 A."""
    return duty.mean_current(22, receive, keyed, bench.shelf.modes[mode], claimed)


def test_fm_is_key_down_while_it_sends(bench: Any) -> None:
    """FM and carriers are 100 % (FCC OET 65 B, table 2): 1 A + 21 A x 25 % is 6.25 A (arithmetic)."""
    assert averages(bench, "fm", 6.25).outcome == HOLDS
    assert averages(bench, "fm", 5.25).outcome == REFUTED
    assert "listening" in averages(bench, "fm", 5.25).mistake
    assert averages(bench, "fm", 6.25).figures[1].value == pytest.approx(6.25)


def test_the_duty_of_radio_power_is_not_that_of_the_current(bench: Any) -> None:
    """Voice is 20 % of power (FCC OET 65 B): the envelope's mean lies between 20 % and its root, 44.7 %.

    So 1 A + 21 A x 25 % x (20 to 44.7 %) is 2.05 to 3.35 A; 21 A x 20 % x 25 % alone is 1.05 A.
    """
    found = averages(bench, "ssb", 1.05)
    assert [one.value for one in found.figures] == pytest.approx([2.05, 3.348], abs=0.001)
    assert found.outcome == REFUTED and "duty of radio power" in found.mistake
    assert averages(bench, "ssb", 3.4).outcome == HOLDS
    assert averages(bench, "ssb", 2.5).outcome == DOUBTFUL


def test_morse_has_one_answer(bench: Any) -> None:
    """On or off for 40 % of an over (FCC OET 65 B): 1 A + 21 A x 25 % x 40 % is 3.1 A, neither more nor less."""
    found = averages(bench, "cw", 3.1)
    assert [one.value for one in found.figures] == pytest.approx([3.1, 3.1])
    assert found.outcome == HOLDS
    assert averages(bench, "cw", 2.9).outcome == REFUTED


def test_the_sandia_worked_array() -> None:
    """20 Ah a day in 4.5 h wants 5.04 A (SAND87-7023): 101 W at 18 V and 90 % of the label, so 100 W is just enough."""
    found = panel.per_day(100, 4.5, 20)
    assert found.outcome == HOLDS
    pwm = 100 * 0.9 / 18 * 4.5 * 0.98 * 0.90
    assert found.figures[0].value == pytest.approx(pwm)
    assert panel.per_day(101, 4.5, 20).figures[0].value == pytest.approx(20, rel=0.01)
    assert panel.per_day(60, 4.5, 20).outcome == REFUTED
    assert "G4E11" in found.care


@pytest.mark.parametrize("volts", [12, 13.8])
def test_a_panel_s_watts_over_the_battery_s_volts(volts: float) -> None:
    """100 W over 12 V is 8.3 A that no panel gives: its current is that at 18 V (common practice)."""
    found = panel.per_day(100, 4.5, 100 / volts * 4.5)
    assert found.outcome == REFUTED and "18 V" in found.mistake


def fills(bench: Any, sort: str, amp_hours: float, amps: float, claimed: float, taken: float = 1.0) -> Judged:
    """A claim about a charge."""
    return charging.charge_hours(bench.shelf.chemistries[sort], amp_hours, amps, claimed, taken)


def test_the_textbook_s_charger(bench: Any) -> None:
    """171 Ah in 8 h wants 1.15 x 171 / 8 = 24.6 A beside its loads (the charger-sizing formula, as catalogued)."""
    found = fills(bench, "flooded", 171, 1.15 * 171 / 8, 8)
    assert found.figures[1].value == pytest.approx(8)
    assert found.outcome == DOUBTFUL


def test_ampere_hours_over_amperes_do_not_fill_lead_acid(bench: Any) -> None:
    """100 Ah at 10 A is 10 h by the label; the last fifth takes as long as the rest (common practice)."""
    found = fills(bench, "agm", 100, 10, 10)
    assert found.outcome == REFUTED and "slow end" in found.mistake
    assert found.figures[2].value == pytest.approx((80 + 80) / 10 * 1.15)
    assert fills(bench, "agm", 100, 10, 19).outcome == HOLDS
    assert fills(bench, "agm", 100, 10, 12.7, taken=0.5).outcome == HOLDS


def test_lithium_fills_at_nearly_its_label_and_too_fast_is_warned_of(bench: Any) -> None:
    """20 Ah at 5 A: little more than 4 h; 20 A is twice what half its capacity in an hour allows (catalogue)."""
    assert fills(bench, "lfp", 20, 5, 4.6).outcome == HOLDS
    assert fills(bench, "lfp", 20, 5, 3).outcome == REFUTED
    assert "never below freezing" in fills(bench, "lfp", 20, 5, 4.6).care
    assert fills(bench, "lfp", 20, 20, 2).care.startswith("WARNING")
    assert "hydrogen" in fills(bench, "agm", 100, 10, 10).care


def holds(bench: Any, sort: str, years: float, share: float = 0.8, celsius: float = 25) -> Judged:
    """A claim about an old battery."""
    return age.still_holds(bench.shelf.chemistries[sort], years, share, celsius)


def test_heat_halves_a_lead_acid_battery_s_life(bench: Any) -> None:
    """10 years at 25 °C are 5 at 33 and 30 months at 41 °C (secondary copies that agree)."""
    agm = bench.shelf.chemistries["agm"]
    assert [10 / age.ageing(agm, celsius) for celsius in (20, 25, 33, 41)] == pytest.approx([10, 10, 5, 2.5])


def test_old_batteries(bench: Any) -> None:
    """Three to six years of sealed lead-acid, eight to fifteen of iron phosphate, to 80 % (common practice).

    Below 80 % a battery is not to be relied on (US Bureau of Reclamation, FIST 3-6).
    """
    assert holds(bench, "agm", 6, 1.0).outcome == REFUTED
    assert holds(bench, "agm", 2).outcome == HOLDS
    assert holds(bench, "agm", 5).outcome == DOUBTFUL
    assert holds(bench, "lfp", 5).outcome == HOLDS
    assert holds(bench, "agm", 8).outcome == REFUTED and "relied on" in holds(bench, "agm", 8).care
    assert holds(bench, "agm", 4, celsius=41).outcome == REFUTED
