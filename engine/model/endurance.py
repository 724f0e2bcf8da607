"""How long a battery carries the station: the answer on an envelope, the battery's answer, and the radio's.

The battery is emptied in time with the station's own tree solved at every step, so that the volts at each load's own
terminals are known at every hour. What ends the session is whichever comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from engine.model import weight
from engine.model.case import MIDDLE, Cell, Draw, Feed, Lead
from engine.model.operating import RECEIVE, USUAL, Operating, State, fixed_drop, outward, source_branches
from engine.physics import circuit, discharge, duty
from engine.physics.discharge import Discharge, Moment, Phase

DEPTH, FLOOR, BOARD, CUT_OFF, EMPTY = "depth", "floor", "board", "cut-off", "empty"
POINTS = 40
"""Points of the drawing of volts over hours."""


@dataclass(frozen=True)
class End:
    """One thing that ends a session: after how many hours, with which share of the charge left, and why."""

    name: str
    hours: float
    left: float
    says: str


@dataclass(frozen=True)
class Hour:
    """One point of the session: hours, share of the charge left, volts of the load that ends it, keyed and not."""

    hours: float
    charge: float
    keyed: float
    receive: float


@dataclass(frozen=True)
class Endurance:
    """A session on one battery. ``ends`` are in order of time; the first one ends it."""

    feed: str
    load: str
    floor: float
    state: State
    ideal: float
    ends: tuple[End, ...]
    trace: tuple[Hour, ...]
    receive_share: float
    weight: float
    converter: bool = False

    @property
    def first(self) -> End:
        """What ends the session."""
        return self.ends[0]

    @property
    def hours(self) -> float:
        """How long the session lasts."""
        return self.first.hours

    def end(self, name: str) -> End | None:
        """When one thing would end it, or None when it never does before the battery is empty."""
        return next((one for one in self.ends if one.name == name), None)


def endurance(operating: Operating, feed: Feed) -> Endurance | None:
    """The session on a battery, everything usual; None where it feeds nothing or is not known."""
    cell = feed.cell
    if cell is None or feed.missing or not operating.demand.fed_by(feed.id):
        return None
    return operating.demand.remembered(_key(operating, feed), lambda: _Session(operating, feed, cell).endurance())


def sessions(faces: Sequence[Operating]) -> Iterator[tuple[Operating, Feed, Endurance]]:
    """The session on each battery of a station, with the face and the battery that it is of."""
    for operating in faces:
        for feed in operating.case.feeds:
            made = endurance(operating, feed)
            if made is not None:
                yield operating, feed, made


def _key(operating: Operating, feed: Feed) -> tuple[object, ...]:
    """What a session depends on beside the loads: the battery, and the resistance of every lead beyond it."""
    leads = outward(operating.case, feed.id)
    ohms = [(lead.id, operating.stretch(lead, USUAL).ohms) for lead in leads]
    return ("endurance", feed.id, feed.corners, feed.peak, *ohms, fixed_drop(operating.case, leads, USUAL))


def mean_amps(operating: Operating, feed: Feed) -> float:
    """Mean current [A] from a battery while the station operates, everything usual."""
    if feed.cell is None:
        return 0.0
    session = _Session(operating, feed, feed.cell)
    return discharge.mean_amps(session.pack(), session.phases())


class _Session:
    """One battery and what hangs on it."""

    def __init__(self, operating: Operating, feed: Feed, cell: Cell) -> None:
        self.operating, self.feed, self.cell = operating, feed, cell
        self.order: list[Lead] = outward(operating.case, feed.id)
        self.places = {lead.end: number + 2 for number, lead in enumerate(self.order)}
        self.keyed = operating.demand.worst_peak(feed.id)[1]
        self.receive = State(RECEIVE)
        self.share = max((one.keyed for one in _beyond(operating, feed) if one.id in self.keyed.keyed), default=0.0)
        self.ohms = feed.corner(MIDDLE).ohms
        self.fixed = fixed_drop(operating.case, self.order, USUAL)
        self._branches = {
            state.name: source_branches(operating, self.order, feed.id, state, USUAL, self.ohms)
            for state in (self.receive, self.keyed)
        }

    def solve(self, emf: float, state: State) -> circuit.Solution | None:
        """The tree on the battery at one electromotive force."""
        return circuit.solve(emf - self.fixed, self._branches[state.name])

    def amps(self, state: State, share: float = 1.0) -> discharge.Draws:
        """The battery's current in a state, times the mean of its envelope over its peak."""

        def draw(emf: float, _: float) -> float | None:
            found = self.solve(emf, state)
            return None if found is None else found.through[0] * share

        return draw

    def mean_share(self) -> float:
        """Mean over peak current while keyed, from the envelope of each mode."""
        peak = mean = 0.0
        for one in _beyond(self.operating, self.feed):
            amps = self.operating.demand.amps(one, self.keyed, USUAL)
            idle = self.operating.demand.amps(one, self.receive, USUAL)
            peak += amps
            mean += duty.mean(idle, amps, one.mode.envelope) if one.id in self.keyed.keyed else amps
        return mean / peak if peak else 1.0

    def pack(self) -> discharge.Pack:
        """The battery, everything usual."""
        cell = self.cell
        return discharge.Pack(
            cell.chemistry,
            cell.amp_hours,
            cell.celsius,
            cell.health,
            self.ohms,
            cell.chemistry.peukert.usual,
            cell.start,
        )

    def phases(self) -> list[Phase]:
        """Listening and transmitting, each by its share of the time."""
        phases = [Phase("receive", 1 - self.share, self.amps(self.receive))]
        if self.keyed.is_keyed and self.share:
            phases.append(Phase("keyed", self.share, self.amps(self.keyed, self.mean_share())))
        return phases

    def endurance(self) -> Endurance:
        """The three answers and the trace."""
        made = discharge.run(self.pack(), self.phases())
        load, floor = self.tightest(made.moments[0].emf)
        last = made.moments[-1]
        ends = [
            End(EMPTY, last.hours, last.charge, "what is asked can no longer be fed" if made.collapsed else "empty")
        ]
        for name, broken, says in self._questions():
            found = made.first(broken)
            if found is not None:
                ends.append(End(name, found.hours, found.charge, says))
        order = (DEPTH, CUT_OFF, BOARD, FLOOR, EMPTY)
        ends.sort(key=lambda one: (one.hours, order.index(one.name)))
        amps = made.moments[0].amps
        whole = sum(phase.share * one for phase, one in zip(made.phases, amps, strict=True)) or 1.0
        return Endurance(
            self.feed.id, load, floor, self.keyed, made.ideal_hours, tuple(ends), self._trace(made, load),
            made.phases[0].share * amps[0] / whole if len(made.phases) > 1 else 1.0,
            weight.feed_kilograms(self.feed),
            converter=load in self.operating.case.draw and bool(self.operating.case.draw[load].converts),
        )  # fmt: skip

    def _questions(self) -> list[tuple[str, Callable[[Moment], bool], str]]:
        cell = self.cell
        asked: list[tuple[str, Callable[[Moment], bool], str]] = [
            (
                DEPTH,
                lambda at: at.charge <= cell.start - cell.depth + 1e-12,
                f"{cell.depth * 100:.0f} % of it is drawn",
            ),
            (FLOOR, self._starved, "a load falls below the lowest volts of its window, keyed"),
        ]
        trips = "its protection board cuts off" if cell.board else "it stands at its cut-off volts, keyed"
        asked.append((CUT_OFF, lambda at: self._terminals(at) < cell.chemistry.cut_off, trips))
        if cell.board:
            asked.append((BOARD, self._trips, "its protection board trips"))
        return asked

    def _starved(self, at: Moment) -> bool:
        found = self.solve(at.emf, self.keyed)
        if found is None:
            return True
        draw = self.operating.case.draw
        return any(
            found.volts[place] < draw[end].lowest - 1e-9
            for end, place in self.places.items()
            if end in draw and "window" not in draw[end].missing
        )

    def _trips(self, at: Moment) -> bool:
        """Whether the board opens: above its peak at once, above its continuous rating during an over."""
        found = self.solve(at.emf, self.keyed)
        if found is None:
            return True
        amps, demand = found.through[0] * (1 - 1e-9), self.operating.demand
        peak = demand.total(self.feed.id, self.keyed, demand.peak)
        over = demand.total(self.feed.id, self.keyed, demand.heating)
        return amps > self.feed.peak or amps * (over / peak if peak else 1.0) > self.feed.continuous

    def _terminals(self, at: Moment) -> float:
        found = self.solve(at.emf, self.keyed)
        return found.volts[1] if found else 0.0

    def tightest(self, emf: float) -> tuple[str, float]:
        """The load with the fewest volts above its floor, and that floor [V]."""
        found, draw = self.solve(emf, self.keyed), self.operating.case.draw
        ends = [end for end in self.places if end in draw]
        if found is None or not ends:
            return (ends[0], draw[ends[0]].lowest) if ends else ("", 0.0)
        end = min(ends, key=lambda one: found.volts[self.places[one]] - draw[one].lowest)
        return end, draw[end].lowest

    def _trace(self, made: Discharge, load: str) -> tuple[Hour, ...]:
        step = max(len(made.moments) // POINTS, 1)
        chosen = [*made.moments[::step], made.moments[-1]]
        place = self.places.get(load, 1)
        found = []
        for at in chosen:
            keyed, receive = self.solve(at.emf, self.keyed), self.solve(at.emf, self.receive)
            if keyed and receive:
                found.append(Hour(at.hours, at.charge, keyed.volts[place], receive.volts[place]))
        return tuple(found)


def _beyond(operating: Operating, feed: Feed) -> list[Draw]:
    """The loads that a battery carries in the end, those behind a booster included."""
    found = []
    for one in operating.demand.fed_by(feed.id):
        found += _beyond(operating, operating.case.feed[one.converts]) if one.converts else [one]
    return found
