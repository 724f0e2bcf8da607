"""The planner against brute force where several batteries may stand side by side."""

import itertools
import random
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from engine.model import sources
from engine.model.assumptions import Notebook
from engine.model.banks import with_string
from engine.model.bill import lead_price, total
from engine.model.branches import placed, string_case
from engine.model.case import Feed
from engine.model.complete import lead_of
from engine.model.operating import Demand
from engine.parts import Shelf
from engine.planning import plan
from engine.planning.judge import Judge
from engine.planning.problem import Problem
from engine.rules import book
from engine.rules.book import NOTHING, LetGo
from engine.rules.rule import HOURS
from engine.station.model import Run, Wishes
from engine.station.shapes import MOST_BATTERIES
from engine.terms import Serves

sys.path.insert(0, str(Path(__file__).parent))
from exhaustive import Score, best_of, score
from test_plan_brute_battery import Trial, trial

HEAVY = pytest.mark.heavy(usual=8, full=24)


SMALL = ["lfp-20ah", "lfp-30ah", "agm-20ah", "agm-35ah", "gel-60ah", "flooded-75ah"]
"""Batteries of which several are wanted for an evening."""


def hard(seed: int, shelf: Shelf) -> Trial:
    """A trial of one load on a battery, with more hours wished for than most single ones of a small shelf give."""
    one = trial(seed, shelf)
    wish = Wishes(hours=[2.0, 4.0, 8.0][seed % 3])
    small = random.Random(seed).sample(SMALL, 2)
    few = {id_: shelf.batteries[id_] for id_ in small}
    station = replace(one.station, wishes=wish)
    return Trial(station, replace(one.shelf, batteries=few), replace(one.case, hours=wish.hours))


def wired(one: Trial, feed: Feed) -> tuple[LetGo, Feed] | None:
    """A bank with the best cable among all fillings of the small shelf, and what that lets go of; None without one."""
    run = placed(Run("pack-string", None, "pack", serves=Serves.STRING), Notebook())
    empty = lead_of(run, one.station, one.shelf, one.case.place, ((), set()), Notebook())
    small = string_case(one.case, feed, empty, Demand(one.case).worst_peak("pack")[0])
    judge = Judge(Problem(one.station, small, one.shelf))
    cases = [replace(small, leads=(lead,)) for lead in Trial(one.station, one.shelf, small).leads()]
    scored = [(found, case) for case in cases if (found := score(case, judge, lead_price(case.leads[0]).usual))]
    if not scored:
        return None
    (steps, _), chosen = min(scored, key=lambda pair: pair[0])
    return steps, with_string(feed, replace(chosen.leads[0], end="pack"), one.case.limits)


def feeds_of(one: Trial, most: int) -> Iterator[tuple[LetGo, Feed]]:
    """Every battery, up to ``most`` times, each with its cables and what those let go of."""
    (source,), place = one.station.sources, one.case.place
    where = sources.Where(one.shelf, place.coldest, place.hottest)
    for id_, count in itertools.product(one.shelf.batteries, range(1, most + 1)):
        row = one.shelf.batteries[id_]
        if count > 1 and count * row.amp_hours <= largest(one, row.chemistry):
            continue
        alike = replace(source, part=id_, parallel=count if count > 1 else None)
        feed = sources.feed(alike, where, Notebook())
        found = wired(one, feed) if feed.is_bank else (NOTHING, feed)
        if found:
            yield found


def largest(one: Trial, chemistry: str) -> float:
    """The capacity [Ah] of the largest single battery of a kind: a bank that holds no more is none."""
    return max(row.amp_hours for row in one.shelf.batteries.values() if row.chemistry == chemistry)


def best_with(one: Trial, most: int) -> Score | None:
    """The best of every battery, up to ``most`` times, with every lead (exhaustive search)."""
    problem = Problem(one.station, one.case, one.shelf)
    found = []
    for steps, feed in feeds_of(one, most):
        cases = (replace(one.case, feeds=(feed,), leads=(lead,)) for lead in one.leads())
        best = best_of(problem, cases)
        if best is not None:
            found.append((tuple(map(sum, zip(steps, best[0], strict=True))), best[1]))
    return min(found, default=None)


def expected(one: Trial) -> Score | None:
    """The best of one battery; where there is none or it falls short of hours, the best of up to four."""
    alone = best_with(one, 1)
    short = alone is None or bool(alone[0][book.RANKS[HOURS]])
    return best_with(one, MOST_BATTERIES) if short else alone


@HEAVY
def test_the_plan_of_a_bank_costs_what_brute_force_finds(seed: int, shelf: Shelf) -> None:
    """Margins and least cost equal, and infeasible in both or neither (exhaustive search over one to four)."""
    one = hard(seed, shelf)
    best = expected(one)
    made = plan.plan(one.station, one.shelf)
    assert made.complete is (best is not None)
    if best is not None:
        assert made.let_go == best[0]
        assert total(made.verdict.case).usual == pytest.approx(best[1], abs=1e-6)


@HEAVY
def test_several_batteries_are_among_the_trials(seeds: range, shelf: Shelf) -> None:
    """Among the trials above a third or more are planned with several batteries."""
    made = [plan.plan(one.station, one.shelf) for one in (hard(seed, shelf) for seed in seeds)]
    counts = [feed.parallel for one in made if one.complete for feed in one.verdict.case.feeds]
    assert sum(count > 1 for count in counts) >= len(seeds) // 3
