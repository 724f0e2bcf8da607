"""Quiet is two wishes, in the ear and on the bands; a supply is warned of, tried and compared by its kind."""

from typing import Any

import pytest

from engine.advice.cautions import cautions
from engine.advice.requirements import musts
from engine.terms import Preference

HF = '[[load]]\nid = "hf"\nclass = "hf-100w"\n'
OWN = HF + '[[source]]\nid = "psu"\n{words}\n[[run]]\nid = "lead"\nfrom = "psu"\nto = "hf"\nlength = "1 m"\n'


def feed_for(bench: Any, prefer: str) -> Any:
    """The supply that a plan takes for one 100 W set."""
    return bench.plan(f'[wishes]\nprefer = "{prefer}"\n{HF}').verdict.case.feeds[0]


def test_the_quiet_plan_differs_from_the_cheap_one(bench: Any) -> None:
    """Filtered is not none: who wants quiet gets the linear supply, who wants cheap the switch-mode one (practice)."""
    assert feed_for(bench, "price").technology == "switch-mode"
    for wish in (Preference.QUIET, Preference.QUIET_ON_THE_BANDS):
        assert feed_for(bench, wish).rf_noise == "none"


def test_the_two_wishes_are_not_the_same(bench: Any, shelf: Any) -> None:
    """A fan decides for the ear, switching for the bands: each takes the least of its own (this house)."""
    lamp = '[[load]]\nid = "set"\nclass = "hf-20w"\n'
    ear, bands = (
        bench.plan(f'[wishes]\nprefer = "{one}"\n{lamp}').verdict.case.feeds[0]
        for one in (Preference.QUIET_IN_THE_EAR, Preference.QUIET_ON_THE_BANDS)
    )
    assert ear.fan == "none" and bands.rf_noise == "none"


@pytest.mark.parametrize(
    ("words", "outcome"),
    [
        ('part = "switch-25-basic"', "thin"),
        ('part = "switch-40-computer"', "thin"),
        ('part = "switch-25-fixed"', "sound"),
        ('part = "linear-35-fixed"', "sound"),
        ('class = "switch-mode"\ncontinuous = "25 A"\nfiltered = false', "thin"),
        ('class = "switch-mode"\ncontinuous = "25 A"\nfiltered = true', "sound"),
    ],
)
def test_an_open_frame_supply_is_warned_of(bench: Any, words: str, outcome: str) -> None:
    """Open-frame and computer supplies are made for other things (common practice, no source)."""
    one = bench.finding(OWN.format(words=words), "supply-noise", "psu")
    assert one.outcome == outcome
    if "linear" not in words:
        assert "antenna on" in one.says


def test_a_switch_mode_supply_of_unknown_kind_is_told_to_be_tried(bench: Any) -> None:
    """Where nobody said whether it is filtered, the owner is told how to hear it (common practice, no source)."""
    verdict = bench.check(OWN.format(words='class = "switch-mode"\ncontinuous = "25 A"'))
    assert any("antenna on" in one.says for one in cautions(verdict.case, verdict.findings) if one.about == "psu")
    assert not [one for one in verdict.findings if one.rule == "supply-noise"]


def test_every_switch_mode_supply_must_be_made_for_radio_use(bench: Any) -> None:
    """The line, its reason and how to try it stand among the musts, for switch-mode alone (common practice)."""
    for prefer, there in (("price", True), (Preference.QUIET_ON_THE_BANDS, False)):
        lines = musts(bench.plan(f'[wishes]\nprefer = "{prefer}"\n{HF}').verdict.case)
        said = [one.why for one in lines if one.what == "made for radio use: filtered, quiet on the bands"]
        assert bool(said) == there
        assert all("supply switched on and off" in one for one in said)


@pytest.mark.parametrize(("part", "word"), [("linear-12-fixed", "no fan"), ("switch-25-basic", "always runs")])
def test_the_fan_is_told(bench: Any, part: str, word: str) -> None:
    """Whether the fan rests is told and refuses nothing (common practice, no source)."""
    one = bench.finding(OWN.format(words=f'part = "{part}"'), "supply-fan", "psu")
    assert one.outcome == "sound" and word in one.says


def test_linear_against_switch_mode(bench: Any) -> None:
    """The other kind is shown as a real alternative: heavier, dearer, warmer, and without switching (practice)."""
    verdict = bench.plan(HF).verdict
    (one,) = verdict.rivals
    assert (one.mine.technology, one.other.technology) == ("switch-mode", "linear")
    assert one.other.kilograms > one.mine.kilograms and one.other.price.usual > one.mine.price.usual
    assert one.heat[1] > one.heat[0] and "hums" in one.says
    assert one.other.peak >= 1.25 * 23


def test_a_metered_supply_is_dearer_than_a_bare_one(shelf: Any) -> None:
    """Meters are a convenience: the bare supply of the same ratings costs less and is what a plan takes (practice)."""
    bare, metered = shelf.supplies["switch-25-fixed"], shelf.supplies["switch-25-metered"]
    assert metered.meters and not bare.meters
    assert (bare.continuous, bare.peak) == (metered.continuous, metered.peak)
    assert bare.price.usual < metered.price.usual


def test_supplies_between_36_and_60_a_are_sold(shelf: Any) -> None:
    """Linear and switch-mode, fixed and settable, stand on the shelf between 36 and 60 A (common practice)."""
    rows = [one for one in shelf.supplies.values() if 36 <= one.continuous <= 60 and one.volts == 13.8]
    assert {one.technology for one in rows} == {"linear", "switch-mode"}
    assert {one.adjustable for one in rows} == {True, False}


def test_noise_that_comes_and_goes_with_the_supply_has_a_way_to_its_culprit(shelf: Any) -> None:
    """Supply, leads, what hangs on it, antenna cable and chance are told apart by what to unplug (common practice)."""
    row = shelf.symptoms["noise-with-the-supply"]
    assert "battery" in row.first and len(row.causes) >= 5
    assert {"supply", "noise", "elsewhere"} == {one.about for one in row.causes}
