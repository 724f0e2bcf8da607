"""Readings of several days held together: what has grown since."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from engine.diagnosis.band import Band
from engine.diagnosis.clues import clues
from engine.diagnosis.estimates import estimate
from engine.diagnosis.result import Aged
from engine.diagnosis.scene import days, scenes
from engine.diagnosis.sound import Sound
from engine.parts import Instrument
from engine.station.model import Reading


def aged(sound: Sound, readings: Sequence[Reading], meters: Mapping[str, Instrument]) -> tuple[Aged, ...]:
    """Each stretch that was measured on the first and on a later day: what it had then and has now.

    It has grown when the bounds of the two no longer meet.
    """
    dated = days(readings)
    if len(dated) < 2:
        return ()
    seen = {day: _ohms(sound, [one for one in readings if one.date == day], meters) for day in dated}
    found = []
    for about in seen[dated[-1]]:
        earlier = [day for day in dated[:-1] if about in seen[day]]
        if earlier:
            before, after = seen[earlier[0]][about], seen[dated[-1]][about]
            found.append(Aged(about, before, after, earlier[0], dated[-1], after.low > before.high))
    return tuple(found)


def _ohms(sound: Sound, readings: Sequence[Reading], meters: Mapping[str, Instrument]) -> dict[str, Band]:
    """The resistance of every stretch measured on one day, by what it is about; the narrowest where there are two."""
    found: dict[str, Band] = {}
    for scene in scenes(sound, readings, meters):
        for one in clues(sound, scene):
            made = estimate(one, sound)
            if made and (made.about not in found or made.ohms.width < found[made.about].width):
                found[made.about] = made.ohms
    return found
