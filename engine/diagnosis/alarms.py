"""What comes before everything else: more volts than a load accepts, and plus and minus exchanged.

A figure that lies above a limit is an alarm even where the meter's error could explain it: reading again with
everything unplugged costs little, a radio much.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from engine.diagnosis import meters
from engine.diagnosis.drops import in_words
from engine.diagnosis.evidence import Evidence
from engine.diagnosis.expected import SoundStation
from engine.diagnosis.meters import Measured
from engine.diagnosis.next_measurement import Measurement
from engine.diagnosis.result import REVERSED, TOO_MANY_VOLTS, Cause
from engine.diagnosis.situation import NOTHING, Situation
from engine.diagnosis.slips import feed_of
from engine.diagnosis.words import beside, listed, spoken
from engine.model.case import BATTERY, BOOSTER, MAINS, VEHICLE, Draw, Feed
from engine.parts import Instrument
from engine.working import Figure

EQUIPMENT = 1.15
"""Of nominal: the most that equipment is tested at, 47 CFR 2.1055(d); taken where no load's window is known."""

NOMINAL = 13.8

TOUCH_VOLTS = 60.0
"""From here [V] direct current is a danger to touch."""

RAW_VOLTS = 1.3
"""Of its set point: what only the raw voltage inside a supply comes to (common practice, no source)."""

TWO_BATTERIES = 1.6
"""Of its usual volts: what no single battery of that sort shows, however it is charged (own estimate)."""

LESS = 0.95
"""Of a reading: another below this share of it contradicts it (own estimate)."""

NEAR = 0.2
"""How far a tenth or a thousandth of a reading may be from the usual volts to be taken for a slip (own estimate)."""

NONE_TO_SPEAK_OF = 0.5
"""Volts the wrong way round that a meter may show with nothing there [V]."""

DO_NOT_KEY = "Do not key."


@dataclass(frozen=True)
class Sighting:
    """One reading of volts at a place, in its situation, with the source that feeds the place."""

    at: str
    seen: Measured
    situation: Situation
    feed: Feed | None

    @property
    def where(self) -> str:
        """Place and state in words."""
        return f"at {self.at}, {in_words(self.situation.state)}"


def alarms(evidence: Evidence) -> tuple[Cause, ...]:
    """Every alarm of a visit, gravest first."""
    sightings = list(_sightings(evidence))
    reversed_ = [sighting for sighting in sightings if sighting.seen.value < -NONE_TO_SPEAK_OF]
    high = [sighting for sighting in sightings if _is_too_high(evidence.sound, sighting)]
    too_high = [_too_high(evidence, group) for group in _by_source(high)]
    too_high.sort(key=lambda cause: -cause.figures[0].value / cause.figures[1].value)
    return (*too_high, *(_reversed(group, sightings) for group in _by_source(reversed_)))


def alarm_measurement(evidence: Evidence, meter: Instrument) -> Measurement | None:
    """The source's own terminals with everything unplugged; None once they are read, or where no source is known."""
    sightings = list(_sightings(evidence))
    alarming = [sighting for sighting in sightings if _is_alarming(evidence.sound, sighting)]
    for sighting in alarming:
        place = sighting.feed.id if sighting.feed and sighting.seen.value > 0 else sighting.at
        done = any(other.at == place and other.situation.idle for other in sightings)
        feed = sighting.feed
        if feed and not done:
            volts = evidence.sound.volts(feed, NOTHING)
            error = meters.volts(volts.high, meter).width / 2
            return Measurement(place, None, NOTHING.name, (), volts.widened(error))
    return None


def _is_alarming(sound: SoundStation, sighting: Sighting) -> bool:
    return sighting.seen.value < -NONE_TO_SPEAK_OF or (
        _is_too_high(sound, sighting) and not _as_described(sound, sighting)
    )


def _is_too_high(sound: SoundStation, sighting: Sighting) -> bool:
    """Above what a load accepts; at a source that gives what it is described to give, the check says so instead."""
    return sighting.seen.value > _limit(sound, sighting) and (
        sighting.at in sound.case.draw or not _as_described(sound, sighting)
    )


def _sightings(evidence: Evidence) -> Iterator[Sighting]:
    for situation in evidence.situations:
        for at, measured in situation.volts.items():
            for seen in measured:
                yield Sighting(at, seen, situation, feed_of(evidence.sound, at))


def _by_source(sightings: Sequence[Sighting]) -> list[list[Sighting]]:
    groups: dict[str, list[Sighting]] = {}
    for sighting in sightings:
        groups.setdefault(sighting.feed.id if sighting.feed else sighting.at, []).append(sighting)
    return list(groups.values())


def _reached(sound: SoundStation, at: str) -> list[Draw]:
    """The loads that get the volts of a place, of which it is known what they accept."""
    case = sound.case.joint
    loads = [case.draw[at]] if at in case.draw else list(case.served.get(at, ()))
    return [load for load in loads if load.feed == "dc" and "window" not in load.missing]


def _limit(sound: SoundStation, sighting: Sighting) -> float:
    """The most volts that may stand at a place: what the first of its loads to suffer accepts."""
    highest = [load.highest for load in _reached(sound, sighting.at)]
    if highest:
        return min(highest)
    volts = sighting.feed.volts if sighting.feed else NOMINAL
    return EQUIPMENT * (NOMINAL if volts < 1.5 * NOMINAL else volts)


def _too_high(evidence: Evidence, group: Sequence[Sighting]) -> Cause:
    """More volts than a load accepts, by the highest reading that one source gave."""
    sound = evidence.sound
    worst = max(group, key=lambda sighting: sighting.seen.value / _limit(sound, sighting))
    value, limit = worst.seen.value, _limit(sound, worst)
    suffering = [load.id for load in _reached(sound, worst.at) if load.highest < value]
    shown, most = beside(value, limit)
    whose = f"{listed(suffering)} {'accepts' if len(suffering) == 1 else 'accept'}" if suffering else "equipment takes"
    word = "DANGER" if value > TOUCH_VOLTS else "WARNING"
    says = f"{word}: {shown} {worst.where}; {most} is the most that {whose}"
    because, do = _explained(evidence, worst, suffering)
    if sound.assumed & set(suffering):
        because = (f"{most} is assumed (usual for its class): its manual has the true limit.", *because)
    return Cause(TOO_MANY_VOLTS, worst.at, says, because, do, (Figure(value, "V"), Figure(limit, "V")))


def _explained(
    evidence: Evidence, worst: Sighting, suffering: Sequence[str]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Why there may be too many volts, and what to do."""
    feed = worst.feed
    if feed is None:
        return (), (f"Switch its source off and unplug {worst.at}. {DO_NOT_KEY}",)
    if _as_described(evidence.sound, worst):
        why = f"{feed.id} is as it should be: {listed(suffering)} needs fewer volts than it gives."
        return (why,), (f"Unplug {listed(suffering)}, and feed it through a regulator made for it. {DO_NOT_KEY}",)
    contradicted = tuple(_contradictions(evidence, worst))
    because = [*(contradicted or _why(feed, worst.seen.value)), *_doubts(evidence, worst)]
    touch = ("Touch no metal of it.",) if worst.seen.value > TOUCH_VOLTS else ()
    return tuple(because), (*touch, *_first_steps(feed), *_cure(evidence, feed))


def _as_described(sound: SoundStation, worst: Sighting) -> bool:
    feed = worst.feed
    return feed is not None and worst.seen.interval.low <= sound.volts(feed, worst.situation.state).high


def _why(feed: Feed, value: float) -> Iterator[str]:
    if value > TOUCH_VOLTS and feed.volts < TOUCH_VOLTS / 2:
        yield "No such source gives that: a slip of the pen, or mains voltage where none should be."
    elif feed.kind == VEHICLE:
        yield "The alternator's regulator has failed, or a battery terminal is loose."
    elif feed.kind == BATTERY and value > TWO_BATTERIES * feed.volts:
        yield "That is two batteries in series, or one of twice the volts."
    elif feed.kind == BATTERY:
        yield "No battery of this sort rests so high: a charger is driving it."
    elif value > RAW_VOLTS * feed.volts:
        yield f"Its regulation has failed: that is the raw voltage inside {feed.id}."
    else:
        yield f"The knob of {feed.id} was turned up, or its regulation has failed."


def _contradictions(evidence: Evidence, worst: Sighting) -> Iterator[str]:
    """Another reading of the same moment, at the same place or at the source, that shows clearly less."""
    places = {worst.at, worst.feed.id if worst.feed else worst.at}
    for other in _sightings(evidence):
        same = other.situation.state == worst.situation.state and other.at in places
        if same and 0 < other.seen.value < LESS * worst.seen.value:
            volts = spoken(other.seen.value, "V")
            yield f"The {other.seen.instrument.id} shows {volts} at {other.at}: one of the two is wrong."


def _doubts(evidence: Evidence, worst: Sighting) -> Iterator[str]:
    """What else speaks against the reading: the source with nothing drawn, a slip of the point."""
    feed = worst.feed
    usual = feed.volts if feed else NOMINAL
    for other in _sightings(evidence):
        idle = feed and other.at == feed.id and other.situation.idle and not worst.situation.idle
        if idle and 0 < other.seen.value < LESS * worst.seen.value:
            yield f"With nothing drawn {other.at} shows {spoken(other.seen.value, 'V')}."
    if any(abs(worst.seen.value / factor / usual - 1) < NEAR for factor in (10, 1000)):
        yield f"Was it {spoken(usual, 'V')}? Then correct the reading."


_FIRST = {
    MAINS: "Switch {id} off at the wall and unplug every load from it.",
    VEHICLE: "Stop the engine and unplug every load from {id}.",
    BATTERY: "Take the charger off and unplug every load from {id}.",
    BOOSTER: "Take {id} off its battery and unplug every load from it.",
}


def _first_steps(feed: Feed) -> tuple[str, ...]:
    return (f"{_FIRST.get(feed.kind, _FIRST[MAINS]).format(id=feed.id)} {DO_NOT_KEY}",)


def _cure(evidence: Evidence, feed: Feed) -> tuple[str, ...]:
    """What ends it, after it has been read again with nothing connected."""
    idle = [sighting for sighting in _sightings(evidence) if sighting.at == feed.id and sighting.situation.idle]
    expected = evidence.sound.volts(feed, NOTHING)
    if not idle:
        return ()
    if all(sighting.seen.interval.low <= expected.high for sighting in idle):
        return ("If it was mended or set since, take the old reading out; else do not trust it.",)
    if any(sighting.seen.value > TOUCH_VOLTS for sighting in idle):
        return ("Leave it to a technician.",)
    if feed.kind == VEHICLE:
        return ("Have a garage mend the charging before anything is plugged in again.",)
    if feed.kind == BATTERY:
        return ("Find the charger that drives it so high; acid gasses then: air the room, no sparks.",)
    return (
        f"If its knob does not bring it back to {spoken(feed.volts, 'V')}, have it mended or replaced.",
        "Leave its inside to a technician: it holds mains voltage.",
    )


def _reversed(group: Sequence[Sighting], sightings: Sequence[Sighting]) -> Cause:
    """Volts below nought at terminals: the meter's points lie the other way round, or the lead is reversed."""
    first = group[0]
    says = f"WARNING: {spoken(first.seen.value, 'V')} {first.where}: plus and minus are exchanged"
    feed = first.feed
    right = [
        sighting for sighting in sightings if feed and sighting.at == feed.id and sighting.seen.value > NONE_TO_SPEAK_OF
    ]
    because = (f"{feed.id} reads plus the right way round, so suspect the lead." if feed and right else
               "It may be the meter's own leads: red plug in its volts socket, red point on plus.")  # fmt: skip
    loads = "every load" if feed and first.at == feed.id else first.at
    do = (
        f"Switch off and unplug {loads}. {DO_NOT_KEY}",
        "Look at the meter's own leads first, then read again with nothing plugged in.",
        "A lead that is reversed blows the fuse or ruins the radio: mend it before anything is plugged in.",
    )
    return Cause(REVERSED, first.at, says, (because,), do, (Figure(first.seen.value, "V"),))
