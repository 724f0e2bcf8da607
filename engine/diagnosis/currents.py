"""The current through every run and into every load in one situation, as far as it can be told."""

from __future__ import annotations

from engine.diagnosis.expected import SoundStation
from engine.diagnosis.interval import Interval, total
from engine.diagnosis.situation import Situation
from engine.model.case import Lead

NO_LOAD_AMPS = 0.1
"""Most that may flow while nothing is switched on [A] (own estimate)."""


class Currents:
    """The currents of one situation [A], between the bounds that readings and the loads' own figures leave."""

    def __init__(self, sound: SoundStation, situation: Situation) -> None:
        self.sound, self.situation, self.case = sound, situation, sound.case
        self.loads = {load.id: self._load(load.id) for load in self.case.draws if load.feed == "dc"}
        self.runs = {lead.id: self._run(lead) for lead in self.case.leads}
        for lead in self.case.leads:
            served = self._served(lead.id)
            if len(served) == 1 and (both := self.loads[served[0]].intersection(self.runs[lead.id])):
                self.loads[served[0]] = both
        self.runs = {lead.id: self._run(lead) for lead in self.case.leads}
        self._from_sources()

    def usual(self, run: str) -> float:
        """The current that a run is most likely to carry: measured, or as stated of its loads [A]."""
        lead = next(lead for lead in self.case.leads if lead.id == run)
        for place in (run, lead.end, lead.start):
            only = place != lead.start or len(self._from(lead.start)) == 1
            if place in self.situation.amps and only:
                return self.situation.amps[place].value
        if self.situation.idle:
            return 0.0
        return sum(self.sound.usual_amps(load, self.situation.state) for load in self._served(run))

    def _load(self, load: str) -> Interval:
        if load in self.situation.amps:
            return self.situation.amps[load].interval
        if self.situation.idle:
            return Interval(0.0, max(NO_LOAD_AMPS, self.case.draw[load].rest * 2))
        seen = self.situation.best(load)
        return self.sound.amps(load, self.situation.state, seen.interval if seen else self._upstream(load))

    def _upstream(self, load: str) -> Interval | None:
        """The volts nearest upstream that are below what the load accepts: then it cannot be working as it should."""
        for lead in reversed(self.case.path(load)):
            seen = self.situation.best(lead.start)
            if seen and seen.interval.low < self.case.draw[load].lowest:
                return seen.interval
        return None

    def _run(self, lead: Lead) -> Interval:
        stated = total(self.loads[load] for load in self._served(lead.id))
        seen = self.situation.amps.get(lead.id)
        if seen is None and lead.end in self.case.hub:
            seen = self.situation.amps.get(lead.end)
        return seen.interval if seen else stated

    def _from_sources(self) -> None:
        """What is measured at a source flows through its runs together."""
        for feed in self.case.feeds:
            seen, runs = self.situation.amps.get(feed.id), self._from(feed.id)
            if seen is None:
                continue
            for lead in runs:
                others = total(self.runs[other.id] for other in runs if other is not lead)
                rest = (seen.interval - others).not_negative
                known = lead.id in self.situation.amps or lead.end in self.situation.amps
                self.runs[lead.id] = self.runs[lead.id] if known else self._tighter(rest, lead)

    def _tighter(self, rest: Interval, lead: Lead) -> Interval:
        return rest if len(self._from(lead.start)) == 1 else rest.intersection(self.runs[lead.id]) or rest

    def _from(self, start: str) -> list[Lead]:
        return [lead for lead in self.case.leads if lead.start == start]

    def _served(self, run: str) -> list[str]:
        return [load.id for load in self.case.served.get(run, ()) if load.feed == "dc"]
