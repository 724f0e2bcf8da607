"""What else readings show: wrong sizes, meters that disagree, a station too weak by design."""

from __future__ import annotations

from collections.abc import Iterator

from engine.diagnosis.drops import Drop, in_words
from engine.diagnosis.expected import SoundStation
from engine.diagnosis.meters import Measured, surest
from engine.diagnosis.result import DESIGN, METER, SIZE, Cause
from engine.diagnosis.situation import Situation
from engine.diagnosis.words import beside, spoken
from engine.model.case import Draw
from engine.model.operating import USUAL
from engine.working import Figure


def oversize(sound: SoundStation, situation: Situation) -> Iterator[Cause]:
    """A measured current that is more than a fuse, or a source, is made for."""
    for lead in sound.case.leads:
        seen = situation.amps.get(lead.id) or situation.amps.get(lead.end)
        if seen and lead.fuse_rating and seen.interval.low > lead.fuse_rating:
            figure, limit = Figure(seen.value, "A"), Figure(lead.fuse_rating, "A")
            says = f"{spoken(seen.value, 'A')} flows through {lead.id}; its fuse is rated {lead.fuse_rating:g} A"
            do = ("Lead this load over a fuse, contacts and cable made for it, never over a bigger fuse alone.",)
            yield Cause(SIZE, lead.id, says, ("The fuse will open.",), do, (figure, limit))
    for feed in sound.case.feeds:
        seen, most = situation.amps.get(feed.id), feed.peak or feed.continuous
        if seen and most and seen.interval.low > most:
            says = f"{spoken(seen.value, 'A')} is asked of {feed.id}, which gives {most:g} A"
            do = ("Key with less power, or feed it from a larger supply.",)
            yield Cause(SIZE, feed.id, says, (), do, (Figure(seen.value, "A"), Figure(most, "A")))


def disagreeing_meters(situation: Situation) -> Iterator[Cause]:
    """Two instruments at one place that do not show the same."""
    for at, sights in situation.volts.items():
        sure = surest(sights)
        for other in sights:
            if sure is None or other.instrument.id == sure.instrument.id:
                continue
            gap = other.value - sure.value
            if abs(gap) >= sure.interval.width / 2:
                yield _disagreement(at, other, sure, gap)


def _disagreement(at: str, other: Measured, sure: Measured, gap: float) -> Cause:
    way = "low" if gap < 0 else "high"
    says = f"the {other.instrument.id} at {at} reads {abs(gap):.2f} V {way} against the {sure.instrument.id}"
    within = other.interval.overlaps(sure.interval)
    so = "Such an instrument may be that far off." if within else "That is more than such an instrument may be off."
    do = f"Go by the {sure.instrument.id}." if within else "Check both against a third."
    return Cause(METER, at, says, (so,), (do,), (Figure(gap, "V"),))


def too_little_lost(drop: Drop, sound: SoundStation) -> Cause:
    """Less lost than even the cable alone must lose: a meter is off, or the run is not as described."""
    least, when = drop.expected(sound).low, in_words(drop.state)
    if drop.value < 0:
        says = f"{spoken(-drop.value, 'V')} more at {drop.lower} than at {drop.upper}, {when}, cannot be"
        because = ("Two meters, two moments, or the two places exchanged.",)
    else:
        says = f"only {drop.value:.2f} V is lost from {drop.upper} to {drop.lower}, {when}"
        because = (f"Even sound copper of that size and length loses {least:.2f} V.",)
    do = (
        "Read both points with the same meter at the same moment.",
        "Then check the length and the size that are written down.",
    )
    return Cause(METER, drop.lower, says, because, do, (Figure(drop.value, "V"),))


def below_window(sound: SoundStation, situation: Situation) -> Iterator[tuple[Draw, Measured]]:
    """The loads that surely get fewer volts than they accept."""
    for draw in sound.case.draws:
        seen = situation.best(draw.id)
        if seen and not situation.idle and "window" not in draw.missing and seen.interval.high < draw.lowest:
            yield draw, seen


def by_design(sound: SoundStation, situation: Situation) -> Iterator[Cause]:
    """Too few volts, as the parts that are described must give when all are sound."""
    for draw, seen in below_window(sound, situation):
        states = sound.operating.states
        state = next((state for state in states if state.name == situation.state.name), situation.state)
        point = sound.operating.point(state, USUAL)
        usual = point.volts.get(draw.id) if point.fed else None
        if usual is not None and usual < draw.lowest:
            shown, least = beside(seen.value, draw.lowest)
            says = f"{shown} at {draw.id}, {in_words(situation.state)}; {least} is the least that it accepts"
            because = f"{spoken(usual, 'V')} is to be expected there with every part sound: the station is too weak."
            do = ("Check the station file (shackrail check): it says which part.",)
            yield Cause(DESIGN, draw.id, says, (because,), do, (Figure(seen.value, "V"), Figure(draw.lowest, "V")))
