"""The book of rules: all of them, and the judging of one station by them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from engine.findings import SEVERITY, SOUND, UNKNOWN, UNSOUND, Finding
from engine.model import branches
from engine.model.case import Case
from engine.model.operating import Operating
from engine.rules import (
    amplifier,
    banks,
    battery,
    changeover,
    contacts,
    fuse,
    mains,
    noise,
    slips,
    station,
    sun,
    supply,
    vehicle,
    volts,
    wire,
)
from engine.rules.rule import IMPORTANCE, LOAD, RUN, SOURCE, STATION, Rule

RULES: tuple[Rule, ...] = (
    *station.RULES,
    *slips.RULES,
    *volts.RULES,
    *supply.RULES,
    *noise.RULES,
    *vehicle.RULES,
    *battery.RULES,
    *banks.RULES,
    *changeover.RULES,
    *sun.RULES,
    *wire.RULES,
    *fuse.RULES,
    *contacts.RULES,
    *amplifier.RULES,
    *mains.RULES,
)
BY_ID = {rule.id: rule for rule in RULES}


def parts(operating: Operating, kind: str) -> Iterable[Any]:
    """The parts of a station that rules of one kind ask about."""
    case = operating.case
    return {LOAD: case.draws, SOURCE: case.feeds, RUN: case.leads, STATION: ("station",)}[kind]


def judge(faces: Iterable[Operating]) -> tuple[Finding, ...]:
    """Every finding about a station, worst first: by outcome, then by danger.

    A station with a changeover is judged on each of its sources, and the worse answer to each question counts.
    """
    worst: dict[tuple[str, str], Finding] = {}
    for operating in faces:
        for finding in (*_answers(operating), *beside(operating)):
            key = (finding.rule, finding.about)
            if key not in worst or _gravity(finding) > _gravity(worst[key]):
                worst[key] = finding
    return tuple(sorted(worst.values(), key=lambda one: (-one.severity, -BY_ID[one.rule].danger)))


def _answers(operating: Operating) -> Iterator[Finding]:
    """What the rules say of one face of a station."""
    for rule in RULES:
        for part in parts(operating, rule.of):
            finding = found(rule, operating, part)
            if finding is not None:
                yield finding


def beside(operating: Operating) -> Iterator[Finding]:
    """What the rules on leads say of those that feed no load: to chargers, panels, and the batteries of a bank."""
    for case in branches.minis(operating):
        small = Operating(case)
        for rule in RULES:
            if rule.of == RUN:
                yield from (one for lead in case.leads if (one := rule.find(small, lead)))


def _gravity(finding: Finding) -> tuple[int, float]:
    """How bad a finding is: its outcome, and how far it misses its margin or lies beyond its limit."""
    if finding.outcome != UNSOUND or finding.figure is None or finding.limit is None:
        return finding.severity, missed(finding)[1]
    return finding.severity, abs(finding.figure.value - finding.limit.value)


def judged(case: Case) -> tuple[Finding, ...]:
    """Every finding about a case, on each of the sources that a changeover chooses from."""
    return judge([Operating(face) for face in case.faces])


def found(rule: Rule, operating: Operating, part: Any) -> Finding | None:
    """A rule's finding, with the source named that the changeover has chosen."""
    finding = rule.find(operating, part)
    if finding is None or not operating.case.only:
        return finding
    return replace(finding, says=f"on {operating.case.only}: {finding.says}")


def kept(finding: Finding) -> bool:
    """Whether a plan settles for this finding: never unsound, and sound where the rule asks a plan for that.

    Unknown refuses nothing: the part is still open.
    """
    return finding.outcome == UNKNOWN or SEVERITY[finding.outcome] <= SEVERITY[BY_ID[finding.rule].keep]


LetGo = tuple[int, ...]
"""How many steps of margin are let go of, for each rank of importance, the most important first."""

RANKS = {name: place for place, name in enumerate(IMPORTANCE)}
NOTHING: LetGo = (0,) * len(RANKS)


def missed(finding: Finding) -> tuple[int, int]:
    """The rank of a finding's margin, and by how many steps it is missed: 0 where a plan settles for it."""
    rule = BY_ID[finding.rule]
    if kept(finding) or rule.keep != SOUND:
        return RANKS[rule.margin.rank], 0
    if finding.figure is None or finding.limit is None:
        return RANKS[rule.margin.rank], 1
    return RANKS[rule.margin.rank], rule.margin.missed(finding.figure.value, finding.limit.value)


def let_go(findings: Iterable[Finding]) -> LetGo:
    """What is let go of in all, rank by rank."""
    counts = list(NOTHING)
    for finding in findings:
        rank, steps = missed(finding)
        counts[rank] += steps
    return tuple(counts)
