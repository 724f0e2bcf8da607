"""The planner against brute force where the source is a battery still to be chosen from a small shelf."""

import itertools
import random
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from engine.model import complete, sources
from engine.model.assumptions import Notebook
from engine.model.bill import total
from engine.model.case import Case, Lead
from engine.model.layout import lay_out
from engine.parts import Shelf
from engine.planning import plan
from engine.planning.problem import Problem
from engine.station import shapes
from engine.station.model import Load, Run, Site, Source, Station, Wishes

sys.path.insert(0, str(Path(__file__).parent))
from exhaustive import best_of

HEAVY = pytest.mark.heavy(usual=12, full=24)
MOST = 3000
"""Fillings of one station that brute force goes through; larger draws are drawn again."""


def small_shelf(dice: random.Random, shelf: Shelf) -> Shelf:
    """Two or three batteries of one or more kinds, a few sizes of wire, fuses and contacts."""

    def few(table: str, ids: list[str]) -> dict[str, Any]:
        return {one: getattr(shelf, table)[one] for one in ids}

    likely = [one.id for one in shelf.batteries.values() if one.amp_hours >= 12 and one.chemistry != "li-ion-4"]
    post = shelf.fuses["battery post"]
    ratings = tuple(sorted(dice.sample([one for one in post.ratings if one <= 100], 2)))
    blade = shelf.fuses["large blade"]
    return replace(
        shelf,
        batteries=few("batteries", dice.sample(likely, dice.choice([2, 3, 3]))),
        conductors=few("conductors", dice.sample(["12 AWG", "10 AWG", "8 AWG", "6 AWG"], 3)),
        insulations=few("insulations", ["60 °C", "105 °C"]),
        fuses={"battery post": replace(post, ratings=ratings), "large blade": replace(blade, ratings=(30.0,))},
        contacts=few("contacts", ["ring terminal", dice.choice(["genderless 45 A", "ferrule under screw"])]),
    )


def random_station(dice: random.Random) -> Station:
    """One set on a battery that is not chosen yet, with or without hours wished for."""
    share = dice.choice([0.1, 0.15, 0.15, 0.2])
    load = Load(
        "hf", window=shapes.window(f"13.8 V ± {share:.0%}"), receive=dice.choice([0.3, 1.0]),
        transmit=dice.choice([4.0, 10.0, 20.0]), mode=dice.choice(["ssb", "fm", "carrier"]),
        keyed=dice.choice([0.1, 0.25, 0.5]), follows=dice.choice(["steady current", "steady power"]),
    )  # fmt: skip
    source = Source(
        "pack", technology="battery", temperature=dice.choice([-10.0, 5.0, 25.0]),
        depth=dice.choice([None, 0.3, 0.8]), charge=dice.choice([None, 0.8]),
    )  # fmt: skip
    run = Run("lead", "pack", "hf", length=dice.choice([0.5, 1.0, 3.0]))
    return Station(
        "random", "battery", site=Site(coldest=5.0, hottest=35.0, wire="AWG"), loads=(load,), sources=(source,),
        runs=(run,), wishes=Wishes(hours=dice.choice([None, 1.0, 3.0, 8.0])),
    )  # fmt: skip


@dataclass(frozen=True)
class Trial:
    """One random station on its shelf, laid out, with its case."""

    station: Station
    shelf: Shelf
    case: Case

    def leads(self) -> list[Lead]:
        """Everything that could stand in the place of the lead."""
        (open_,) = self.case.leads
        guards = [(family, rating) for family in self.shelf.fuses.values() for rating in family.ratings]
        skins = [one for one in self.shelf.insulations.values() if one.sold]
        ends = itertools.product(self.shelf.contacts.values(), repeat=2)
        every = itertools.product(self.shelf.conductors.values(), skins, guards, ends)
        return [
            replace(open_, conductor=size, insulation=skin, fuse_type=family, fuse_rating=rating, contacts=pair)
            for size, skin, (family, rating), pair in every
        ]

    def cases(self) -> Iterator[Case]:
        """Every battery with every lead."""
        (source,), place = self.station.sources, self.case.place
        where = sources.Where(self.shelf, place.coldest, place.hottest)
        feeds = [sources.feed(replace(source, part=id_), where, Notebook()) for id_ in self.shelf.batteries]
        for feed, lead in itertools.product(feeds, self.leads()):
            yield replace(self.case, feeds=(feed,), leads=(lead,))


def trial(seed: int, shelf: Shelf) -> Trial:
    """The random trial of a seed."""
    dice = random.Random(seed)
    small = small_shelf(dice, shelf)
    station = lay_out(random_station(dice), small)
    return Trial(station, replace(small, boosters={}), complete.complete(station, small)[0])


@HEAVY
def test_the_plan_costs_what_brute_force_finds(seed: int, shelf: Shelf) -> None:
    """Least cost equal to 1e-6, and infeasible in both or neither (exhaustive search)."""
    one = trial(seed, shelf)
    cases = list(one.cases())
    assert len(cases) <= MOST
    best = best_of(Problem(one.station, one.case, one.shelf), cases)
    made = plan.plan(one.station, one.shelf)
    assert made.complete is (best is not None)
    if best is None:
        return
    assert made.let_go == best[0]
    assert total(made.verdict.case).usual == pytest.approx(best[1], abs=1e-6)


@HEAVY
def test_the_trials_are_of_every_sort(seeds: range, shelf: Shelf) -> None:
    """Among the trials above are plans with all margins, plans without, and stations that nothing can mend."""
    sorts = Counter(sort(plan.plan(one.station, one.shelf)) for one in (trial(seed, shelf) for seed in seeds))
    assert min(sorts[name] for name in ("strict", "relaxed", "none")) >= len(seeds) // 12, sorts


def sort(made: plan.Plan) -> str:
    """How a trial ends; that brute force ends so too is what the test above shows."""
    return "none" if not made.complete else "relaxed" if any(made.let_go) else "strict"
