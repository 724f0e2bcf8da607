"""How far each choice carries, against limits solved by hand and against a walk step by step."""

import random
from dataclasses import replace
from typing import Any

import pytest

from engine.advice import tolerances
from engine.advice.tolerances import AIR, LENGTH, ROOM, SET_POINT, Reach
from engine.findings import UNSOUND
from engine.planning import upgrade
from engine.rules import book
from engine.rules.check import check


def one(found: tuple[Reach, ...], about: str, what: str) -> Reach:
    """The one reach of a part."""
    (row,) = (row for row in found if (row.about, row.what) == (about, what))
    return row


def of(bench: Any, text: str) -> tuple[Reach, ...]:
    """How far the choices of a station file carry."""
    return tolerances.reach(bench.check(text).case)


def test_the_longest_lead_by_hand(bench: Any, desk: Any) -> None:
    """20 A in 10 AWG, 0.5 V aimed for: solved for the length by hand.

    0.9989 ohm/1000 ft and 2 % for stranding (NBS Handbook 100), 22 °C, fuse 4 mohm (four fifths of 125 mV at 25 A),
    contacts 2.4 mohm: 2 L r = 0.5 / 20 - 6.4 mohm.
    """
    metre = 0.9989 / 304.8 * 1.02 * (1 + 0.00393 * 2)
    target = 0.0362 * 13.8
    by_hand = (target / 20 - 0.0064) / (2 * metre)
    row = one(of(bench, desk()), "lead", LENGTH)
    assert row.keeps is not None and row.keeps.finding.rule == "drop"
    assert row.keeps.value == pytest.approx(by_hand, rel=0.01)
    assert row.holds is not None and row.holds.value > row.keeps.value


def test_where_the_floor_breaks_by_hand(bench: Any, desk: Any) -> None:
    """A floor of 12.9 V is passed before any other rule: solved for the length by hand.

    13.8 V less 1 % and 1 % is 13.525 V, so 0.625 V may be lost at 20 A with 20 % as built: 26.0 mohm, of which fuse
    5 mohm (125 mV at 25 A, ISO 8820-3) and contacts 2.4 mohm; 10 AWG in 105 °C insulation carries 60 A (33 CFR
    183.425), heated by sqrt-duty voice of 9.6 A rms in 30 °C air: 32 °C.
    """
    low = 13.8 * 0.99 * 0.99
    rms = (1.5**2 + 2 * 1.5 * 18.5 * 0.2**0.5 + 18.5**2 * 0.2) ** 0.5
    celsius = 30 + 75 * (rms / 60) ** 2
    metre = 0.9989 / 304.8 * 1.02 * (1 + 0.00393 * (celsius - 20))
    by_hand = ((low - 12.9) / 20 / 1.2 - 0.005 - 0.0024) / (2 * metre)
    text = desk(load_window=None, load_lowest="12.9 V", load_highest="15.9 V")
    row = one(of(bench, text), "lead", LENGTH)
    assert row.holds is not None and row.holds.finding.rule == "window-floor"
    assert row.holds.value == pytest.approx(by_hand, rel=0.01)


def test_the_lowest_set_point_by_hand(bench: Any, desk: Any) -> None:
    """The floor of 11.73 V plus what is lost, over 0.99 and 0.99 of tolerance and sag (arithmetic)."""
    row = one(of(bench, desk()), "psu", SET_POINT)
    lost = 13.8 * 0.99**2 - bench.finding(desk(), "window-floor", "hf").figure.value
    assert row.holds is not None and row.holds.value == pytest.approx((13.8 * 0.85 + lost) / 0.99**2, abs=0.01)
    assert row.keeps is not None and row.keeps.value == pytest.approx((13.8 * 0.85 + 0.3 + lost) / 0.99**2, abs=0.01)


def test_the_room_for_another_load_by_hand(bench: Any, desk: Any) -> None:
    """30 A for 20 A at once with 25 % to spare leaves 30 / 1.25 - 20 = 4 A; the rating itself leaves 10 A."""
    row = one(of(bench, desk(wishes_headroom="25 %")), "psu", ROOM)
    assert row.keeps is not None and row.keeps.value == pytest.approx(4.0, abs=0.05)
    assert row.holds is not None and row.holds.value == pytest.approx(10.0, abs=0.05)


def test_the_hottest_air_by_hand(bench: Any, desk: Any) -> None:
    """A fuse of 25 A in 10 AWG of 60 °C (40 A at 30 °C): 40 sqrt((60 - T) / 30) = 25 at 48.3 °C (33 CFR 183.425)."""
    row = one(of(bench, desk(run_insulation="60 °C")), "site", AIR)
    assert row.keeps is not None and row.keeps.finding.rule == "fuse-guards"
    assert row.keeps.value == pytest.approx(60 - 30 * (25 / 40) ** 2, abs=0.1)


def test_the_longest_lead_of_an_amplifier(bench: Any) -> None:
    """A 300 W amplifier on a supply of its own: its lead has a longest length; check agrees on both sides."""
    first = bench.worked("harbour-street").verdict.station
    made = upgrade.upgrade(upgrade.with_load(upgrade.owned(first), "amp-300w", bench.shelf), bench.shelf)
    assert made.complete, made.notes
    lead = next(one for one in made.verdict.case.leads if one.end == "amp")
    row = tolerances.longest(made.verdict.case, lead.id)
    assert row.holds is not None and lead.length < row.holds.value < 20
    outcomes = []
    for metres in (row.holds.value * 0.99, row.holds.value * 1.02):
        runs = tuple(replace(r, length=metres) if r.id == lead.id else r for r in made.verdict.station.runs)
        found = check(replace(made.verdict.station, runs=runs), bench.shelf).findings
        outcomes.append(any(one.outcome == UNSOUND or one.turns_on for one in found))
    assert outcomes == [False, True]


@pytest.mark.parametrize("name", ["chapel-row", "windmill-hill"])
def test_no_rule_breaks_before_its_limit(bench: Any, name: str) -> None:
    """Random lengths up to the limit keep every rule that the shortest lead keeps (the same rules, asked afresh)."""
    case = bench.worked(name).verdict.case
    dice = random.Random(7)
    for lead in case.leads:
        row = tolerances.longest(case, lead.id)
        most = row.keeps.value if row.keeps else row.end
        for _ in range(8):
            metres = dice.uniform(tolerances.SHORTEST, most)
            leads = tuple(replace(one, length=metres) if one.id == lead.id else one for one in case.leads)
            assert all(map(book.kept, book.judged(replace(case, leads=leads))))


def test_a_station_with_gaps_says_nothing_of_them(bench: Any, desk: Any) -> None:
    """A lead without a conductor has no longest length (this house)."""
    found = of(bench, desk(run_conductor=None))
    assert not [row for row in found if row.what in (LENGTH, AIR)]
