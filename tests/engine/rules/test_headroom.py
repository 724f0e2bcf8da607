"""A supply by duty: the keyed rating carries key-down, the continuous one what heats it for minutes."""

import math
from typing import Any

import pytest

SET = """
[[load]]
id = "set"
window = "13.8 V ± 15 %"
receive = "1 A"
transmit = "{amps} A"
mode = "{mode}"
[[run]]
id = "lead"
from = "psu"
to = "set"
length = "1 m"
[[source]]
id = "psu"
class = "linear"
volts = "13.8 V"
continuous = "{continuous} A"
peak = "{peak} A"
"""
RULES = ("supply-peak", "supply-continuous", "supply-headroom")


def outcomes(bench: Any, mode: str, amps: float, continuous: float, peak: float) -> dict[str, str]:
    """What the three rules say of one set on one supply."""
    text = SET.format(mode=mode, amps=amps, continuous=continuous, peak=peak)
    return {one.rule: one.outcome for one in bench.check(text).findings if one.rule in RULES}


@pytest.mark.parametrize(
    ("mode", "amps", "continuous", "peak", "worst"),
    [
        ("ssb", 22, 25, 30, "sound"),
        ("ssb", 22, 20, 25, "thin"),
        ("ssb", 22, 20, 21, "unsound"),
        ("fm", 6, 5.8, 6, "unsound"),
        ("fm", 6, 7.5, 8, "sound"),
        ("fm", 6, 7, 8, "thin"),
        ("digital", 22, 25, 30, "thin"),
        ("digital", 22, 27.5, 30, "sound"),
        ("cw", 22, 12, 30, "sound"),
        ("cw", 22, 11.5, 30, "thin"),
    ],
)
def test_which_rating_carries_what(
    bench: Any, mode: str, amps: float, continuous: float, peak: float, worst: str
) -> None:
    """Voice and Morse lean on the keyed rating, FM and digital on the continuous one (common practice, no source).

    Morse at 40 % keyed: 1 + 21 × 0.4 = 9.4 A, and a quarter more is 11.75 A (by hand).
    """
    found = outcomes(bench, mode, amps, continuous, peak)
    order = ("sound", "thin", "unsound")
    assert max(found.values(), key=order.index) == worst, found


def test_a_surge_rating_does_not_carry_fm(bench: Any) -> None:
    """6 A of surge and 5.8 A continuous under 6 A of FM: the continuous rating refuses it (common practice)."""
    found = outcomes(bench, "fm", 6, 5.8, 6)
    assert found["supply-continuous"] == "unsound" and found["supply-peak"] != "unsound"


def test_voice_counts_with_the_mean_of_its_envelope(bench: Any) -> None:
    """At 20 % power duty the envelope's mean is at most √0.2: 1 + 21·√0.2 A over minutes (by hand)."""
    text = SET.format(mode="ssb", amps=22, continuous=25, peak=30)
    figure = bench.finding(text, "supply-continuous", "psu").figure
    assert figure.value == pytest.approx(1 + 21 * math.sqrt(0.2))
    assert "the mean of the envelope" in "\n".join(figure.working())


TWO_SETS = """
[[load]]
id = "hf"
class = "hf-100w"
transmit = "{hf} A"
receive = "1 A"
mode = "ssb"
[[load]]
id = "vhf"
class = "vhf-50w"
transmit = "{vhf} A"
receive = "0.6 A"
mode = "fm"
"""


@pytest.mark.parametrize(
    ("hf", "vhf", "keyed", "continuous"),
    [
        (22, 12, (22 + 0.6) * 1.25, (12 + 1) * 1.25),
        (12, 12, (12 + 1) * 1.25, (12 + 1) * 1.25),
        (20, 18, (20 + 0.6) * 1.25, (18 + 1) * 1.25),
    ],
)
def test_the_state_that_asks_most_decides(
    bench: Any, shelf: Any, hf: float, vhf: float, keyed: float, continuous: float
) -> None:
    """25 % over each state's own sum, on the rating that its mode leans on (common practice; sums by hand)."""
    made = bench.plan(TWO_SETS.format(hf=hf, vhf=vhf))
    enough = [one for one in shelf.supplies.values() if one.peak >= keyed and one.continuous >= continuous]
    plain = [one for one in enough if one.volts == 13.8 and one.over_voltage and one.rf_noise != "ask"]
    cheapest = min(one.price.usual for one in plain if not one.adjustable)
    assert made.verdict.case.feeds[0].price.usual == cheapest


def test_what_is_not_keyed_takes_what_it_usually_does(bench: Any) -> None:
    """Spare is counted over key-down and the usual draw beside it, not over every worst case at once (our choice)."""
    beside = (
        '[[load]]\nid = "tuner"\nclass = "tuner"\n[[run]]\nid = "thin"\nfrom = "psu"\nto = "tuner"\nlength = "1 m"\n'
    )
    text = SET.format(mode="ssb", amps=22, continuous=25, peak=30) + beside
    spare = bench.finding(text, "supply-headroom", "psu")
    assert spare.figure.value == pytest.approx(30 / (22 + 0.2) - 1)
    assert bench.finding(text, "supply-peak", "psu").figure.value == pytest.approx(22 + 1)
