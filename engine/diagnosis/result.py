"""What a diagnosis gives back: plain data, each figure with its working."""

from __future__ import annotations

from dataclasses import dataclass

from engine.diagnosis.band import Band
from engine.diagnosis.telling import Measurement
from engine.working import Figure

FOUND, CANNOT_TELL, SOUND_READINGS = "found", "cannot tell yet", "sound"

SUPPLY, CABLE, FUSE_OR_HOLDER, CONTACT, PATH = "supply", "cable", "fuse or holder", "contact", "path"
SIZE, METER, DESIGN, TOO_MANY_VOLTS = "wrong size", "meter", "by design", "too many volts"
FAULTS = (TOO_MANY_VOLTS, SUPPLY, PATH, FUSE_OR_HOLDER, CONTACT, CABLE, SIZE, DESIGN)
"""The kinds of cause that are faults of the station and not of the meter."""


@dataclass(frozen=True)
class Estimate:
    """What one reading or pair of readings says: volts lost, current, resistance and heat between two points.

    ``ohms`` are the bounds that the meters' errors leave, ``expected`` those of sound parts, ``usual`` their middle.
    """

    about: str
    runs: tuple[str, ...]
    state: str
    volts: Figure
    amps: float
    resistance: Figure
    watts: Figure
    ohms: Band
    expected: Band
    usual: float
    over: bool
    in_ohms: bool = False


@dataclass(frozen=True)
class Cause:
    """One thing found: its kind, the part it is about, what to know and do, and the figures behind it."""

    kind: str
    about: str
    says: str
    figures: tuple[Figure, ...] = ()
    watts: float = 0.0


@dataclass(frozen=True)
class Aged:
    """A part that measured more on a later day: from and to [Ω], with both days."""

    about: str
    before: Band
    after: Band
    since: str
    now: str
    grew: bool


@dataclass(frozen=True)
class Diagnosis:
    """What the readings of one visit show: an outcome, causes gravest first, and what to measure next.

    ``about`` are the loads that were judged; of the others nothing is said.
    """

    outcome: str
    says: str
    causes: tuple[Cause, ...]
    estimates: tuple[Estimate, ...]
    next: Measurement | None
    notes: tuple[str, ...]
    about: tuple[str, ...] = ()
    aged: tuple[Aged, ...] = ()
    date: str | None = None
