"""A current far from its class is asked about, never planned in silence."""

from typing import Any

import pytest

LOAD = '[[load]]\nid = "set"\nclass = "{kind}"\n{amps}\n'


def answer(bench: Any, kind: str, amps: str) -> Any:
    """What is said of one load's current."""
    return bench.finding(LOAD.format(kind=kind, amps=amps), "load-current", "set")


def test_2_a_for_a_100_w_set_is_not_planned_in_silence(bench: Any) -> None:
    """A set that draws 18 to 23 A does not draw 2 A: the plan stands, and says so at its head (common practice)."""
    made = bench.plan(LOAD.format(kind="hf-100w", amps='transmit = "2 A"'))
    one = bench.only(made.verdict, "load-current", "set")
    assert (one.outcome, made.verdict.outcome) == ("unknown", "unknown")
    assert "18 to 23 A" in one.says and "specification page of the manual" in one.says


@pytest.mark.parametrize("amps", ["7.2 A", "8 A", "8.3 A"])
def test_radio_watts_taken_as_supply_watts(bench: Any, amps: str) -> None:
    """100 W over 12 V or 13.8 V is the known mistake, and is named (a published mistake; common practice)."""
    one = answer(bench, "hf-100w", f'transmit = "{amps}"')
    assert one.outcome == "unknown" and "100 W of radio power over the volts" in one.says


@pytest.mark.parametrize(
    ("kind", "amps", "outcome"),
    [
        ("hf-100w", 'transmit = "16 A"', "sound"),
        ("hf-100w", 'transmit = "30 A"', "sound"),
        ("hf-100w", 'transmit = "230 A"', "thin"),
        ("vhf-50w", 'receive = "12 A"\ntransmit = "13 A"', "thin"),
        ("amp-500w", 'transmit = "75 A"', "sound"),
        ("laptop", 'busy = "40 A"', "thin"),
        ("lamp", 'receive = "0.05 A"', "sound"),
    ],
)
def test_how_far_is_far(bench: Any, kind: str, amps: str, outcome: str) -> None:
    """Half of the least and twice the most of a class are far; a small receiver draws little (own choice)."""
    assert answer(bench, kind, amps).outcome == outcome


def test_what_the_class_itself_says_is_no_slip(bench: Any) -> None:
    """Where the owner gives no figure the question does not arise."""
    verdict = bench.check(LOAD.format(kind="hf-100w", amps=""))
    assert not [one for one in verdict.findings if one.rule == "load-current"]
