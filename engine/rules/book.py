"""The book of rules: all of them, and the judging of one station by them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from engine.operating import Operating
from engine.rules import amplifier, contacts, fuse, mains, station, supply, volts, wire
from engine.rules.rule import LOAD, RUN, SOURCE, STATION, Rule
from engine.verdict import SEVERITY, THIN, UNKNOWN, Finding

RULES: tuple[Rule, ...] = (
    *station.RULES,
    *volts.RULES,
    *supply.RULES,
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


def judge(operating: Operating) -> tuple[Finding, ...]:
    """Every finding about a station, worst first: by outcome, then by danger."""
    found = [
        finding
        for rule in RULES
        for part in parts(operating, rule.of)
        if (finding := rule.find(operating, part)) is not None
    ]
    return tuple(sorted(found, key=lambda one: (-one.severity, -BY_ID[one.rule].danger)))


EASED: tuple[frozenset[str], ...] = (
    frozenset(),
    frozenset(["supply-headroom"]),
    frozenset(["supply-headroom", "supply-posts", "drop", "fuse-snug"]),
    frozenset(BY_ID),
)
"""What a plan lets be thin when nothing on the shelf keeps every margin: wishes first, margins of safety last."""


def kept(finding: Finding, ease: int = 0) -> bool:
    """Whether a plan may hold this finding: never unsound, and sound where the rule asks a plan for that.

    ``ease`` is the place in ``EASED`` of the rules that may be thin. Unknown refuses nothing: the part is still open.
    """
    worst = THIN if finding.rule in EASED[ease] else BY_ID[finding.rule].keep
    return finding.outcome == UNKNOWN or SEVERITY[finding.outcome] <= SEVERITY[worst]
