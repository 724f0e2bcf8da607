"""What each rule on leads looks at, so that a plan asks it once of each part and not of every combination.

Of the lead itself: copper, fuse, contacts. Around it: nothing, the posts and sockets at its two ends, its source, or
the whole way from there. A rule that is not named here is taken to look at everything: slower, and never wrong. A test
compares this table with what the rules answer.
"""

from __future__ import annotations

from engine.model.case import CONTACTS, COPPER, FUSE, WHOLE

SIZE = "size"
"""The copper of a lead without its insulation."""

ITSELF, ENDS, SOURCE, WAY = range(4)
"""How far around a lead a rule looks; each includes those before it."""

Question = tuple[frozenset[str], int]
"""The parts of a lead that some rules look at, and how far around it they look."""

EVERYTHING: Question = (WHOLE, WAY)


def _question(around: int, *parts: str) -> Question:
    return frozenset(parts), around


READS: dict[str, Question] = {
    "ampacity": _question(ITSELF, COPPER),
    "parallel": _question(ITSELF, COPPER),
    "fuse-guards": _question(ITSELF, COPPER, FUSE),
    "fuse-stays": _question(ITSELF, COPPER, FUSE),
    "wire-strength": _question(ITSELF, SIZE),
    "fuse-carries": _question(ITSELF, FUSE),
    "fuse-snug": _question(ITSELF, FUSE),
    "fuse-made": _question(ITSELF, FUSE),
    "fuse-heat": _question(ITSELF, FUSE),
    "fuse-legs": _question(ITSELF, FUSE),
    "contact-guarded": _question(ITSELF, FUSE, CONTACTS),
    "contact-takes": _question(ITSELF, SIZE, CONTACTS),
    "contact-known": _question(ITSELF, CONTACTS),
    "contact-carries": _question(ITSELF, CONTACTS),
    "contact-strands": _question(ITSELF, CONTACTS),
    "contact-holds": _question(ITSELF, CONTACTS),
    "contact-heat": _question(ITSELF, CONTACTS),
    "contact-fits": _question(ENDS, CONTACTS),
    "strip-carries": _question(ENDS),
    "changeover-known": _question(ENDS),
    "changeover-carries": _question(ENDS),
    "changeover-gap": _question(ENDS),
    "fuse-volts": _question(SOURCE, FUSE),
    "fuse-place": _question(SOURCE, COPPER, FUSE),
    "vehicle-socket": _question(SOURCE, CONTACTS),
    "vehicle-negative": _question(SOURCE),
    "fuse-present": _question(WAY, COPPER, FUSE),
    "fuse-breaking": _question(WAY, FUSE),
    "fuse-order": _question(WAY, FUSE),
}


def reads(rule: str) -> Question:
    """What a rule on leads looks at."""
    return READS.get(rule, EVERYTHING)
