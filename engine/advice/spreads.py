"""How sure the hours on battery are: the session with each spread of the catalogue at its worse and better end.

No chance is in it: each spread is moved alone, which shows what it does, and then all of them together.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.model.case import MIDDLE, Case, Cell, Feed
from engine.model.endurance import Endurance, endurance
from engine.model.operating import Operating
from engine.parts import Chemistry, Mode, Span
from engine.physics.cells import COLUMN
from engine.physics.numeric import between

WORSE, BETTER = "worse", "better"
QUIET_VOICE = 0.03
"""Power duty of a quiet voice with pauses; the published 20 % is the other end (common practice, no source)."""

Moved = tuple[Case, Feed]


@dataclass(frozen=True)
class Reach:
    """Hours of a session, and the keyed volts [V] at the hour at which the likely session ends: low, likely, high."""

    name: str
    hours: Span
    volts: Span

    @property
    def width(self) -> float:
        """How far the hours move [h]."""
        return self.hours.high - self.hours.low


@dataclass(frozen=True)
class Sureness:
    """The session with all spreads together, and with each of them alone, what matters most first."""

    together: Reach
    alone: tuple[Reach, ...]


def sureness(operating: Operating, feed: Feed) -> Sureness | None:
    """How far the spreads move the session on a battery; None where there is none."""
    likely = endurance(operating, feed)
    if likely is None:
        return None
    alone = [_reach(name, operating, feed, likely, (move,)) for name, move in MOVES.items()]
    moving = sorted((one for one in alone if one.width > 1e-9), key=lambda one: -one.width)
    return Sureness(_reach("all together", operating, feed, likely, tuple(MOVES.values())), tuple(moving))


Move = Callable[[Case, Feed, str], Moved]


def _reach(name: str, operating: Operating, feed: Feed, likely: Endurance, moves: tuple[Move, ...]) -> Reach:
    ends = [likely, *(_session(operating, feed, end, moves) for end in (WORSE, BETTER))]
    known = [one for one in ends if one is not None]
    hours, volts = [one.hours for one in known], [_volts(one, likely.hours) for one in known]
    return Reach(
        name, Span(min(hours), likely.hours, max(hours)), Span(min(volts), _volts(likely, likely.hours), max(volts))
    )


def _session(operating: Operating, feed: Feed, end: str, moves: tuple[Move, ...]) -> Endurance | None:
    case = operating.case
    for move in moves:
        case, feed = move(case, feed, end)
    return endurance(Operating(case), feed)


def _volts(session: Endurance, hours: float) -> float:
    """Keyed volts [V] of the load nearest its floor at an hour of the session."""
    rows = [(point.hours, point.keyed) for point in session.trace]
    return between(rows, hours) if rows else 0.0


def _end(span: Span, end: str, more_is_worse: bool = True) -> float:
    return span.high if (end == WORSE) == more_is_worse else span.low


def _currents(case: Case, feed: Feed, end: str) -> Moved:
    draws = tuple(
        replace(
            draw,
            receive=Span.exactly(_end(draw.receive, end)),
            transmit=Span.exactly(_end(draw.transmit, end)) if draw.transmit else None,
        )
        for draw in case.draws
    )
    return replace(case, draws=draws), feed


def _voice(case: Case, feed: Feed, end: str) -> Moved:
    def quiet(mode: Mode) -> Mode:
        spoken = not mode.on_off and not mode.steady and end == BETTER
        return replace(mode, duty=min(mode.duty, QUIET_VOICE)) if spoken else mode

    return replace(case, draws=tuple(replace(draw, mode=quiet(draw.mode)) for draw in case.draws)), feed


def _curve(case: Case, feed: Feed, end: str) -> Moved:
    column = COLUMN["low" if end == WORSE else "high"]

    def moved(kind: Chemistry) -> Chemistry:
        points = tuple((row[0], row[column], row[column], row[column]) for row in kind.open_circuit)
        return replace(kind, open_circuit=points)

    return case, _with_chemistry(feed, moved)


def _rate(case: Case, feed: Feed, end: str) -> Moved:
    return case, _with_chemistry(feed, lambda kind: replace(kind, peukert=Span.exactly(_end(kind.peukert, end))))


def _inside(case: Case, feed: Feed, end: str) -> Moved:
    """The resistance inside, unless its owner measured it: then all conditions have the same."""
    cell, usual = _cell(feed), feed.corner(MIDDLE)
    if cell is None or feed.cell is None or feed.corner("sagging").ohms == usual.ohms:
        return case, feed
    factor = _end(cell.chemistry.ohm_ah, end) / cell.chemistry.ohm_ah.usual
    corners = tuple(replace(one, ohms=one.ohms * factor) if one.name == MIDDLE else one for one in feed.corners)
    return case, replace(feed, corners=corners)


def _copper(case: Case, feed: Feed, end: str) -> Moved:
    """Cable as built is never better than its table."""
    longer = 1 + case.limits.as_built if end == WORSE else 1.0
    return replace(case, leads=tuple(replace(one, length=one.length * longer) for one in case.leads)), feed


def _cell(feed: Feed) -> Cell | None:
    return feed.cell or feed.starter


def _with_chemistry(feed: Feed, moved: Callable[[Chemistry], Chemistry]) -> Feed:
    cell = _cell(feed)
    if cell is None:
        return feed
    other = replace(cell, chemistry=moved(cell.chemistry))
    return replace(feed, cell=other) if feed.cell else replace(feed, starter=other)


MOVES: dict[str, Move] = {
    "the currents drawn": _currents,
    "how you speak": _voice,
    "the battery's volts": _curve,
    "what it loses at a high rate": _rate,
    "its resistance": _inside,
    "the cable as built": _copper,
}
"""What is not known to a point, by what an owner may find out."""
