"""All that the readings of one visit show, gathered: scenes, clues, and the stretches that were measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from engine.diagnosis.clues import Clue, clues
from engine.diagnosis.estimates import estimate
from engine.diagnosis.result import Estimate
from engine.diagnosis.scene import Scene, scenes
from engine.diagnosis.sound import Sound
from engine.parts import Instrument
from engine.station.model import Reading
from engine.terms import PowerInput


@dataclass(frozen=True)
class Evidence:
    """All that one visit shows."""

    sound: Sound
    scenes: tuple[Scene, ...]
    clues: tuple[Clue, ...]
    odd: tuple[Clue, ...]
    estimates: tuple[Estimate, ...]

    @property
    def over(self) -> bool:
        """Whether any reading needs a fault to explain it."""
        return any(one.over(self.sound) for one in self.clues)


def gather(sound: Sound, visit: Sequence[Reading], meters: Mapping[str, Instrument]) -> Evidence:
    """Sort the readings of one visit; what shows less lost than the cable must lose is set apart as odd."""
    made = scenes(sound, visit, meters)
    every = [one for scene in made for one in clues(sound, scene)]
    odd = [one for one in every if not one.in_ohms and one.lost.high < one.expected(sound).low - 1e-9]
    kept = tuple(one for one in every if one not in odd)
    estimates = [found for one in kept if (found := estimate(one, sound)) is not None]
    return Evidence(sound, made, kept, tuple(odd), tuple(estimates))


def loads_read(seen: Evidence) -> tuple[str, ...]:
    """The loads that the readings are about: read or keyed themselves, or beyond what was read; all where none is."""
    case = seen.sound.case
    read = {at for scene in seen.scenes for at in (*scene.volts, *scene.state.keyed)}
    fed = [one.id for one in case.draws if one.feed == PowerInput.DC and case.path(one.id)]
    across = {run for scene in seen.scenes for run, _ in (*scene.across, *scene.ohms)}
    near = [one for one in fed if one in read or case.path(one)[-1].id in across]
    return tuple(near or fed)
