"""The book of rules: all of them, and the judging of one station by them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from engine.findings import SEVERITY, THIN, UNKNOWN, UNSOUND, Finding
from engine.model.case import Case
from engine.model.operating import Operating
from engine.rules import (
    amplifier,
    battery,
    changeover,
    contacts,
    fuse,
    mains,
    noise,
    station,
    sun,
    supply,
    vehicle,
    volts,
    wire,
)
from engine.rules.rule import LOAD, RUN, SOURCE, STATION, Rule

RULES: tuple[Rule, ...] = (
    *station.RULES,
    *volts.RULES,
    *supply.RULES,
    *noise.RULES,
    *vehicle.RULES,
    *battery.RULES,
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
        for rule in RULES:
            for part in parts(operating, rule.of):
                finding = found(rule, operating, part)
                if finding is None:
                    continue
                key = (finding.rule, finding.about)
                if key not in worst or _gravity(finding) > _gravity(worst[key]):
                    worst[key] = finding
    return tuple(sorted(worst.values(), key=lambda one: (-one.severity, -BY_ID[one.rule].danger)))


def _gravity(finding: Finding) -> tuple[int, float]:
    """How bad a finding is: its outcome and, of what is unsound, how far it lies beyond its limit."""
    if finding.outcome != UNSOUND or finding.figure is None or finding.limit is None:
        return finding.severity, 0.0
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


WISHES = frozenset(
    ["supply-headroom", "supply-posts", "drop", "fuse-snug", "battery-hours", "sun-dark-days", "changeover-gap"]
)
EASED: tuple[frozenset[str], ...] = (
    frozenset(),
    frozenset(["supply-headroom"]),
    WISHES,
    WISHES | {"window-floor"},
    frozenset(BY_ID),
)
"""What a plan lets be thin when nothing on the shelf keeps every margin: wishes first, margins of safety last."""


def kept(finding: Finding, ease: int = 0) -> bool:
    """Whether a plan may hold this finding: never unsound, and sound where the rule asks a plan for that.

    ``ease`` is the place in ``EASED`` of the rules that may be thin. Unknown refuses nothing: the part is still open.
    """
    worst = THIN if finding.rule in EASED[ease] else BY_ID[finding.rule].keep
    return finding.outcome == UNKNOWN or SEVERITY[finding.outcome] <= SEVERITY[worst]
