"""What each reading says about parts: the volts lost between two points, and the parts that lie between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from engine.diagnosis import meters
from engine.diagnosis.band import ONE, Band, total
from engine.diagnosis.meters import Sight
from engine.diagnosis.scene import Currents, Scene, surest
from engine.diagnosis.sound import SOURCE, Part, Sound
from engine.model.case import Lead
from engine.model.operating import State

RUN = "run"


@dataclass(frozen=True)
class Clue:
    """``lost`` volts [V] between two points, through parts that each carry ``amps`` [A].

    ``shown`` are the volts at the lower point. For a reading in ohms the volts are those at one ampere. Below an
    unmeasured source, ``lost`` counts from the least that the source may show.
    """

    state: State
    upper: str
    lower: str
    lost: Band
    value: float
    amps: Mapping[Part, Band]
    usual: float
    in_ohms: bool = False
    shown: Band | None = None

    @property
    def runs(self) -> tuple[str, ...]:
        """The runs between the two points."""
        return tuple(dict.fromkeys(one.of for one in self.amps if one.name != SOURCE))

    def expected(self, sound: Sound) -> Band:
        """The volts that sound parts would lose there [V]."""
        return total(amps * sound.ohms(part) for part, amps in self.amps.items())

    def over(self, sound: Sound) -> bool:
        """Whether more is lost than sound parts can lose, whatever the meter's error."""
        return self.lost.low > self.expected(sound).high + 1e-9


def clues(sound: Sound, scene: Scene) -> tuple[Clue, ...]:
    """Everything that the readings of one scene say."""
    currents = Currents(sound, scene)
    found = [*_sources(sound, scene), *_sections(sound, scene, currents), *_across(sound, scene, currents)]
    return tuple({(one.upper, one.lower, *one.amps): one for one in found}.values())


def _sources(sound: Sound, scene: Scene) -> Iterator[Clue]:
    for feed in sound.case.feeds:
        seen = scene.best(feed.id)
        if seen:
            yield _from_source(sound, scene, feed.id, seen, {})


def _from_source(sound: Sound, scene: Scene, feed: str, seen: Sight, amps: Mapping[Part, Band]) -> Clue:
    """A reading against the least that its source may show."""
    least = sound.volts(sound.case.feed[feed], scene.state).low
    lost = Band(least - seen.band.high, least - seen.band.low)
    parts = {Part(feed, SOURCE, scene.state.name): ONE, **amps}
    return Clue(scene.state, "", seen.reading.at, lost, least - seen.value, parts, 0.0, shown=seen.band)


def _sections(sound: Sound, scene: Scene, currents: Currents) -> Iterator[Clue]:
    case = sound.case
    for end in [*(one.id for one in case.hubs), *(one.id for one in case.draws)]:
        seen = scene.best(end)
        path = case.path(end)
        if seen is None or not path:
            continue
        between: list[Lead] = []
        for lead in reversed(path):
            between.insert(0, lead)
            above = scene.best(lead.start)
            if above:
                break
        amps = {part: currents.runs[lead.id] for lead in between for part in sound.parts(lead)}
        if above is None:
            if between[0].start in case.feed:
                yield _from_source(sound, scene, between[0].start, seen, amps)
            continue
        lost, value = meters.drop(above, seen), above.value - seen.value
        yield Clue(
            scene.state, between[0].start, end, lost, value, amps, currents.usual(between[-1].id), shown=seen.band
        )


def _across(sound: Sound, scene: Scene, currents: Currents) -> Iterator[Clue]:
    leads = {one.id: one for one in sound.case.leads}
    for (run, what), sights in scene.across.items():
        seen = surest(sights)
        parts = [one for one in sound.parts(leads[run]) if what in (RUN, one.name)]
        if seen and parts:
            amps = dict.fromkeys(parts, currents.runs[run])
            yield Clue(scene.state, run, what, seen.band, seen.value, amps, currents.usual(run))
    for (run, what), sights in scene.ohms.items():
        seen = surest(sights)
        parts = [one for one in sound.parts(leads[run]) if what in (RUN, one.name)]
        if seen and parts:
            yield Clue(scene.state, run, what, seen.band, seen.value, dict.fromkeys(parts, ONE), 1.0, True)
