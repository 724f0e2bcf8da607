"""Supplies side by side: refused unless they share by design, and proposed only where the catalogue says so."""

from dataclasses import replace
from typing import Any

import pytest

from engine.model.bill import total
from engine.planning import plan as planning
from engine.rules.check import check
from engine.station import profile

AMP = '[site]\nmains = "240 V"\ncircuit = "30 A"\nwire = "AWG"\n[[load]]\nid = "amp"\nclass = "amp-500w"\n{more}'
TWO = """
[[source]]
id = "psu"
volts = "13.8 V"
continuous = "40 A"
peak = "45 A"
limit = "50 A"
over_voltage = true
outlets = ["stud"]
owned = true
parallel = 2
{shares}
"""


def test_two_that_do_not_share_are_refused_and_count_as_one(bench: Any) -> None:
    """Join supplies only where the maker offers it; else split the loads (common practice, no source)."""
    verdict = bench.check(AMP.format(more="") + TWO.format(shares="") + '[[run]]\nid = "lead"\nto = "amp"\n')
    assert bench.only(verdict, "supply-parallel", "psu").outcome == "unsound"
    assert "split the loads" in bench.only(verdict, "supply-parallel", "psu").says
    assert verdict.case.feeds[0].continuous == 40


def test_two_that_share_give_nine_tenths_of_their_sum(bench: Any) -> None:
    """2 x 40 A shared to a tenth give 72 A for hours and 81 A keyed; a short meets both limits (common practice)."""
    verdict = bench.check(
        AMP.format(more="") + TWO.format(shares="shares = true") + '[[run]]\nid = "lead"\nto = "amp"\n'
    )
    (feed,) = verdict.case.feeds
    assert bench.only(verdict, "supply-parallel", "psu").outcome == "sound"
    assert (feed.continuous, feed.peak, feed.limit) == (pytest.approx(72), pytest.approx(81), 100)
    assert bench.only(verdict, "supply-peak", "psu").outcome == "sound"


def test_a_plan_joins_none_unless_the_row_says_that_they_share(bench: Any) -> None:
    """With one supply class too small, two are planned only if the class shares by design (common practice)."""
    row = bench.shelf.supplies["switch-60-sharing"]
    text = AMP.format(more='transmit = "75 A"\n')
    for shares in (True, False):
        shelf = replace(bench.shelf, supplies={row.id: replace(row, shares=shares)})
        made = planning.plan(bench.station(text), shelf)
        feeds = [(one.parallel, one.shares) for one in made.verdict.case.feeds if not one.missing]
        assert feeds == ([(2, True)] if shares else [])
        assert made.complete is shares
    assert [one.id for one in bench.shelf.supplies.values() if one.shares] == [row.id]


def test_what_is_planned_in_parallel_is_written_read_and_priced_as_several(bench: Any) -> None:
    """The profile holds the rating of one and how many; read again it is the same station at twice the price."""
    row = bench.shelf.supplies["switch-60-sharing"]
    shelf = replace(bench.shelf, supplies={row.id: row})
    made = planning.plan(bench.station(AMP.format(more='transmit = "75 A"\n')), shelf)
    (source,) = made.verdict.station.sources
    assert (source.parallel, source.shares, source.continuous) == (2, True, 60)
    again = check(profile.read(profile.write(made.verdict.station), shelf).station, shelf)
    assert again.case.feeds[0].continuous == pytest.approx(108)
    assert bench.unsound(again) == []
    one = replace(made.verdict.case, leads=())
    assert total(one).usual == pytest.approx(2 * row.price.usual)
    anew = planning.plan(planning.reopen(made.verdict.station, made.verdict.choices), shelf)
    assert anew.verdict.station.sources[0].parallel == 2
