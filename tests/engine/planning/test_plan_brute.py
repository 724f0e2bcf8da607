"""The planner against brute force: every filling of every gap, in order of cost, judged by the same rules."""

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
from engine.model.case import Case, Feed, Hub, Lead
from engine.model.layout import lay_out
from engine.parts import Shelf
from engine.planning import plan
from engine.planning.cost import SCALE, Pricing
from engine.planning.judge import Judge
from engine.planning.problem import Problem
from engine.rules import book, wire
from engine.rules.book import NOTHING
from engine.rules.check import check
from engine.station import profile, shapes
from engine.station.model import Load, Run, Site, Source, Station, Strip, Wishes

sys.path.insert(0, str(Path(__file__).parent))
from exhaustive import best_of

MOST = 5000
"""Fillings of one station that brute force goes through; larger draws are drawn again."""

HEAVY = pytest.mark.heavy(usual=30, full=90)


def some(dice: random.Random, rows: list[str], least: int, most: int, always: tuple[str, ...] = ()) -> list[str]:
    """A few of ``rows``, and those that must be there."""
    return [*always, *dice.sample([one for one in rows if one not in always], dice.randint(least, most))]


def small_shelf(dice: random.Random, shelf: Shelf) -> Shelf:
    """A few rows of each table, fuse families cut down to a few ratings."""

    def few(table: str, ids: list[str]) -> dict[str, Any]:
        return {one: getattr(shelf, table)[one] for one in ids}

    fuses = {}
    for name in some(dice, ["mini blade", "medium blade", "large blade", "bolt-down"], 1, 2):
        row = shelf.fuses[name]
        useful = [one for one in row.ratings if 3 <= one <= 50]
        fuses[name] = replace(row, ratings=tuple(sorted(dice.sample(useful, 3))))
    liked = ["ferrule under screw", "keyed plug", "genderless 30 A", "genderless 45 A"]
    big = [one.id for one in shelf.supplies.values() if one.continuous >= 20 and one.volts < 15]
    bad = ["bare strands under screw", "accessory plug", "genderless 15 A"]
    return replace(
        shelf,
        conductors=few("conductors", some(dice, [*AWG, *METRIC], 2, 4)),
        insulations=few("insulations", some(dice, ["75 °C", "90 °C", "105 °C"], 0, 2, ("60 °C",))),
        fuses=fuses,
        contacts=few("contacts", some(dice, liked, 0, 1, ("ring terminal",)) + some(dice, bad, 0, 1)),
        supplies=few("supplies", some(dice, list(shelf.supplies), 1, 2, (dice.choice(big),))),
        strips=few("strips", some(dice, list(shelf.strips), 1, 2)),
    )


AWG = ["16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG"]
METRIC = ["1.5 mm²", "2.5 mm²", "4 mm²", "6 mm²"]


def maybe(dice: random.Random, chance: float, value: Any) -> Any:
    """``value``, or a gap."""
    return value if dice.random() < chance else None


def random_load(dice: random.Random, number: int) -> Load:
    """A transmitter, a converter or a lamp, with its own figures."""
    share = dice.choice([0.1, 0.15, 0.15, 0.2])
    window = shapes.window(f"13.8 V ± {share:.0%}")
    fuse = maybe(dice, 0.3, dice.choice([10.0, 20.0, 25.0]))
    if dice.random() < 0.6:
        return Load(
            f"load{number}", window=window, receive=1.0, transmit=dice.choice([4.0, 8.0, 12.0, 20.0, 22.0]),
            mode=dice.choice(["ssb", "cw", "fm", "digital"]), keyed=dice.choice([0.2, 0.5]),
            follows=dice.choice(["steady current", "steady power"]), fuse=fuse,
            inlet=maybe(dice, 0.2, "keyed socket"),
        )  # fmt: skip
    follows = dice.choice(["steady power", "resistive"])
    return Load(f"load{number}", window=window, receive=1.0, busy=dice.choice([2.0, 5.0]), follows=follows, fuse=fuse)


def random_run(dice: random.Random, shelf: Shelf, start: str, end: str) -> Run:
    """A lead, any part of it given, owned or open."""
    pair = tuple(dice.choices(list(shelf.contacts), k=2))
    return Run(
        f"{end}-lead", start, end, length=dice.choice([0.5, 1.0, 2.0, 4.0]),
        conductor=maybe(dice, 0.15, dice.choice(list(shelf.conductors))),
        insulation=maybe(dice, 0.3, 60.0),
        fuse=maybe(dice, 0.1, dice.choice([10.0, 25.0, 30.0])),
        contacts=maybe(dice, 0.1, pair),
        owned=dice.random() < 0.05,
    )  # fmt: skip


def random_station(dice: random.Random, shelf: Shelf) -> Station:
    """One to three loads, with or without a strip, on a supply that is open, half described or owned."""
    count = dice.choice([1, 1, 2, 2, 3])
    loads = tuple(random_load(dice, number) for number in range(count))
    strip = count > 1 and dice.random() < 0.4
    source = dice.choice([
        Source("psu"),
        Source("psu"),
        Source("psu", technology=dice.choice(["linear", "switch-mode"])),
        Source("psu", volts=13.8, continuous=30.0, peak=35.0, over_voltage=True, owned=True),
    ])  # fmt: skip
    hub = (Strip("strip", part=maybe(dice, 0.5, dice.choice(list(shelf.strips)))),) if strip else ()
    start = "strip" if strip else "psu"
    runs = [random_run(dice, shelf, start, one.id) for one in loads]
    if strip:
        runs.append(random_run(dice, shelf, "psu", "strip"))
    together = (tuple(one.id for one in loads),) if count > 1 and dice.random() < 0.15 else ()
    return Station(
        "random", "fixed", site=Site(mains=dice.choice([120.0, 230.0]), circuit=15.0, coldest=5.0, hottest=35.0),
        wishes=Wishes(headroom=dice.choice([None, 0.0, 0.25]), prefer=dice.choice([None, None, None, "light"])),
        loads=loads, sources=(source,), strips=hub, runs=tuple(runs), keyed_together=together,
    )  # fmt: skip


def fillings(station: Station, case: Case, shelf: Shelf, part: Feed | Hub | Lead) -> list[Any]:
    """Everything that could stand in the place of ``part``: itself alone where it has no gap or is owned."""
    if isinstance(part, Feed):
        if not part.missing or part.owned:
            return [part]
        source = next(one for one in station.sources if one.id == part.id)
        rows = [one for one in shelf.supplies.values() if source.technology in (None, one.technology)]
        several = [(row, 1) for row in rows] + [(row, 2) for row in rows if row.shares]
        where = sources.Where(shelf, 10, 40)
        feeds = [
            sources.feed(replace(source, part=row.id, parallel=count), where, Notebook()) for row, count in several
        ]
        return [*feeds, *(replace(one, locked=True) for one in feeds if one.adjustable)]
    if isinstance(part, Hub):
        rows = [] if part.strip or part.owned else list(shelf.strips.values())
        return [replace(part, strip=row, title=row.title) for row in rows] or [part]
    if not part.missing or part.owned:
        return [part]
    run = next(one for one in station.runs if one.id == part.id)
    known = run.insulation is not None or part.conductor is not None
    skins = [part.insulation] if known else [one for one in shelf.insulations.values() if one.sold]
    every = [one for one in shelf.conductors.values() if one.system == case.place.wire]
    sizes = [part.conductor] if part.conductor else every
    guards: list[Any] = [(part.fuse_type, part.fuse_rating)]
    if part.fuse_rating is None:
        guards = [(family, rating) for family in shelf.fuses.values() for rating in family.ratings]
    kinds = list(shelf.contacts.values())
    ends: list[Any] = [part.contacts] if part.contacts else list(itertools.product(kinds, kinds))
    return [
        replace(part, conductor=size, insulation=skin, fuse_type=family, fuse_rating=rating, contacts=pair)
        for size, skin, (family, rating), pair in itertools.product(sizes, skins, guards, ends)
    ]


@dataclass(frozen=True)
class Trial:
    """One random station on its shelf, laid out, with everything that could stand in each place."""

    station: Station
    shelf: Shelf
    case: Case
    places: list[list[Any]]

    @property
    def size(self) -> int:
        """How many fillings there are."""
        count = 1
        for one in self.places:
            count *= len(one)
        return count

    @property
    def prefer(self) -> str:
        """What decides first."""
        return self.station.wishes.prefer or "price"

    def cases(self) -> Iterator[Case]:
        """Every filling of the gaps as a whole case."""
        feeds, hubs = len(self.case.feeds), len(self.case.hubs)
        for parts in itertools.product(*self.places):
            yield replace(self.case, feeds=parts[:feeds], hubs=parts[feeds : feeds + hubs], leads=parts[feeds + hubs :])


def trial(seed: int, shelf: Shelf) -> Trial:
    """The random trial of a seed, small enough to be gone through."""
    dice = random.Random(seed)
    while True:
        small = small_shelf(dice, shelf)
        station = lay_out(random_station(dice, small), small)
        case, _ = complete.complete(station, small)
        made = Trial(station, small, case, [fillings(station, case, small, one) for one in case.parts])
        if 4 <= made.size <= MOST:
            return made


def cost_of(case: Case, prefer: str) -> float:
    """What decides first: the bill by default, weight for who prefers light."""
    if prefer == "price":
        return total(case).usual
    pricing = Pricing(prefer)
    parts = [*map(pricing.feed, case.feeds), *map(pricing.hub, case.hubs), *map(pricing.lead, case.leads)]
    return sum(one[len(NOTHING)] for one in parts) / SCALE


@HEAVY
def test_the_plan_costs_what_brute_force_finds(seed: int, shelf: Shelf) -> None:
    """Margins let go of, least cost to 1e-6, infeasible in both or neither, nothing refused (exhaustive search)."""
    one = trial(seed, shelf)
    problem = Problem(one.station, one.case, one.shelf)
    best = best_of(problem, one.cases(), lambda case: cost_of(case, one.prefer))
    made = plan.plan(one.station, one.shelf)
    assert made.complete is (best is not None)
    if best is None:
        return
    judge = Judge(problem)
    again = check(profile.read(profile.write(made.verdict.station), one.shelf).station, one.shelf)
    assert {(found.rule, found.about) for found in again.findings if found.outcome == "unsound"} <= judge.hopeless
    assert book.let_go(again.findings) == best[0]
    assert cost_of(made.verdict.case, one.prefer) == pytest.approx(best[1], abs=1e-6)
    assert any("margin" in note for note in made.notes) is any(
        found.outcome == "thin" and not book.kept(found) for found in again.findings
    )


@HEAVY
def test_the_trials_are_of_every_sort(seeds: range, shelf: Shelf) -> None:
    """Among the trials above are plans with all margins, plans without, and stations that nothing can mend."""
    sorts = Counter(sort(plan.plan(one.station, one.shelf)) for one in (trial(seed, shelf) for seed in seeds))
    assert min(sorts[name] for name in ("strict", "relaxed", "none")) >= len(seeds) // 10, sorts


def sort(made: plan.Plan) -> str:
    """How a trial ends; that brute force ends so too is what the test above shows."""
    return "none" if not made.complete else "relaxed" if any(made.let_go) else "strict"


BRANCHES = """
format = 1
name = "strip"
[[load]]
id = "lamp"
class = "lamp"
[[load]]
id = "vhf"
class = "vhf-50w"
[[source]]
id = "psu"
[[strip]]
id = "strip"
[[run]]
id = "feed"
from = "psu"
to = "strip"
[[run]]
id = "lamp-lead"
from = "strip"
to = "lamp"
{lamp}
[[run]]
id = "vhf-lead"
from = "strip"
to = "vhf"
"""


def test_a_branch_left_unfused_gets_wire_that_the_fuse_before_it_guards(shelf: Shelf) -> None:
    """An owner's "none" is mended by thicker wire, not called past mending (33 CFR 183.455: the device guards it)."""
    made = plan.plan(profile.read(BRANCHES.format(lamp='fuse = "none"'), shelf).station, shelf)
    assert made.complete and not made.notes
    feed, lamp, _ = made.verdict.case.leads
    assert lamp.fuse_rating == 0
    assert feed.fuse_rating <= wire.allowed(lamp).value
    assert [one for one in made.verdict.findings if one.outcome == "unsound"] == []


def test_a_feed_still_open_does_not_refuse_a_branch(shelf: Shelf) -> None:
    """A branch whose fuse is of no family on the shelf is guarded in a short by the feed's, once that is chosen."""
    given = 'fuse = "4.5 A"\nconductor = "18 AWG"\ninsulation = "60 °C"'
    made = plan.plan(profile.read(BRANCHES.format(lamp=given), shelf).station, shelf)
    assert made.complete
    assert [one for one in made.verdict.findings if one.outcome == "unsound"] == []


def test_an_unfused_lead_alone_gets_wire_that_bears_all_its_supply_gives(shelf: Shelf) -> None:
    """With "none" in its only lead, a limited supply's whole current is borne by the wire (this house's exemption)."""
    source = 'volts = "13.8 V"\ncontinuous = "20 A"\nover_voltage = true\nowned = true'
    text = f"""
    format = 1
    name = "alone"
    [[load]]
    id = "vhf"
    class = "vhf-50w"
    [[source]]
    id = "psu"
    {source}
    [[run]]
    id = "lead"
    from = "psu"
    to = "vhf"
    fuse = "none"
    """
    made = plan.plan(profile.read(text, shelf).station, shelf)
    (lead,) = made.verdict.case.leads
    assert made.verdict.case.feeds[0].limit <= wire.allowed(lead).value
    assert [one for one in made.verdict.findings if one.outcome == "unsound"] == []
