"""Where a fault that matters could still be undetected although no reading asks for one."""

from __future__ import annotations

import math

from engine.diagnosis.drops import Drop
from engine.diagnosis.evidence import Evidence, loads_read
from engine.diagnosis.expected import SOURCE, Part, SoundStation
from engine.diagnosis.interval import NOT_NEGATIVE, Interval
from engine.diagnosis.suspects import Place, Suspect, suspect
from engine.model.operating import State

NEAR_PEAK = 0.6
"""From this share of the largest current on, a reading is as good as one at the largest (own estimate)."""

UNBOUNDED = Interval(-math.inf, math.inf)


def undetected(evidence: Evidence) -> tuple[Suspect, ...]:
    """Where no reading asks for a fault: the parts in which one that matters could still be."""
    sound, drops = evidence.sound, evidence.drops
    suspects = []
    for place in _places(evidence):
        if any(_clears(drop, place, sound) for drop in drops):
            continue
        faulty = _with_fault(suspect(place, drops, sound) or Suspect(place, {}), sound)
        if faulty is not None:
            suspects.append(faulty)
    return tuple(suspects)


def _places(evidence: Evidence) -> tuple[Place, ...]:
    """Every part on the way to the loads that were read."""
    case, places = evidence.sound.case, list[Place]()
    for end in loads_read(evidence):
        places += [(case.path(end)[0].start, SOURCE)] if case.source_of(end) else []
        places += [part.place for lead in case.path(end) for part in evidence.sound.parts(lead)]
    return tuple(dict.fromkeys(places))


def largest_current(place: Place, sound: SoundStation) -> tuple[float, State]:
    """The largest current that a part must carry, and the state of the loads that asks for it."""
    return sound.operating.demand.worst_peak(place[0])


def _clears(drop: Drop, place: Place, sound: SoundStation) -> bool:
    """Whether a drop leaves no room for a fault that matters when most is drawn."""
    part = next((part for part in drop.amps if part.place == place), None)
    if part is None or drop.in_ohms or not _settles_window(drop, sound):
        return False
    most, state = largest_current(place, sound)
    margin, spare = sound.case.limits.window_margin, drop.lost.high - drop.expected(sound).high
    if part.name == SOURCE:
        return drop.state.is_keyed == state.is_keyed and spare <= margin
    least = drop.amps[part].low
    if least < NEAR_PEAK * most:  # a source that is not measured may stand anywhere: at a small current that counts
        spare -= sum(sound.ohms(other).low for other in drop.amps if other.name == SOURCE)
    return least > 0 and max(spare, 0.0) / least * most <= margin


def _settles_window(drop: Drop, sound: SoundStation) -> bool:
    """Whether a reading at a load is surely inside its window, or surely outside."""
    draw = sound.case.draw.get(drop.lower)
    if draw is None or "window" in draw.missing or drop.shown is None:
        return True
    return not drop.shown.low < draw.lowest <= drop.shown.high


def _with_fault(candidate: Suspect, sound: SoundStation) -> Suspect | None:
    """The suspect with a fault large enough to matter, or None when the readings leave no room for that."""
    place, margin = candidate.place, sound.case.limits.window_margin
    most, state = largest_current(place, sound)
    part = Part(place[0], SOURCE, state.name) if place[1] == SOURCE else Part(*place)
    more = margin if part.name == SOURCE else margin / max(most, 1e-9)
    least = Interval(sound.ohms(part).high + more, NOT_NEGATIVE.high)
    faulty = candidate.ohms.get(part, UNBOUNDED).intersection(least)
    return Suspect(place, {**candidate.ohms, part: faulty}) if faulty else None
