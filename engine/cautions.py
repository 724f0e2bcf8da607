"""Cautions at the moment they matter, with the signal words of ANSI Z535: DANGER, WARNING, CAUTION, NOTICE."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.case import Case
from engine.verdict import UNSOUND, Finding

FIRE = ("ampacity", "short-circuit", "fuse-present", "fuse-guards", "fuse-volts", "fuse-breaking", "contact-heat")
SHOCK_VOLTS = 60.0
"""Above this direct voltage other rules against shock apply (IEC 61140, from memory)."""


STORED_CHARGE = (
    "lethal voltage stays inside after switching off. Work inside is for qualified people; no procedure is given here."
)
MAINS = (
    "leave the inside of the supply closed and its earth pin whole. Changes to outlets and circuits are for a "
    "licensed electrician; your local code decides."
)
POLARITY = (
    "red is positive and black is negative on direct-current leads, which is not house-wiring practice. "
    "Check the polarity of every lead with a meter before the first connection."
)
BLOWN = "a blown fuse is replaced by one of the same rating, never a larger one, and only after the cause is found."


@dataclass(frozen=True)
class Caution:
    """One caution: its signal word, what it is about, and what to do."""

    word: str
    about: str
    says: str


def cautions(case: Case, findings: tuple[Finding, ...]) -> tuple[Caution, ...]:
    """The cautions that this station calls for, gravest first."""
    order = ("DANGER", "WARNING", "CAUTION", "NOTICE")
    return tuple(sorted(_all(case, findings), key=lambda one: order.index(one.word)))


def _all(case: Case, findings: tuple[Finding, ...]) -> Iterator[Caution]:
    for finding in findings:
        if finding.outcome == UNSOUND and finding.rule in FIRE:
            yield Caution(
                "WARNING", finding.about, f"this can start a fire: {finding.says}. Do not use it before it is mended."
            )
    for draw in case.draws:
        if draw.feed == "mains":
            yield Caution("DANGER", draw.id, STORED_CHARGE)
        elif draw.highest >= SHOCK_VOLTS:
            yield Caution(
                "WARNING",
                draw.id,
                "at 60 V and above the rules against electric shock change: ask a licensed electrician.",
            )
    if case.feeds:
        yield Caution("WARNING", case.feeds[0].id, MAINS)
    if case.leads:
        yield Caution("CAUTION", "leads", POLARITY)
        yield Caution("CAUTION", "leads", BLOWN)
    loose = [lead.id for lead in case.leads if any(not one.locks for one in lead.contacts or ())]
    if loose:
        yield Caution(
            "NOTICE", ", ".join(loose), "these contacts do not lock: tie the cable so that nothing pulls on them."
        )
