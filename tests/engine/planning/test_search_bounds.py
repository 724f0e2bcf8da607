"""The search ends: many loads are planned, and what would take too long is given up with a word."""

from typing import Any

from engine.model import complete
from engine.model.layout import lay_out
from engine.planning import plan
from engine.planning.problem import Problem
from engine.planning.search import Seeking

KINDS = ("vhf-50w", "hf-100w", "lamp", "tuner")


def many(number: int) -> str:
    """A station of so many loads of four kinds."""
    return "".join(f'[[load]]\nid = "load{n}"\nclass = "{KINDS[n % 4]}"\n' for n in range(number))


def test_twelve_loads_are_planned_through_two_strips(bench: Any) -> None:
    """More loads than one strip has ways get a second strip, and a whole plan that check accepts (this house)."""
    made = bench.plan(many(12))
    assert made.complete
    assert len(made.verdict.case.hubs) == 2
    assert bench.unsound(made.verdict) == []


def test_a_search_gives_up_after_a_count_of_work(bench: Any) -> None:
    """Past its count the search returns nothing and says that it gave up; the count is the same everywhere."""
    station = lay_out(bench.station(many(6)), bench.shelf)
    case, _ = complete.complete(station, bench.shelf)
    seeking = Seeking([Problem(station, case, bench.shelf)], most=50)
    assert seeking.run() is None
    assert seeking.gave_up
    assert seeking.work == 51


def test_a_search_that_is_out_of_date_stops(bench: Any) -> None:
    """Told to stop, a plan ends without a filling and says what to do (this house)."""
    made = plan.plan(bench.station(many(3)), bench.shelf, stop=lambda: True)
    assert not made.complete
    assert "too many combinations" in made.notes[0]
