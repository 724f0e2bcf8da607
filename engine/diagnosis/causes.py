"""A suspected part in words: what is at fault, with the arithmetic, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.diagnosis.band import Band
from engine.diagnosis.clues import Clue
from engine.diagnosis.meters import Sight
from engine.diagnosis.result import (
    CABLE,
    CONTACT,
    DESIGN,
    FUSE_OR_HOLDER,
    METER,
    PATH,
    SIZE,
    SUPPLY,
    TOO_MANY_VOLTS,
    Cause,
    Estimate,
)
from engine.diagnosis.scene import Scene
from engine.diagnosis.sound import SOURCE, Sound
from engine.diagnosis.suspects import Place
from engine.model.case import CONTACTS, COPPER, FUSE, Draw, Feed
from engine.model.operating import USUAL
from engine.working import Figure, number

CUT_OFF = 0.25
"""Below this share of its least volts a source has cut off rather than sagged (own estimate)."""

CUT_ALL = 10.0
"""A loss [V] that leaves nothing to work with."""

KIND = {COPPER: CABLE, FUSE: FUSE_OR_HOLDER, CONTACTS: CONTACT, SOURCE: SUPPLY}

DO = {
    CABLE: "measure its length and read its print; feel along it, power off, for a joint, a crushed or a green spot",
    FUSE_OR_HOLDER: "replace the fuse, and the holder too if it is brown, soft or slack; never a bigger fuse",
    CONTACT: "with the power off part both ends, look for a brown or slack one, and crimp new contacts",
    PATH: "a fuse holder, a contact, a switch or a joint comes first; touch nothing that may be hot",
}


def fault(place: Place, clues: Sequence[Clue], estimates: Sequence[Estimate], sound: Sound) -> Cause:
    """The cause that one accused part is."""
    if place[1] == SOURCE:
        return supply(sound.case.feed[place[0]], clues, sound)
    most, _ = sound.operating.demand.worst_peak(place[0])
    return path(place[0], KIND[place[1]], estimates, most)


def path(run: str, kind: str, estimates: Sequence[Estimate], most: float = 0.0) -> Cause:
    """More resistance than sound parts have in a run; ``most`` is the largest current that it must carry [A]."""
    mine = [one for one in estimates if run in one.runs and one.over]
    shown = min(mine, key=lambda one: (len(one.runs), one.usual), default=None)
    what = {PATH: f"somewhere in {run}", CONTACT: f"a contact of {run}"}.get(kind, f"the {kind} of {run}")
    if shown is None:
        return Cause(kind, run, f"{what}: too much is lost; {DO[kind]}")
    sound = Figure(shown.usual, "Ω", "sound", "its cable with sound small parts")
    more = shown.resistance.named("resistance") - sound
    amps = Figure(max(most, shown.amps) if shown.in_ohms else shown.amps, "A", "amps")
    heat = amps**2 * more.named("unexplained")
    says = f"{what}: {_lost(shown)}, where it should be near {number(shown.usual, 'Ω')}; {_excess(more, heat, shown)}"
    if most > 1.5 * shown.amps or shown.in_ohms:
        says += f"; {_keyed(most, most * more.value)}"
    return Cause(kind, run, f"{says}: {DO[kind]}", (shown.resistance, shown.watts, more, heat), heat.value)


def _lost(shown: Estimate) -> str:
    if shown.in_ohms:
        return f"{shown.resistance} {shown.about}"
    at = number(shown.amps, "A")
    return f"{shown.volts} lost {shown.about} at {at} is {shown.resistance} and {shown.watts}"


def _keyed(amps: float, volts: float) -> str:
    at = f"{number(amps, 'A')}, key-down"
    return f"at {at}, it would lose {number(volts, 'V')}" if volts < CUT_ALL else f"it cannot pass {at}, at all"


def _excess(more: Figure, heat: Figure, shown: Estimate) -> str:
    if shown.in_ohms:
        return f"{more} is unexplained"
    share = f", {number(more.value / shown.resistance.value, '%')} of it," if shown.resistance.value else ""
    return f"{more} and {heat}{share} are unexplained, mostly in one place, which gets hot"


def supply(feed: Feed, clues: Sequence[Clue], sound: Sound) -> Cause:
    """A source that shows too little at its own terminals: cut off, set low, overloaded or sagging."""
    mine = [one for one in clues if any(part.place == (feed.id, SOURCE) for part in one.amps)]
    own = [one for one in mine if one.lower == feed.id] or mine
    low = [one for one in own if one.over(sound)]
    worst = max(low or own, key=lambda one: one.value)
    least = sound.volts(feed, worst.state).low
    figure = Figure(least, "V", "least", f"the least that {feed.id} should show")
    figure -= Figure(worst.value, "V", "lost", "missing")
    shown = (
        f"{figure} at {worst.lower} with {worst.state.name}, where {feed.id} itself should show {least:.2f} V or more"
    )
    return Cause(SUPPLY, feed.id, f"{feed.id} is at fault: {shown}; {_why(feed, worst, low, least)}", (figure,))


def _why(feed: Feed, worst: Clue, low: Sequence[Clue], least: float) -> str:
    if least - worst.value < CUT_OFF * least:
        return (
            "it cuts off from one moment to the next: the protection board of a lithium battery at its limit, or a "
            "supply that shuts down; hold its limit against the current, keyed, and look for a short"
        )
    if any(not one.state.is_keyed for one in low):
        return "it is low before anything is keyed: set too low, or flat; set it, or charge it, and measure again"
    if not feed.continuous:
        return "it sags under load: hold the current against what its plate says it gives, else have it mended"
    return (
        f"it sags under load: {feed.continuous:g} A for hours and {feed.limit:g} A at its limit are what it should "
        "give; hold the current against that, else have it mended"
    )


def oversize(sound: Sound, scene: Scene) -> Iterator[Cause]:
    """A measured current that is more than a fuse, or a source, is made for."""
    for lead in sound.case.leads:
        seen = scene.amps.get(lead.id) or scene.amps.get(lead.end)
        if seen and lead.fuse_rating and seen.band.low > lead.fuse_rating:
            figure, limit = Figure(seen.value, "A"), Figure(lead.fuse_rating, "A")
            says = f"{figure} flows through {lead.id}, whose fuse is rated {limit}: it will open"
            more = "; lead this load over a fuse, contacts and cable made for it, never over a bigger fuse alone"
            yield Cause(SIZE, lead.id, says + more, (figure, limit))
    for feed in sound.case.feeds:
        seen = scene.amps.get(feed.id)
        most = feed.peak or feed.continuous
        if seen and most and seen.band.low > most:
            figure, limit = Figure(seen.value, "A"), Figure(most, "A")
            yield Cause(SIZE, feed.id, f"{figure} is asked of {feed.id}, which gives {limit}", (figure, limit))


def off_meters(scene: Scene) -> Iterator[Cause]:
    """Two instruments at one place that do not show the same."""
    for at, sights in scene.volts.items():
        sure = min(sights, key=lambda one: one.band.width)
        for other in sights:
            gap = other.value - sure.value
            if other.instrument.id == sure.instrument.id or abs(gap) < sure.band.width / 2:
                continue
            within = other.band.meets(sure.band)
            so = "which such an instrument may be" if within else "more than such an instrument may be: check both"
            way = "low" if gap < 0 else "high"
            says = (
                f"the {other.instrument.id} at {at} reads {abs(gap):.2f} V {way} against the {sure.instrument.id}, "
                f"{so}; go by the {sure.instrument.id}"
            )
            yield Cause(METER, at, says, (Figure(gap, "V"),))


def backwards(clue: Clue, sound: Sound) -> Cause:
    """Less lost than even the cable alone must lose: a meter is off, or the run is not as described."""
    least = clue.expected(sound)
    where = f"from {clue.upper} to {clue.lower}" if clue.upper else f"at {clue.lower}"
    says = (
        f"{where} {number(clue.value, 'V')} are lost with {clue.state.name}, where even sound parts lose "
        f"{number(least.low, 'V')}: measure both points with the same instrument, at the same moment, and check the "
        "length and size that are written down"
    )
    return Cause(METER, clue.lower, says, (Figure(clue.value, "V"),))


def too_many(sound: Sound, scene: Scene) -> Iterator[Cause]:
    """A load that gets more volts than it accepts."""
    for draw in sound.case.draws:
        seen = scene.best(draw.id)
        if seen and "window" not in draw.missing and seen.band.low > draw.highest:
            says = (
                f"{draw.id} gets {seen.value:.2f} V with {scene.state.name} and accepts {draw.highest:.2f} V: "
                "switch off at once, and set or mend the source before anything else"
            )
            yield Cause(TOO_MANY_VOLTS, draw.id, says, (Figure(seen.value, "V"), Figure(draw.highest, "V")))


def below(sound: Sound, scene: Scene) -> Iterator[tuple[Draw, Sight]]:
    """The loads that surely get fewer volts than they accept."""
    for draw in sound.case.draws:
        seen = scene.best(draw.id)
        if seen and not scene.idle and "window" not in draw.missing and seen.band.high < draw.lowest:
            yield draw, seen


def by_design(sound: Sound, scene: Scene) -> Iterator[Cause]:
    """Too few volts, as the parts that are described must give when all are sound."""
    for draw, seen in below(sound, scene):
        state = next((one for one in sound.operating.states if one.name == scene.state.name), scene.state)
        point = sound.operating.point(state, USUAL)
        usual = point.volts.get(draw.id) if point.fed else None
        if usual is not None and usual < draw.lowest:
            says = (
                f"{draw.id} gets {seen.value:.2f} V with {scene.state.name}, below its floor of {draw.lowest:.2f} V, "
                f"and {usual:.2f} V are to be expected with every part as described: the station is too weak by "
                "design; check says which part"
            )
            yield Cause(DESIGN, draw.id, says, (Figure(seen.value, "V"), Figure(draw.lowest, "V")))


def bounds(band: Band, unit: str) -> str:
    """A band in words.

    >>> bounds(Band(13.2, 13.64), "V")
    '13.20 to 13.64 V'
    """
    low, high = number(band.low, unit), number(band.high, unit)
    if low == high:
        return low
    if low.split()[-1] == high.split()[-1]:
        return f"{low.split()[0]} to {high}"
    return f"{low} to {high}"
