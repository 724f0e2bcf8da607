"""A source that shows too little, or more than it should, at its own terminals."""

from __future__ import annotations

from collections.abc import Sequence

from engine.diagnosis.drops import Drop, in_words
from engine.diagnosis.evidence import Evidence
from engine.diagnosis.expected import SOURCE, SoundStation
from engine.diagnosis.result import SUPPLY, Cause
from engine.diagnosis.words import beside, bounds, spoken
from engine.model.case import BATTERY, MIDDLE, VEHICLE, Feed
from engine.working import Figure

CUT_OFF = 0.25
"""Below this share of its least volts a source has cut off rather than sagged (own estimate)."""

CHARGING_VOLTS = 13.2
"""Below this [V], with the engine running and little drawn, an alternator does not charge (common practice)."""


def source_fault(feed: Feed, evidence: Evidence) -> Cause:
    """A source that shows too little: cut off, set low, flat, not charged, overloaded or sagging."""
    sound = evidence.sound
    drops = [drop for drop in evidence.drops if any(part.place == (feed.id, SOURCE) for part in drop.amps)]
    own = [drop for drop in drops if drop.lower == feed.id] or drops
    low = [drop for drop in own if drop.exceeds(sound)] or own
    worst = max(low, key=lambda drop: drop.value)
    least = sound.volts(feed, worst.state).low
    missing = Figure(worst.value, "V", "lost", "missing")
    shown = Figure(least, "V", "least", f"the least that {feed.id} should show") - missing
    volts, should = beside(shown.value, least)
    says = f"{volts} at {worst.lower}, {in_words(worst.state)}; {feed.id} should show {should} or more"
    because, do = _reason(feed, worst, low, evidence, shown.value, least)
    return Cause(SUPPLY, feed.id, says, because, do, (shown,))


Words = tuple[tuple[str, ...], tuple[str, ...]]
"""Why something is so, and what to do about it."""


def _reason(feed: Feed, worst: Drop, low: Sequence[Drop], evidence: Evidence, shown: float, least: float) -> Words:
    rested = [drop for drop in low if not drop.state.is_keyed]
    if shown < CUT_OFF * least:
        return _cut_off(feed, evidence, bool(rested))
    if rested:
        return _low_at_rest(feed, rested)
    return _sags(feed, worst, evidence)


def _cut_off(feed: Feed, evidence: Evidence, at_rest: bool) -> Words:
    if at_rest and feed.kind == BATTERY:
        return (), ("Look at the fuse at its post, then charge it: its protection board may have cut off.",)
    if at_rest:
        return (f"{feed.id} gives nothing even with little drawn.",), (
            "Look at the wall socket, its own fuse and its switch; then unplug every load and read it again.",
            "If it comes back, a load or a lead is shorted. If not, have it mended or replaced.",
        )
    board = "the protection board of a lithium battery at its limit" if feed.kind == BATTERY else (
        "a supply that shuts down at its limit, or the protection board of a lithium battery"
    )  # fmt: skip
    return (f"It cuts off from one moment to the next: {board}.",), (
        f"Hold its limit against the current at key-down{_asked(feed, evidence)}.",
        "If that is within it, look for a short.",
    )


def _asked(feed: Feed, evidence: Evidence) -> str:
    most, _ = evidence.sound.operating.demand.worst_peak(feed.id)
    return f", about {spoken(most, 'A')}" if most else ""


def _low_at_rest(feed: Feed, rested: Sequence[Drop]) -> Words:
    if feed.kind == VEHICLE:
        return (
            (f"With the engine running {CHARGING_VOLTS:g} to 14.8 V is usual: the alternator hardly charges.",)
            if feed.highest_volts > CHARGING_VOLTS else ("The battery is low.",)
        ), (
            "Switch the headlamps on, run the engine a little faster and read again: some alternators rest at times.",
            "If it stays low, to a garage: belt, alternator, battery terminals.",
        )  # fmt: skip
    if feed.kind == BATTERY:
        return ("It is low before anything is keyed: flat, or worn out.",), (
            "Charge it fully, let it rest some hours and read it again.",
            "If it falls back within a day, it is worn out.",
        )
    return ("It is low before anything is keyed: set too low, or faulty.",), (
        f"Set it to {spoken(feed.volts, 'V')} with nothing drawn, lock the knob and read it again.",
        "If it cannot be set, have it mended or replaced.",
    )


def _sags(feed: Feed, worst: Drop, evidence: Evidence) -> Words:
    fall = _fall(feed, worst, evidence)
    if feed.kind == BATTERY:
        return (fall or "It sags under load.",), (
            "Charge it fully and read it again. If it sags the same, it is worn out, or too small for this current.",
            "Look at its terminals first: a loose or white clamp sags alike.",
        )
    if feed.kind == VEHICLE:
        return (fall or "It sags under load.",), (
            "Look at the battery's clamps, then have a garage test battery and alternator.",
        )
    rating = (
        f"{feed.continuous:g} A continuous and {feed.limit:g} A at its limit are its rating."
        if feed.continuous else "Its rating is not described: read its plate."
    )  # fmt: skip
    return (fall or "It sags under load: no cable can be blamed for that.", rating), (
        "If the current is within that, try another wall socket without an extension lead.",
        "If it sags the same, have it mended or replaced. If the current is more, key with less power.",
    )


def _fall(feed: Feed, worst: Drop, evidence: Evidence) -> str:
    """How far a source falls from receive to key-down, where both were read."""
    quiet = [
        situation.best(feed.id)
        for situation in evidence.situations
        if not situation.state.is_keyed and situation.best(feed.id)
    ]
    if not quiet or quiet[0] is None or worst.shown is None:
        return ""
    before, after = quiet[0].value, worst.shown.middle
    amps = next((s.amps[feed.id].value for s in evidence.situations if s.state == worst.state and feed.id in s.amps), 0)
    falls = f"It falls from {spoken(before, 'V')} to {spoken(after, 'V')} at key-down"
    inside = feed.corner(MIDDLE).ohms
    sound = f", where a sound one has about {spoken(inside, 'Ω')}" if inside else ""
    return f"{falls}: {spoken((before - after) / amps, 'Ω')} inside it{sound}." if amps else f"{falls}."


def too_high(evidence: Evidence, drop: Drop) -> Cause | None:
    """A source that shows more than it should, though every load may accept that."""
    place = next((part.of for part in drop.amps if part.name == SOURCE), None)
    if place is None or drop.shown is None:
        return None
    feed, sound = evidence.sound.case.feed[place], evidence.sound
    value, span = drop.shown.middle, sound.volts(feed, drop.state)
    says = f"{spoken(value, 'V')} at {drop.lower}, {in_words(drop.state)}; {feed.id} should show {bounds(span, 'V')}"
    because, do = _why_high(feed, sound)
    return Cause(SUPPLY, feed.id, says, because, do, (Figure(value, "V"),))


def _why_high(feed: Feed, sound: SoundStation) -> Words:
    highest = [load.highest for load in sound.case.served.get(feed.id, ()) if "window" not in load.missing]
    accepted = (f"Its loads accept up to {spoken(min(highest), 'V')}.",) if highest else ()
    if feed.kind == BATTERY:
        return (*accepted, "A charger is on it, or it is of another sort than described."), (
            "Read it again some hours after the charger came off.",
        )
    if feed.kind == VEHICLE:
        return accepted, ("Read it again with another meter; above 15 V, to a garage.",)
    return (*accepted, "It is set higher than described, or it drifts."), (
        f"Read it again with nothing drawn. Set it to {spoken(feed.volts, 'V')} and lock the knob.",
        "If it has no knob or drifts, have it looked at before it goes higher.",
    )
