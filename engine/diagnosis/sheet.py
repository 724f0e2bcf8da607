"""The bench sheet: what a meter should show at every point of this station, to be filled in and compared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.diagnosis.expected import Part, SoundStation
from engine.diagnosis.interval import Interval
from engine.diagnosis.prediction import Prediction
from engine.diagnosis.situation import LISTENING, Situation
from engine.model.case import CONTACTS, COPPER, FUSE, Lead
from engine.model.operating import USUAL, Operating, Point, State
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
    usual: float | None = None
    expected: Interval | None = None
    amps: float | None = None


@dataclass(frozen=True)
class Sheet:
    """The sheet of one station for one sort of meter."""

    name: str
    meter: str
    lines: tuple[Line, ...]


def sheet(operating: Operating, meter: Instrument) -> Sheet:
    """Every point worth measuring: terminals at receive, and terminals and parts at each key-down."""
    sound = SoundStation(operating)
    states = [LISTENING, *(state for state in operating.states if state.is_keyed)]
    lines = [line for state in states for line in _lines(Prediction(sound, Situation(state), (), meter))]
    return Sheet(operating.case.name, meter.id, tuple(lines))


def _lines(prediction: Prediction) -> Iterator[Line]:
    case, state = prediction.sound.case, prediction.situation.state
    ends = [draw.id for draw in case.draws if draw.id in state.keyed or not state.is_keyed]
    runs = list({lead.id: lead for end in ends for lead in case.path(end)}.values())
    for node in dict.fromkeys([*(lead.start for lead in runs), *(lead.end for lead in runs)]):
        yield _at_terminals(prediction, node)
    if state.is_keyed:
        yield from (_across(prediction, lead, what) for lead in runs for what in _measurable(lead))


def _measurable(lead: Lead) -> list[str]:
    known = {FUSE: lead.fuse_rating, CONTACTS: lead.contacts, COPPER: lead.conductor}
    return [name for name, there in known.items() if there]


def _state_words(state: State) -> tuple[str, tuple[str, ...]]:
    """The state of a reading as a file spells it, and the loads that are keyed."""
    keyed = tuple(sorted(state.keyed))
    return "keyed" if keyed else state.name, keyed


def _usual_point(prediction: Prediction) -> Point:
    operating, state = prediction.sound.operating, prediction.situation.state
    known = next((other for other in operating.states if other.name == state.name), state)
    return operating.point(known, USUAL)


def _at_terminals(prediction: Prediction, at: str) -> Line:
    case, point = prediction.sound.case, _usual_point(prediction)
    line = Line(at, None, *_state_words(prediction.situation.state))
    gaps = [gap for lead in case.path(at) for gap in lead.missing]
    feed = case.source_of(at) or case.feed.get(at)
    if not point.fed or gaps or feed is None or feed.missing:
        return line
    expected, draw = prediction.shows(at, None), case.draw.get(at)
    if draw and "window" not in draw.missing:
        expected = Interval(min(max(expected.low, draw.lowest), expected.high), expected.high)
    amps = point.through.get(case.into[at].id) if at in case.into else point.amps.get(at)
    return Line(line.at, None, line.state, line.keyed, point.volts.get(at), expected, amps)


def _across(prediction: Prediction, lead: Lead, what: str) -> Line:
    point, state = _usual_point(prediction), _state_words(prediction.situation.state)
    if not point.fed:
        return Line(lead.id, what, *state)
    amps = point.through.get(lead.id)
    usual = None if amps is None else amps * prediction.sound.usual(Part(lead.id, what))
    return Line(lead.id, what, *state, usual, prediction.shows(lead.id, what).not_negative, amps)
