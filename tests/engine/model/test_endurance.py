"""How long a battery carries a station: the three answers, what ends it, and the cautions that go with it."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from engine.advice import cautions
from engine.model.endurance import Endurance, endurance
from engine.parts import Shelf
from engine.rules import check as checking
from engine.station import profile

OUTSIDE = 2 * 3.343e-3 * (1 + 0.00393 * 2) + 0.8 * 0.100 / 30 + 2 * (0.2e-3 + 1e-3)
"""Ohms of 1 m of 10 AWG at 22 °C, out and back (NBS Handbook 100, 2 % for strands), a 30 A post fuse at four fifths of
its 100 mV, a ring terminal and a keyed plug in both legs (common practice): 11.8 mΩ."""

FLOOR = 13.8 * 0.85


@pytest.fixture
def session(bench: Any, packed: Callable[..., str]) -> Callable[..., Endurance]:
    """The session of a station on its battery: 20 Ah, receive 1 A, key-down 20 A of carrier, 25 % keyed, 25 °C."""

    def make(**changes: Any) -> Endurance:
        verdict = bench.check(packed(**changes))
        found = endurance(verdict.operating, verdict.case.feeds[0])
        assert found is not None
        return found

    return make


def hours(made: Endurance, name: str) -> float:
    """When one thing would end the session."""
    end = made.end(name)
    assert end is not None
    return end.hours


@pytest.mark.parametrize("chemistry", ["lfp", "agm", "flooded", "gel", "li-ion-4", "nimh"])
def test_ideal_hours_are_ampere_hours_over_mean_amperes(session: Callable[..., Endurance], chemistry: str) -> None:
    """Hours = rated Ah over average current (NCVEC T4A09): 20 Ah over 0.75·1 + 0.25·20 = 5.75 A are 3.48 h."""
    assert session(source_chemistry=chemistry).ideal == pytest.approx(3.48, abs=0.005)


def test_iron_phosphate_serves_most_of_its_charge(session: Callable[..., Endurance]) -> None:
    """The other two answers for LiFePO4, worked by hand from its row (Peukert's and Ohm's laws).

    Rated at 5 h, so 4 A; k 1.05: 20 A counts as 20·5^0.05 = 21.7 A, 1 A as 1 A, mean 6.17 A: empty after 3.24 h.
    Inside 0.5 / 20 = 25 mΩ and 11.8 mΩ outside take 0.74 V, so the 11.73 V floor is 12.47 V at rest: 3.117 V a cell,
    between 5 % (3.04 V) and 10 % (3.18 V), at 7.7 %; that is 0.923·3.24 = 2.99 h.
    """
    made = session()
    assert hours(made, "depth") == pytest.approx(3.24, abs=0.01)
    at_rest = (FLOOR + 20 * (0.5 / 20 + OUTSIDE)) / 4
    left = 0.05 + 0.05 * (at_rest - 3.04) / (3.18 - 3.04)
    assert left == pytest.approx(0.077, abs=0.001)
    assert hours(made, "floor") == pytest.approx((1 - left) * 3.24, abs=0.02)
    assert made.first.name == "floor" and made.first.left == pytest.approx(left, abs=0.002)
    assert "below the lowest volts of its window" in made.first.says


def test_lead_acid_breaks_the_floor_with_half_its_charge_left(session: Callable[..., Endurance]) -> None:
    """The same for AGM, worked by hand from its row (Peukert's and Ohm's laws).

    At 25 °C 1.012 times the Ah are needed, so 19.76 Ah are left; rated at 20 h and k 1.1, key-down uses
    (20·20 / 19.76)^1.1 / 20 = 1.367 of it an hour and receive 1 / 19.76 = 0.0506 (0.0507 by the exponent), in all
    0.380: empty after 2.63 h. Inside 0.45 / 20 = 22.5 mΩ and 11.8 mΩ outside take 0.69 V, so the floor is 12.42 V at
    rest, between half (12.33 V) and three quarters (12.58 V), at 59 %: 0.41·2.63 = 1.09 h.
    """
    made = session(source_chemistry="agm")
    assert hours(made, "depth") == pytest.approx(2.63, abs=0.01)
    left = 0.5 + 0.25 * (FLOOR + 20 * (0.45 / 20 + OUTSIDE) - 12.33) / (12.58 - 12.33)
    assert left == pytest.approx(0.586, abs=0.005)
    assert hours(made, "floor") == pytest.approx((1 - left) * 2.63, abs=0.02)
    assert made.first.name == "floor" and made.first.left == pytest.approx(left, abs=0.005)


def test_small_flooded_lead_acid_cannot_key_100_watts_at_all(session: Callable[..., Endurance]) -> None:
    """35 mΩ inside and 11.8 mΩ outside take 0.94 V of 12.65 V: under 11.73 V from the first call (Ohm's law)."""
    made = session(source_chemistry="flooded")
    assert made.first.name == "floor" and made.hours == 0 and made.first.left == 1


@pytest.mark.parametrize(("amps", "outcome"), [("20 A", "sound"), ("22 A", "unsound")])
@pytest.mark.parametrize("part", [None, "lfp-20ah"])
def test_a_20_a_board_does_not_carry_22_amperes(
    bench: Any, packed: Callable[..., str], session: Callable[..., Endurance], amps: str, outcome: str, part: str | None
) -> None:
    """A board's continuous current is a limit: an over of 22 A of carrier ends it (common practice, no source).

    The class on the shelf bears 30 A for seconds; an over is longer.
    """
    own = {"source_part": part, "source_chemistry": None, "source_amp_hours": None} if part else {}
    changes = {**own, "load_transmit": amps}
    found = bench.finding(packed(**changes), "battery-board", "pack")
    assert found.outcome == outcome
    made = session(**changes)
    assert (made.first.name == "board" and made.hours == 0) is (outcome == "unsound")


def test_speech_may_peak_where_a_carrier_may_not_stay(bench: Any, packed: Callable[..., str]) -> None:
    """22 A peaks of speech heat like a fraction of it (FCC OET 65 B: 20 % in conversation); the board bears 30 A."""
    voice = packed(source_part="lfp-20ah", source_chemistry=None, source_amp_hours=None, load_transmit="22 A",
                   load_mode="ssb")  # fmt: skip
    assert bench.finding(voice, "battery-board", "pack").outcome == "sound"


def test_the_volts_at_the_radio_end_it_or_the_charge_does(session: Callable[..., Endurance]) -> None:
    """One battery, two radios: a wide window ends at the depth, a narrow one long before (common practice)."""
    wide = session(source_chemistry="flooded", source_amp_hours="100 Ah", source_depth="50 %")
    narrow = session(
        source_chemistry="flooded", source_amp_hours="100 Ah", source_depth="50 %", load_window="13.8 V ± 10 %"
    )
    assert (wide.first.name, narrow.first.name) == ("depth", "floor")
    assert wide.first.left == pytest.approx(0.5) and narrow.first.left > 0.6
    assert narrow.ideal == wide.ideal


def test_most_of_the_charge_may_go_to_receive(session: Callable[..., Endurance]) -> None:
    """1 A for 90 % and 5 A for 10 % of the time: 0.9 of 1.4 A are receive (arithmetic)."""
    made = session(load_transmit="5 A", load_keyed="10 %")
    assert made.receive_share == pytest.approx(0.9 / 1.4, rel=1e-6)


def test_the_trace_runs_from_full_to_the_end_and_falls(session: Callable[..., Endurance]) -> None:
    """Hours rise, charge and volts fall, and keyed volts lie below those of receive by I·R (Ohm's law)."""
    made = session()
    ohms = 0.5 / 20 + OUTSIDE
    for one, after in zip(made.trace, made.trace[1:], strict=False):
        assert one.hours <= after.hours and one.charge >= after.charge and one.keyed >= after.keyed - 1e-9
        assert one.receive - one.keyed == pytest.approx(19 * ohms, rel=0.02)
    assert made.trace[0].charge == 1 and made.trace[-1].hours == pytest.approx(made.ends[-1].hours)


def test_cold_and_age_shorten_it(session: Callable[..., Endurance]) -> None:
    """At -6.7 °C 1.59 times the Ah are needed (sizing tables); at 80 % health a fifth is gone (arithmetic).

    At the rated current of its 20 h, which is 5 A less losses of the exponent: 100 Ah at 1 A without keying.
    """
    plain = {"source_chemistry": "flooded", "source_amp_hours": "100 Ah", "load_transmit": "1 A", "load_keyed": "50 %"}
    warm = hours(session(**plain, source_temperature="26.7 °C"), "depth")
    assert warm == pytest.approx(100)
    assert hours(session(**plain, source_temperature="-6.7 °C"), "depth") == pytest.approx(100 / 1.59, rel=1e-6)
    aged = hours(session(**plain, source_temperature="26.7 °C", source_health="80 %"), "depth")
    assert aged == pytest.approx(80)


@pytest.mark.parametrize(("chemistry", "celsius", "factor"), [("lfp", -20, 3.0), ("lfp", 10, 1.2), ("agm", -18, 2.0)])
def test_ohms_measured_warm_rise_in_the_cold(
    bench: Any, packed: Callable[..., str], chemistry: str, celsius: int, factor: float
) -> None:
    """10 mohm of the owner's own meter are three times that at -20 °C, by the rows of its kind (battery tables)."""
    text = packed(source_chemistry=chemistry, source_ohms="10 mohm", source_temperature=f"{celsius} °C")
    (pack,) = bench.check(text).case.feeds
    assert pack.corner("usual").ohms == pytest.approx(0.010 * factor)
    assert pack.fault_ohms == pytest.approx(0.010)


CUT = """
[[source]]
id = "boost"
class = "booster"
volts = "13.8 V"
continuous = "25 A"
highest = "32 V"
cut_off = "{cut}"
[[run]]
id = "boost-feed"
from = "pack"
to = "boost"
length = "0.5 m"
"""


@pytest.mark.parametrize(("cut", "outcome"), [("11 V", "unsound"), ("21 V", "sound")])
def test_a_24_v_bank_is_not_drawn_down_to_11_v(
    shelf: Shelf, packed: Callable[..., str], cut: str, outcome: str
) -> None:
    """Twelve cells of 1.75 V are empty at 21 V (NCVEC G6A01 and US Navy practice: 1.75 V a cell): 11 V ruins them."""
    agm = shelf.chemistries["agm"]
    points = tuple((share, 2 * low, 2 * usual, 2 * high) for share, low, usual, high in agm.open_circuit)
    bank = replace(agm, id="bank", cells=12, cut_off=21.0, open_circuit=points)
    own = replace(shelf, chemistries={**shelf.chemistries, "bank": bank})
    text = f'format = 1\nname = "bank"\n{packed(source_chemistry="bank")}{CUT.format(cut=cut)}'
    verdict = checking.check(profile.read(text, own).station, own)
    assert [one.outcome for one in verdict.findings if one.rule == "battery-cut-off"] == [outcome]


def test_four_hours_are_asked_and_answered(bench: Any, packed: Callable[..., str]) -> None:
    """The wish against the least of the answers: 2 h are kept, 4 h are not, though 3.48 h are on the envelope."""
    assert bench.finding(packed(wishes_hours="2 h"), "battery-hours", "pack").outcome == "sound"
    found = bench.finding(packed(wishes_hours="4 h"), "battery-hours", "pack")
    assert found.outcome == "unsound" and "3.5 h on the envelope" in found.says


def test_a_station_that_cannot_be_fed_at_all_is_told_in_words(bench: Any, packed: Callable[..., str]) -> None:
    """A converter that asks for more than E²/4R gets none: no hours, and no endless ones (maximum power transfer)."""
    text = packed(source_ohms="0.5 ohm", load_follows="steady power", load_transmit="25 A", source_continuous="30 A")
    assert 14.36**2 / 4 / 0.5 < 25 * 13.8
    says = bench.finding(text, "battery-ends", "pack").says
    assert "lasts 0.0 h" in says and "calculator" not in says
    made = endurance((verdict := bench.check(text)).operating, verdict.case.feeds[0])
    assert made is not None and made.ideal == math.inf and made.hours == 0


WORDS = {
    "hydrogen": cautions.HYDROGEN, "short": cautions.SHORT, "lithium": cautions.LITHIUM, "nickel": cautions.NICKEL,
}  # fmt: skip


def warned(bench: Any, text: str) -> set[str]:
    """Which of the cautions about batteries a station gets."""
    verdict = bench.check(text)
    said = {one.says for one in cautions.cautions(verdict.case, verdict.findings)}
    return {name for name, words in WORDS.items() if words in said}


@pytest.mark.parametrize(
    ("chemistry", "words"),
    [
        ("flooded", {"hydrogen", "short"}),
        ("agm", {"hydrogen", "short"}),
        ("gel", {"hydrogen", "short"}),
        ("lfp", {"lithium", "short"}),
        ("li-ion-3", {"lithium", "short"}),
        ("li-ion-4", {"lithium", "short"}),
        ("nimh", {"nickel", "short"}),
    ],
)
def test_cautions_come_with_the_battery_they_are_about(
    bench: Any, packed: Callable[..., str], chemistry: str, words: set[str]
) -> None:
    """Hydrogen with lead-acid, lithium with lithium, a short with every battery (NCVEC T0A01; makers)."""
    assert warned(bench, packed(source_chemistry=chemistry)) == words


def test_a_vehicle_has_a_lead_acid_battery_and_a_mains_station_none(
    bench: Any, desk: Callable[..., str], driven: Callable[..., str]
) -> None:
    """A car's battery gasses and burns like any other; a desk on a mains supply hears of neither (NCVEC T0A01)."""
    assert warned(bench, driven()) == {"hydrogen", "short"}
    assert warned(bench, desk()) == set()
