"""Batteries side by side: what they give together, what each carries, and that each is fused."""

from typing import Any

import pytest

from engine.model.banks import one_of, string_ohms
from engine.station import profile
from engine.station.table import Problems

BANK = """
use = "battery"
[site]
coldest = "25 °C"
hottest = "25 °C"
wire = "AWG"
as_built = "0 %"
[[load]]
id = "hf"
window = "13.8 V ± 15 %"
receive = "1 A"
transmit = "20 A"
mode = "ssb"
keyed = "20 %"
inlet = "keyed socket"
[[source]]
id = "bank"
class = "battery"
chemistry = "agm"
amp_hours = "50 Ah"
health = "100 %"
depth = "50 %"
temperature = "25 °C"
continuous = "15 A"
peak = "150 A"
parallel = {count}
[[run]]
id = "lead"
from = "bank"
to = "hf"
length = "1 m"
conductor = "8 AWG"
insulation = "105 °C"
fuse = "30 A"
fuse_type = "battery post"
contacts = ["ring terminal", "keyed plug"]
"""
STRING = """
[[run]]
id = "cables"
to = "bank"
serves = "string"
length = "{length}"
{longest}
conductor = "10 AWG"
insulation = "105 °C"
fuse = "{fuse}"
{family}
contacts = ["ring terminal", "ring terminal"]
"""


def banked(count: int = 2, length: str = "0.3 m", longest: str = "", fuse: str = "30 A") -> str:
    """A bank with the cables of its batteries described."""
    more = f'longest = "{longest}"' if longest else ""
    family = "" if fuse == "none" else 'fuse_type = "battery post"'
    return BANK.format(count=count) + STRING.format(length=length, longest=more, fuse=fuse, family=family)


def test_two_batteries_hold_twice_and_resist_half(bench: Any) -> None:
    """Side by side capacities add and alike resistances halve (circuit law)."""
    one = bench.check(BANK.replace("parallel = {count}", "")).case.feed["bank"]
    two = bench.check(BANK.format(count=2)).case.feed["bank"]
    assert two.cell.amp_hours == 2 * one.cell.amp_hours
    assert two.corner("usual").ohms == pytest.approx(one.corner("usual").ohms / 2)
    assert two.limit == pytest.approx(2 * one.limit)


def test_the_cables_of_a_bank_resist_beside_each_other(bench: Any) -> None:
    """Two loops of 0.6 m of 10 AWG, 3.277 mΩ/m at 20 °C (NBS 100), with fuse and contacts."""
    verdict = bench.check(banked())
    feed = verdict.case.feed["bank"]
    lead = feed.string
    loop = 2 * 0.3 * 3.277e-3
    ends = 0.1 / 30 + sum(2 * one.ohms for one in lead.contacts)
    assert string_ohms(lead, 20.0) == pytest.approx(loop + ends, rel=0.01)
    bare = bench.check(BANK.format(count=2)).case.feed["bank"]
    added = feed.corner("usual").ohms - bare.corner("usual").ohms
    assert added == pytest.approx(string_ohms(lead, 22.0) / 2)


def test_a_bank_without_known_fuses_is_not_sound(bench: Any) -> None:
    """A failed battery is fed by all the others: unknown where nothing is said, unsound without (common practice)."""
    assert bench.finding(BANK.format(count=2), "bank-fused", "bank").outcome == "unknown"
    assert bench.finding(banked(fuse="none"), "bank-fused", "bank").outcome == "unsound"
    assert bench.finding(banked(fuse="none"), "fuse-present", "cables").outcome == "unsound"
    assert bench.finding(banked(), "bank-fused", "bank").outcome == "sound"
    assert not [one for one in bench.check(BANK.replace("parallel = {count}", "")).findings if one.about == "cables"]


def test_the_short_behind_a_fuse_is_fed_by_all_the_others(bench: Any) -> None:
    """Of four alike batteries three feed a short in the fourth; of two the one (circuit law)."""
    for count, others in ((2, 1), (4, 3)):
        feed = bench.check(banked(count=count)).case.feed["bank"]
        assert one_of(feed).limit == pytest.approx(feed.limit * others / count)


def test_unequal_cables_are_named(bench: Any) -> None:
    """Branches share by conductance: beside 9.0 mΩ inside, 0.3 m against 3 m of 10 AWG (circuit law, by hand).

    3.277 mΩ/m is solid wire (NBS 100); the stranded wire of the shelf is up to 2 % above.
    """
    alike = bench.finding(banked(), "bank-share", "bank")
    assert alike.outcome == "sound" and alike.figure.value == pytest.approx(50)
    uneven = bench.finding(banked(longest="3 m"), "bank-share", "bank")
    assert uneven.outcome == "thin" and "as long as the longest" in uneven.says
    lead = bench.check(banked(longest="3 m")).case.feed["bank"].string
    inside = 0.45 / 50
    far = inside + string_ohms(lead, 22.0)
    near = far - 2 * 2.7 * 3.277e-3 * (1 + 0.00393 * 2)
    assert uneven.figure.value == pytest.approx(100 * far / (near + far), rel=0.02)


def test_the_cables_of_a_bank_are_bought_and_weighed_for_each_battery(bench: Any) -> None:
    """Four batteries want four cables with four fuses (arithmetic)."""
    (two,) = (one for one in bench.check(banked(2)).items if one.about == "cables")
    (four,) = (one for one in bench.check(banked(4)).items if one.about == "cables")
    assert four.low == pytest.approx(2 * two.low) and four.high == pytest.approx(2 * two.high)
    assert four.kilograms == pytest.approx(2 * two.kilograms) and four.amount == "4"


@pytest.mark.parametrize(
    ("text", "where"),
    [
        (BANK.format(count=5), "source[0].parallel"),
        (banked(longest="0.1 m"), "run[1].longest"),
        (banked().replace('to = "bank"', 'to = "hf"'), "run[1].to"),
        (banked().replace('serves = "string"', 'serves = "string"\nfrom = "hf"'), "run[1].from"),
        (
            banked() + STRING.format(length="1 m", longest="", fuse="30 A", family="").replace("cables", "more"),
            "run[2].serves",
        ),
        (BANK.format(count=2).replace('length = "1 m"', 'length = "1 m"\nlongest = "2 m"'), "run[0].longest"),
    ],
)
def test_a_bank_that_cannot_be_is_refused_where_it_stands(bench: Any, text: str, where: str) -> None:
    """Each fault of a bank or of its cables is told at its key (this house)."""
    with pytest.raises(Problems) as caught:
        profile.read(f'format = 1\nname = "bank"\n{text}', bench.shelf)
    assert where in [one.where for one in caught.value.found]


def test_a_charging_lead_is_judged_like_any_other(bench: Any) -> None:
    """A lead between charger and battery wants a fuse at the battery (33 CFR 183.455; 7 in of the source)."""
    text = BANK.replace("parallel = {count}", 'charged_by = "mains"\ncharger = "mains-10-lead"')
    text += '[[source]]\nid = "mains"\nvolts = "13.8 V"\ncontinuous = "30 A"\n'
    run = (
        '[[run]]\nid = "charging"\nto = "bank"\nserves = "charger"\nlength = "1 m"\nconductor = "14 AWG"\nfuse = "{}"\n'
    )
    assert bench.finding(text + run.format("none"), "fuse-present", "charging").outcome == "unsound"
    good = bench.check(text + run.format("15 A"))
    assert bench.only(good, "fuse-present", "charging").outcome == "sound"
    assert bench.only(good, "fuse-carries", "charging").figure.value == pytest.approx(12.5)
    assert any(one.about == "charging" for one in good.items)


def test_a_bank_is_planned_where_one_battery_is_not_enough(bench: Any) -> None:
    """Hours that no single battery of its kind reaches are reached by several; written, read and judged alike."""
    text = BANK.replace('amp_hours = "50 Ah"\n', "").replace('continuous = "15 A"\npeak = "150 A"\n', "")
    text = text.replace("parallel = {count}", "").replace('chemistry = "agm"', 'chemistry = "gel"')
    few = bench.plan(text + '[wishes]\nhours = "3 h"\n')
    many = bench.plan(text + '[wishes]\nhours = "15 h"\n')
    assert few.verdict.case.feed["bank"].parallel == 1
    feed = many.verdict.case.feed["bank"]
    assert feed.parallel in (2, 3, 4) and feed.string is not None and not feed.string.missing
    assert bench.only(many.verdict, "battery-hours", "bank").outcome == "sound"
    assert bench.only(many.verdict, "bank-fused", "bank").outcome == "sound"
    station = many.verdict.station
    assert profile.read(profile.write(station), bench.shelf).station == station
