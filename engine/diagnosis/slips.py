"""Readings that cannot be as they are typed: a thousandth or a tenfold of what can be there, more than a whole way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.diagnosis import meters
from engine.diagnosis.expected import SoundStation
from engine.diagnosis.interval import Interval
from engine.diagnosis.meters import surest
from engine.diagnosis.result import METER, Cause
from engine.diagnosis.situation import Situation, state_of
from engine.diagnosis.words import spoken
from engine.model.case import Feed
from engine.station.model import Reading
from engine.units import SHOWN_AMPS as AMPS
from engine.units import SHOWN_VOLTS as VOLTS
from engine.units import Kind, spell
from engine.working import Figure

THOUSAND, TEN = 1000.0, 10.0

NEAR = Interval(0.5, 1.35)
"""A figure within these shares of what it should be near may be meant (own estimate)."""

FAR = 3.0
"""A current this many times what the loads draw is asked about before it is believed (own estimate)."""

LEFT_OUT = "It is left out until it is corrected or read again."


@dataclass(frozen=True)
class Screened:
    """The readings that can be as they are, and what is doubtful about the others."""

    readings: tuple[Reading, ...]
    doubts: tuple[Cause, ...] = ()


def screen(sound: SoundStation, visit: Sequence[Reading]) -> Screened:
    """Set aside the volts or the current of every reading that looks like a slip of the unit or the point."""
    kept: list[Reading] = []
    doubts: list[Cause] = []
    for reading in visit:
        volts, amps = _volts_slip(sound, reading), _amps_slip(sound, reading)
        doubts += [doubt for doubt in (volts, amps) if doubt]
        rest = replace(reading, volts=None if volts else reading.volts, amps=None if amps else reading.amps)
        if any(figure is not None for figure in (rest.volts, rest.amps, rest.ohms)):
            kept.append(rest)
    return Screened(tuple(kept), tuple(doubts))


def _volts_slip(sound: SoundStation, reading: Reading) -> Cause | None:
    feed = feed_of(sound, reading.at)
    if reading.volts is None or feed is None:
        return None
    size = abs(reading.volts)
    if reading.across and size > feed.highest_volts * NEAR.high:
        return _doubt(reading, VOLTS, f"{size:g} mV", f"No more than {_volts(feed)} comes from {feed.id}.")
    meant = size * THOUSAND
    if not reading.across and size and feed.volts * NEAR.low <= meant <= feed.volts * NEAR.high:
        return _doubt(reading, VOLTS, f"{meant:g} V", f"About {_volts(feed)} should be there.")
    return None


def _volts(feed: Feed) -> str:
    return spoken(feed.volts, "V")


def feed_of(sound: SoundStation, at: str) -> Feed | None:
    """The source of a place: a source, strip, load or run, on whichever way of a changeover it lies."""
    case = sound.case.joint
    start = next((lead.start for lead in case.leads if lead.id == at), at)
    return case.feed.get(start) or case.source_of(start)


def _amps_slip(sound: SoundStation, reading: Reading) -> Cause | None:
    """A current that fits what the loads draw once its unit or its point is moved."""
    if reading.amps is None:
        return None
    state, size = state_of(reading, sound), abs(reading.amps)
    served = sound.case.served.get(reading.at) or [load for load in sound.case.draws if load.id == reading.at]
    usual = sum(sound.usual_amps(load.id, state) for load in served if load.feed == "dc")
    if not usual or not size:
        return None
    low, high = usual * NEAR.low, usual * NEAR.high
    if low <= size * THOUSAND <= high:
        return _doubt(reading, AMPS, f"{size * THOUSAND:g} A", f"About {spoken(usual, 'A')} is drawn there.")
    if size > FAR * usual and state.is_keyed and low <= size / TEN <= high:
        return _doubt(reading, AMPS, f"{size / TEN:g} A", f"About {spoken(usual, 'A')} is drawn there.")
    return None


def _doubt(reading: Reading, kind: Kind, meant: str, why: str) -> Cause:
    value = (reading.volts if kind is VOLTS else reading.amps) or 0.0
    where = f"across the {reading.across} of {reading.at}" if reading.across else f"at {reading.at}"
    says = f"{spell(value, kind)} {where} can hardly be"
    asked = (f"Was it {meant}?", LEFT_OUT)
    return Cause(METER, reading.at, says, (why,), asked, (Figure(value, kind.symbol),))


def contradictions(sound: SoundStation, situation: Situation) -> list[Cause]:
    """Set aside what is read across a part where the whole way, read at both its ends, loses less than that part."""
    doubts = []
    for lead in sound.case.leads:
        upper, lower = situation.best(lead.start), situation.best(lead.end)
        if upper is None or lower is None:
            continue
        whole = meters.drop(upper, lower)
        for span in [span for span in situation.across if span[0] == lead.id]:
            seen = surest(situation.across[span])
            if seen and seen.interval.low > whole.high:
                lost = f"Only {spoken(upper.value - lower.value, 'V')} is lost from {lead.start} to {lead.end}."
                doubts.append(_doubt(seen.reading, VOLTS, f"{seen.value:g} mV", lost))
                del situation.across[span]
    return doubts
