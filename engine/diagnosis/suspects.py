"""Which single part, were it at fault, would explain every reading."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from engine.diagnosis.band import ANY, Band
from engine.diagnosis.clues import Clue
from engine.diagnosis.sound import SOURCE, Part, Sound
from engine.model.case import CONTACTS, COPPER, FUSE

Place = tuple[str, str]

WEIGHTS = {CONTACTS: 4.0, FUSE: 4.0, SOURCE: 2.0, COPPER: 1.0}
"""How often each is the culprit, against the others: holders and contacts first (common practice, no source)."""


@dataclass(frozen=True)
class Suspect:
    """A part that may be at fault, and what its resistance [Ω] (a source's loss [V]) would then be."""

    place: Place
    ohms: Mapping[Part, Band]

    @property
    def weight(self) -> float:
        """How likely it is against the others."""
        return WEIGHTS[self.place[1]]


def places(clues: Sequence[Clue]) -> tuple[Place, ...]:
    """The parts that the clues speak of."""
    return tuple(dict.fromkeys(part.place for clue in clues for part in clue.amps))


def suspect(place: Place, clues: Sequence[Clue], sound: Sound) -> Suspect | None:
    """The part at ``place`` as the only one at fault, or None when the readings do not allow that.

    Every other part is sound then, so each clue through the part bounds its resistance, and every clue past it must
    be what sound parts show.
    """
    found: dict[Part, Band] = {}
    for clue in clues:
        mine = next((one for one in clue.amps if one.place == place), None)
        if mine is None:
            if clue.over(sound):
                return None
            continue
        whole = ANY if mine.name != SOURCE else Band(sound.ohms(mine).low, ANY.high)
        both = found.get(mine, whole).meet(_alone(clue, mine, sound))
        if both is None:
            return None
        found[mine] = both
    return Suspect(place, found)


def _alone(clue: Clue, part: Part, sound: Sound) -> Band:
    """What ``part`` must have by one clue, all others being sound."""
    return left(clue, part, sound).over(clue.amps[part])


def left(clue: Clue, part: Part, sound: Sound) -> Band:
    """The volts of a clue that are left for one part when all others are sound."""
    rest = Band(0.0, 0.0)
    for other, amps in clue.amps.items():
        if other != part:
            rest = rest + amps * sound.ohms(other)
    lost = clue.lost - rest
    return Band(lost.low if lost.low > 0 or part.name == SOURCE else 0.0, lost.high)


def explaining(clues: Sequence[Clue], sound: Sound) -> tuple[Suspect, ...]:
    """The parts of which each alone would explain every reading, where some reading needs explaining."""
    found = (suspect(one, clues, sound) for one in places(clues))
    return tuple(one for one in found if one is not None)


def narrowest(clues: Sequence[Clue], sound: Sound) -> tuple[Clue, ...]:
    """The clues that show too much lost, without those that merely contain another such."""
    over = [one for one in clues if one.over(sound)]
    return tuple(
        one for one in over if not any(set(other.amps) < set(one.amps) and other.state == one.state for other in over)
    )
