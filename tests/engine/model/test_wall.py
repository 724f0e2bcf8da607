"""The mains side of a station: shared and own circuits, what a plan does with them, and the cautions."""

from typing import Any

import pytest

from engine.advice.cautions import cautions
from engine.planning import upgrade

SITE = '[site]\nmains = "120 V"\ncircuit = "15 A"\nwire = "AWG"\n{more}\n'
HF = '[[load]]\nid = "hf"\nclass = "hf-100w"\n'
VALVE = '[[load]]\nid = "valve"\nclass = "amp-valve"\nwall = "1600 W"\n{own}\n'


def test_two_things_that_each_fit_may_not_fit_together(bench: Any) -> None:
    """1600 W (13.3 A of 120 V) and a supply at some 3 A are too much for one 15 A circuit (power law, by hand)."""
    made = bench.plan(SITE.format(more="") + HF + VALVE.format(own=""))
    assert not made.complete
    assert any("circuit refuses" in note and "circuit of its own" in note for note in made.notes)


def test_a_circuit_of_its_own_mends_that(bench: Any) -> None:
    """With the amplifier on a 240 V circuit of its own a plan exists, and neither circuit is refused (power law)."""
    made = bench.plan(SITE.format(more="") + HF + VALVE.format(own='mains = "240 V"\ncircuit = "15 A"'))
    assert made.complete
    assert bench.unsound(made.verdict) == []
    assert bench.only(made.verdict, "wall-load", "valve").figure.value == pytest.approx(1600 / 240)


def test_a_wall_load_too_big_by_itself_does_not_stop_the_plan_for_the_rest(bench: Any) -> None:
    """What is broken before anything is chosen is told, and the rest is planned (this house)."""
    made = bench.plan(SITE.format(more="") + HF + VALVE.format(own="").replace("1600", "3000"))
    assert made.complete
    assert {one.rule for one in bench.unsound(made.verdict)} == {"wall-load"}
    assert any("not the plan's to mend" in note for note in made.notes)


def test_a_generator_too_small_is_a_reason_for_no_plan(bench: Any) -> None:
    """20 A x 13.8 V cannot come from 200 W (power law)."""
    made = bench.plan(SITE.format(more='generator = "200 W"') + HF)
    assert not made.complete
    assert any("generator refuses" in note for note in made.notes)


def test_the_plan_takes_a_supply_that_the_extension_lead_and_generator_bear(bench: Any) -> None:
    """Check refuses nothing of what was planned behind a lead and a generator (this house)."""
    more = 'generator = "1000 W"\nextension = "14 AWG"\nextension_length = "25 ft"'
    made = bench.plan(SITE.format(more=more) + HF)
    assert made.complete
    outcomes = {one.rule: one.outcome for one in made.verdict.findings}
    assert outcomes["generator"] == outcomes["extension-lead"] == outcomes["mains-drop"] == "sound"


def test_an_own_circuit_stays_when_its_supply_is_replaced(bench: Any) -> None:
    """The outlet belongs to the place, not to the supply that an upgrade retires (this house)."""
    text = SITE.format(more="") + '[[load]]\nid = "amp"\nclass = "amp-500w"\n'
    text += '[[source]]\nid = "psu"\npart = "switch-20-fixed"\nmains = "240 V"\ncircuit = "20 A"\n'
    text += '[[run]]\nid = "lead"\nfrom = "psu"\nto = "amp"\n'
    made = upgrade.upgrade(upgrade.owned(bench.station(text)), bench.shelf)
    (source,) = made.verdict.station.sources
    assert made.complete and source.part == "switch-60-adjustable" and source.locked
    assert (source.mains, source.circuit) == (240, 20)


def test_a_breaker_too_large_for_its_wire_is_a_danger_of_fire(bench: Any) -> None:
    """20 A on 14 AWG is told as a danger of fire, an electrician named, and the rest is planned (NEC 240.4(D))."""
    more = 'circuit_wire = "14 AWG"\ncircuit_length = "30 ft"'
    made = bench.plan(SITE.format(more=more).replace('"15 A"', '"20 A"') + HF)
    assert made.complete
    assert [one.rule for one in bench.unsound(made.verdict)] == ["circuit-wire"]
    assert "licensed electrician" in bench.only(made.verdict, "circuit-wire", "station").says
    assert any("start a fire" in one.says for one in cautions(made.verdict.case, made.verdict.findings))


def test_generators_and_extension_leads_carry_their_cautions(bench: Any) -> None:
    """Fumes, no backfeed, an unrolled lead, the surge of switching on (common practice, no source)."""
    more = 'generator = "2000 W"\nextension = "14 AWG"\nextension_length = "25 ft"'
    verdict = bench.plan(SITE.format(more=more) + '[[load]]\nid = "amp"\nclass = "amp-500w"\n').verdict
    said = {one.about: one for one in cautions(verdict.case, verdict.findings)}
    assert said["generator"].word == "DANGER"
    assert "outdoors only" in said["generator"].says and "transfer switch" in said["generator"].says
    assert said["extension lead"].word == "WARNING" and "unrolled" in said["extension lead"].says
    assert any(one.word == "NOTICE" and "surge" in one.says for one in said.values())
    plain = bench.plan(SITE.format(more="") + HF).verdict
    assert not {"generator", "extension lead"} & {one.about for one in cautions(plain.case, plain.findings)}
