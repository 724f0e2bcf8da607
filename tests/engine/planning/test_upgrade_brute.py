"""Upgrades and plans with two sources against brute force: every part kept or replaced in every way, judged alike."""

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
from engine.model.case import CONTACTS, COPPER, FUSE, WHOLE, Case, Feed, Lead
from engine.parts import Shelf
from engine.planning import plan, upgrade
from engine.planning.problem import Problem
from engine.station import shapes
from engine.station.model import Load, Run, Site, Source, Station, Wishes

sys.path.insert(0, str(Path(__file__).parent))
from exhaustive import Score, best_of

LEAST, MOST = 20, 4000
"""Fillings of one station that are gone through; smaller and larger draws are drawn again."""

SIZES = ["14 AWG", "12 AWG", "10 AWG", "8 AWG"]
ENDS = ["ring terminal", "keyed plug", "genderless 30 A", "bare strands under screw"]


def tiny_shelf(dice: random.Random, shelf: Shelf) -> Shelf:
    """Two or three rows of each table, so that everything can be tried."""

    def few(table: str, ids: list[str]) -> dict[str, Any]:
        return {one: getattr(shelf, table)[one] for one in ids}

    family = shelf.fuses[dice.choice(["mini blade", "medium blade", "large blade"])]
    ratings = sorted(dice.sample([one for one in family.ratings if 10 <= one <= 40], 2))
    big = [one.id for one in shelf.supplies.values() if 20 <= one.continuous <= 75 and one.volts < 15]
    return replace(
        shelf,
        conductors=few("conductors", dice.sample(SIZES, 2)),
        insulations=few("insulations", ["60 °C", *dice.sample(["105 °C"], dice.randint(0, 1))]),
        fuses={family.id: replace(family, ratings=tuple(ratings))},
        contacts=few("contacts", list({"ring terminal", dice.choice(ENDS)})),
        supplies=few("supplies", dice.sample(big, dice.randint(1, 2))),
    )


def random_station(dice: random.Random, shelf: Shelf, owning: float) -> Station:
    """One or two sources with a load or two, parts of it owned with the chance ``owning`` and else open."""
    count = dice.choice([1, 2, 2])
    loads = tuple(
        Load(
            f"load{n}", window=shapes.window(f"13.8 V ± {dice.choice([10, 15])} %"), receive=1.0,
            transmit=dice.choice([8.0, 16.0, 22.0]), mode=dice.choice(["ssb", "fm"]), keyed=0.3,
            follows=dice.choice(["steady current", "steady power"]),
        )
        for n in range(count)
    )  # fmt: skip
    sources = tuple(_source(dice, f"psu{n}", owning) for n in range(dice.choice([1, 2, 2])))
    runs = tuple(_run(dice, shelf, dice.choice(sources).id, one.id, owning) for one in loads)
    site = Site(mains=120.0, circuit=15.0, coldest=5.0, hottest=35.0, wire="AWG")
    return Station("random", "fixed", site=site, wishes=Wishes(headroom=dice.choice([None, 0.1])),
                   loads=loads, sources=sources, runs=runs)  # fmt: skip


def _source(dice: random.Random, id_: str, owning: float) -> Source:
    if dice.random() >= owning:
        return Source(id_)
    amps = dice.choice([10.0, 20.0, 30.0])
    return Source(id_, volts=13.8, continuous=amps, peak=amps * 1.2, over_voltage=True, power_factor=0.9, owned=True)


def _run(dice: random.Random, shelf: Shelf, start: str, end: str, owning: float) -> Run:
    length = dice.choice([0.5, 1.0, 2.0])
    if dice.random() >= owning:
        return Run(f"{end}-lead", start, end, length=length)
    fuse = dice.choice([*next(iter(shelf.fuses.values())).ratings, 0.0])
    pair = tuple(dice.choices(list(shelf.contacts), k=2))
    return Run(
        f"{end}-lead", start, end, length=length, conductor=dice.choice(list(shelf.conductors)),
        insulation=dice.choice([60.0, 60.0, None]), fuse=fuse, contacts=pair, owned=True,
    )  # fmt: skip


@dataclass(frozen=True)
class Trial:
    """A station on its shelf, what its owner has, the case with that opened, and what could stand in each place."""

    station: Station
    shelf: Shelf
    own: dict[str, Any]
    opened: Case
    places: list[list[Any]]

    @property
    def size(self) -> int:
        """How many fillings there are."""
        count = 1
        for one in self.places:
            count *= len(one)
        return count

    def cases(self) -> Iterator[Case]:
        """Every filling as a whole case."""
        feeds = len(self.opened.feeds)
        for parts in itertools.product(*self.places):
            yield replace(self.opened, feeds=parts[:feeds], leads=parts[feeds:])


def trial(seed: int, shelf: Shelf, keeping: bool) -> Trial:
    """The random trial of a seed; with ``keeping`` what is owned may stay or go, else it is given."""
    dice = random.Random(seed)
    while True:
        small = tiny_shelf(dice, shelf)
        made = _trial(random_station(dice, small, 0.75 if keeping else 0.25), small, keeping)
        if LEAST <= made.size <= MOST:
            return made


def _trial(station: Station, shelf: Shelf, keeping: bool) -> Trial:
    case, _ = complete.complete(station, shelf)
    own: dict[str, Any] = {}
    if keeping:
        own |= {one.id: one for one in case.feeds if one.owned}
        own |= {one.id: _really_there(one) for one in case.leads if one.kept}
    opened = replace(
        case,
        feeds=tuple(replace(one, missing=("continuous",), owned=False) if one.id in own else one for one in case.feeds),
        leads=tuple(_empty(one) if one.id in own else one for one in case.leads),
    )
    places: list[list[Any]] = [_feeds(one, own.get(one.id), shelf) for one in opened.feeds]
    places += [_leads(one, own.get(one.id), opened, shelf) for one in opened.leads]
    return Trial(station, shelf, own, opened, places)


def _really_there(lead: Lead) -> Lead:
    gone = {FUSE} if not lead.fuse_rating else set()
    return replace(lead, kept=WHOLE - gone)


def _empty(lead: Lead) -> Lead:
    return replace(lead, conductor=None, fuse_type=None, fuse_rating=None, contacts=None, kept=frozenset())


def _feeds(feed: Feed, own: Feed | None, shelf: Shelf) -> list[Feed]:
    """A source as given; or every row, two of it where it shares, and the owner's own."""
    if not feed.missing:
        return [feed]
    counts = [(row, 1) for row in shelf.supplies.values()] + [(row, 2) for row in shelf.supplies.values() if row.shares]
    where = sources.Where(shelf, 10, 40)
    made = [sources.feed(Source(feed.id, part=row.id, parallel=count), where, Notebook()) for row, count in counts]
    made += [replace(one, locked=True) for one in made if one.adjustable]
    return [*made, own] if own else made


def _leads(lead: Lead, own: Lead | None, case: Case, shelf: Shelf) -> list[Lead]:
    """A lead as given; or every conductor, fuse and pair of contacts, and the owner's own of each."""
    if not lead.missing:
        return [lead]
    coppers: list[Any] = [
        (size, skin, frozenset()) for size in shelf.conductors.values() for skin in shelf.insulations.values()
        if size.system == case.place.wire and skin.sold
    ]  # fmt: skip
    guards: list[Any] = [(family, one, frozenset()) for family in shelf.fuses.values() for one in family.ratings]
    ends: list[Any] = [(pair, frozenset()) for pair in itertools.product(shelf.contacts.values(), repeat=2)]
    if own is not None:
        coppers.append((own.conductor, own.insulation, frozenset([COPPER])))
        guards += [(own.fuse_type, own.fuse_rating, frozenset([FUSE]))] if own.fuse_rating else []
        ends.append((own.contacts, frozenset([CONTACTS])))
    return [
        replace(lead, conductor=size, insulation=skin, fuse_type=family, fuse_rating=amps, contacts=pair,
                kept=first | second | third)
        for (size, skin, first), (family, amps, second), (pair, third) in itertools.product(coppers, guards, ends)
    ]  # fmt: skip


def cheapest(one: Trial) -> Score | None:
    """The least that is let go of, and the least that costs."""
    return best_of(Problem(one.station, one.opened, one.shelf, one.own), one.cases())


UPGRADES = pytest.mark.heavy(usual=15, full=30)
PLANS = pytest.mark.heavy(usual=10, full=20, first=1000)


@UPGRADES
def test_an_upgrade_costs_what_brute_force_finds(seed: int, shelf: Shelf) -> None:
    """With owned parts and one or two sources, the step costs the least there is (exhaustive search)."""
    one = trial(seed, shelf, keeping=True)
    best = cheapest(one)
    made = upgrade.upgrade(one.station, one.shelf)
    assert made.complete is (best is not None)
    if best is not None:
        assert made.let_go == best[0]
        assert total(made.verdict.case).usual == pytest.approx(best[1], abs=1e-6)


@PLANS
def test_a_plan_with_given_parts_and_two_sources_costs_what_brute_force_finds(seed: int, shelf: Shelf) -> None:
    """What is given stays as it is, what is open is filled at the least cost (exhaustive search)."""
    one = trial(seed, shelf, keeping=False)
    best = cheapest(one)
    made = plan.plan(one.station, one.shelf)
    assert made.complete is (best is not None)
    if best is not None:
        assert made.let_go == best[0]
        assert total(made.verdict.case).usual == pytest.approx(best[1], abs=1e-6)


@UPGRADES
def test_the_trials_are_of_every_sort(seeds: range, shelf: Shelf) -> None:
    """Some keep all, some keep part, some replace all, some find nothing, and many have two sources."""
    trials = [trial(seed, shelf, keeping=True) for seed in seeds]
    sorts = Counter(sort(one, upgrade.upgrade(one.station, one.shelf)) for one in trials)
    assert min(sorts[name] for name in ("kept", "some", "replaced", "none")) >= len(seeds) // 15, sorts
    assert sum(len(one.station.sources) > 1 for one in trials) >= len(seeds) // 3


def sort(one: Trial, made: plan.Plan) -> str:
    """What becomes of the owner's parts; that nothing is cheaper is what brute force shows above."""
    if not made.complete:
        return "none"
    stays = sum(part == one.own.get(part.id) for part in made.verdict.case.parts)
    return "kept" if stays == len(one.own) else "some" if stays else "replaced"
