"""Readings sorted into scenes: what was read while the loads did one thing, and the current that flowed where."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from engine.diagnosis import meters
from engine.diagnosis.band import Band, total
from engine.diagnosis.meters import NOT_STATED, Sight
from engine.diagnosis.sound import Sound
from engine.model.case import Case, Lead
from engine.model.operating import RECEIVE, State
from engine.parts import Instrument
from engine.station.model import Reading
from engine.terms import Group, LoadState, PowerInput

NO_LOAD_AMPS = 0.1
"""Most that may flow while nothing is switched on [A] (own estimate)."""

NOTHING = State(LoadState.NO_LOAD)
LISTENING = State(RECEIVE)


@dataclass
class Scene:
    """What was read in one state of the loads."""

    state: State
    volts: dict[str, list[Sight]] = field(default_factory=dict)
    across: dict[tuple[str, str], list[Sight]] = field(default_factory=dict)
    ohms: dict[tuple[str, str], list[Sight]] = field(default_factory=dict)
    amps: dict[str, Sight] = field(default_factory=dict)

    def best(self, at: str) -> Sight | None:
        """The surest of the readings of volts at one place."""
        return surest(self.volts.get(at, ()))

    @property
    def idle(self) -> bool:
        """Whether nothing was switched on."""
        return self.state.name == LoadState.NO_LOAD


def surest(sights: Sequence[Sight]) -> Sight | None:
    """The reading with the narrowest bounds."""
    return min(sights, key=lambda one: one.band.width, default=None)


def latest(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings of the last day measured, with those that have no date."""
    last = max((one.date for one in readings if one.date), default=None)
    return tuple(one for one in readings if one.date in (None, last))


def days(readings: Sequence[Reading]) -> tuple[str, ...]:
    """The days of the readings, earliest first."""
    return tuple(sorted({one.date for one in readings if one.date}))


def scenes(sound: Sound, readings: Sequence[Reading], shelf: Mapping[str, Instrument]) -> tuple[Scene, ...]:
    """The readings of one visit, one scene for each state of the loads, keyed first."""
    found: dict[frozenset[str] | str, Scene] = {}
    told = {group for one in readings if (group := _told(one, sound.case))}
    for one in readings:
        state = state_of(one, sound, told)
        key = state.keyed or state.name
        _note(found.setdefault(key, Scene(state)), one, shelf)
    order = sorted(found.values(), key=lambda scene: (scene.idle, not scene.state.is_keyed, scene.state.name))
    return tuple(order)


def state_of(reading: Reading, sound: Sound, told: set[frozenset[str]] | None = None) -> State:
    """What the loads did during a reading; ``told`` are the groups that its neighbours name."""
    if reading.state == LoadState.NO_LOAD:
        return NOTHING
    if reading.state != LoadState.KEYED:
        return LISTENING
    group = _told(reading, sound.case) or _guess(reading, sound, told or set())
    for one in sound.operating.states:
        if one.keyed == group or (len(group) == 1 and group < one.keyed and _driven(group, sound.case)):
            return one
    return State(f"{' + '.join(sorted(group)) or 'nothing'} keyed", group)


def _told(reading: Reading, case: Case) -> frozenset[str]:
    """The loads that a reading itself says were keyed."""
    if reading.state != LoadState.KEYED:
        return frozenset()
    if reading.keyed:
        return frozenset(reading.keyed)
    ends = {lead.id: lead.end for lead in case.leads}
    at = ends.get(reading.at, reading.at)
    return frozenset([at]) if at in case.draw and case.draw[at].is_keyed else frozenset()


def _guess(reading: Reading, sound: Sound, told: set[frozenset[str]]) -> frozenset[str]:
    """The one group that other readings name, or the hungriest load that is fed through the place."""
    served = sound.case.served.get(reading.at, sound.case.draws)
    near = {group for group in told if any(one.id in group for one in served)}
    if len(near) == 1:
        return next(iter(near))
    keyed = [one for one in served if one.transmit] or [one for one in sound.case.draws if one.transmit]
    most = max(keyed, key=lambda one: one.transmit.high if one.transmit else 0.0, default=None)
    return frozenset([most.id]) if most else frozenset()


def _driven(group: frozenset[str], case: Case) -> bool:
    """Whether the one load of a group is an amplifier: it is keyed with the radio that drives it."""
    return all(one in case.draw and case.draw[one].group == Group.AMPLIFIER for one in group)


def _note(scene: Scene, one: Reading, shelf: Mapping[str, Instrument]) -> None:
    meter = shelf[one.instrument or NOT_STATED]
    if one.volts is not None:
        sight = Sight(one.volts, meters.volts(one.volts, meter), meter, one)
        if one.across:
            scene.across.setdefault((one.at, one.across), []).append(sight)
        else:
            scene.volts.setdefault(one.at, []).append(sight)
    if one.ohms is not None and one.across:
        sight = Sight(one.ohms, meters.ohms(one.ohms, meter), meter, one)
        scene.ohms.setdefault((one.at, one.across), []).append(sight)
    if one.amps is not None:
        ampere = shelf[one.amps_instrument or NOT_STATED]
        scene.amps[one.at] = Sight(one.amps, meters.amps(one.amps, ampere), ampere, one)


class Currents:
    """The current through every run and into every load in one scene, as far as it can be told [A]."""

    def __init__(self, sound: Sound, scene: Scene) -> None:
        self.sound, self.scene, self.case = sound, scene, sound.case
        self.loads = {one.id: self._load(one.id) for one in self.case.draws if one.feed == PowerInput.DC}
        self.runs = {lead.id: self._run(lead) for lead in self.case.leads}
        for lead in self.case.leads:
            served = self._served(lead.id)
            if len(served) == 1 and (both := self.loads[served[0]].meet(self.runs[lead.id])):
                self.loads[served[0]] = both
        self.runs = {lead.id: self._run(lead) for lead in self.case.leads}
        self._from_sources()

    def usual(self, run: str) -> float:
        """The current that a run is most likely to carry: measured, or as stated of its loads [A]."""
        lead = next(one for one in self.case.leads if one.id == run)
        for place in (run, lead.end, lead.start):
            only = place != lead.start or len(self._from(lead.start)) == 1
            if place in self.scene.amps and only:
                return self.scene.amps[place].value
        if self.scene.idle:
            return 0.0
        return sum(self.sound.usual_amps(one, self.scene.state) for one in self._served(run))

    def _load(self, id_: str) -> Band:
        if id_ in self.scene.amps:
            return self.scene.amps[id_].band
        if self.scene.idle:
            return Band(0.0, max(NO_LOAD_AMPS, self.case.draw[id_].rest * 2))
        seen = self.scene.best(id_)
        return self.sound.amps(id_, self.scene.state, seen.band if seen else self._upstream(id_))

    def _upstream(self, id_: str) -> Band | None:
        """The volts nearest upstream that are below what the load accepts: then it cannot be working as it should."""
        for lead in reversed(self.case.path(id_)):
            seen = self.scene.best(lead.start)
            if seen and seen.band.low < self.case.draw[id_].lowest:
                return seen.band
        return None

    def _run(self, lead: Lead) -> Band:
        band = total(self.loads[one] for one in self._served(lead.id))
        seen = self.scene.amps.get(lead.id)
        if seen is None and lead.end in self.case.hub:
            seen = self.scene.amps.get(lead.end)
        return seen.band if seen else band

    def _from_sources(self) -> None:
        """What is measured at a source flows through its runs together."""
        for feed in self.case.feeds:
            seen, runs = self.scene.amps.get(feed.id), self._from(feed.id)
            if seen is None:
                continue
            for lead in runs:
                rest = total(self.runs[one.id] for one in runs if one is not lead)
                left = seen.band - rest
                band = Band(max(left.low, 0.0), max(left.high, 0.0))
                known = lead.id in self.scene.amps or lead.end in self.scene.amps
                self.runs[lead.id] = self.runs[lead.id] if known else self._tighter(band, lead)

    def _tighter(self, band: Band, lead: Lead) -> Band:
        return band if len(self._from(lead.start)) == 1 else band.meet(self.runs[lead.id]) or band

    def _from(self, start: str) -> list[Lead]:
        return [one for one in self.case.leads if one.start == start]

    def _served(self, run: str) -> list[str]:
        return [one.id for one in self.case.served.get(run, ()) if one.feed == PowerInput.DC]
