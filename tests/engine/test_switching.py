"""The switching order follows from the tree: nothing is live before its source is steady, nothing loses it alive."""

import random
from typing import Any

import pytest

GROUPS = ("hf-100w", "vhf-50w", "tuner", "laptop", "lamp", "amp-300w", "amp-valve", "receiver-sdr")


def station(seed: int) -> str:
    """A random station of up to six loads on one or two supplies, some through a strip."""
    rng = random.Random(seed)
    text = "".join(f'[[source]]\nid = "psu{n}"\ncontinuous = "{rng.choice((25, 75))} A"\n' for n in (1, 2))
    if rng.random() < 0.5:
        text += '[[strip]]\nid = "strip"\npart = "strip-8"\n[[run]]\nid = "feed"\nfrom = "psu1"\nto = "strip"\n'
    starts = ["psu1", "psu2", *(["strip"] if "strip" in text else [])]
    for number in range(rng.randint(1, 6)):
        kind = rng.choice(GROUPS)
        text += f'[[load]]\nid = "load{number}"\nclass = "{kind}"\n'
        if kind != "amp-valve":
            start = rng.choice(starts)
            text += f'[[run]]\nid = "run{number}"\nfrom = "{start}"\nto = "load{number}"\n'
    return text


def place(steps: tuple[Any, ...], about: str) -> int:
    """Where the step that moves a part itself stands."""
    (found,) = (number for number, one in enumerate(steps) if one.about == about)
    return found


@pytest.mark.parametrize("seed", range(60))
def test_no_load_is_live_before_its_source_nor_after_it(bench: Any, seed: int) -> None:
    """Supply before radio when switching on, radio before supply when switching off (common practice, no source)."""
    verdict = bench.check(station(seed))
    for draw in verdict.case.draws:
        feed = verdict.case.source_of(draw.id)
        if feed is not None:
            assert place(verdict.on, feed.id) < place(verdict.on, draw.id)
            assert place(verdict.off, draw.id) < place(verdict.off, feed.id)


@pytest.mark.parametrize("seed", range(60))
def test_off_is_on_in_reverse_and_every_part_has_its_turn(bench: Any, seed: int) -> None:
    """Each load and source is switched exactly once each way, in opposite order (common practice, no source)."""
    verdict = bench.check(station(seed))
    parts = {one.id for one in (*verdict.case.draws, *verdict.case.feeds)}
    on = [one.about for one in verdict.on if one.about in parts]
    off = [one.about for one in verdict.off if one.about in parts]
    assert set(on) == parts
    assert off == on[::-1]


def test_an_amplifier_rests_in_standby_while_anything_is_switched(bench: Any) -> None:
    """The amplifier goes on after its exciter, operates last, and rests first (common practice, no source)."""
    verdict = bench.check(
        '[[source]]\nid = "psu"\ncontinuous = "75 A"\n'
        '[[load]]\nid = "hf"\nclass = "hf-20w"\n[[load]]\nid = "amp"\nclass = "amp-300w"\n'
        '[[run]]\nid = "a"\nto = "hf"\n[[run]]\nid = "b"\nto = "amp"\n'
    )
    on, off = [one.about for one in verdict.on], [one.about for one in verdict.off]
    assert on.index("hf") < on.index("amp") < on.index("amp (operate)")
    assert on[-1] == "amp (operate)"
    assert off.index("amp (standby)") < off.index("amp") < off.index("hf")


def test_a_valve_amplifier_warms_up_and_cools_down_and_no_procedure_is_given(bench: Any) -> None:
    """Warm-up and cool-down are steps; the caution is DANGER; nothing is said of working inside (this house)."""
    from engine.cautions import cautions

    verdict = bench.check('[[load]]\nid = "valve"\nclass = "amp-valve"\n')
    assert any("warmed up" in one.verify for one in verdict.on)
    assert any("cool" in one.do for one in verdict.off)
    (danger,) = (one for one in cautions(verdict.case, verdict.findings) if one.word == "DANGER")
    assert "lethal" in danger.says
    assert "no procedure" in danger.says


def test_an_adjustable_supply_is_set_with_nothing_connected_first(bench: Any) -> None:
    """Set the voltage unloaded, then meter, then connect (common practice, no source)."""
    verdict = bench.check(
        '[[source]]\nid = "psu"\ncontinuous = "30 A"\nadjustable = true\nlowest = "9 V"\nhighest = "15 V"\n'
        '[[load]]\nid = "hf"\nclass = "hf-100w"\n[[run]]\nid = "a"\nto = "hf"\n'
    )
    first = next(one for one in verdict.on if one.about == "psu (first time)")
    assert "nothing connected" in first.do
    assert "meter" in first.verify
    assert verdict.on.index(first) < place(verdict.on, "psu")
