"""Readings sorted by situation: what was read while the loads did one thing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from engine.diagnosis import meters
from engine.diagnosis.expected import SoundStation
from engine.diagnosis.meters import Measured, surest
from engine.model.case import FUSE, Case
from engine.model.operating import RECEIVE, State
from engine.parts import Instrument
from engine.station.model import Reading
from engine.terms import LoadState

NOTHING = State(LoadState.NO_LOAD)
LISTENING = State(RECEIVE)
BOTH_LEGS = ""

HARDLY_MORE = 1.5
"""Up to this many times its receive current a load was hardly keyed (own estimate)."""

Span = tuple[str, str]
"""A run and what of it the meter's two points lay across: fuse, contacts, copper or all of it (run)."""


@dataclass
class Situation:
    """What was read in one state of the loads.

    ``across`` holds what both legs of a span lose together, ``legs`` what was read in one of the two.
    ``not_keyed``: loads that were said to be keyed, with the current [A] that shows that they were not.
    """

    state: State
    volts: dict[str, list[Measured]] = field(default_factory=dict)
    across: dict[Span, list[Measured]] = field(default_factory=dict)
    legs: dict[Span, dict[str, Measured]] = field(default_factory=dict)
    ohms: dict[Span, list[Measured]] = field(default_factory=dict)
    amps: dict[str, Measured] = field(default_factory=dict)
    not_keyed: dict[str, float] = field(default_factory=dict)

    def best(self, at: str) -> Measured | None:
        """The surest of the readings of volts at one place."""
        return surest(self.volts.get(at, ()))

    @property
    def idle(self) -> bool:
        """Whether nothing was switched on."""
        return self.state.name == LoadState.NO_LOAD


def latest(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """The readings of the last day measured, with those that have no date."""
    last = max((reading.date for reading in readings if reading.date), default=None)
    return tuple(reading for reading in readings if reading.date in (None, last))


def days(readings: Sequence[Reading]) -> tuple[str, ...]:
    """The days of the readings, earliest first."""
    return tuple(sorted({reading.date for reading in readings if reading.date}))


def situations(
    sound: SoundStation, readings: Sequence[Reading], instruments: Mapping[str, Instrument]
) -> tuple[Situation, ...]:
    """The readings of one visit, sorted by what the loads did, keyed first."""
    sorted_by: dict[frozenset[str] | str, Situation] = {}
    named = {group for reading in readings if (group := _named(reading, sound.case))}
    asleep = _not_keyed(sound, readings, named)
    for reading in readings:
        state = state_of(reading, sound, named)
        if asleep and state.keyed and state.keyed <= set(asleep):
            state = LISTENING
        situation = sorted_by.setdefault(state.keyed or state.name, Situation(state))
        _note(situation, reading, instruments)
        situation.not_keyed |= asleep if state == LISTENING else {}
    for situation in sorted_by.values():
        _join_legs(situation, sound.case)
    return tuple(sorted(sorted_by.values(), key=lambda one: (one.idle, not one.state.is_keyed, one.state.name)))


def _not_keyed(sound: SoundStation, readings: Sequence[Reading], named: set[frozenset[str]]) -> dict[str, float]:
    """The loads whose own current, said to be read at key-down, is what they draw at receive [A]."""
    asleep = {}
    for reading in readings:
        load, amps = sound.case.draw.get(reading.at), abs(reading.amps or 0.0)
        if load and load.transmit and amps and load.id in state_of(reading, sound, named).keyed:
            quiet = max(load.receive.high, load.busy.high)
            if amps < HARDLY_MORE * quiet and amps < load.transmit.low / 2:
                asleep[load.id] = amps
    return asleep


def state_of(reading: Reading, sound: SoundStation, named: set[frozenset[str]] | None = None) -> State:
    """What the loads did during a reading; ``named`` are the groups that its neighbours name."""
    if reading.state == LoadState.NO_LOAD:
        return NOTHING
    if reading.state != LoadState.KEYED:
        return LISTENING
    group = _named(reading, sound.case) or _guess(reading, sound, named or set())
    for state in sound.operating.states:
        if state.keyed == group or (len(group) == 1 and group < state.keyed and _driven(group, sound.case)):
            return state
    return State(f"{' + '.join(sorted(group)) or 'nothing'} keyed", group)


def _named(reading: Reading, case: Case) -> frozenset[str]:
    """The loads that a reading itself says were keyed."""
    if reading.state != LoadState.KEYED:
        return frozenset()
    if reading.keyed:
        return frozenset(reading.keyed)
    ends = {lead.id: lead.end for lead in case.leads}
    at = ends.get(reading.at, reading.at)
    return frozenset([at]) if at in case.draw and case.draw[at].is_keyed else frozenset()


def _guess(reading: Reading, sound: SoundStation, named: set[frozenset[str]]) -> frozenset[str]:
    """The one group that other readings name, or the hungriest load that is fed through the place."""
    served = sound.case.served.get(reading.at, sound.case.draws)
    near = {group for group in named if any(load.id in group for load in served)}
    if len(near) == 1:
        return next(iter(near))
    keyed = [load for load in served if load.transmit] or [load for load in sound.case.draws if load.transmit]
    hungriest = max(keyed, key=lambda load: load.transmit.high if load.transmit else 0.0, default=None)
    return frozenset([hungriest.id]) if hungriest else frozenset()


def _driven(group: frozenset[str], case: Case) -> bool:
    """Whether the one load of a group is an amplifier: it is keyed with the radio that drives it."""
    return all(load in case.draw and case.draw[load].group == "amplifier" for load in group)


def _note(situation: Situation, reading: Reading, instruments: Mapping[str, Instrument]) -> None:
    volts = meters.read_volts(reading, instruments)
    if volts and reading.across:
        volts = volts.turned() if volts.value < 0 else volts
        span = (reading.at, reading.across)
        if reading.leg:
            situation.legs.setdefault(span, {})[reading.leg] = volts
        else:
            situation.across.setdefault(span, []).append(volts)
    elif volts:
        situation.volts.setdefault(reading.at, []).append(volts)
    ohms = meters.read_ohms(reading, instruments)
    if ohms and reading.across:
        situation.ohms.setdefault((reading.at, reading.across), []).append(ohms)
    if amps := meters.read_amps(reading, instruments):
        situation.amps[reading.at] = amps


def _join_legs(situation: Situation, case: Case) -> None:
    """Add the two legs of a span where both were read; one is all there is where only one leg holds a fuse."""
    for span, legs in list(situation.legs.items()):
        if len(legs) == 2 or (span[1] == FUSE and _fused_once(span[0], case)):
            first, *rest = legs.values()
            value = first.value + sum(leg.value for leg in rest)
            interval = sum((leg.interval for leg in rest), first.interval)
            situation.across.setdefault(span, []).append(replace(first, value=value, interval=interval))


def _fused_once(run: str, case: Case) -> bool:
    return any(lead.id == run and lead.fuse_legs == "positive" for lead in case.leads)
