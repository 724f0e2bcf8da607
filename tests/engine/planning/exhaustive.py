"""What tests of the planner share: the best of all fillings, found by judging each one with the rules."""

from collections.abc import Iterable

from engine.findings import UNSOUND
from engine.model.bill import total
from engine.model.case import Case
from engine.model.operating import Operating
from engine.planning.judge import Judge
from engine.planning.problem import Problem
from engine.rules import book
from engine.rules.book import NOTHING, LetGo

Score = tuple[LetGo, float]


def score(case: Case, judge: Judge, cost: float, best: Score | None = None) -> Score | None:
    """What a filling lets go of in each rank, and its cost; None where a rule refuses it or it cannot beat ``best``."""
    worst: dict[tuple[str, str], tuple[int, int]] = {}
    for rule in sorted(book.RULES, key=lambda one: one.solved):
        for face, demand in zip(case.faces, judge.demands, strict=True):
            operating = Operating(face, demand)
            for part in book.parts(operating, rule.of):
                finding = rule.find(operating, part)
                if finding is None:
                    continue
                key = (finding.rule, finding.about)
                if finding.outcome == UNSOUND and key not in judge.hopeless and not book.BY_ID[finding.rule].wish:
                    return None
                rank, steps = (
                    (0, 0) if key in judge.problem.thin and finding.outcome == "thin" else book.missed(finding)
                )
                worst[key] = max(worst.get(key, (rank, 0)), (rank, steps))
        if best is not None and (_sum(worst), cost) >= best:
            return None
    return _sum(worst), cost


def _sum(worst: dict[tuple[str, str], tuple[int, int]]) -> LetGo:
    counts = list(NOTHING)
    for rank, steps in worst.values():
        counts[rank] += steps
    return tuple(counts)


def best_of(problem: Problem, cases: Iterable[Case], cost: object = None) -> Score | None:
    """The least that any filling lets go of, and the least that one such costs (exhaustive search)."""
    judge = Judge(problem)
    price = cost if callable(cost) else lambda case: total(case).usual
    best: Score | None = None
    for amount, case in sorted(((price(case), case) for case in cases), key=lambda pair: pair[0]):
        if best is not None and not any(best[0]):
            break
        found = score(case, judge, amount, best)
        if found is not None:
            best = found
    return best
