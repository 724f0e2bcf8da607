"""Readings of several days held together: what has grown since."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from engine.diagnosis.drops import drops
from engine.diagnosis.estimates import estimate
from engine.diagnosis.expected import SoundStation
from engine.diagnosis.interval import Interval
from engine.diagnosis.result import Ageing
from engine.diagnosis.situation import days, situations
from engine.parts import Instrument
from engine.station.model import Reading


def ageing(sound: SoundStation, readings: Sequence[Reading], meters: Mapping[str, Instrument]) -> tuple[Ageing, ...]:
    """Each stretch that was measured on the first and on a later day: what it had then and has now.

    It has grown when the bounds of the two no longer meet.
    """
    dated = days(readings)
    if len(dated) < 2:
        return ()
    by_day = {day: _ohms(sound, [reading for reading in readings if reading.date == day], meters) for day in dated}
    grown = []
    for about, after in by_day[dated[-1]].items():
        earlier = [day for day in dated[:-1] if about in by_day[day]]
        if earlier:
            before = by_day[earlier[0]][about]
            grown.append(Ageing(about, before, after, earlier[0], dated[-1], after.low > before.high))
    return tuple(grown)


def _ohms(sound: SoundStation, readings: Sequence[Reading], meters: Mapping[str, Instrument]) -> dict[str, Interval]:
    """The resistance of every stretch measured on one day, by what it is about; the narrowest where there are two."""
    narrowest: dict[str, Interval] = {}
    for situation in situations(sound, readings, meters):
        for drop in drops(sound, situation):
            stretch = estimate(drop, sound)
            if stretch and (stretch.about not in narrowest or stretch.ohms.width < narrowest[stretch.about].width):
                narrowest[stretch.about] = stretch.ohms
    return narrowest
