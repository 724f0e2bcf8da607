"""Readings held against what a sound station shows: the guilty stretch, or the measurement that would tell.

Every error is a certain bound, so a part is accused only where no sound part could show the reading. Where several
parts could, one fault is taken as likelier than two, and the next measurement is the one that parts them best. What
could hurt the equipment comes first, and then nothing is asked for that needs it switched on.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from engine.diagnosis import other_faults
from engine.diagnosis.ageing import ageing
from engine.diagnosis.alarms import alarm_measurement, alarms
from engine.diagnosis.drops import Drop, in_words
from engine.diagnosis.evidence import Evidence, gather, loads_read
from engine.diagnosis.expected import SOURCE, SoundStation
from engine.diagnosis.lead_faults import by_leg, lead_fault, open_part, open_way
from engine.diagnosis.meters import ASSUMED
from engine.diagnosis.next_measurement import Measurement, next_measurement
from engine.diagnosis.notes import WAITING, notes
from engine.diagnosis.prediction import Prediction
from engine.diagnosis.result import (
    ALARM,
    CABLE,
    CANNOT_TELL,
    CONTACT,
    FAULTS,
    FOUND,
    FUSE_OR_HOLDER,
    PATH,
    SOUND_READINGS,
    SUPPLY,
    Cause,
    Diagnosis,
)
from engine.diagnosis.situation import LISTENING, Situation, latest
from engine.diagnosis.source_faults import source_fault, too_high
from engine.diagnosis.suspects import Place, Suspect, explaining, narrowest
from engine.diagnosis.undetected import largest_current, undetected
from engine.diagnosis.words import beside, listed, spoken
from engine.findings import Assumption
from engine.model.case import CONTACTS, COPPER, FUSE
from engine.model.operating import Operating, State
from engine.parts import Instrument
from engine.station.model import Reading

NOMINAL = 13.8

METER = ASSUMED
"""The instrument that the next measurement is meant to be made with."""

KIND = {COPPER: CABLE, FUSE: FUSE_OR_HOLDER, CONTACTS: CONTACT}


def diagnose(
    operating: Operating,
    readings: Sequence[Reading],
    meters: Mapping[str, Instrument],
    assumptions: Sequence[Assumption] = (),
) -> Diagnosis:
    """What the readings of the latest day show; earlier days are held against it for what has aged.

    ``assumptions``: what of the station was assumed, so that a limit taken for its owner is said to be one.
    """
    assumed = frozenset(
        assumption.about.removesuffix(".window") for assumption in assumptions if assumption.about.endswith(".window")
    )
    sound, visit = SoundStation(operating, assumed), latest(readings)
    evidence = gather(sound, visit, meters)
    grown = ageing(sound, readings, meters)
    date = max((reading.date for reading in visit if reading.date), default=None)
    about = loads_read(evidence)
    if alarming := alarms(evidence):
        following = alarm_measurement(evidence, meters[METER])
        return Diagnosis(
            ALARM, alarming[0].says, alarming, evidence.estimates, following, (WAITING,), about, grown, date
        )
    outcome, says, causes, following = _judge(evidence, meters[METER])
    said = notes(evidence, meters, settled=outcome == FOUND)
    return Diagnosis(outcome, says, causes, evidence.estimates, following, said, about, grown, date)


def face_read(faces: Sequence[Operating], readings: Sequence[Reading]) -> Operating:
    """The station on that source of a changeover which most of the readings are about."""
    visit = latest(readings)

    def known(operating: Operating) -> int:
        case = operating.case
        places = {*case.feed, *(lead.id for lead in case.leads)}
        return sum(reading.at in places for reading in visit)

    return max(faces, key=known)


def _judge(evidence: Evidence, meter: Instrument) -> tuple[str, str, tuple[Cause, ...], Measurement | None]:
    """Outcome, its sentence, the causes and the next measurement, where nothing alarms."""
    wrong = evidence.exceeds
    suspects = explaining(evidence.drops, evidence.sound) if wrong else undetected(evidence)
    proved = _proved(evidence, suspects) if wrong else []
    others = _others(evidence)
    outcome, says = _outcome(evidence, suspects, proved, others)
    following = None
    if suspects and (wrong or not (outcome == FOUND or evidence.short)):
        following = next_measurement(_prediction(evidence, meter), suspects, nothing_wrong=not wrong)
    return outcome, says, tuple(sorted([*proved, *others], key=_gravity)), following


def _gravity(cause: Cause) -> tuple[bool, bool, float]:
    return cause.kind not in FAULTS, cause.kind != SUPPLY, -cause.watts


def _prediction(evidence: Evidence, meter: Instrument) -> Prediction:
    """The situation in which to measure next: where something was found, else with most drawn."""
    wrong = [drop.state for drop in evidence.drops if drop.exceeds(evidence.sound)]
    every = evidence.situations
    guilty = [situation for situation in every if situation.state in wrong]
    best = next(iter(guilty or [situation for situation in every if situation.state.is_keyed]), None)
    usable = best if best and not best.idle else Situation(_heaviest(evidence))
    if any(drop.dead for drop in evidence.drops if drop.exceeds(evidence.sound)):
        quiet = [situation for situation in evidence.situations if situation.state == LISTENING]
        usable = quiet[0] if quiet else Situation(LISTENING)
    return Prediction(evidence.sound, usable, evidence.drops, meter)


def _heaviest(evidence: Evidence) -> State:
    """The keyed state with most drawn, of those that concern what was read."""
    states = [state for state in evidence.sound.operating.states if state.is_keyed] or [LISTENING]
    demand = evidence.sound.operating.demand
    read = {at for situation in evidence.situations for at in (*situation.volts, *(run for run, _ in situation.across))}
    near = [state for state in states if state.keyed & read] or states
    return max(near, key=lambda state: sum(demand.peak(draw, state) for draw in demand.draws))


def _proved(evidence: Evidence, suspects: Sequence[Suspect]) -> list[Cause]:
    """The causes that the readings prove, as closely as they tell them apart."""
    groups = [[suspect.place for suspect in suspects]] if suspects else [
        list(dict.fromkeys(part.place for part in drop.amps)) for drop in narrowest(evidence.drops, evidence.sound)
    ]  # fmt: skip
    causes = [_cause(group, evidence) for group in groups if len({of for of, _ in group}) == 1]
    return list({(cause.kind, cause.about): cause for cause in causes}.values())


def _cause(group: Sequence[Place], evidence: Evidence) -> Cause:
    """The cause that one part, or several of one run, are."""
    of, name = group[0]
    if name == SOURCE:
        return source_fault(evidence.sound.case.feed[of], evidence)
    kind = KIND[name] if len(group) == 1 else PATH
    dead = [drop for drop in evidence.drops if drop.dead and of in drop.runs and drop.exceeds(evidence.sound)]
    across = [drop for drop in dead if drop.within_run]
    if across and kind != PATH:
        return open_part(of, kind, across[0])
    if dead and kind == PATH:
        return open_way(of, dead[0])
    most, _ = largest_current(group[0], evidence.sound)
    cause = lead_fault(of, kind, evidence.estimates, evidence.sound, most)
    return replace(cause, because=(*cause.because, *by_leg(of, evidence)))


def _others(evidence: Evidence) -> list[Cause]:
    """What else the readings show: slips, wrong sizes, instruments that are off, a station too weak by design."""
    sound = evidence.sound
    causes = [*evidence.doubts, *(_short(drop, evidence) for drop in evidence.short)]
    for situation in evidence.situations:
        causes += [*other_faults.oversize(sound, situation), *other_faults.disagreeing_meters(situation)]
        if not evidence.exceeds:
            causes += other_faults.by_design(sound, situation)
    return list({(cause.kind, cause.about): cause for cause in causes}.values())


def _short(drop: Drop, evidence: Evidence) -> Cause:
    return (None if drop.upper else too_high(evidence, drop)) or other_faults.too_little_lost(drop, evidence.sound)


def _outcome(
    evidence: Evidence, suspects: Sequence[Suspect], proved: Sequence[Cause], others: Sequence[Cause]
) -> tuple[str, str]:
    faults = [cause for cause in (*proved, *others) if cause.kind in FAULTS]
    if faults:
        return FOUND, faults[0].says
    if evidence.exceeds:
        places = list(dict.fromkeys(suspect.place[0] for suspect in suspects))
        return CANNOT_TELL, f"something is wrong, in {listed(places, 'or') or 'more than one part'}"
    open_question = _below_window(evidence) or _doubtful(evidence) or _undescribed(evidence)
    if open_question:
        return CANNOT_TELL, open_question
    if suspects and not evidence.visit:
        return CANNOT_TELL, "nothing is measured yet"
    if suspects:
        places = list(dict.fromkeys(suspect.place[0] for suspect in suspects))
        return CANNOT_TELL, f"nothing wrong shows yet, but a fault could still hide in {listed(places, 'or')}"
    if not evidence.drops:
        return CANNOT_TELL, "too little is measured or described: describe source and lead, and measure both ends"
    return SOUND_READINGS, (
        f"not a power problem at {listed(loads_read(evidence))}: what is lost on the way is what sound parts lose; "
        "hum, whine or trouble on one band only has other causes (see symptom)"
    )


def _doubtful(evidence: Evidence) -> str:
    if evidence.short:
        return "the readings contradict each other, or the description"
    return "a reading cannot be used as it is typed" if evidence.doubts else ""


def _undescribed(evidence: Evidence) -> str:
    """A loss that is beyond good practice, in runs of which too little is described to say whether it is a fault."""
    limits = evidence.sound.case.limits
    target = limits.drop_target * NOMINAL
    for drop in evidence.drops:
        unknown = math.isinf(drop.expected(evidence.sound).high) and not drop.in_ohms and not drop.leg
        if unknown and drop.runs and drop.upper and drop.lost.high > target:
            lost, runs = spoken(drop.value, "V"), listed(drop.runs)
            aim = f"good practice is {spoken(target, 'V')} or less"
            return f"{lost} is lost in {runs} ({aim}): describe {runs} to see whether a part is at fault"
    return ""


def _below_window(evidence: Evidence) -> str:
    """The first load that surely gets too few volts, in words."""
    for situation in evidence.situations:
        for draw, seen in other_faults.below_window(evidence.sound, situation):
            shown, least = beside(seen.value, draw.lowest)
            when = in_words(situation.state)
            return f"{shown} at {draw.id}, {when}, and {least} is the least it accepts: what is at fault is still open"
    return ""
