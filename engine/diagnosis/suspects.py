"""Which single part, were it at fault, would explain every reading."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from engine.diagnosis.drops import Drop
from engine.diagnosis.expected import SOURCE, Part, SoundStation
from engine.diagnosis.interval import NOT_NEGATIVE, ZERO, Interval
from engine.model.case import CONTACTS, COPPER, FUSE

Place = tuple[str, str]

WEIGHTS = {CONTACTS: 4.0, FUSE: 4.0, SOURCE: 2.0, COPPER: 1.0}
"""How often each is the culprit, against the others: holders and contacts first (common practice, no source)."""


@dataclass(frozen=True)
class Suspect:
    """A part that may be at fault, and what its resistance [Ω] (a source's loss [V]) would then be."""

    place: Place
    ohms: Mapping[Part, Interval]

    @property
    def weight(self) -> float:
        """How likely it is against the others."""
        return WEIGHTS[self.place[1]]


def places(drops: Sequence[Drop]) -> tuple[Place, ...]:
    """The parts that the drops lie across."""
    return tuple(dict.fromkeys(part.place for drop in drops for part in drop.amps))


def suspect(place: Place, drops: Sequence[Drop], sound: SoundStation) -> Suspect | None:
    """The part at ``place`` as the only one at fault, or None when the readings do not allow that.

    Every other part is sound then, so each drop across the part bounds its resistance, and every drop past it must
    be what sound parts show.
    """
    ohms: dict[Part, Interval] = {}
    for drop in drops:
        accused = next((part for part in drop.amps if part.place == place), None)
        if accused is None:
            if drop.exceeds(sound):
                return None
            continue
        known = ohms.get(accused, _allowed(accused, sound)).intersection(_alone(drop, accused, sound))
        if known is None:
            return None
        ohms[accused] = known
    return Suspect(place, ohms)


def _allowed(part: Part, sound: SoundStation) -> Interval:
    """What a faulty part may have at all."""
    return Interval(sound.ohms(part).low, NOT_NEGATIVE.high) if part.name == SOURCE else NOT_NEGATIVE


def _alone(drop: Drop, part: Part, sound: SoundStation) -> Interval:
    """What ``part`` must have by one drop, all others being sound."""
    return remaining(drop, part, sound).divided_by(drop.amps[part])


def remaining(drop: Drop, part: Part, sound: SoundStation) -> Interval:
    """The volts of a drop that are left for one part when all others are sound."""
    others = ZERO
    for other, amps in drop.amps.items():
        if other != part:
            others = others + amps * sound.ohms(other)
    lost = drop.lost - others
    return Interval(lost.low if lost.low > 0 or part.name == SOURCE else 0.0, lost.high)


def explaining(drops: Sequence[Drop], sound: SoundStation) -> tuple[Suspect, ...]:
    """The parts of which each alone would explain every reading, where some reading needs explaining."""
    suspects = (suspect(place, drops, sound) for place in places(drops))
    return tuple(candidate for candidate in suspects if candidate is not None)


def narrowest(drops: Sequence[Drop], sound: SoundStation) -> tuple[Drop, ...]:
    """The drops that are too large, without those that merely contain another such."""
    large = [drop for drop in drops if drop.exceeds(sound)]
    return tuple(
        drop
        for drop in large
        if not any(set(other.amps) < set(drop.amps) and other.state == drop.state for other in large)
    )
