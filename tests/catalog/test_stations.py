"""The worked stations: invented, each with a point to make, each planned and judged here."""

from dataclasses import replace
from functools import cache

import pytest
import workings

from catalog.shelf import STATIONS, built_in
from engine.advice.cautions import cautions
from engine.planning import plan as planning
from engine.planning import upgrade
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station import profile
from engine.station.model import Station

NAMES = sorted(path.stem for path in STATIONS.glob("*.toml"))


def read(name: str) -> profile.Profile:
    """A worked station."""
    return profile.read((STATIONS / f"{name}.toml").read_text(encoding="utf-8"), built_in())


@cache
def planned(name: str) -> Verdict:
    """A worked station with its gaps filled."""
    made = planning.plan(read(name).station, built_in())
    assert made.complete
    return made.verdict


def test_there_are_at_least_four() -> None:
    """Four or more examples ship with the catalogue."""
    assert len(NAMES) >= 4


@pytest.mark.parametrize("name", [name for name in NAMES if name != "quarry-road"])
def test_a_planned_example_is_never_refused_by_check(name: str) -> None:
    """What the plan returns, check accepts: nothing unsound and nothing unknown."""
    verdict = checking.check(planned(name).station, built_in())
    assert not [one for one in verdict.findings if one.outcome in ("unsound", "unknown")]


@pytest.mark.parametrize("name", NAMES)
def test_every_working_gives_its_value(name: str) -> None:
    """Each formula, read off the page and evaluated by Python, gives the figure beside it (arithmetic)."""
    verdict = checking.check(read(name).station, built_in()) if name == "quarry-road" else planned(name)
    assert sum(workings.assert_true(figure) for figure in workings.figures_of(verdict)) > 20


def test_harbour_street_two_sets_one_keyed_at_a_time() -> None:
    """22 A and 12 A sets, one keyed at a time, want 28.3 A keyed at 25 % headroom: 25 A continuous (hand calculation).

    22.0 + 0.6 = 22.6 A at key-down; 22.6 x 1.25 = 28.25 A; the next keyed rating on the shelf is 30 A, that of a 25 A
    supply, and 20 A with 25 A keyed is refused for its headroom of 25 / 22.6 - 1 = 11 %.
    """
    verdict = planned("harbour-street")
    (feed,) = verdict.case.feeds
    assert (feed.continuous, feed.peak) == (25, 30)
    supply = next(one for one in verdict.choices if one.about == "supply.part")
    refused = {one.rule: one.says for one in supply.refused}
    assert "11 % to spare (25 % wanted)" in refused["supply-headroom"]
    leads = {one.id: one for one in verdict.case.leads}
    assert (leads["hf-lead"].fuse_rating, leads["vhf-lead"].fuse_rating) == (25, 15)


def test_harbour_street_volts_by_hand() -> None:
    """The lowest volts at the HF set, worked by hand from the published tables, agree to 10 mV.

    The lead that such a set usually comes with is 12 AWG: 5.315 ohm/km at 20 °C (NBS Handbook 100, 2 % for strands);
    1.5 m is a 3 m loop; at the temperature given by the square law from 35 A at 80 °C (33 CFR 183.425, table 5) and
    10.67 A heating in 35 °C air it is 40 °C. The fuse drops 125 mV at 25 A: 5 mohm. Contacts from the catalogue.
    Plus 20 % as built, times 22 A, from 13.8 V less 1 % and 1 %.
    """
    verdict = planned("harbour-street")
    (lead,) = (one for one in verdict.case.leads if one.id == "hf-lead")
    assert lead.conductor is not None
    assert lead.contacts is not None
    assert lead.supplied and lead.conductor.id == "12 AWG"
    celsius = 35 + (80 - 30) * (10.67 / 35) ** 2
    copper = 3 * 5.315e-3 * (1 + 0.00393 * (celsius - 20))
    contacts = sum(2 * one.ohms for one in lead.contacts)
    lost = 22 * (copper + 0.125 / 25 + contacts) * 1.2
    feed = verdict.case.feeds[0]
    expected = 13.8 * (1 - feed.tolerance) * (1 - feed.regulation) - lost
    found = next(one.figure for one in verdict.findings if (one.rule, one.about) == ("window-floor", "hf"))
    assert found is not None
    assert found.value == pytest.approx(expected, abs=0.01)


def test_orchard_lane_buys_by_awg() -> None:
    """Where cable is sold by AWG, every conductor chosen is an AWG size."""
    assert all(one.conductor and one.conductor.id.endswith("AWG") for one in planned("orchard-lane").case.leads)


def test_windmill_hill_goes_through_a_strip_and_counts_duty() -> None:
    """Four leads are too many for one pair of posts; a digital mode leans on the continuous rating.

    The fuse stays the maker's 25 A, which carries the 21 A that are held for minutes (common practice, no source).
    """
    verdict = planned("windmill-hill")
    assert [one.id for one in verdict.case.hubs] == ["strip"]
    (hf,) = (one for one in verdict.case.leads if one.end == "hf")
    assert hf.fuse_rating == 25
    (headroom,) = (one for one in verdict.findings if one.rule == "supply-headroom")
    assert headroom.limit is not None
    assert headroom.limit.value == pytest.approx(0.25)
    assert "continuous" in headroom.says and verdict.case.feeds[0].continuous == 30


def test_lighthouse_loft_takes_the_quiet_supply() -> None:
    """With quiet preferred, the chosen supply has no fan and no unanswered question about noise."""
    (feed,) = planned("lighthouse-loft").case.feeds
    assert feed.fan == "none"
    assert feed.rf_noise in ("none", "filtered")


def test_quarry_road_is_refused_for_what_could_burn_first() -> None:
    """No fuse, soldered strands under a screw, a knob up to 16 V and too little voltage; fire comes first."""
    verdict = checking.check(read("quarry-road").station, built_in())
    unsound = [one.rule for one in verdict.findings if one.outcome == "unsound"]
    assert {"fuse-present", "contact-strands", "supply-knob", "window-floor"} <= set(unsound)
    assert set(unsound[:2]) == {"short-circuit", "fuse-present"}


def one_radio(name: str) -> Station:
    """The one-radio station that an amplifier station grew from: without amplifier, its supply and its lead."""
    station = read(name).station
    return replace(
        station,
        loads=tuple(one for one in station.loads if one.id != "amp"),
        sources=tuple(one for one in station.sources if one.id != "amp-supply"),
        runs=tuple(one for one in station.runs if one.id != "amp-lead"),
    )


def test_granary_steps_refuses_the_old_parts_one_by_one() -> None:
    """Add a 500 W amplifier to the saved one-radio station: every old part is refused with its figure, and stays.

    By hand: 60 A against a supply of 33 A; a 25 A fuse under 60 A; a keyed plug of 30 A under 60 A (common practice).
    In the old size, usually 55 A over 1.2 m and back of 10 AWG (NBS Handbook 100, 2 % for strands, 1 % for 22 °C), four
    fifths of 125 mV in a fuse of 70 A, and four heavy lugs of 0.1 mohm: 0.55 V, more than half a volt.
    """
    by_hand = 55 * (2.4 * 0.9989 / 304.8 * 1.03 + 0.8 * 0.125 / 70 + 4 * 0.0001)
    assert by_hand > 0.5
    profile_text = profile.write(one_radio("granary-steps"))
    saved = upgrade.owned(profile.read(profile_text, built_in()).station)
    assert checking.check(saved, built_in()).outcome == "sound"
    made = upgrade.upgrade(upgrade.with_load(saved, "amp-500w", built_in()), built_in())
    assert made.complete and not [one for one in made.verdict.findings if one.outcome in ("unsound", "unknown")]
    refused = {note.partition("(")[0].strip(): note for note in made.notes if "will not do" in note}
    said = "\n".join(refused.values())
    for rule, figures in (
        ("supply-peak", "60.0 A with amp keyed; it is rated 33 A"),
        ("drop", f"a meter should show {by_hand:.2f} V lost on the way to amp"),
        ("fuse-carries", "is 25 A and must be rated 60.0 A"),
        ("contact-carries", "keyed plug on amp-lead carries 60.0 A with amp keyed; it is rated 30.0 A"),
    ):
        assert f"({rule})" in said and figures in said
    assert len(refused) == 4
    assert "supply stays" in made.notes and "hf-lead stays" in made.notes
    assert any("81.0 A with hf + amp keyed; it is rated 33 A" in note for note in made.notes)
    bought = [one for one in made.verdict.items if not one.owned]
    assert {one.about for one in bought} == {"amp-supply", "amp-lead"}
    assert all(0 < one.low <= one.high for one in bought)


def test_granary_steps_as_planned() -> None:
    """A supply of about 75 A, 4 ft of lead at most, everything owned stays (common practice, no source)."""
    verdict = planned("granary-steps")
    feeds = {one.id: one for one in verdict.case.feeds}
    assert feeds["amp-supply"].peak == pytest.approx(75, rel=0.1)
    assert feeds["supply"].owned
    lead = next(one for one in verdict.case.leads if one.id == "amp-lead")
    assert lead.length == pytest.approx(4 * 0.3048)
    copper = 60 * 8 * 0.6282e-3
    assert lead.conductor is not None and lead.conductor.id == "8 AWG" and copper < 0.5 < 60 * 8 * 0.9989e-3 + 0.12


def test_belfry_court_keeps_two_supplies_and_58_v_fuses() -> None:
    """50 V and 13.8 V never meet; the fuse is rated 58 V (ISO 8820-3); the wall is asked for 12 A of 230 V.

    45 A x 50 V / (0.88 x 0.95 x 230 V) = 11.7 A (power law, by hand), on a circuit of its own.
    """
    verdict = planned("belfry-court")
    volts = {one.id: one.volts for one in verdict.case.feeds}
    assert volts == {"supply": 13.8, "amp-supply": 50}
    lead = next(one for one in verdict.case.leads if one.id == "amp-lead")
    assert lead.fuse_type is not None and lead.fuse_type.volts == 58
    (wall,) = (one for one in verdict.findings if (one.rule, one.about) == ("wall", "amp-supply"))
    assert wall.figure is not None and wall.figure.value == pytest.approx(45 * 50 / (0.88 * 0.95 * 230), rel=1e-6)
    assert "circuit" not in {one.rule for one in verdict.findings}


def test_tannery_wharf_looks_at_the_wall_and_never_inside() -> None:
    """2800 W of 240 V are 11.7 A on a 20 A circuit (power law); warm-up, cooling, DANGER, and no direct current."""
    verdict = planned("tannery-wharf")
    (wall,) = (one for one in verdict.findings if one.rule == "wall-load")
    assert wall.figure is not None and wall.figure.value == pytest.approx(2800 / 240)
    assert wall.outcome == "sound"
    assert [lead.end for lead in verdict.case.leads] == ["hf"]
    assert any("warmed up" in one.verify for one in verdict.on) and any("cool" in one.do for one in verdict.off)
    assert [one.about for one in cautions(verdict.case, verdict.findings) if one.word == "DANGER"] == ["valve"]


def test_chapel_row_is_sound_as_it_stands() -> None:
    """One 25 A supply serves an HF and a VHF set that are not keyed together (common practice, no source)."""
    assert checking.check(read("chapel-row").station, built_in()).outcome == "sound"
