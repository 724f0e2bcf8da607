"""Where a fault that matters could still hide although no reading asks for one."""

from __future__ import annotations

from engine.diagnosis.band import ANY, Band
from engine.diagnosis.clues import Clue
from engine.diagnosis.evidence import Evidence, loads_read
from engine.diagnosis.sound import SOURCE, Part, Sound
from engine.diagnosis.suspects import Place, Suspect, suspect
from engine.model.operating import State

NEAR_PEAK = 0.6
"""From this share of the largest current on, a reading is as good as one at the largest (own estimate)."""


def hidden(seen: Evidence) -> tuple[Suspect, ...]:
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


def _places(seen: Evidence) -> tuple[Place, ...]:
    """Every part on the way to the loads that were read."""
    case = seen.sound.case
    found: list[Place] = []
    for end in loads_read(seen):
        found += [(case.path(end)[0].start, SOURCE)] if case.source_of(end) else []
        found += [part.place for lead in case.path(end) for part in seen.sound.parts(lead)]
    return tuple(dict.fromkeys(found))


def worst(place: Place, sound: Sound) -> tuple[float, State]:
    """The largest current that a part must carry, and the state of the loads that asks for it."""
    return sound.operating.demand.worst_peak(place[0])


def _clears(clue: Clue, place: Place, sound: Sound) -> bool:
    """Whether a clue leaves no room for a fault that matters when most is drawn."""
    part = next((one for one in clue.amps if one.place == place), None)
    if part is None or clue.in_ohms or not _inside(clue, sound):
        return False
    most, state = worst(place, sound)
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


def _floor(one: Suspect, seen: Evidence) -> Suspect | None:
    """The suspect with a fault large enough to matter, or None when the readings leave no room for that."""
    sound, margin = seen.sound, seen.sound.case.limits.window_margin
    most, state = worst(one.place, sound)
    part = Part(one.place[0], SOURCE, state.name) if one.place[1] == SOURCE else Part(*one.place)
    more = margin if part.name == SOURCE else margin / max(most, 1e-9)
    least = Band(sound.ohms(part).high + more, ANY.high)
    found = one.ohms.get(part, Band(-ANY.high, ANY.high)).meet(least)
    return Suspect(one.place, {**one.ohms, part: found}) if found else None
