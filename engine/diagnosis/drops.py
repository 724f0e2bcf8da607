"""What each reading says about parts: the volts lost between two points, and the parts that lie between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from engine.diagnosis import meters
from engine.diagnosis.currents import Currents
from engine.diagnosis.expected import SOURCE, Part, SoundStation
from engine.diagnosis.interval import UNITY, Interval, total
from engine.diagnosis.meters import Measured, surest
from engine.diagnosis.situation import BOTH_LEGS, Situation, Span
from engine.model.case import Lead
from engine.model.operating import State
from engine.terms import LoadState

RUN = "run"

DEAD = 0.7
"""Below this share of the least that it accepts a load does not work, and what it then draws is anyone's guess."""


@dataclass(frozen=True)
class Drop:
    """``lost`` volts [V] between two points, through parts that each carry ``amps`` [A].

    ``shown`` are the volts at the lower point. For a reading in ohms the volts are those at one ampere. Below an
    unmeasured source, ``lost`` counts from the least that the source may show. Across one ``leg`` only, the other may
    lose anything beside. ``dead``: too little arrives for the load to work, and its current was not measured.
    """

    state: State
    upper: str
    lower: str
    lost: Interval
    value: float
    amps: Mapping[Part, Interval]
    usual: float
    in_ohms: bool = False
    shown: Interval | None = None
    leg: str = BOTH_LEGS
    dead: bool = False

    @property
    def runs(self) -> tuple[str, ...]:
        """The runs between the two points."""
        return tuple(dict.fromkeys(part.of for part in self.amps if part.name != SOURCE))

    @property
    def within_run(self) -> bool:
        """Whether both points lie on one run, across a part of it."""
        return self.upper in self.runs

    def expected(self, sound: SoundStation) -> Interval:
        """The volts that sound parts would lose there [V]."""
        return total(amps * sound.ohms(part) for part, amps in self.amps.items())

    def exceeds(self, sound: SoundStation) -> bool:
        """Whether more is lost than sound parts can lose, whatever the meter's error."""
        return self.lost.low > self.expected(sound).high + 1e-9

    def falls_short(self, sound: SoundStation) -> bool:
        """Whether less is lost than even sound parts must lose, whatever the meter's error."""
        return not self.in_ohms and self.lost.high < self.expected(sound).low - 1e-9


def drops(sound: SoundStation, situation: Situation) -> tuple[Drop, ...]:
    """Everything that the readings of one situation say."""
    currents = Currents(sound, situation)
    every = [
        *_sources(sound, situation),
        *_sections(sound, situation, currents),
        *_across(sound, situation, currents),
        *_one_leg(sound, situation, currents),
        *_ohms(sound, situation),
    ]
    return tuple({(drop.upper, drop.lower, drop.leg, *drop.amps): drop for drop in every}.values())


def _sources(sound: SoundStation, situation: Situation) -> Iterator[Drop]:
    for feed in sound.case.feeds:
        seen = situation.best(feed.id)
        if seen:
            yield _from_source(sound, situation, feed.id, seen, {})


def _from_source(
    sound: SoundStation, situation: Situation, feed: str, seen: Measured, amps: Mapping[Part, Interval]
) -> Drop:
    """A reading against the least that its source may show."""
    least = sound.volts(sound.case.feed[feed], situation.state).low
    lost = Interval(least - seen.interval.high, least - seen.interval.low)
    parts = {Part(feed, SOURCE, situation.state.name): UNITY, **amps}
    return Drop(situation.state, "", seen.reading.at, lost, least - seen.value, parts, 0.0, shown=seen.interval)


def _sections(sound: SoundStation, situation: Situation, currents: Currents) -> Iterator[Drop]:
    case = sound.case
    for end in [*(hub.id for hub in case.hubs), *(draw.id for draw in case.draws)]:
        lower = situation.best(end)
        if lower is None or not case.path(end):
            continue
        between, upper = _up_to_next_reading(case.path(end), situation)
        amps = {part: currents.runs[lead.id] for lead in between for part in sound.parts(lead)}
        if upper is None and between[0].start in case.feed:
            yield _from_source(sound, situation, between[0].start, lower, amps)
        elif upper:
            yield Drop(
                situation.state, between[0].start, end, meters.drop(upper, lower), upper.value - lower.value, amps,
                currents.usual(between[-1].id), shown=lower.interval, dead=_dead(sound, situation, end, lower),
            )  # fmt: skip


def _up_to_next_reading(path: Sequence[Lead], situation: Situation) -> tuple[list[Lead], Measured | None]:
    """The leads from the end of a path up to the next point that was read, and what was read there."""
    between: list[Lead] = []
    for lead in reversed(path):
        between.insert(0, lead)
        if upper := situation.best(lead.start):
            return between, upper
    return between, None


def _dead(sound: SoundStation, situation: Situation, end: str, seen: Measured) -> bool:
    draw = sound.case.draw.get(end)
    measured = end in situation.amps or any(lead.id in situation.amps for lead in sound.case.path(end))
    return draw is not None and not measured and seen.interval.high < DEAD * draw.lowest


def _open(sound: SoundStation, situation: Situation, run: str, seen: Measured) -> bool:
    """Whether a part of a run takes so much of its source's volts that nothing beyond can work."""
    feed = sound.case.source_of(next(lead.end for lead in sound.case.leads if lead.id == run))
    return feed is not None and run not in situation.amps and seen.interval.low > DEAD * feed.lowest_volts


def _across(sound: SoundStation, situation: Situation, currents: Currents) -> Iterator[Drop]:
    for span, sights in situation.across.items():
        seen, parts = surest(sights), parts_of(sound, span)
        if seen and parts:
            amps, usual = dict.fromkeys(parts, currents.runs[span[0]]), currents.usual(span[0])
            dead = _open(sound, situation, span[0], seen)
            yield Drop(situation.state, *span, seen.interval, seen.value, amps, usual, dead=dead)


def _one_leg(sound: SoundStation, situation: Situation, currents: Currents) -> Iterator[Drop]:
    alone = {span: legs for span, legs in situation.legs.items() if span not in situation.across}
    for span, legs in alone.items():
        for leg, seen in legs.items():
            amps = dict.fromkeys(parts_of(sound, span), currents.runs[span[0]])
            lost = Interval(seen.interval.low, float("inf"))
            if amps:
                yield Drop(situation.state, *span, lost, seen.value, amps, currents.usual(span[0]), leg=leg)


def _ohms(sound: SoundStation, situation: Situation) -> Iterator[Drop]:
    for span, sights in situation.ohms.items():
        seen, parts = surest(sights), parts_of(sound, span)
        if seen and parts:
            yield Drop(situation.state, *span, seen.interval, seen.value, dict.fromkeys(parts, UNITY), 1.0, True)


def parts_of(sound: SoundStation, span: Span) -> list[Part]:
    """The parts of a run that lie in a span of it."""
    run, what = span
    lead = next(lead for lead in sound.case.leads if lead.id == run)
    return [part for part in sound.parts(lead) if what in (RUN, part.name)]


def in_words(state: State) -> str:
    """What the loads do in a state, as it stands after a comma: ``hf keyed``, ``at receive``, ``nothing drawn``."""
    if state.is_keyed or state.name.endswith(LoadState.KEYED):
        return state.name
    return "at receive" if state.name == "receive" else "nothing drawn"
