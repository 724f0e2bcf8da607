"""The same rules that judge a station, asked of a part of it while it is planned, each no oftener than it must be."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

from engine.findings import SOUND, THIN, UNSOUND, Finding
from engine.model.case import Case, Lead
from engine.model.operating import SAGGING, USUAL, Demand, Operating
from engine.planning.problem import Keys, Problem
from engine.rules import book
from engine.rules.book import NOTHING, LetGo
from engine.rules.reads import Question, reads
from engine.rules.rule import LOAD, RUN, SOURCE, STATION, Rule

MOST_WORK = 60_000
"""Times that rules are asked before the search gives up and says so: some seconds. A count, so that it ends alike
everywhere."""

EMPTYING = 100
"""Emptying a battery takes about as long as asking so many times."""

REFUSED = -1
"""In the place of a number of steps: a plan may not hold this finding."""

Counts = dict[tuple[str, str], tuple[int, int]]
"""For each finding by rule and part: the rank of its margin and the steps let go of, or ``REFUSED``."""

Stop = Callable[[], bool]


class Enough(Exception):
    """The search was stopped, or has asked as often as it may."""


def let_go(counts: Counts) -> LetGo | None:
    """What is let go of in all; None where something is refused."""
    total = list(NOTHING)
    for rank, steps in counts.values():
        if steps == REFUSED:
            return None
        total[rank] += steps
    return tuple(total)


def worse(one: Counts, other: Counts) -> Counts:
    """Of two answers to the same questions the worse each time."""
    merged = dict(one)
    for key, (rank, steps) in other.items():
        have = merged.get(key)
        if have is None or steps == REFUSED or (have[1] != REFUSED and steps > have[1]):
            merged[key] = rank, steps
    return merged


class Judge:
    """Asks the rules about fillings of one problem, on every source that a changeover chooses from."""

    def __init__(self, problem: Problem, stop: Stop | None = None, most: int = MOST_WORK, work: int = 0) -> None:
        self.problem, self.stop, self.most, self.work = problem, stop, most, work
        self.case = replace(problem.case, budget=None)
        self.faces = self.case.faces
        self.demands = [Demand(face) for face in self.faces]
        self.hopeless: Keys = frozenset()
        bare = book.judge(self.operating(self.case))
        self.hopeless = frozenset((one.rule, one.about) for one in bare if one.outcome == UNSOUND)
        self._rules: dict[tuple[str, bool, Question | None], list[Rule]] = {}
        self._source: dict[tuple[int, ...], Counts] = {}
        self.solutions: dict[object, dict[object, Counts]] = {}

    def operating(self, case: Case) -> list[Operating]:
        """A case on each of its sources; the loads are those of the problem."""
        return [Operating(face, demand) for face, demand in zip(case.faces, self.demands, strict=True)]

    def count(self, finding: Finding) -> tuple[int, int]:
        """The rank and the steps of margin that a finding lets go of, or ``REFUSED``.

        What is broken before anything is chosen refuses nothing; where it can be missed by more or less, it counts.
        """
        key = (finding.rule, finding.about)
        if finding.outcome == UNSOUND and key not in self.hopeless and not book.BY_ID[finding.rule].wish:
            return 0, REFUSED
        if finding.outcome == THIN and key in self.problem.thin:
            return 0, 0
        return book.missed(finding)

    def refuses(self, finding: Finding) -> bool:
        """Whether no plan may hold ``finding``."""
        return self.count(finding)[1] == REFUSED

    def ask(self, operating: Operating, rules: list[Rule], parts: Iterable[Any], counts: Counts) -> bool:
        """Ask some rules about some parts, the worse answer staying in ``counts``; false once one refuses.

        The rule that refused last is asked first: neighbours are mostly refused by the same.
        """
        for part in parts:
            for place, rule in enumerate(rules):
                finding = rule.find(operating, part)
                if finding is None or finding.outcome == SOUND:
                    continue
                rank, steps = self.count(finding)
                key = (finding.rule, finding.about)
                if steps == REFUSED:
                    rules.insert(0, rules.pop(place))
                    counts[key] = rank, steps
                    return False
                if steps > counts.get(key, (0, 0))[1]:
                    counts[key] = rank, steps
        return True

    def rules(self, kind: str, solved: bool = False, question: Question | None = None) -> list[Rule]:
        """The rules of one kind, those that need the circuit solved or the others; on leads, those about a question."""
        key = (kind, solved, question)
        if key not in self._rules:
            kinds = (rule for rule in book.RULES if rule.of == kind and rule.solved is solved)
            self._rules[key] = [rule for rule in kinds if question is None or reads(rule.id) == question]
        return self._rules[key]

    def spend(self, asked: int = 1) -> None:
        """Count some asking.

        Raises:
            Enough: that was one too many, or the search was stopped.
        """
        self.work += asked
        if self.work > self.most or (self.stop is not None and self.stop()):
            raise Enough

    def sources(self, case: Case) -> Counts:
        """What the rules say of the sources of ``case`` and of the wall, whatever the leads."""
        key = tuple(id(one) for one in case.feeds)
        if key not in self._source:
            self.spend()
            self._source[key] = self._sources(case)
        return self._source[key]

    def _sources(self, case: Case) -> Counts:
        counts: Counts = {}
        for one in self.operating(case):
            kinds = ((SOURCE, one.case.feeds), (LOAD, one.case.draws), (STATION, ("station",)))
            if not all(self.ask(one, self.rules(kind), some, counts) for kind, some in kinds):
                break
        return counts

    def run(self, views: Sequence[Operating], lead: Lead, question: Question) -> LetGo | None:
        """What the rules that look at some parts of a lead say of it in ``views``; None where one refuses it."""
        self.spend()
        counts: Counts = {}
        rules = self.rules(RUN, False, question)
        if not all(self.ask(view, rules, (lead,), counts) for view in views):
            return None
        return let_go(counts)

    def loads(self, operating: Operating, counts: Counts) -> None:
        """What the rules that need the circuit solved say of its loads; those that are refused are all named."""
        self.spend()
        self.ask(operating, self.rules(STATION, True), ("station",), counts)
        for draw in operating.case.draws:
            self.ask(operating, self.rules(LOAD, True), (draw,), counts)

    def batteries(self, operating: Operating, counts: Counts) -> None:
        """What they say of its sources: a battery is emptied for this, so only where no load is refused."""
        if all(steps != REFUSED for _, steps in counts.values()):
            self.spend(EMPTYING if any(one.cell for one in operating.case.feeds) else 1)
            self.ask(operating, self.rules(SOURCE, True), operating.case.feeds, counts)

    def whole(self, case: Case) -> Counts:
        """What all rules say of all parts of ``case``."""
        self.spend()
        counts: Counts = {}
        for operating in self.operating(case):
            for rule in book.RULES:
                for part in book.parts(operating, rule.of):
                    finding = rule.find(operating, part)
                    if finding is not None and finding.outcome != SOUND:
                        counts = worse(counts, {(finding.rule, finding.about): self.count(finding)})
        return counts


def ohms(operating: Operating, lead: Lead) -> tuple[float, float]:
    """The resistance [Ω] of a lead as it usually is and at its worst."""
    return operating.stretch(lead, USUAL).ohms, operating.stretch(lead, SAGGING).ohms
