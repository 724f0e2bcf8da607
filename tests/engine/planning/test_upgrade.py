"""The second door: what is owned is kept where the rules accept it, replaced where they refuse it."""

from dataclasses import replace
from typing import Any

import pytest

from engine.planning import plan as planning
from engine.planning import upgrade
from engine.station import profile
from engine.station.model import Load

STATIONS = ("harbour-street", "orchard-lane", "lighthouse-loft", "windmill-hill")
ADDED = ("hf-qrp", "vhf-50w", "lamp", "amp-160w-vhf", "amp-300w", "amp-500w")


def standing(bench: Any, name: str) -> Any:
    """A worked station, planned, bought and owned."""
    return upgrade.owned(bench.worked(name).verdict.station)


def cost(made: Any) -> float:
    """The middle of what is to be bought."""
    return sum(one.low + one.high for one in made.verdict.items) / 2


@pytest.mark.parametrize("name", STATIONS)
def test_a_sound_station_to_which_nothing_is_added_stays_and_costs_nothing(bench: Any, name: str) -> None:
    """Nothing refused, nothing replaced, nothing bought (this house)."""
    station = standing(bench, name)
    made = upgrade.upgrade(station, bench.shelf)
    assert made.verdict.station == station
    assert cost(made) == 0
    assert all(note.endswith("stays") for note in made.notes)


@pytest.mark.parametrize("added", ADDED)
@pytest.mark.parametrize("name", ["harbour-street", "orchard-lane"])
def test_an_upgrade_is_never_refused_and_never_dearer_than_all_new(bench: Any, name: str, added: str) -> None:
    """Check refuses nothing in it; and keeping what one may costs no more than buying everything (arithmetic)."""
    station = upgrade.with_load(standing(bench, name), added, bench.shelf)
    made = upgrade.upgrade(station, bench.shelf)
    assert made.complete, made.notes
    again = profile.read(profile.write(made.verdict.station), bench.shelf).station
    from engine.rules.check import check

    assert bench.unsound(check(again, bench.shelf)) == []
    bare = replace(station, sources=(), strips=(), runs=())
    fresh = planning.plan(bare, bench.shelf)
    if fresh.complete and fresh.let_go >= made.let_go:
        assert cost(made) <= cost(fresh) + 1e-6


def test_what_the_wall_cannot_give_is_refused_with_its_figure(bench: Any) -> None:
    """50 A at 50 V asks some 13 A of 230 V: a 10 A circuit refuses it (power law; local code decides)."""
    station = upgrade.with_load(standing(bench, "lighthouse-loft"), "amp-50v-1kw", bench.shelf)
    made = upgrade.upgrade(station, bench.shelf)
    assert not made.complete
    assert any("wall refuses" in note and "the circuit gives 10.0 A" in note for note in made.notes)


def test_a_twelve_volt_amplifier_on_a_one_radio_station(bench: Any) -> None:
    """The same rules refuse the shared supply with figures; the radio's own parts stay; the step has a price.

    50 A over 1.2 m and back lose 0.40 V in 6 mm² (3.30 ohm/km, IEC 60228 class 5) and 0.59 V in 4 mm² (4.95 ohm/km).
    """
    station = upgrade.with_load(standing(bench, "harbour-street"), "amp-300w", bench.shelf)
    made = upgrade.upgrade(station, bench.shelf)
    text = "\n".join(made.notes)
    assert "supply of its own" in text
    assert "must give 72.6 A with hf + amp keyed" in text
    assert "supply stays" in text
    assert "hf-lead stays" in text
    assert cost(made) > 0
    lead = next(one for one in made.verdict.case.leads if one.end == "amp")
    assert lead.length <= 1.22 and lead.conductor.area >= 6
    assert lead.fuse_rating >= 50


def test_a_thirty_two_volt_fuse_never_enters_a_fifty_volt_line(bench: Any) -> None:
    """A 50 V amplifier gets 58 V fuses, and a 32 V blade put there is unsound (ISO 8820-3: 32 V and 58 V)."""
    station = upgrade.with_load(standing(bench, "harbour-street"), "amp-50v-1kw", bench.shelf)
    made = upgrade.upgrade(station, bench.shelf)
    lead = next(one for one in made.verdict.case.leads if one.end == "amp")
    assert lead.fuse_type.volts >= 58
    runs = tuple(
        replace(one, fuse_type="large blade") if one.end == "amp" else one for one in made.verdict.station.runs
    )
    from engine.rules.check import check

    wrong = check(replace(made.verdict.station, runs=runs), bench.shelf)
    assert bench.only(wrong, "fuse-volts", lead.id).outcome == "unsound"


def test_what_cannot_stay_is_replaced_piece_by_piece(bench: Any) -> None:
    """A second set on a supply too small: the supply goes, cable and fuse stay, contacts follow the new posts."""
    station = standing(bench, "harbour-street")
    more = Load("extra", equipment="amp-160w-vhf")
    made = upgrade.upgrade(replace(station, loads=(*station.loads, more)), bench.shelf)
    kept = [note for note in made.notes if note.endswith("stays") or "kept:" in note]
    assert kept
    assert bench.unsound(made.verdict) == []


def test_no_missing_fuse_is_kept(bench: Any) -> None:
    """Mending the unsound example puts a fuse where there is none (33 CFR 183.455)."""
    from catalog.shelf import STATIONS as folder

    text = (folder / "quarry-road.toml").read_text(encoding="utf-8")
    made = upgrade.upgrade(upgrade.owned(profile.read(text, bench.shelf).station), bench.shelf)
    assert all(one.fuse_rating for one in made.verdict.case.leads)
    assert made.verdict.outcome in ("sound", "thin")
