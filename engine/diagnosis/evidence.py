"""All that the readings of one visit show, gathered: situations, drops, and the stretches that were measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from engine.diagnosis.drops import Drop, drops
from engine.diagnosis.estimates import estimate
from engine.diagnosis.expected import SoundStation
from engine.diagnosis.result import Cause, Estimate
from engine.diagnosis.situation import Situation, situations
from engine.diagnosis.slips import contradictions, screen
from engine.parts import Instrument
from engine.station.model import Reading


@dataclass(frozen=True)
class Evidence:
    """All that one visit shows: every reading of it, and those that can be as they are typed (``readings``).

    ``short``: what shows less lost than must be; ``doubts``: what cannot be as typed; ``elsewhere``: places on the
    other way of a changeover, where these sources and runs do not reach.
    """

    sound: SoundStation
    visit: tuple[Reading, ...]
    readings: tuple[Reading, ...]
    situations: tuple[Situation, ...]
    drops: tuple[Drop, ...]
    short: tuple[Drop, ...]
    estimates: tuple[Estimate, ...]
    doubts: tuple[Cause, ...] = ()
    elsewhere: tuple[str, ...] = ()

    @property
    def exceeds(self) -> bool:
        """Whether any reading needs a fault to explain it."""
        return any(drop.exceeds(self.sound) for drop in self.drops)


def gather(sound: SoundStation, visit: Sequence[Reading], meters: Mapping[str, Instrument]) -> Evidence:
    """Sort the readings of one visit; what shows less lost than the cable must lose is set apart."""
    case = sound.case
    here = {*case.draw, *case.feed, *case.hub, *(lead.id for lead in case.leads)}
    elsewhere = tuple(dict.fromkeys(reading.at for reading in visit if reading.at not in here))
    screened = screen(sound, [reading for reading in visit if reading.at in here or reading.across is None])
    by_state = situations(sound, screened.readings, meters)
    doubts = [*screened.doubts, *(doubt for situation in by_state for doubt in contradictions(sound, situation))]
    every = [drop for situation in by_state for drop in drops(sound, situation)]
    short = tuple(drop for drop in every if drop.falls_short(sound))
    kept = tuple(drop for drop in every if drop not in short and not _contradicted(drop, short))
    estimates = [stretch for drop in kept if (stretch := estimate(drop, sound)) is not None]
    return Evidence(
        sound, tuple(visit), screened.readings, by_state, kept, short, tuple(estimates), tuple(doubts), elsewhere
    )


def _contradicted(drop: Drop, short: Sequence[Drop]) -> bool:
    """Whether a drop counts from a source's stated volts to a point whose reading another reading contradicts."""
    points = {(other.state, point) for other in short for point in (other.upper, other.lower) if other.upper}
    return not drop.upper and (drop.state, drop.lower) in points


def loads_read(evidence: Evidence) -> tuple[str, ...]:
    """The loads that the readings are about: read or keyed themselves, else beyond what was read; all where none is."""
    case = evidence.sound.case
    read = {at for situation in evidence.situations for at in (*situation.volts, *situation.state.keyed)}
    fed = [draw.id for draw in case.draws if draw.feed == "dc" and case.path(draw.id)]
    spans = [span for situation in evidence.situations for span in (*situation.across, *situation.ohms)]
    measured = {run for run, _ in spans}
    near = [load for load in fed if load in read or case.path(load)[-1].id in measured]
    below = [load for load in fed if any(lead.start in read for lead in case.path(load))]
    return tuple(near or below or fed)
