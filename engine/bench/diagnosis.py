"""Readings held against what a sound station shows: the guilty stretch, or the measurement that would tell.

Every error is a certain bound, so a part is accused only where no sound part could show the reading. Where several
parts could, one fault is taken as likelier than two, and the next measurement is the one that parts them best.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from engine.bench import causes as words
from engine.bench.ageing import aged
from engine.bench.band import ANY, Band
from engine.bench.clues import Clue, clues
from engine.bench.estimates import estimate
from engine.bench.result import (
    CANNOT_TELL,
    FAULTS,
    FOUND,
    PATH,
    SOUND_READINGS,
    Cause,
    Diagnosis,
    Estimate,
)
from engine.bench.scene import LISTENING, Scene, latest, scenes
from engine.bench.sound import SOURCE, Part, Sound
from engine.bench.suspects import Place, Suspect, explaining, narrowest, suspect
from engine.bench.telling import Telling
from engine.operating import Operating, State
from engine.parts import Instrument
from engine.station import Reading

METER = "digital multimeter"
"""The instrument that the next measurement is meant to be made with."""

NEAR_PEAK = 0.6
"""From this share of the largest current on, a reading is as good as one at the largest (own estimate)."""

NO_LOAD_NOTE = (
    "a reading with nothing drawn proves nothing about cable, fuse or contacts: next to no current flows, so next to "
    "nothing is lost; measure at the radio, keyed"
)


@dataclass(frozen=True)
class _Evidence:
    """All that one visit shows."""

    sound: Sound
    scenes: tuple[Scene, ...]
    clues: tuple[Clue, ...]
    odd: tuple[Clue, ...]
    estimates: tuple[Estimate, ...]

    @property
    def over(self) -> bool:
        """Whether any reading needs a fault to explain it."""
        return any(one.over(self.sound) for one in self.clues)


def diagnose(operating: Operating, readings: Sequence[Reading], meters: Mapping[str, Instrument]) -> Diagnosis:
    """What the readings of the latest day show; earlier days are held against it for what has aged."""
    sound = Sound(operating)
    visit = latest(readings)
    seen = _evidence(sound, visit, meters)
    suspects = explaining(seen.clues, sound) if seen.over else _hidden(seen)
    telling = _telling(seen, meters[METER])
    found = _found(seen, suspects) if seen.over else []
    others = _others(seen)
    following = telling.next(suspects, nothing=not seen.over) if suspects else None
    outcome, says = _outcome(seen, suspects, found, others)
    about = _about(seen)
    following = following if outcome != FOUND or seen.over else None
    causes = tuple(sorted([*found, *others], key=lambda one: (one.kind not in FAULTS, -one.watts)))
    date = max((one.date for one in visit if one.date), default=None)
    grown = aged(sound, readings, meters)
    return Diagnosis(outcome, says, causes, seen.estimates, following, _notes(visit, seen), about, grown, date)


def _evidence(sound: Sound, visit: Sequence[Reading], meters: Mapping[str, Instrument]) -> _Evidence:
    made = scenes(sound, visit, meters)
    every = [one for scene in made for one in clues(sound, scene)]
    odd = [one for one in every if not one.in_ohms and one.lost.high < one.expected(sound).low - 1e-9]
    kept = tuple(one for one in every if one not in odd)
    estimates = [found for one in kept if (found := estimate(one, sound)) is not None]
    return _Evidence(sound, made, kept, tuple(odd), tuple(estimates))


def _hidden(seen: _Evidence) -> tuple[Suspect, ...]:
    """Where no reading asks for a fault: the parts in which one that matters could still hide."""
    found = []
    for place in _places(seen):
        if any(_clears(one, place, seen.sound) for one in seen.clues):
            continue
        known = suspect(place, seen.clues, seen.sound)
        floor = _floor(known or Suspect(place, {}), seen)
        if floor is not None:
            found.append(floor)
    return tuple(found)


def _places(seen: _Evidence) -> tuple[Place, ...]:
    """Every part on the way to the loads that were read."""
    case = seen.sound.case
    found: list[Place] = []
    for end in _about(seen):
        found += [(case.path(end)[0].start, SOURCE)] if case.source_of(end) else []
        found += [part.place for lead in case.path(end) for part in seen.sound.parts(lead)]
    return tuple(dict.fromkeys(found))


def _about(seen: _Evidence) -> tuple[str, ...]:
    """The loads that the readings are about: read or keyed themselves, or beyond what was read; all where none is."""
    case = seen.sound.case
    read = {at for scene in seen.scenes for at in (*scene.volts, *scene.state.keyed)}
    fed = [one.id for one in case.draws if one.feed == "dc" and case.path(one.id)]
    across = {run for scene in seen.scenes for run, _ in (*scene.across, *scene.ohms)}
    near = [one for one in fed if one in read or case.path(one)[-1].id in across]
    return tuple(near or fed)


def _worst(place: Place, sound: Sound) -> tuple[float, State]:
    """The largest current that a part must carry, and the state of the loads that asks for it."""
    return sound.operating.demand.worst_peak(place[0])


def _clears(clue: Clue, place: Place, sound: Sound) -> bool:
    """Whether a clue leaves no room for a fault that matters when most is drawn."""
    part = next((one for one in clue.amps if one.place == place), None)
    if part is None or clue.in_ohms or not _inside(clue, sound):
        return False
    most, state = _worst(place, sound)
    margin, spare = sound.case.limits.window_margin, clue.lost.high - clue.expected(sound).high
    if part.name == SOURCE:
        return clue.state.is_keyed == state.is_keyed and spare <= margin
    least = clue.amps[part].low
    if least < NEAR_PEAK * most:  # a source that is not measured may stand anywhere: at a small current that counts
        spare -= sum(sound.ohms(one).low for one in clue.amps if one.name == SOURCE)
    return least > 0 and max(spare, 0.0) / least * most <= margin


def _inside(clue: Clue, sound: Sound) -> bool:
    """Whether a reading at a load is surely inside its window, or surely outside."""
    draw = sound.case.draw.get(clue.lower)
    if draw is None or "window" in draw.missing or clue.shown is None:
        return True
    return not clue.shown.low < draw.lowest <= clue.shown.high


def _floor(one: Suspect, seen: _Evidence) -> Suspect | None:
    """The suspect with a fault large enough to matter, or None when the readings leave no room for that."""
    sound, margin = seen.sound, seen.sound.case.limits.window_margin
    most, state = _worst(one.place, sound)
    part = Part(one.place[0], SOURCE, state.name) if one.place[1] == SOURCE else Part(*one.place)
    more = margin if part.name == SOURCE else margin / max(most, 1e-9)
    least = Band(sound.ohms(part).high + more, ANY.high)
    found = one.ohms.get(part, Band(-ANY.high, ANY.high)).meet(least)
    return Suspect(one.place, {**one.ohms, part: found}) if found else None


def _telling(seen: _Evidence, meter: Instrument) -> Telling:
    """The scene in which to measure next: where something was found, else with most drawn."""
    over = [one.state for one in seen.clues if one.over(seen.sound)]
    keyed = [scene for scene in seen.scenes if scene.state in over] or [
        scene for scene in seen.scenes if scene.state.is_keyed
    ]
    scene = keyed[0] if keyed and not keyed[0].idle else Scene(_heaviest(seen))
    return Telling(seen.sound, scene, seen.clues, meter)


def _heaviest(seen: _Evidence) -> State:
    states = [one for one in seen.sound.operating.states if one.is_keyed] or [LISTENING]
    demand = seen.sound.operating.demand
    read = {at for scene in seen.scenes for at in (*scene.volts, *(run for run, _ in scene.across))}
    near = [one for one in states if one.keyed & read] or states
    return max(near, key=lambda state: sum(demand.peak(one, state) for one in demand.draws))


def _found(seen: _Evidence, suspects: Sequence[Suspect]) -> list[Cause]:
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


def _cause(group: Sequence[Place], seen: _Evidence) -> Cause:
    if len(group) == 1:
        return words.fault(group[0], seen.clues, seen.estimates, seen.sound)
    most, _ = _worst(group[0], seen.sound)
    return words.path(group[0][0], PATH, seen.estimates, most)


def _others(seen: _Evidence) -> list[Cause]:
    """What else the readings show: wrong sizes, instruments that are off, volts outside the window."""
    found = [words.backwards(one, seen.sound) for one in seen.odd]
    for scene in seen.scenes:
        found += [*words.oversize(seen.sound, scene), *words.off_meters(scene), *words.too_many(seen.sound, scene)]
        if not seen.over:
            found += words.by_design(seen.sound, scene)
    return found


def _outcome(
    seen: _Evidence,
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
    if suspects:
        return CANNOT_TELL, "nothing wrong is shown yet, but a fault that matters could still hide"
    return SOUND_READINGS, (
        f"not a power problem at {', '.join(_about(seen))}: what is lost on the way is what sound parts lose; "
        "hum, whine or trouble on one band only has other causes (see symptom)"
    )


def _notes(visit: Sequence[Reading], seen: _Evidence) -> tuple[str, ...]:
    notes = []
    if any(one.state == "no load" and one.ohms is None for one in visit):
        notes.append(NO_LOAD_NOTE)
    if visit and not any(scene.state.is_keyed for scene in seen.scenes):
        notes.append("nothing was measured while keyed: a small current hides a poor joint")
    if any(scene.across or scene.volts for scene in seen.scenes) and not any(scene.amps for scene in seen.scenes):
        notes.append("no current was measured: what the loads are stated to draw is taken, give or take")
    return tuple(notes)
