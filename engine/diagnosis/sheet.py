"""The bench sheet: what a meter should show at every point of this station, to be filled in and compared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.diagnosis.band import Band
from engine.diagnosis.scene import LISTENING, Scene
from engine.diagnosis.sound import Sound
from engine.diagnosis.telling import Telling
from engine.model.case import CONTACTS, COPPER, FUSE, Lead
from engine.model.operating import USUAL, Operating, State
from engine.parts import Instrument


@dataclass(frozen=True)
class Line:
    """One reading to take, ``at``, ``across``, ``state`` and ``keyed`` as in a ``[[reading]]``.

    ``usual`` is what is to be expected [V], ``expected`` the bounds within which nothing is wrong, the meter's error
    included; ``amps`` what usually flows there [A]. None where too little is known.
    """

    at: str
    across: str | None
    state: str
    keyed: tuple[str, ...]
    usual: float | None
    expected: Band | None
    amps: float | None


@dataclass(frozen=True)
class Sheet:
    """The sheet of one station for one sort of meter."""

    name: str
    meter: str
    lines: tuple[Line, ...]


def sheet(operating: Operating, meter: Instrument) -> Sheet:
    """Every point worth measuring: terminals at receive, and terminals and parts at each key-down."""
    lines = [line for state in _states(operating) for line in _lines(operating, state, meter)]
    return Sheet(operating.case.name, meter.id, tuple(lines))


def _states(operating: Operating) -> Iterator[State]:
    yield LISTENING
    yield from (one for one in operating.states if one.is_keyed)


def _lines(operating: Operating, state: State, meter: Instrument) -> Iterator[Line]:
    sound = Sound(operating)
    telling = Telling(sound, Scene(state), (), meter)
    case = operating.case
    ends = [one.id for one in case.draws if one.id in state.keyed or not state.is_keyed]
    runs = list({lead.id: lead for end in ends for lead in case.path(end)}.values())
    nodes = dict.fromkeys([*(lead.start for lead in runs), *(lead.end for lead in runs)])
    places: list[tuple[str, str | None]] = [(one, None) for one in nodes]
    if state.is_keyed:
        places += [(lead.id, what) for lead in runs for what in _measurable(lead)]
    for at, across in places:
        yield _line(operating, telling, state, at, across)


def _measurable(lead: Lead) -> list[str]:
    known = {FUSE: lead.fuse_rating, CONTACTS: lead.contacts, COPPER: lead.conductor}
    return [name for name, there in known.items() if there]


def _line(operating: Operating, telling: Telling, state: State, at: str, across: str | None) -> Line:
    point = operating.point(_known(operating, state), USUAL)
    keyed, case = tuple(sorted(state.keyed)), operating.case
    kind = "keyed" if keyed else state.name
    gaps = {gap for one in case.path(at) for gap in one.missing}
    feed = case.source_of(at) or case.feed.get(at)
    if not point.fed or (across is None and (gaps or feed is None or feed.missing)):
        return Line(at, across, kind, keyed, None, None, None)
    band = telling.shows(at, across)
    if across is None:
        amps = point.through.get(case.into[at].id) if at in case.into else point.amps.get(at)
        draw = case.draw.get(at)
        if draw and "window" not in draw.missing:
            band = Band(min(max(band.low, draw.lowest), band.high), band.high)
        return Line(at, None, kind, keyed, point.volts.get(at), band, amps)
    through = point.through.get(at)
    stretch = operating.stretch(next(one for one in case.leads if one.id == at), USUAL)
    ohms = {COPPER: stretch.copper, FUSE: stretch.fuse, CONTACTS: stretch.contacts}[across]
    usual = None if through is None else through * ohms
    return Line(at, across, kind, keyed, usual, Band(max(band.low, 0.0), band.high), through)


def _known(operating: Operating, state: State) -> State:
    return next((one for one in operating.states if one.name == state.name), state)
