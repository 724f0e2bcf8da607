"""What the trade holds true without a document. Every check here is common practice, no source, unless it names one."""

from typing import Any

import pytest

from engine.advice.cautions import cautions
from engine.station import shapes

SITE = """
[site]
mains = "230 V"
circuit = "16 A"
coldest = "5 °C"
hottest = "30 °C"
"""
HF = """
[[load]]
id = "hf"
class = "hf-100w"
window = "13.8 V ± 15 %"
receive = "1.5 A"
transmit = "{amps}"
mode = "ssb"
"""
VHF = """
[[load]]
id = "vhf"
class = "vhf-50w"
window = "13.8 V ± 15 %"
receive = "0.6 A"
transmit = "{amps}"
mode = "fm"
"""
SUPPLY = """
[[source]]
id = "psu"
class = "switch-mode"
volts = "13.8 V"
continuous = "{amps}"
peak = "{peak}"
over_voltage = true
"""
LEAD = """
[[run]]
id = "{load}-lead"
from = "psu"
to = "{load}"
length = "1.5 m"
conductor = "10 AWG"
insulation = "105 °C"
fuse = "{fuse}"
contacts = ["ring terminal", "keyed plug"]
"""


def desk_of(load: str, continuous: str, peak: str | None = None) -> str:
    """A station of one ``load`` text and one supply of a rating."""
    name = "hf" if '"hf"' in load else "vhf"
    lead = LEAD.format(load=name, fuse="25 A" if name == "hf" else "15 A")
    return SITE + load + SUPPLY.format(amps=continuous, peak=peak or continuous) + lead


def two_sets(together: bool) -> str:
    """An HF and a VHF/UHF set on one 25 A supply, keyed together or never."""
    top = 'keyed_together = [["hf", "vhf"]]\n' if together else ""
    sets = HF.format(amps="20 A") + VHF.format(amps="12 A")
    leads = LEAD.format(load="hf", fuse="25 A") + LEAD.format(load="vhf", fuse="15 A")
    return top + SITE + sets + SUPPLY.format(amps="25 A", peak="25 A") + leads


@pytest.mark.parametrize(("text", "low", "high"), [("13.8 V ± 15 %", 11.7, 15.9), ("13.8 V ± 10 %", 12.4, 15.2)])
def test_windows_of_radios(text: str, low: float, high: float) -> None:
    """±15 % of 13.8 V is 11.7 to 15.9 V, ±10 % is 12.4 to 15.2 V, rounded (common practice; 47 CFR 2.1055 for 15 %)."""
    window = shapes.window(text)
    assert (round(window.lowest, 1), round(window.highest, 1)) == (low, high)


@pytest.mark.parametrize(
    ("load", "least", "too_small"),
    [(VHF.format(amps="10 A"), "10 A", "9 A"), (HF.format(amps="20 A"), "20 A", "19 A")],
    ids=["50 W mobile", "100 W HF"],
)
def test_least_supplies(bench: Any, load: str, least: str, too_small: str) -> None:
    """A 50 W mobile needs at least a 10 A supply, a 100 W HF set at least 20 A (common practice, no source)."""
    assert bench.finding(desk_of(load, least), "supply-peak", "psu").outcome != "unsound"
    assert bench.finding(desk_of(load, too_small), "supply-peak", "psu").outcome == "unsound"


@pytest.mark.parametrize(("equipment", "least"), [("vhf-50w", 10), ("hf-100w", 20)])
def test_a_set_known_by_its_class_alone_gets_no_less(bench: Any, equipment: str, least: float) -> None:
    """With nothing known but the class, the planned supply is of 10 A or 20 A at least (common practice, no source)."""
    made = bench.plan(f'[[load]]\nid = "set"\nclass = "{equipment}"')
    assert made.complete
    assert made.verdict.station.sources[0].continuous >= least


def test_a_100_w_set_known_by_its_class_gets_the_supply_that_is_usually_recommended(bench: Any) -> None:
    """At least 20 A, and 25 A is what is usually recommended: 25 A continuous, 30 A keyed (common practice)."""
    feed = bench.plan('[[load]]\nid = "set"\nclass = "hf-100w"').verdict.case.feeds[0]
    assert (feed.continuous, feed.peak) == (25, 30)


@pytest.mark.parametrize(("continuous", "peak", "outcome"), [("25 A", "30 A", "sound"), ("20 A", "25 A", "thin")])
def test_22_a_of_voice(bench: Any, continuous: str, peak: str, outcome: str) -> None:
    """A quarter over 22 A is 27.5 A on the keyed rating: 25/30 A is sound, 20/25 A thin (common practice)."""
    verdict = bench.check(desk_of(HF.format(amps="22 A"), continuous, peak))
    found = {one.outcome for one in verdict.findings if one.rule in SUPPLY_RULES}
    assert found == {"sound"} if outcome == "sound" else found == {"sound", "thin"}


SUPPLY_RULES = ("supply-peak", "supply-continuous", "supply-headroom")


def test_one_25_a_supply_is_planned_for_two_sets_keyed_in_turn(bench: Any) -> None:
    """HF and VHF/UHF known by their classes, one keyed at a time: 25 A continuous (common practice, no source)."""
    sets = '[[load]]\nid = "hf"\nclass = "hf-100w"\n[[load]]\nid = "vhf"\nclass = "vhf-50w"\n'
    assert bench.plan(sets).verdict.case.feeds[0].continuous == 25


@pytest.mark.parametrize("mode", ["ssb", "cw", "fm", "digital"])
def test_headroom_that_nobody_asked_for(bench: Any, mode: str) -> None:
    """A quarter, whatever the mode; which rating it is held on goes with the mode (common practice, no source)."""
    load = HF.format(amps="20 A").replace('"ssb"', f'"{mode}"')
    one = bench.finding(desk_of(load, "40 A"), "supply-headroom", "psu")
    assert one.limit.value == pytest.approx(0.25)


def test_one_25_a_supply_serves_two_sets_keyed_in_turn(bench: Any) -> None:
    """HF and VHF/UHF on one 25 A supply, not keyed together: nothing is unsound (common practice, no source)."""
    assert bench.unsound(bench.check(two_sets(together=False))) == []


def test_the_same_supply_does_not_serve_both_at_once(bench: Any) -> None:
    """Keyed together they ask for 32 A: the supply, and nothing else, is refused (common practice, no source)."""
    assert {one.rule for one in bench.unsound(bench.check(two_sets(together=True)))} == {"supply-peak"}


def test_supply_first_on_and_last_off(bench: Any) -> None:
    """On: supply, then radios; off: radios, then supply, and no key down (common practice, no source)."""
    verdict = bench.check(two_sets(together=False))
    on, off = ([one.about for one in steps] for steps in (verdict.on, verdict.off))
    assert on[0] == off[0] == "station"
    assert on.index("psu") < min(on.index("hf"), on.index("vhf"))
    assert off[-1] == "psu" and off.index("psu") > max(off.index("hf"), off.index("vhf"))
    assert "stop transmitting" in verdict.off[0].do


def test_an_amplifier_comes_on_after_its_radio_and_goes_off_before(bench: Any) -> None:
    """What is driven is switched on last and off first among the loads (common practice, no source)."""
    amp = VHF.format(amps="25 A").replace("vhf-50w", "amp-160w-vhf").replace('"vhf"', '"amp"')
    leads = LEAD.format(load="hf", fuse="25 A") + LEAD.format(load="amp", fuse="30 A")
    verdict = bench.check(SITE + amp + HF.format(amps="20 A") + SUPPLY.format(amps="60 A", peak="60 A") + leads)
    on, off = ([one.about for one in steps] for steps in (verdict.on, verdict.off))
    assert on.index("psu") < on.index("hf") < on.index("amp")
    assert off.index("amp") < off.index("hf") < off.index("psu")


def test_red_is_positive_and_this_is_no_house_wiring(bench: Any) -> None:
    """Wherever there is a lead the owner is told of red and black before the first connection (common practice)."""
    verdict = bench.check(two_sets(together=False))
    (said,) = (one for one in cautions(verdict.case, verdict.findings) if "red is positive" in one.says)
    assert said.word == "CAUTION"
    assert "black is negative" in said.says and "not house-wiring practice" in said.says
    bare = bench.check(HF.format(amps="20 A"))
    assert not any("red is positive" in one.says for one in cautions(bare.case, bare.findings))


def test_genderless_contacts_do_not_lock(bench: Any) -> None:
    """All three genderless housings pull apart by hand; ring terminals and keyed plugs hold (common practice)."""
    contacts = bench.shelf.contacts
    assert not any(contacts[f"genderless {amps} A"].locks for amps in (15, 30, 45))
    assert contacts["keyed plug"].locks and contacts["ring terminal"].locks


def test_a_lead_with_genderless_contacts_is_told_to_be_tied(bench: Any) -> None:
    """A station with one says so in a notice that names the lead (common practice, no source)."""
    loose = desk_of(HF.format(amps="20 A"), "25 A").replace('"ring terminal"', '"genderless 30 A"')
    verdict = bench.check(loose)
    (said,) = (one for one in cautions(verdict.case, verdict.findings) if "do not lock" in one.says)
    assert (said.about, said.word) == ("hf-lead", "NOTICE")


@pytest.mark.parametrize(
    ("words", "outcome"),
    [
        ("adjustable = false", "sound"),
        ('adjustable = true\nlowest = "5 V"\nhighest = "16 V"', "unsound"),
        ('adjustable = true\nlowest = "5 V"\nhighest = "15 V"', "thin"),
        ('adjustable = true\nlocked = true\nlowest = "5 V"\nhighest = "16 V"', "sound"),
    ],
)
def test_an_adjustable_supply_is_a_risk_unless_locked(bench: Any, words: str, outcome: str) -> None:
    """A knob that can pass a radio's highest or lowest volts is a risk until fixed on purpose (common practice)."""
    station = desk_of(HF.format(amps="20 A"), "25 A").replace("over_voltage = true", f"over_voltage = true\n{words}")
    assert bench.finding(station, "supply-knob", "psu").outcome == outcome


def test_an_adjustable_supply_is_set_before_anything_is_connected(bench: Any) -> None:
    """The switching order has its voltage set and its knob locked first (common practice, no source)."""
    words = 'over_voltage = true\nadjustable = true\nlowest = "9 V"\nhighest = "15 V"'
    verdict = bench.check(desk_of(HF.format(amps="20 A"), "25 A").replace("over_voltage = true", words))
    said = [one.do for one in verdict.on if one.about.startswith("psu")]
    assert any("with nothing connected" in one and "lock" in one for one in said)


def test_meters_are_optional(bench: Any) -> None:
    """A station in which no meter is mentioned at all can be sound in every point (common practice, no source)."""
    load = HF.format(amps="20 A") + 'fuse = "25 A"\ninlet = "keyed socket"\n'
    station = desk_of(load, "30 A").replace("over_voltage = true", 'over_voltage = true\nlimit = "33 A"')
    verdict = bench.check(station)
    assert "meter" not in station
    assert verdict.outcome == "sound", [one.says for one in verdict.findings if one.outcome != "sound"]


def test_no_solder_under_a_screw(bench: Any) -> None:
    """Tinned strands under a screw clamp are unsound and the remedy is named (common practice, no source)."""
    station = desk_of(HF.format(amps="5 A"), "25 A").replace('"ring terminal"', '"soldered strands under screw"')
    one = bench.finding(station, "contact-strands", "hf-lead")
    assert one.outcome == "unsound"
    assert "ferrule or ring terminal" in one.says


def test_an_accessory_plug_is_not_for_a_transmitter(bench: Any) -> None:
    """A 50 W mobile on an accessory plug is unsound (NCVEC G4E04: not the accessory socket for a 100 W set)."""
    station = desk_of(VHF.format(amps="12 A"), "25 A").replace('"ring terminal"', '"accessory plug"')
    assert bench.finding(station, "contact-carries", "vhf-lead").outcome == "unsound"


def test_a_50_w_mobile_of_the_shelf_draws_what_the_exam_says(bench: Any) -> None:
    """A 50 W FM mobile wants 13.8 V at 12 A: the class spans that figure (NCVEC T4A01)."""
    row = bench.shelf.equipment["vhf-50w"]
    assert row.nominal == pytest.approx(13.8)
    assert row.transmit.low <= 12 <= row.transmit.high


def test_series_regulator_heat(bench: Any) -> None:
    """A series regulator burns (Vin - Vout)·I (NCVEC E7D13): from 20 V raw, common practice, under 70 % is left."""
    linear = [one for one in bench.shelf.supplies.values() if one.technology == "linear"]
    assert linear and all(one.efficiency < 0.7 for one in linear)
