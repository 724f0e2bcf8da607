"""A battery emptied in time by a station that listens and transmits by turns.

Charge falls at the rate of Peukert's law on each current while it flows, each by its share of the time; what a
battery recovers between overs is not counted. Time is the integral over charge, so every crossing is found exactly.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine.parts import Chemistry
from engine.physics import cells
from engine.physics.numeric import bisect, mix

Draws = Callable[[float, float], float | None]
"""Current [A] drawn from an electromotive force [V] behind a resistance [Ω]; None when it cannot be fed."""

STEPS, HALVINGS = 160, 40
"""Pieces into which a full charge is cut, and how often a piece is halved to find a crossing in it."""


@dataclass(frozen=True)
class Phase:
    """What the station does for a ``share`` of the time (0 to 1)."""

    name: str
    share: float
    amps: Draws


@dataclass(frozen=True)
class Pack:
    """A battery as it is: rated capacity [Ah], temperature [°C], share of the capacity left, resistance inside [Ω]."""

    chemistry: Chemistry
    amp_hours: float
    celsius: float
    health: float
    ohms: float
    exponent: float
    start: float = 1.0
    which: str = "usual"

    @property
    def capacity(self) -> float:
        """Ampere-hours at the rated current, warm or cold, new or old."""
        return cells.capacity(self.chemistry, self.amp_hours, self.celsius, self.health)

    def emf(self, charge: float) -> float:
        """Electromotive force [V] at a state of charge."""
        return cells.open_circuit(self.chemistry, charge, self.which)


@dataclass(frozen=True)
class Moment:
    """One moment: hours since the start, charge left (share of full), electromotive force [V], amperes by phase."""

    hours: float
    charge: float
    emf: float
    amps: tuple[float, ...]


@dataclass(frozen=True)
class Discharge:
    """A discharge from the start until empty, or until a phase cannot be fed."""

    pack: Pack
    phases: tuple[Phase, ...]
    moments: tuple[Moment, ...]
    collapsed: bool

    @property
    def mean_amps(self) -> float:
        """Mean current [A] at the start."""
        return _mean(self.phases, self.moments[0].amps)

    @property
    def ideal_hours(self) -> float:
        """Rated capacity over the mean current: what a calculator on the back of an envelope says.

        Without end where nothing flows, be it that nothing is asked or that it cannot be fed.
        """
        return self.pack.amp_hours * self.pack.start / self.mean_amps if self.mean_amps else math.inf

    def first(self, broken: Callable[[Moment], bool]) -> Moment | None:
        """The first moment at which something is true that stays true once it is; found between two steps."""
        before = self.moments[0]
        if broken(before):
            return before
        for after in self.moments[1:]:
            if broken(after):
                return _bisect(self, before, after, broken)
            before = after
        return None


def mean_amps(pack: Pack, phases: Sequence[Phase]) -> float:
    """Mean current [A] at the start, without emptying the battery; 0 where it cannot be fed."""
    return _mean(phases, _amps(pack, phases, pack.start) or [0.0] * len(phases))


def run(pack: Pack, phases: Sequence[Phase]) -> Discharge:
    """The discharge of ``pack`` by ``phases``, whose shares sum to one."""
    steps = max(math.ceil(STEPS * pack.start), 2)
    found: list[tuple[Moment, float]] = []
    for step in range(steps + 1):
        charge = pack.start * (1 - step / steps)
        if _amps(pack, phases, charge) is None:
            if found:
                found.append(_next(pack, phases, _last_fed(pack, phases, found[-1][0].charge, charge), found[-1]))
            break
        found.append(_next(pack, phases, charge, found[-1] if found else None))
    whole = bool(found) and found[-1][0].charge <= 0
    moments = tuple(moment for moment, _ in found)
    if not moments:
        moments = (Moment(0.0, pack.start, pack.emf(pack.start), tuple(0.0 for _ in phases)),)
    return Discharge(pack, tuple(phases), moments, not whole)


def _next(
    pack: Pack, phases: Sequence[Phase], charge: float, before: tuple[Moment, float] | None
) -> tuple[Moment, float]:
    """The moment at which ``charge`` is left, and the rate [1/h] at which it goes then."""
    amps = _amps(pack, phases, charge) or ()
    rate = _rate(pack, phases, amps)
    hours = before[0].hours + (before[0].charge - charge) * 2 / (before[1] + rate) if before else 0.0
    return Moment(hours, charge, pack.emf(charge), amps), rate


def _last_fed(pack: Pack, phases: Sequence[Phase], fed: float, unfed: float) -> float:
    """The least charge at which every phase can still be fed, between one at which it can and one at which not."""
    return bisect(lambda charge: _amps(pack, phases, charge) is not None, fed, unfed, HALVINGS)[0]


def _amps(pack: Pack, phases: Sequence[Phase], charge: float) -> tuple[float, ...] | None:
    found = [phase.amps(pack.emf(charge), pack.ohms) for phase in phases]
    return None if any(one is None for one in found) else tuple(one for one in found if one is not None)


def _rate(pack: Pack, phases: Sequence[Phase], amps: Sequence[float]) -> float:
    """Share of a full charge that goes in an hour [1/h]."""
    hours, capacity = pack.chemistry.hours, pack.capacity
    return (
        sum(
            phase.share / cells.hours_to_empty(capacity, hours, one, pack.exponent)
            for phase, one in zip(phases, amps, strict=True)
            if one > 0
        )
        or 1e-12
    )


def _mean(phases: Sequence[Phase], amps: Sequence[float]) -> float:
    return sum(phase.share * one for phase, one in zip(phases, amps, strict=True))


def _bisect(made: Discharge, before: Moment, after: Moment, broken: Callable[[Moment], bool]) -> Moment:
    _, share = bisect(lambda at: not broken(_along(before, after, at)), 0.0, 1.0, HALVINGS)
    return _along(before, after, share)


def _along(before: Moment, after: Moment, share: float) -> Moment:
    """The moment at a share of the way from one to the next."""
    amps = tuple(mix(one, other, share) for one, other in zip(before.amps, after.amps, strict=True))
    return Moment(
        mix(before.hours, after.hours, share),
        mix(before.charge, after.charge, share),
        mix(before.emf, after.emf, share),
        amps,
    )
