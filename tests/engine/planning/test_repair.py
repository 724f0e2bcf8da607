"""Repairs against brute force on small shelves: always sound, and no cheaper single repair there is."""

import itertools
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import pytest

from catalog.shelf import STATIONS
from engine.findings import THIN, UNSOUND, Finding
from engine.model import complete, sources
from engine.model.assumptions import Notebook
from engine.model.bill import lead_price
from engine.model.case import Case, Feed, Lead
from engine.parts import Shelf
from engine.planning import repair
from engine.planning.problem import put
from engine.planning.repair import Mending
from engine.planning.upgrade import owned
from engine.rules import book
from engine.rules.check import check
from engine.station import profile
from engine.station.model import Load, Run, Site, Source, Station, Wishes

HEAVY = pytest.mark.heavy(usual=20, full=40)


def small_shelf(dice: random.Random, shelf: Shelf) -> Shelf:
    """A few sizes, fuses, contacts and supplies."""

    def few(table: str, ids: list[str]) -> dict[str, Any]:
        return {one: getattr(shelf, table)[one] for one in ids}

    fuses = few("fuses", ["medium blade"])
    ratings = tuple(sorted({15.0, 25.0, *dice.sample([5.0, 10.0, 20.0, 30.0], 2)}))
    fuses = {key: replace(row, ratings=ratings) for key, row in fuses.items()}
    sizes = dice.sample(["16 AWG", "14 AWG", "12 AWG", "8 AWG"], 2)
    ends = ["ring terminal", "keyed plug", dice.choice(["accessory plug", "soldered strands under screw"])]
    supplies = ["switch-25-fixed", "switch-30-fixed", dice.choice(["switch-15-basic", "switch-30-adjustable"])]
    return replace(
        shelf,
        conductors=few("conductors", [*sizes, "10 AWG"]),
        insulations=few("insulations", ["60 °C", "105 °C"]),
        fuses=fuses,
        contacts=few("contacts", ends),
        supplies=few("supplies", supplies),
    )


def standing(dice: random.Random, shelf: Shelf) -> Station:
    """A station as somebody built it: whole, and mostly wrong somewhere."""
    count = dice.choice([1, 1, 2])
    loads = tuple(
        Load(
            f"set{number}", lowest=dice.choice([11.7, 12.4]), highest=15.9, receive=1.0,
            transmit=dice.choice([8.0, 12.0, 20.0]), mode=dice.choice(["ssb", "fm"]), keyed=0.3,
            follows="steady current",
        )
        for number in range(count)
    )  # fmt: skip
    good = dice.random() < 0.7
    ends = ("ring terminal", "keyed plug") if good else tuple(dice.choices(list(shelf.contacts), k=2))
    runs = tuple(
        Run(
            f"{one.id}-lead", "psu", one.id, length=dice.choice([1.0, 2.0, 4.0]),
            conductor=dice.choice(list(shelf.conductors)), insulation=dice.choice([60.0, 105.0]),
            fuse=dice.choice([0.0, *shelf.fuses["medium blade"].ratings]), fuse_type="medium blade", contacts=ends,
        )
        for one in loads
    )  # fmt: skip
    return Station(
        "as built", "fixed", site=Site(mains=120.0, circuit=15.0, coldest=5.0, hottest=35.0),
        wishes=Wishes(headroom=0.0), loads=loads, sources=(Source("psu", part=dice.choice(list(shelf.supplies))),),
        runs=runs,
    )  # fmt: skip


@dataclass(frozen=True)
class Tried:
    """One single change: what it costs, and the findings after it."""

    cost: float
    after: tuple[Finding, ...]


def changes(case: Case, shelf: Shelf, lead: Lead) -> Iterator[tuple[Lead, int]]:
    """Every lead that differs in some parts, with how many differ; a part that is changed is bought anew."""
    wires: list[Any] = [None, *itertools.product(shelf.conductors.values(), shelf.insulations.values())]
    guards: list[Any] = [None, *((row, rating) for row in shelf.fuses.values() for rating in row.ratings)]
    ends: list[Any] = [None, *itertools.product(shelf.contacts.values(), repeat=2)]
    for wire, guard, pair in itertools.product(wires, guards, ends):
        new, kept = lead, set(lead.kept)
        if wire and wire[0].system == case.place.wire and wire[1].sold:
            new, kept = replace(new, conductor=wire[0], insulation=wire[1]), kept - {"copper"}
        elif wire:
            continue
        if guard:
            new, kept = replace(new, fuse_type=guard[0], fuse_rating=guard[1]), kept - {"fuse"}
        if pair:
            new, kept = replace(new, contacts=pair), kept - {"contacts"}
        yield replace(new, kept=frozenset(kept)), sum(one is not None for one in (wire, guard, pair))


def singles(case: Case, shelf: Shelf, several: bool) -> Iterator[Tried]:
    """Every single change of one part; or, where ``several``, of several parts of one lead.

    A fuse that is wanting is mended by a fuse alone (33 CFR 183.455).
    """
    before = {(one.rule, one.about): one.outcome for one in book.judged(case)}
    for lead in case.leads:
        wanting = before.get(("fuse-present", lead.id)) == UNSOUND
        for new, count in changes(case, shelf, lead):
            if (count > 1) is several and count and not (wanting and not new.fuse_rating):
                yield Tried(lead_price(new).usual, book.judged(put(case, new)))
    if several:
        return
    for feed in case.feeds:
        for row in shelf.supplies.values():
            made = sources.feed(Source(feed.id, part=row.id), sources.Where(shelf, 10, 40), Notebook())
            yield Tried(row.price.usual, book.judged(put(case, made)))
        yield from free_settings(case, feed)


def free_settings(case: Case, feed: Feed) -> Iterator[Tried]:
    """The knob locked, or locked at any tenth of a volt in its range: nothing to buy."""
    if not feed.adjustable:
        return
    points = [feed.volts, *(round(feed.lowest + 0.1 * step, 2) for step in range(200))]
    for volts in points:
        if feed.lowest <= volts <= feed.highest:
            new = replace(feed, locked=True, volts=volts)
            yield Tried(0.0, book.judged(put(case, new)))


def cheapest(case: Case, shelf: Shelf) -> float | None:
    """What the best single repair costs, by trying all: margins kept first, one part first, then the price."""
    thin = {(one.rule, one.about) for one in book.judged(case) if one.outcome == THIN}
    for strict, several in itertools.product((True, False), (False, True)):
        costs = [
            one.cost
            for one in singles(case, shelf, several)
            if not any(found.outcome == UNSOUND for found in one.after)
            and (not strict or all(book.kept(found) or (found.rule, found.about) in thin for found in one.after))
        ]
        if costs:
            return min(costs)
    return None


def built(seed: int, shelf: Shelf) -> tuple[Station, Shelf]:
    """The random station of a seed, and the small shelf that it is mended from."""
    dice = random.Random(seed)
    small = small_shelf(dice, shelf)
    return standing(dice, small), small


@HEAVY
def test_no_cheaper_single_repair_is_on_the_shelf(seed: int, shelf: Shelf) -> None:
    """The single repair costs what exhaustive search finds, there is one in both or neither, and it mends all."""
    station, small = built(seed, shelf)
    made = repair.repair(station, small)
    case, _ = complete.complete(owned(station), small)
    if not any(one.outcome == UNSOUND for one in book.judged(case)):
        assert made.single is None and made.many is None
        return
    best = cheapest(case, small)
    assert (made.single is None) is (best is None)
    if made.single and best is not None:
        assert made.single.price.usual == pytest.approx(best, abs=1e-6)
        again = profile.read(profile.write(made.single.station), small).station
        assert check(again, small).outcome != UNSOUND
        assert made.single.says.count(made.single.about)
        return
    assert made.many is not None
    if made.many.complete:
        again = profile.read(profile.write(made.many.verdict.station), small).station
        assert not [one for one in check(again, small).findings if one.outcome == UNSOUND]


@HEAVY
def test_the_stations_are_of_every_sort(seeds: range, shelf: Shelf) -> None:
    """Among the stations above are sound ones, ones that a single change mends, and ones that none does."""
    sorts = Counter(sort(repair.repair(*built(seed, shelf))) for seed in seeds)
    assert min(sorts[name] for name in ("sound", "single", "set")) >= len(seeds) // 8, sorts


def sort(made: Mending) -> str:
    """How a station is mended; that it is so is what exhaustive search shows above."""
    return "single" if made.single else "set" if made.many else "sound"


def mended(bench: Any, text: str) -> Mending:
    """How a station file is mended."""
    made: Mending = repair.repair(bench.station(text), bench.shelf)
    return made


def test_thin_cable_is_replaced_and_the_floor_is_met(bench: Any, desk: Any) -> None:
    """3 m of 14 AWG at 20 A loses 1 V by itself (NBS Handbook 100); thicker cable alone mends a 12.42 V floor."""
    made = mended(bench, desk(run_conductor="14 AWG", run_length="3 m", load_window="13.8 V ± 10 %", run_fuse="25 A"))
    assert made.single is not None and made.single.what == "copper"
    assert made.single.before.startswith("3.00 m of 14 AWG")
    assert "the floor of hf is met with" in made.single.says
    assert check(made.single.station, bench.shelf).outcome != UNSOUND


def test_an_open_knob_is_locked_and_nothing_is_bought(bench: Any, desk: Any) -> None:
    """A knob that reaches 17 V wants a lock, not a new supply (common practice, no source)."""
    made = mended(bench, desk(source_adjustable=True, source_lowest="9 V", source_highest="17 V"))
    assert made.single is not None and (made.single.what, made.single.price.high) == ("lock", 0)


def test_a_fuse_far_from_the_source_is_moved(bench: Any, desk: Any) -> None:
    """1.2 m of unfused wire from a 90 A supply: the fuse is moved to within 7 inches (33 CFR 183.455)."""
    made = mended(
        bench, desk(run_fuse_at="1.2 m", source_continuous="90 A", source_peak="100 A", source_limit="110 A")
    )  # fmt: skip
    assert made.single is not None and made.single.what == "fuse place"
    assert check(made.single.station, bench.shelf).outcome != UNSOUND


def test_a_sound_station_is_left_alone(bench: Any, desk: Any) -> None:
    """Nothing unsound, nothing proposed."""
    made = mended(bench, desk())
    assert made.single is None and made.many is None and made.each == ()


def test_the_hand_me_down_station_keeps_its_supply(bench: Any) -> None:
    """Quarry Road needs several changes: lock the knob, cable, contacts and fuse; not a new supply."""
    text = (STATIONS / "quarry-road.toml").read_text(encoding="utf-8")
    made = repair.repair(profile.read(text, bench.shelf).station, bench.shelf)
    assert made.single is None and made.many is not None and made.many.complete
    assert made.settings == ("supply: lock or cover the knob",)
    assert "supply stays" in made.many.notes
    assert made.many.verdict.outcome != UNSOUND
    assert all(one.fuse_rating for one in made.many.verdict.case.leads)
    found = {one.rule: best for one, best in made.each}
    assert found["fuse-present"] is not None and found["fuse-present"].what == "fuse"
    assert found["contact-strands"] is not None and found["contact-strands"].what == "contacts"
