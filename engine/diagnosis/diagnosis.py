"""Readings held against what a sound station shows: the guilty stretch, or the measurement that would tell.

Every error is a certain bound, so a part is accused only where no sound part could show the reading. Where several
parts could, one fault is taken as likelier than two, and the next measurement is the one that parts them best.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from engine.diagnosis import causes as words
from engine.diagnosis.ageing import aged
from engine.diagnosis.evidence import Evidence, gather, loads_read
from engine.diagnosis.hidden import hidden, worst
from engine.diagnosis.result import CANNOT_TELL, FAULTS, FOUND, PATH, SOUND_READINGS, TOO_MANY_VOLTS, Cause, Diagnosis
from engine.diagnosis.scene import LISTENING, Scene, latest
from engine.diagnosis.sound import Sound
from engine.diagnosis.suspects import Place, Suspect, explaining, narrowest
from engine.diagnosis.telling import Telling
from engine.model.operating import Operating, State
from engine.parts import Instrument
from engine.station.model import Reading
from engine.terms import LoadState

METER = "digital multimeter"
"""The instrument that the next measurement is meant to be made with."""

NO_LOAD_NOTE = (
    "a reading with nothing drawn proves nothing about cable, fuse or contacts: next to no current flows, so next to "
    "nothing is lost; measure at the radio, keyed"
)


def diagnose(operating: Operating, readings: Sequence[Reading], meters: Mapping[str, Instrument]) -> Diagnosis:
    """What the readings of the latest day show; earlier days are held against it for what has aged."""
    sound = Sound(operating)
    visit = latest(readings)
    seen = gather(sound, visit, meters)
    suspects = explaining(seen.clues, sound) if seen.over else hidden(seen)
    telling = _telling(seen, meters[METER])
    found = _found(seen, suspects) if seen.over else []
    others = _others(seen)
    following = telling.next(suspects, nothing=not seen.over) if suspects else None
    outcome, says = _outcome(seen, suspects, found, others)
    about = loads_read(seen)
    following = following if outcome != FOUND or seen.over else None
    causes = tuple(sorted([*found, *others], key=_gravity))
    date = max((one.date for one in visit if one.date), default=None)
    grown = aged(sound, readings, meters)
    return Diagnosis(outcome, says, causes, seen.estimates, following, _notes(visit, seen), about, grown, date)


def _gravity(cause: Cause) -> tuple[bool, bool, float]:
    return cause.kind not in FAULTS, cause.kind != TOO_MANY_VOLTS, -cause.watts


def _telling(seen: Evidence, meter: Instrument) -> Telling:
    """The scene in which to measure next: where something was found, else with most drawn."""
    over = [one.state for one in seen.clues if one.over(seen.sound)]
    keyed = [scene for scene in seen.scenes if scene.state in over] or [
        scene for scene in seen.scenes if scene.state.is_keyed
    ]
    scene = keyed[0] if keyed and not keyed[0].idle else Scene(_heaviest(seen))
    return Telling(seen.sound, scene, seen.clues, meter)


def _heaviest(seen: Evidence) -> State:
    states = [one for one in seen.sound.operating.states if one.is_keyed] or [LISTENING]
    demand = seen.sound.operating.demand
    read = {at for scene in seen.scenes for at in (*scene.volts, *(run for run, _ in scene.across))}
    near = [one for one in states if one.keyed & read] or states
    return max(near, key=lambda state: sum(demand.peak(one, state) for one in demand.draws))


def _found(seen: Evidence, suspects: Sequence[Suspect]) -> list[Cause]:
    """The causes that the readings prove, as closely as they tell them apart."""
    if suspects:
        groups = [[one.place for one in suspects]]
    else:
        groups = [list(dict.fromkeys(part.place for part in one.amps)) for one in narrowest(seen.clues, seen.sound)]
    found = []
    for group in groups:
        if len({of for of, _ in group}) == 1:
            found.append(_cause(group, seen))
    return list({(one.kind, one.about): one for one in found}.values())


def _cause(group: Sequence[Place], seen: Evidence) -> Cause:
    if len(group) == 1:
        return words.fault(group[0], seen.clues, seen.estimates, seen.sound)
    most, _ = worst(group[0], seen.sound)
    return words.path(group[0][0], PATH, seen.estimates, most)


def _others(seen: Evidence) -> list[Cause]:
    """What else the readings show: wrong sizes, instruments that are off, volts outside the window."""
    found = [words.backwards(one, seen.sound) for one in seen.odd]
    for scene in seen.scenes:
        found += [*words.oversize(seen.sound, scene), *words.off_meters(scene), *words.too_many(seen.sound, scene)]
        if not seen.over:
            found += words.by_design(seen.sound, scene)
    return found


def _outcome(
    seen: Evidence,
    suspects: Sequence[Suspect],
    found: Sequence[Cause],
    others: Sequence[Cause],
) -> tuple[str, str]:
    if found:
        return FOUND, f"the fault lies in {' and in '.join(dict.fromkeys(one.about for one in found))}"
    faults = [one for one in others if one.kind in FAULTS]
    if faults:
        return FOUND, faults[0].says
    if seen.over:
        places = list(dict.fromkeys(of for one in suspects for of, _ in [one.place])) or ["several parts"]
        return CANNOT_TELL, f"something is wrong, and {', '.join(places)} may each be it"
    for scene in seen.scenes:
        for draw, sight in words.below(seen.sound, scene):
            low = f"{draw.id} gets {sight.value:.2f} V with {scene.state.name}, below its floor of {draw.lowest:.2f} V"
            return CANNOT_TELL, f"{low}: something is wrong, and the readings are not sure enough to say where"
    if suspects:
        return CANNOT_TELL, "nothing wrong is shown yet, but a fault that matters could still hide"
    if not seen.clues:
        return CANNOT_TELL, "too little is measured or described: describe source and lead, and measure both ends"
    return SOUND_READINGS, (
        f"not a power problem at {', '.join(loads_read(seen))}: what is lost on the way is what sound parts lose; "
        "hum, whine or trouble on one band only has other causes (see symptom)"
    )


def _notes(visit: Sequence[Reading], seen: Evidence) -> tuple[str, ...]:
    notes = []
    if any(one.state == LoadState.NO_LOAD and one.ohms is None for one in visit):
        notes.append(NO_LOAD_NOTE)
    if visit and not any(scene.state.is_keyed for scene in seen.scenes):
        notes.append("nothing was measured while keyed: a small current hides a poor joint")
    if any(scene.across or scene.volts for scene in seen.scenes) and not any(scene.amps for scene in seen.scenes):
        notes.append("no current was measured: what the loads are stated to draw is taken, give or take")
    case = seen.sound.case
    for lead in {lead.id: lead for end in loads_read(seen) for lead in case.path(end)}.values() if visit else ():
        if lead.missing:
            gaps = ", ".join(lead.missing)
            notes.append(f"of {lead.id} {gaps} are not described: what sound parts lose there is not known")
    if any(one.instrument is None and one.volts is not None for one in visit):
        notes.append("a reading names no instrument, so a large error is taken: name the meter, and less stays open")
    return tuple(notes)
