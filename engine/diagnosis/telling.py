"""Which measurement, taken next, would tell most: the one whose figure differs most between the suspects."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from engine.diagnosis import meters
from engine.diagnosis.band import Band, total
from engine.diagnosis.clues import RUN, Clue
from engine.diagnosis.scene import Currents, Scene
from engine.diagnosis.sound import SOURCE, Part, Sound
from engine.diagnosis.suspects import Suspect, left
from engine.model.case import CONTACTS, COPPER, FUSE, Lead
from engine.parts import Instrument
from engine.terms import READ_STATES, LoadState

NOTHING_WRONG = 5.0
"""The weight of there being no fault at all, beside those of the parts (own estimate)."""

HARDER = 1.5
"""How much more millivolts across a part must tell than volts at terminals, which are easier (own estimate)."""


@dataclass(frozen=True)
class Measurement:
    """One place to measure, ``at`` and ``across`` as in a reading; what sound parts and what faults show there [V]."""

    at: str
    across: str | None
    state: str
    keyed: tuple[str, ...]
    sound: Band
    faults: tuple[tuple[str, Band], ...] = ()

    @property
    def read_state(self) -> LoadState:
        """The state as a reading states it: which loads are keyed stands under ``keyed`` there."""
        return LoadState(self.state) if self.state in READ_STATES else LoadState.KEYED


@dataclass(frozen=True)
class _Guess:
    """One thing that may be so: a fault, or none; and what each candidate reading would then show."""

    suspect: Suspect | None
    weight: float


class Telling:
    """Chooses the next measurement among those not yet made in one scene."""

    def __init__(self, sound: Sound, scene: Scene, clues: Sequence[Clue], meter: Instrument) -> None:
        self.sound, self.scene, self.meter = sound, scene, meter
        self.clues = [one for one in clues if one.state == scene.state]
        self.currents = Currents(sound, scene)

    def next(self, suspects: Sequence[Suspect], nothing: bool) -> Measurement | None:
        """The reading that leaves least in doubt; None when none would tell more.

        ``nothing`` says that there may be no fault at all: then volts at all terminals come first.
        """
        guesses = [_Guess(one, one.weight) for one in suspects]
        if nothing:
            guesses.append(_Guess(None, NOTHING_WRONG))
        whole = sum(one.weight for one in guesses)
        best, least = None, HARDER * whole
        for at, across in self._candidates(suspects):
            if nothing and across is None:
                return self._made(at, across, suspects)
            doubt = _doubt(guesses, [self.shows(at, across, one.suspect) for one in guesses])
            cost = doubt * (1.0 if across is None else HARDER)
            if doubt < whole - 1e-9 and cost < least - 1e-9:
                best, least = (at, across), cost
        return self._made(*best, suspects) if best else None

    def _made(self, at: str, across: str | None, suspects: Sequence[Suspect]) -> Measurement:
        sound = self.shows(at, across, None)
        faults = [(one, self.shows(at, across, one)) for one in suspects]
        telling = tuple((f"{one.place[0]} {one.place[1]}", band) for one, band in faults if not band.meets(sound))
        state = self.scene.state
        return Measurement(at, across, state.name, tuple(sorted(state.keyed)), sound, telling)

    def _candidates(self, suspects: Sequence[Suspect]) -> Iterator[tuple[str, str | None]]:
        """Places not yet read as well as this meter would: easiest first."""
        case = self.sound.case
        runs = {one.place[0] for one in suspects}
        near = [lead for lead in case.leads if lead.id in runs or self._feeds(lead, runs)]
        ends = [one.end for one in near if one.end in case.draw] + [one.start for one in near]
        ends += [one.end for one in near if one.end in case.hub] + [one for one in runs if one in case.feed]
        for at in dict.fromkeys(ends):
            if self._open(at):
                yield at, None
        for lead in near:
            for what in (FUSE, CONTACTS, COPPER):
                if any(one.name == what for one in self.sound.parts(lead)) and self._unread(lead.id, what):
                    yield lead.id, what

    def _feeds(self, lead: Lead, runs: set[str]) -> bool:
        """Whether a run lies on the way to one of ``runs``, or to a load of a suspected source."""
        case = self.sound.case
        onward = [one for one in case.leads if one.id in runs and lead in case.path(one.end)]
        return bool(onward) or (lead.start in runs and lead.start in case.feed)

    def _open(self, at: str) -> bool:
        seen = self.scene.best(at)
        return seen is None or seen.band.width > 2.5 * meters.volts(seen.value, self.meter).width

    def _unread(self, run: str, what: str) -> bool:
        return (run, what) not in self.scene.across and (run, RUN) not in self.scene.across

    def shows(self, at: str, across: str | None, one: Suspect | None = None) -> Band:
        """What the meter would show there, its error included [V]: all parts sound, or ``one`` at fault."""
        if across is not None:
            band = self._lost(Part(at, across), one)
            return Band(max(band.low, 0.0), max(band.high, 0.0)).wider(self._error(band.low))
        feed = self.sound.case.source_of(at) or self.sound.case.feed.get(at)
        path = self.sound.case.path(at)
        if feed is None:
            return Band(0.0, 0.0)
        parts = [Part(feed.id, SOURCE, self.scene.state.name)]
        parts += [part for lead in path for part in self.sound.parts(lead)]
        least = self.sound.volts(feed, self.scene.state).low
        band = Band(least, least) - total(self._lost(part, one) for part in parts)
        return band.wider(self._error(max(band.low, 1.0)))

    def _error(self, value: float) -> float:
        value = max(value, 0.0) if value < 1e6 else 0.0
        return meters.volts(value, self.meter).width / 2

    def _lost(self, part: Part, one: Suspect | None) -> Band:
        """The volts lost in a part if ``one`` is at fault and all else is sound."""
        amps = Band(1.0, 1.0) if part.name == SOURCE else self.currents.runs[part.of]
        if one is None or one.place != part.place:
            return amps * self.sound.ohms(part)
        band = amps * one.ohms[part] if part in one.ohms else amps * self.sound.ohms(part)
        for clue in self.clues:
            if part in clue.amps and not clue.in_ohms:
                band = band.meet(left(clue, part, self.sound)) or band
        return band


def _doubt(guesses: Sequence[_Guess], shown: Sequence[Band]) -> float:
    """The weight that is on average left to choose among once the figure is known."""
    whole = sum(one.weight for one in guesses)
    alike = 0.0
    for one, band in zip(guesses, shown, strict=True):
        for other, its in zip(guesses, shown, strict=True):
            alike += one.weight * other.weight * (1.0 if other is one else band.shared(its))
    return alike / whole if whole else 0.0
