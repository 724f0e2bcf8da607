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

Draws = Callable[[float, float], float | None]
"""Current [A] drawn from an electromotive force [V] behind a resistance [Ω]; None when it cannot be fed."""

STEPS = 160
"""Pieces into which a full charge is cut."""


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
class Energy:
    """Watt-hours from the electromotive force, lost inside the battery, and delivered at its terminals."""

    drawn: float
    inside: float
    delivered: float


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
        """Rated capacity over the mean current: what a calculator on the back of an envelope says."""
        return self.pack.amp_hours * self.pack.start / self.mean_amps

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

    def until(self, charge: float) -> float:
        """Hours until ``charge`` is left; those until the end where it does not come that far."""
        found = self.first(lambda moment: moment.charge <= charge)
        return (found or self.moments[-1]).hours

    def energy(self) -> Energy:
        """Where the energy goes from the start to the end."""
        drawn = inside = delivered = 0.0
        for before, after in zip(self.moments, self.moments[1:], strict=False):
            hours = after.hours - before.hours
            for index, phase in enumerate(self.phases):
                amps = (before.amps[index] + after.amps[index]) / 2
                emf = (before.emf + after.emf) / 2
                drawn += emf * amps * phase.share * hours
                inside += amps**2 * self.pack.ohms * phase.share * hours
                delivered += (emf - amps * self.pack.ohms) * amps * phase.share * hours
        return Energy(drawn, inside, delivered)


def run(pack: Pack, phases: Sequence[Phase]) -> Discharge:
    """The discharge of ``pack`` by ``phases``, whose shares sum to one."""
    moments: list[Moment] = []
    hours, collapsed = 0.0, False
    steps = max(math.ceil(STEPS * pack.start), 2)
    before: tuple[Moment, float] | None = None
    for step in range(steps + 1):
        charge = pack.start * (1 - step / steps)
        amps = _amps(pack, phases, charge)
        if amps is None:
            collapsed = True
            break
        rate = _rate(pack, phases, amps)
        if before is not None:
            hours += (before[0].charge - charge) * 2 / (before[1] + rate)
        moment = Moment(hours, charge, pack.emf(charge), amps)
        moments.append(moment)
        before = (moment, rate)
    if not moments:
        moments = [Moment(0.0, pack.start, pack.emf(pack.start), tuple(0.0 for _ in phases))]
    return Discharge(pack, tuple(phases), tuple(moments), collapsed)


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
    return sum(phase.share * one for phase, one in zip(phases, amps, strict=True)) or 1e-12


def _bisect(made: Discharge, before: Moment, after: Moment, broken: Callable[[Moment], bool]) -> Moment:
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        if broken(_along(before, after, middle)):
            high = middle
        else:
            low = middle
    return _along(before, after, high)


def _along(before: Moment, after: Moment, share: float) -> Moment:
    """The moment at a share of the way from one to the next."""

    def mix(one: float, other: float) -> float:
        return one + (other - one) * share

    amps = tuple(mix(one, other) for one, other in zip(before.amps, after.amps, strict=True))
    return Moment(mix(before.hours, after.hours), mix(before.charge, after.charge), mix(before.emf, after.emf), amps)
