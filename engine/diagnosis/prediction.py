"""What a meter would show at each point of a station: all parts sound, or one of them at fault."""

from __future__ import annotations

from collections.abc import Sequence

from engine.diagnosis import meters
from engine.diagnosis.currents import Currents
from engine.diagnosis.drops import Drop
from engine.diagnosis.expected import SOURCE, Part, SoundStation
from engine.diagnosis.interval import UNITY, ZERO, Interval, total
from engine.diagnosis.situation import Situation
from engine.diagnosis.suspects import Suspect, remaining
from engine.parts import Instrument

UNLIMITED_VOLTS = 1e6


class Prediction:
    """What ``meter`` would show in one situation, from the drops that are known of it."""

    def __init__(self, sound: SoundStation, situation: Situation, drops: Sequence[Drop], meter: Instrument) -> None:
        self.sound, self.situation, self.meter = sound, situation, meter
        self.drops = [drop for drop in drops if drop.state == situation.state]
        self.currents = Currents(sound, situation)

    def shows(self, at: str, across: str | None, fault: Suspect | None = None) -> Interval:
        """Volts at a place, or across a part of a run, the meter's error included [V]."""
        return self._across(at, across, fault) if across is not None else self._at_terminals(at, fault)

    def _across(self, run: str, what: str, fault: Suspect | None) -> Interval:
        lost = self._no_more_than_source(run, self._lost(Part(run, what), fault).not_negative)
        return lost.widened(self._error(lost.low))

    def _no_more_than_source(self, run: str, lost: Interval) -> Interval:
        feed = self.sound.case.source_of(self.sound.lead(run).end)
        most = feed.highest_volts if feed else UNLIMITED_VOLTS
        return Interval(min(lost.low, most), min(lost.high, most) if lost.low > 0 else lost.high)

    def _at_terminals(self, at: str, fault: Suspect | None) -> Interval:
        case = self.sound.case
        feed = case.source_of(at) or case.feed.get(at)
        if feed is None:
            return ZERO
        parts = [Part(feed.id, SOURCE, self.situation.state.name)]
        parts += [part for lead in case.path(at) for part in self.sound.parts(lead)]
        least = self.sound.volts(feed, self.situation.state).low
        volts = Interval(least, least) - total(self._lost(part, fault) for part in parts)
        return volts.widened(self._error(max(volts.low, 1.0)))

    def _error(self, value: float) -> float:
        value = max(value, 0.0) if value < UNLIMITED_VOLTS else 0.0
        return meters.volts(value, self.meter).width / 2

    def _lost(self, part: Part, fault: Suspect | None) -> Interval:
        """The volts lost in a part if only ``fault`` is at fault."""
        amps = UNITY if part.name == SOURCE else self.currents.runs[part.of]
        if fault is None or fault.place != part.place:
            return amps * self.sound.ohms(part)
        lost = amps * fault.ohms.get(part, self.sound.ohms(part))
        for drop in self.drops:
            if part in drop.amps and not drop.in_ohms:
                lost = lost.intersection(remaining(drop, part, self.sound)) or lost
        return lost
