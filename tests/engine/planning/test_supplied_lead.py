"""The lead in the box with a radio: used unless the owner says that there is none; bought is what is missing.

The sizes, lengths and fuses of the classes are common practice, no source.
"""

import itertools
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engine.model import complete
from engine.model.bill import total
from engine.model.layout import lay_out
from engine.parts import Shelf
from engine.planning import plan as planning
from engine.planning.problem import Problem, put
from engine.planning.slots.run import assembled, brings_fuse
from engine.rules import book
from engine.station import profile
from engine.station.table import Problems

sys.path.insert(0, str(Path(__file__).parent))
from exhaustive import best_of

DESK = """
use = "fixed"
[site]
mains = "120 V"
wire = "AWG"
[[load]]
id = "hf"
class = "hf-100w"
{more}
"""
CAR = """
use = "mobile"
[site]
wire = "AWG"
coldest = "-20 °C"
hottest = "60 °C"
[[load]]
id = "vhf"
class = "vhf-50w"
{more}
[[source]]
id = "car"
class = "vehicle"
part = "car"
engine = "running"
"""


def lead_of(made: Any, end: str) -> Any:
    """The lead to a load."""
    return made.verdict.case.into[end]


def test_the_lead_in_the_box_is_used_with_its_own_fuse_and_plug(bench: Any) -> None:
    """1.5 m across a desk: no cable, fuse or plug is bought, only what goes on the stripped end."""
    made = bench.plan(DESK.format(more=""))
    lead = lead_of(made, "hf")
    assert made.verdict.outcome == "sound"
    assert lead.supplied and lead.conductor.id == "12 AWG" and lead.fuse_rating == 25 and lead.fuse_legs == "both"
    bought = next(one for one in made.verdict.items if one.about == "hf-lead")
    assert bought.high == pytest.approx(2 * lead.contacts[0].price.high)
    assumed = next(one for one in made.verdict.assumptions if one.about == "hf.lead")
    assert 'lead = "none"' in assumed.find
    ends = next(one for one in made.verdict.choices if one.about == "hf-lead.contacts")
    assert "stripped end" in ends.because and "never soldered strands" in ends.because


def test_an_owner_without_it_buys_a_lead(bench: Any) -> None:
    """``lead = "none"``: cable, fuse and both ends are bought, and nothing is assumed about a lead."""
    made = bench.plan(DESK.format(more='lead = "none"'))
    lead = lead_of(made, "hf")
    assert not lead.came_with and lead.kept == frozenset()
    assert not [one for one in made.verdict.assumptions if one.about == "hf.lead"]


def test_no_lead_has_no_length(bench: Any) -> None:
    """A length beside no lead is a slip that is named."""
    with pytest.raises(Problems, match="lead_length"):
        bench.station(DESK.format(more='lead = "none"\nlead_length = "2 m"'))


def test_a_longer_way_gets_a_heavy_feed_and_the_lead_from_there(bench: Any) -> None:
    """4 m from a car's battery: a bolted fuse guards the feed, the radio's own 15 A stays in its lead."""
    made = bench.plan(CAR.format(more=""))
    lead = lead_of(made, "vhf")
    assert made.verdict.outcome == "sound"
    assert lead.tail is not None and lead.conductor.area > lead.tail.conductor.area
    assert (lead.fuse_type.id, lead.fuse_rating, lead.own_fuse.rating) == ("bolt-down", 30, 15)
    snug = next(one for one in made.verdict.findings if one.rule == "fuse-snug")
    assert "begins at 30 A" in snug.says and "own 15 A stays" in snug.says


@pytest.mark.parametrize("text", [DESK, CAR])
@pytest.mark.parametrize("more", ["", 'lead = "none"'])
def test_such_a_plan_is_read_back_as_it_was(bench: Any, text: str, more: str) -> None:
    """Written and read, it is judged the same and costs the same; reopened, it is planned the same."""
    made = bench.plan(text.format(more=more))
    read = profile.read(profile.write(made.verdict.station), bench.shelf)
    again = planning.plan(read.station, bench.shelf)
    assert again.verdict.findings == made.verdict.findings
    assert again.verdict.items == made.verdict.items
    anew = planning.plan(planning.reopen(made.verdict.station, made.verdict.choices), bench.shelf)
    assert anew.verdict.items == made.verdict.items


@pytest.mark.parametrize(("amps", "rating"), [("24 A", 25), ("25 A", 25), ("26 A", 35)])
def test_the_makers_fuse_is_the_guide_at_its_place(bench: Any, amps: str, rating: float) -> None:
    """A digital mode at 24 A keeps the maker's 25 A fuse; only a draw above it asks for more: 26 A x 1.25 = 32.5 A."""
    made = bench.plan(DESK.format(more=f'mode = "digital"\ntransmit = "{amps}"\nfuse = "25 A"'))
    assert lead_of(made, "hf").fuse_rating == rating


def test_what_is_loaded_to_exactly_its_rating_is_thin_and_the_next_size_is_bought(bench: Any, desk: Any) -> None:
    """20 A through a 20 A fuse, and 60 A through a ring terminal of 60 A (common practice)."""
    assert bench.finding(desk(run_fuse="20 A"), "fuse-carries", "lead").outcome == "thin"
    full = desk(load_transmit="30 A", load_fuse="30 A", run_fuse="30 A")
    assert bench.finding(full, "contact-carries", "lead").outcome == "thin"
    made = bench.plan(desk(load_fuse=None, run_fuse=None, run_contacts=None))
    assert lead_of(made, "hf").fuse_rating == 25


def few(shelf: Shelf) -> Shelf:
    """A shelf small enough to be gone through."""
    names = {
        "conductors": ("14 AWG", "12 AWG", "10 AWG", "8 AWG"), "insulations": ("60 °C", "80 °C", "90 °C"),
        "fuses": ("medium blade",), "supplies": ("switch-25-fixed", "switch-30-fixed"),
        "contacts": ("ring terminal", "ferrule under screw", "keyed plug"),
    }  # fmt: skip
    return replace(shelf, **{name: {key: getattr(shelf, name)[key] for key in keys} for name, keys in names.items()})


def test_the_next_better_neighbour_is_told_with_what_it_gives(bench: Any) -> None:
    """Thicker cable instead of the lead in the box: how much more it costs, and the drop that it leaves."""
    made = bench.plan(DESK.format(more=""))
    better = next(one.better for one in made.verdict.choices if one.about == "hf-lead.conductor")
    assert better is not None and better.rule == "drop" and better.more > 0
    assert better.after.value < better.before.value
    assert "10 AWG" in better.says and "a drop of" in better.says


@pytest.mark.parametrize(("wire", "size"), [("AWG", "18 AWG"), ("metric", "0.75 mm²")])
def test_a_tuner_gets_wire_that_bears_handling(bench: Any, wire: str, size: str) -> None:
    """1 A could go through 22 AWG; 18 AWG or 0.75 mm² is the least that a practitioner buys (common practice)."""
    load = f'[[load]]\nid = "tuner"\nclass = "tuner"\nlead = "none"\n[site]\nmains = "120 V"\nwire = "{wire}"\n'
    made = bench.plan(load)
    assert lead_of(made, "tuner").conductor.id == size
    choice = next(one for one in made.verdict.choices if one.about == "tuner-lead.conductor")
    assert not [one for one in choice.refused if "200 °C" in one.candidate]


SHORT = 'lead = "14 AWG"\nlead_length = "2 m"'


@pytest.mark.parametrize(
    ("way", "more"), [("0.4 m", ""), ("1.5 m", ""), ("2.4 m", ""), ("5 m", ""), ("1.5 m", SHORT), ("5 m", SHORT)]
)
def test_the_cheapest_of_all_fillings_is_found(bench: Any, shelf: Shelf, way: str, more: str) -> None:
    """Bought, kept, or behind a feed: margins and cost are those of the best of every filling (exhaustive search)."""
    small = few(shelf)
    text = DESK.format(more=more) + f'[[run]]\nid = "hf-lead"\nto = "hf"\nlength = "{way}"\n'
    station = lay_out(bench.station(text), small)
    case, _ = complete.complete(station, small)
    problem = Problem(station, case, small)
    (lead,), parts = case.leads, problem.parts(case.leads[0])
    came = case.draws[0].lead_fuse

    def cases() -> Any:
        for copper, guard, ends in itertools.product(parts.copper, parts.fuses, parts.contacts):
            fuse = (guard.item.fuse_type, guard.item.fuse_rating)
            same = came is not None and fuse == (came.family, came.rating)
            if came is None or not copper.item.supplied or brings_fuse(copper.item) is same:
                filled = put(case, assembled(lead, copper.item, guard.item, ends.item))
                yield from (put(filled, feed.item) for feed in problem.feeds(case.feeds[0]))

    best = best_of(problem, cases())
    made = planning.plan(station, small)
    assert made.complete is (best is not None)
    if best is not None:
        assert book.let_go(made.verdict.findings) == best[0]
        assert total(made.verdict.case).usual == pytest.approx(best[1], abs=1e-6)
