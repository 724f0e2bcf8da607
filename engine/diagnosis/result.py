"""What a diagnosis gives back: plain data, each figure with its working."""

from __future__ import annotations

from dataclasses import dataclass

from engine.diagnosis.interval import Interval
from engine.diagnosis.next_measurement import Measurement
from engine.working import Figure

ALARM, FOUND, CANNOT_TELL, SOUND_READINGS = "alarm", "found", "cannot tell yet", "sound"

SUPPLY, CABLE, FUSE_OR_HOLDER, CONTACT, PATH = "supply", "cable", "fuse or holder", "contact", "path"
SIZE, METER, DESIGN, TOO_MANY_VOLTS, REVERSED = "wrong size", "meter", "by design", "too many volts", "reversed"
ALARMS = (TOO_MANY_VOLTS, REVERSED)
"""The kinds of cause that come before everything else: switch off, unplug, do not key."""

FAULTS = (*ALARMS, SUPPLY, PATH, FUSE_OR_HOLDER, CONTACT, CABLE, SIZE, DESIGN)
"""The kinds of cause that are faults of the station and not of the meter."""


@dataclass(frozen=True)
class Estimate:
    """What one reading or pair of readings says: volts lost, current, resistance and heat between two points.

    ``ohms`` are the bounds that the meters' errors leave, ``expected`` those of sound parts, ``usual`` their middle,
    ``copper`` the share of it that is cable [Ω]. ``exceeds``: more than sound parts can have.
    """

    about: str
    runs: tuple[str, ...]
    state: str
    volts: Figure
    amps: float
    resistance: Figure
    watts: Figure
    ohms: Interval
    expected: Interval
    usual: float
    copper: float
    exceeds: bool
    in_ohms: bool = False
    within_run: bool = False


@dataclass(frozen=True)
class Cause:
    """One thing found: its kind, the part it is about, what is so, why, what to do, and the figures behind it.

    ``says`` is one sentence without its full stop; ``because`` and ``do`` are whole sentences, one thought each.
    """

    kind: str
    about: str
    says: str
    because: tuple[str, ...] = ()
    do: tuple[str, ...] = ()
    figures: tuple[Figure, ...] = ()
    watts: float = 0.0

    @property
    def alarming(self) -> bool:
        """Whether it comes before everything else."""
        return self.kind in ALARMS

    @property
    def whole(self) -> str:
        """All of it in one paragraph."""
        return " ".join((f"{self.says}.", *self.because, *self.do))


@dataclass(frozen=True)
class Ageing:
    """A part that measured more on a later day: from and to [Ω], with both days."""

    about: str
    before: Interval
    after: Interval
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
    ageing: tuple[Ageing, ...] = ()
    date: str | None = None

    @property
    def alarm(self) -> tuple[Cause, ...]:
        """What comes before everything else; empty where nothing does."""
        return tuple(cause for cause in self.causes if cause.alarming)
