"""What a plan offers beside itself: a knob turned up for a lone amplifier, a supply nearer to the radio.

That an amplifier of the 12 V class gives most at the top of its window is common practice, no source.
"""

from typing import Any

import pytest

AMPLIFIER = """
[site]
mains = "230 V"
circuit = "16 A"
[[load]]
id = "amp"
class = "amp-300w"
window = "12 to 16 V"
{more}
[[source]]
id = "psu"
volts = "13.8 V"
tolerance = "1 %"
continuous = "75 A"
peak = "90 A"
over_voltage = true
outlets = ["stud"]
adjustable = true
lowest = "13 V"
highest = "16 V"
locked = true
[[run]]
id = "lead"
from = "psu"
to = "amp"
"""
LAMP = '[[load]]\nid = "lamp"\nclass = "lamp"\n[[run]]\nid = "lamp-lead"\nfrom = "psu"\nto = "lamp"\n'
SHED = """
[site]
mains = "120 V"
wire = "AWG"
[[load]]
id = "hf"
class = "hf-100w"
window = "13.8 V ± 15 %"
[[source]]
id = "supply"
[[run]]
id = "lead"
from = "supply"
to = "hf"
length = "{way}"
"""


def offered(made: Any) -> list[str]:
    """What is offered."""
    return [one for one in made.notes if one.startswith("offered")]


def test_a_lone_amplifier_may_have_its_knob_turned_up(bench: Any) -> None:
    """16 V less 0.3 V in hand over 1 % is 15.5 V; (15.5 / 13.8)² = 1.26 (a load line gives power as the square)."""
    (line,) = offered(bench.plan(AMPLIFIER.format(more="")))
    assert "15.5 V" in line and "26 %" in line and "locked" in line
    assert "Never where another load hangs" in line


def test_never_where_another_load_would_see_it(bench: Any) -> None:
    """A lamp on the same supply, and nothing is offered."""
    assert not offered(bench.plan(AMPLIFIER.format(more="") + LAMP))


@pytest.mark.parametrize(("way", "count"), [("60 ft", 1), ("5 ft", 0)])
def test_a_supply_beside_a_far_radio_is_offered_with_its_price(bench: Any, way: str, count: int) -> None:
    """60 ft of heavy cable against an outlet beside the radio, which is an electrician's work; 5 ft is a desk."""
    lines = offered(bench.plan(SHED.format(way=way)))
    assert len(lines) == count
    assert all("60 ft" in one and "licensed electrician" in one and "instead of" in one for one in lines)


def test_nobody_buys_75_a_for_36_a(bench: Any) -> None:
    """A 100 W set with 23 A and a 50 W set with 13 A at once: 36 A and a quarter are 45 A (arithmetic)."""
    text = """
    keyed_together = [["hf", "vhf"]]
    [site]
    mains = "120 V"
    [[load]]
    id = "hf"
    class = "hf-100w"
    mode = "digital"
    [[load]]
    id = "vhf"
    class = "vhf-50w"
    """
    made = bench.plan(text)
    (feed,) = made.verdict.case.feeds
    assert made.verdict.outcome == "sound" and 45 <= feed.continuous <= 50
    assert [one.fuse_rating for one in made.verdict.case.leads] == [25, 15]
