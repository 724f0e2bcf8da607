"""Wishes are answered: hours that are not reached, a budget that is passed, and every part's weight."""

from collections.abc import Callable
from typing import Any

import pytest

from engine.model import weight
from engine.model.waiting import waits

SETS = """
[wishes]
budget = {budget}
[[load]]
id = "hf"
class = "hf-100w"
lead = "none"
[[load]]
id = "vhf"
class = "vhf-50w"
lead = "none"
[[load]]
id = "tuner"
class = "tuner"
lead = "none"
"""


def test_hours_that_are_not_reached_are_unsound(bench: Any, packed: Callable[..., str]) -> None:
    """20 h on a 20 Ah battery: refused, with the hours it lasts, how far that is short, and what would do.

    6 A on average (1 A, and 20 A for a quarter of the time) from 20 Ah: under 4 h, so some 120 Ah are wanted (by hand).
    """
    one = bench.finding(packed(wishes_hours="20 h", load_receive="1.333333 A"), "battery-hours", "pack")
    assert one.outcome == "unsound"
    assert 0 < one.figure.value < 4 and one.limit.value == 20
    short = 20 - one.figure.value
    assert f"{short:.1f} h short" in one.says
    wanted = float(one.says.split("about ")[1].split(" Ah")[0])
    assert wanted == pytest.approx(20 * 20 / one.figure.value, abs=0.5)


def test_hours_that_are_reached_are_sound(bench: Any, packed: Callable[..., str]) -> None:
    """The same battery through one hour (this house's rule)."""
    assert bench.finding(packed(wishes_hours="1 h"), "battery-hours", "pack").outcome == "sound"


def test_over_budget_says_what_can_wait(bench: Any) -> None:
    """The first radio stays; the second set and the tuner can wait, dearest first, with what that saves (practice)."""
    verdict = bench.plan(SETS.format(budget=130)).verdict
    one = bench.only(verdict, "budget", "station")
    assert one.outcome == "thin" and "above the budget of 130" in one.says
    found = waits(verdict.case)
    assert [each.what for each in found] == ["vhf", "tuner"]
    lines = {each.about: (each.low + each.high) / 2 for each in verdict.items}
    assert found[0].price == pytest.approx(lines["vhf-lead"]) and found[1].price == pytest.approx(lines["tuner-lead"])
    assert "what can wait: vhf (about" in one.says and "safety is not trimmed" in one.says


@pytest.mark.parametrize(("budget", "says"), [(130, "with that it fits"), (60, "even then it is about")])
def test_whether_waiting_is_enough_is_said(bench: Any, budget: int, says: str) -> None:
    """What is left after everything that can wait is told (arithmetic)."""
    assert says in bench.only(bench.plan(SETS.format(budget=budget)).verdict, "budget", "station").says


def test_a_backup_battery_can_wait(bench: Any, switched: Callable[..., str], shelf: Any) -> None:
    """What carries a station through an outage is bought later where the money is short (common practice)."""
    text = switched("electronic-40", wishes_budget=1, source_part="lfp-100ah", source_amp_hours=None)
    case = bench.check(text).case
    found = {one.what: one.price for one in waits(case)}
    assert found["pack, against outages"] >= shelf.batteries["lfp-100ah"].price.usual


def test_every_part_that_can_be_bought_has_its_weight(shelf: Any) -> None:
    """No row of the shelf weighs nothing by oversight; bare strands do (this house's completeness)."""
    tables = ("supplies", "strips", "contacts", "fuses", "changeovers", "boosters", "chargers", "panels", "batteries")
    for name in tables:
        for row in getattr(shelf, name).values():
            assert row.kilograms > 0 or row.id == "bare strands under screw", row.id


def test_a_lead_weighs_its_copper_fuse_and_contacts(bench: Any, desk: Callable[..., str], shelf: Any) -> None:
    """Both conductors, one fuse with its holder, two contacts on each end (sum by hand)."""
    (lead,) = bench.check(desk()).case.leads
    copper = 2 * 1.5 * shelf.conductors["10 AWG"].grams_per_metre / 1000
    ends = 2 * shelf.contacts["ring terminal"].kilograms + 2 * shelf.contacts["keyed plug"].kilograms
    assert weight.lead_kilograms(lead) == pytest.approx(copper + shelf.fuses["mini blade"].kilograms + ends)


def test_a_station_weighs_the_sum_of_its_lines(bench: Any) -> None:
    """Supply, strip, leads and all: the bill's weights add up to the station's (arithmetic)."""
    verdict = bench.plan(SETS.format(budget=1000)).verdict
    assert sum(one.kilograms for one in verdict.items) == pytest.approx(weight.total(verdict.case))
    assert weight.total(verdict.case) > verdict.case.feeds[0].kilograms


def test_50_ah_and_a_booster_against_100_ah(shelf: Any) -> None:
    """The comparison that an owner makes in kilograms has its figures (common practice)."""
    small = shelf.batteries["lfp-50ah"].kilograms + shelf.boosters["booster-25"].kilograms
    assert 0 < small < shelf.batteries["lfp-100ah"].kilograms
