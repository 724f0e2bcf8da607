"""The switching order follows from the tree: nothing is live before its source is steady, nothing loses it alive."""

import random
from dataclasses import dataclass, field, replace
from typing import Any

import pytest

from engine.findings import Step
from engine.model.case import Case
from engine.model.switching import WAYS, never, order

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


@dataclass
class Bench:
    """A station that is switched step by step, and objects to a step at the wrong moment."""

    case: Case
    wall: bool = False
    keyed: bool = False
    live: set[str] = field(default_factory=set)
    on: set[str] = field(default_factory=set)
    operating: set[str] = field(default_factory=set)

    def needs(self, load: str) -> set[str]:
        """The source that a load hangs on; nothing where it hangs on none."""
        feed = self.case.source_of(load)
        return {feed.id} if feed else set()

    def hang_on(self, source: str) -> set[str]:
        """The loads that a source feeds."""
        return {one.id for one in self.case.draws if source in self.needs(one.id)}

    def up(self, step: Step) -> None:
        """One step of switching on."""
        id_, _, what = step.about.partition(" (")
        if id_ in self.case.feed and what:
            assert id_ not in self.live, "set with nothing connected, before it feeds anything"
        elif id_ in self.case.feed:
            assert not self.hang_on(id_) & self.on, "a load was on before its source"
            assert self.wall or not self.case.feed[id_].from_mains, "a supply before the wall"
            self.live.add(id_)
        elif what:
            radios = {one.id for one in self.case.draws if one.group == "radio"}
            assert id_ in self.on and radios <= self.on and not self.keyed
            self.operating.add(id_)
        elif id_ in self.case.draw:
            assert self.needs(id_) <= self.live, "a load was live before its source was steady"
            assert self.case.draw[id_].feed == "dc" or self.wall
            self.on.add(id_)
        elif id_ in ("wall", "generator"):
            assert not self.live and not self.on
            self.wall = True
        else:
            assert step.about == "station" and not self.live and not self.on

    def down(self, step: Step) -> None:
        """One step of switching off."""
        id_, _, what = step.about.partition(" (")
        if id_ in self.case.feed:
            assert not self.hang_on(id_) & self.on, "a source was removed before its loads rested"
            self.live.remove(id_)
        elif what == "standby)":
            assert not self.keyed
            self.operating.remove(id_)
        elif what == "cooling)":
            assert id_ in self.on and id_ not in self.operating, "cooled while it could be keyed"
        elif id_ in self.case.draw:
            assert not self.keyed and id_ not in self.operating, "switched off while in operation"
            assert self.needs(id_) <= self.live
            self.on.remove(id_)
        elif id_ == "generator":
            assert not self.live and not self.on
            self.wall = False
        else:
            assert step.about == "station"
            self.keyed = False


def walk(case: Case, on: tuple[Step, ...], off: tuple[Step, ...]) -> Bench:
    """The station after it was switched on, keyed, and switched off."""
    bench = Bench(case)
    for step in on:
        bench.up(step)
    assert bench.live == set(case.feed) and bench.on == set(case.draw)
    bench.keyed = True
    for step in off:
        bench.down(step)
    return bench


def mixed(seed: int, case: Case) -> Case:
    """The case with sources of any kind that has a way of being switched, some of them adjustable."""
    dice = random.Random(seed)
    feeds = [
        replace(one, kind=dice.choice(list(WAYS)), adjustable=dice.random() < 0.3, lowest=9.0, highest=15.0)
        for one in case.feeds
    ]
    dice.shuffle(feeds)
    place = replace(case.place, generator=dice.choice([None, 2000.0]))
    return replace(case, feeds=tuple(feeds), place=place)


@pytest.mark.parametrize("seed", range(120))
def test_switched_step_by_step_nothing_is_ever_at_the_wrong_moment(bench: Any, seed: int) -> None:
    """Walked through: no load live before its source is steady, no source gone before its loads rest, no key down.

    Mains, engine or isolator before what they feed, amplifiers in standby around every switching (common practice).
    """
    case = mixed(seed, bench.check(station(seed)).case)
    on, off = order(case)
    after = walk(case, on, off)
    assert not after.live and not after.on and not after.operating and not after.keyed
    assert not (after.wall and case.place.generator)
    assert all(one.do and one.verify and "{" not in one.do + one.verify for one in (*on, *off))


@pytest.mark.parametrize("seed", range(40))
def test_the_walk_objects_to_a_source_out_of_its_place(bench: Any, seed: int) -> None:
    """A load moved before its source, or after it when switching off, is caught: the check above can fail."""
    case = bench.check(station(seed)).case
    while not any(case.source_of(one.id) for one in case.draws):
        seed += 1000
        case = bench.check(station(seed)).case
    on, off = order(case)
    load = next(one.id for one in case.draws if case.source_of(one.id))
    mine = next(one for one in on if one.about == load)
    with pytest.raises(AssertionError):
        walk(case, (mine, *(one for one in on if one is not mine)), off)
    gone = next(one for one in off if one.about == load)
    with pytest.raises(AssertionError):
        walk(case, on, (*(one for one in off if one is not gone), gone))


def test_the_ways_of_sources_are_a_small_table() -> None:
    """Isolator, then engine, then supply, then booster; every row can be worded (common practice, no source)."""
    ranks = [WAYS[name].rank for name in ("battery", "vehicle", "mains", "booster")]
    assert ranks == sorted(set(ranks))
    for row in WAYS.values():
        for text in (row.on, row.steady, row.off, row.rests):
            assert text.format(id="x", low=1.0, high=2.0)


def test_what_is_never_moved_while_live_follows_from_the_parts(bench: Any) -> None:
    """Plugs under load, knobs with loads connected, antennas while keyed, a valve amplifier's plug (common practice).

    A station without such a part is not told of it.
    """
    full = bench.check(
        '[[load]]\nid = "hf"\nclass = "hf-100w"\n[[load]]\nid = "valve"\nclass = "amp-valve"\n'
        '[[source]]\nid = "psu"\npart = "switch-30-adjustable"\n[[run]]\nid = "lead"\nto = "hf"\n'
        'contacts = ["genderless 30 A", "keyed plug"]\n'
    )
    text = "\n".join(never(full.case))
    for word in (
        "direct-current plug",
        "pull apart by hand",
        "voltage knob of psu",
        "antenna",
        "plug of valve",
        "lethal",
    ):
        assert word in text
    plain = "\n".join(never(bench.check('[[load]]\nid = "lamp"\nclass = "lamp"\n').case))
    assert plain == ""
    battery = replace(full.case, feeds=tuple(replace(one, kind="battery") for one in full.case.feeds))
    assert "clamp off the posts of psu" in "\n".join(never(battery))


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
    from engine.advice.cautions import cautions

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
