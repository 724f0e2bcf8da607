"""Which measurement, taken next, would tell most: the one whose figure differs most between the suspects."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from engine.diagnosis import meters
from engine.diagnosis.interval import ZERO, Interval
from engine.diagnosis.prediction import Prediction
from engine.diagnosis.situation import BOTH_LEGS
from engine.diagnosis.suspects import Suspect
from engine.model.case import CONTACTS, COPPER, FUSE, Lead
from engine.terms import READ_STATES, LoadState

NOTHING_WRONG = 5.0
"""The weight of there being no fault at all, beside those of the parts (own estimate)."""

HARDER = 1.5
"""How much more millivolts across a part must tell than volts at terminals, which are easier (own estimate)."""

POORER = 2.5
"""How many times wider than the asked meter's another's bounds must be for the place to be worth reading again."""

SAME_LEAST = 1e-9

Point = tuple[str, str | None]
"""A place, and the part of a run that the meter's points lie across; None for terminals."""


@dataclass(frozen=True)
class Measurement:
    """One place to measure, ``at`` and ``across`` as in a reading; what sound parts and what faults show there [V].

    ``sound`` has no lower bound where a part on the way is not described. ``leg`` where the other one is read already;
    ``again`` names the poorer instrument that was read there.
    """

    at: str
    across: str | None
    state: str
    keyed: tuple[str, ...]
    sound: Interval
    faults: tuple[tuple[str, Interval], ...] = ()
    leg: str = BOTH_LEGS
    again: str = ""

    @property
    def read_state(self) -> LoadState:
        """The state as a reading states it: which loads are keyed stands under ``keyed`` there."""
        return LoadState(self.state) if self.state in READ_STATES else LoadState.KEYED


@dataclass(frozen=True)
class _Hypothesis:
    """One thing that may be so: a fault, or none."""

    fault: Suspect | None
    weight: float


def next_measurement(prediction: Prediction, suspects: Sequence[Suspect], nothing_wrong: bool) -> Measurement | None:
    """The reading that leaves least in doubt; None when none would tell more.

    ``nothing_wrong`` says that there may be no fault at all: then volts at all terminals come first.
    """
    hypotheses = [_Hypothesis(suspect, suspect.weight) for suspect in suspects]
    if nothing_wrong:
        hypotheses.append(_Hypothesis(None, NOTHING_WRONG))
    whole = sum(hypothesis.weight for hypothesis in hypotheses)
    best, least = None, HARDER * whole
    for at, across in _candidates(prediction, suspects):
        if nothing_wrong and across is None:
            return _measurement(prediction, (at, across), suspects)
        doubt = _doubt(hypotheses, [prediction.shows(at, across, hypothesis.fault) for hypothesis in hypotheses])
        cost = doubt * (1.0 if across is None else HARDER)
        if doubt < whole - SAME_LEAST and cost < least - SAME_LEAST:
            best, least = (at, across), cost
    return _measurement(prediction, best, suspects) if best else None


def _measurement(prediction: Prediction, point: Point, suspects: Sequence[Suspect]) -> Measurement:
    (at, across), situation = point, prediction.situation
    known = _other_leg_volts(prediction, point)
    sound = prediction.shows(at, across) - known
    foretold = math.isfinite(sound.low)
    sound = sound.not_negative if foretold else sound
    shown = [(suspect, prediction.shows(at, across, suspect) - known) for suspect in suspects]
    telling = [(suspect, volts) for suspect, volts in shown if foretold and not volts.overlaps(sound)]
    accusing = tuple((" ".join(suspect.place), volts) for suspect, volts in telling)
    state, before = situation.state, situation.best(at) if across is None else None
    leg, keyed = _other_leg(prediction, point), tuple(sorted(state.keyed))
    return Measurement(at, across, state.name, keyed, sound, accusing, leg, before.instrument.id if before else "")


def _other_leg(prediction: Prediction, point: Point) -> str:
    read = prediction.situation.legs.get((point[0], point[1] or ""), {})
    return next(iter({"positive", "negative"} - set(read))) if len(read) == 1 else BOTH_LEGS


def _other_leg_volts(prediction: Prediction, point: Point) -> Interval:
    """What the leg that is read already loses; nothing where neither is."""
    read = prediction.situation.legs.get((point[0], point[1] or ""), {})
    return next(iter(read.values())).interval if len(read) == 1 else ZERO


def _candidates(prediction: Prediction, suspects: Sequence[Suspect]) -> Iterator[Point]:
    """Places not yet read as well as this meter would: easiest first."""
    case = prediction.sound.case
    suspected = {suspect.place[0] for suspect in suspects}
    near = [lead for lead in case.leads if lead.id in suspected or _feeds(prediction, lead, suspected)]
    ends = [lead.end for lead in near if lead.end in case.draw] + [lead.start for lead in near]
    ends += [lead.end for lead in near if lead.end in case.hub] + [part for part in suspected if part in case.feed]
    for at in dict.fromkeys(ends):
        if _worth_reading(prediction, at):
            yield at, None
    for lead in near:
        for what in (FUSE, CONTACTS, COPPER):
            if any(part.name == what for part in prediction.sound.parts(lead)) and _unread(prediction, lead.id, what):
                yield lead.id, what


def _feeds(prediction: Prediction, lead: Lead, suspected: set[str]) -> bool:
    """Whether a run lies on the way to a suspected one, or to a load of a suspected source."""
    case = prediction.sound.case
    onward = any(other.id in suspected and lead in case.path(other.end) for other in case.leads)
    return onward or (lead.start in suspected and lead.start in case.feed)


def _worth_reading(prediction: Prediction, at: str) -> bool:
    """Whether a place is not read yet, or only by an instrument that is much poorer than this meter."""
    seen, meter = prediction.situation.best(at), prediction.meter
    if seen is None:
        return True
    return seen.instrument.id != meter.id and seen.interval.width > POORER * meters.volts(seen.value, meter).width


def _unread(prediction: Prediction, run: str, what: str) -> bool:
    return (run, what) not in prediction.situation.across


def _doubt(hypotheses: Sequence[_Hypothesis], shown: Sequence[Interval]) -> float:
    """The weight that is on average left to choose among once the figure is known."""
    whole = sum(hypothesis.weight for hypothesis in hypotheses)
    alike = 0.0
    for mine, my_volts in zip(hypotheses, shown, strict=True):
        for other, its_volts in zip(hypotheses, shown, strict=True):
            share = 1.0 if other is mine else my_volts.shared(its_volts)
            alike += mine.weight * other.weight * share
    return alike / whole if whole else 0.0
