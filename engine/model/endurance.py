"""How long a battery carries the station: the answer on an envelope, the battery's answer, and the radio's.

The battery is emptied in time with the station's own tree solved at every step, so that the volts at each load's own
terminals are known at every hour. What ends the session is whichever comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from engine.model import weight
from engine.model.case import MIDDLE, Cell, Feed, Lead
from engine.model.operating import RECEIVE, RESTING, USUAL, Operating, State, fixed_drop, outward, source_branches
from engine.model.turns import carried, turns
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


def rest_amps(operating: Operating, feed: Feed) -> float:
    """Current [A] from a battery while the station is switched off but for what stays on, everything usual."""
    if feed.cell is None:
        return 0.0
    session = _Session(operating, feed, feed.cell)
    solved = session.solve(session.pack().emf(feed.cell.start), State(RESTING))
    return solved.through[0] if solved else 0.0


def mean_amps(operating: Operating, feed: Feed) -> float:
    """Mean current [A] from a battery while the station operates, everything usual."""
    if feed.cell is None:
        return 0.0
    session = _Session(operating, feed, feed.cell)
    return discharge.mean_amps(session.pack(), session.phases())


@dataclass(frozen=True)
class Tight:
    """The load that is nearest to the lowest volts of its window [V], and the state in which it is."""

    load: str
    floor: float
    state: State


class _Session:
    """One battery and what hangs on it."""

    def __init__(self, operating: Operating, feed: Feed, cell: Cell) -> None:
        self.operating, self.feed, self.cell = operating, feed, cell
        self.order: list[Lead] = outward(operating.case, feed.id)
        self.places = {lead.end: number + 2 for number, lead in enumerate(self.order)}
        self.turns = turns(operating.demand, feed.id)
        self.carried = carried(operating.demand, feed.id)
        self.ohms = feed.corner(MIDDLE).ohms
        self.fixed = fixed_drop(operating.case, self.order, USUAL)
        self.receive, self.hungriest = State(RECEIVE), operating.demand.worst_peak(feed.id)[1]
        self.states = [one for one in operating.demand.states if one.name != RESTING]
        self._branches: dict[str, list[circuit.Branch]] = {}
        self._solved: dict[tuple[float, str], circuit.Solution | None] = {}

    def solve(self, emf: float, state: State) -> circuit.Solution | None:
        """The tree on the battery at one electromotive force."""
        key = (emf, state.name)
        if key not in self._solved:
            self._solved[key] = circuit.solve(emf - self.fixed, self._tree(state))
        return self._solved[key]

    def _tree(self, state: State) -> list[circuit.Branch]:
        if state.name not in self._branches:
            tree = source_branches(self.operating, self.order, self.feed.id, state, USUAL, self.ohms)
            self._branches[state.name] = tree
        return self._branches[state.name]

    def amps(self, state: State) -> discharge.Draws:
        """The battery's mean current in a state: from receive towards key-down as far as the envelopes go."""
        envelope = self.envelope(state)

        def draw(emf: float, _: float) -> float | None:
            peak = self.solve(emf, state)
            idle = self.solve(emf, self.receive) if envelope < 1 else peak
            if peak is None or idle is None:
                return None
            return duty.mean(idle.through[0], peak.through[0], envelope)

        return draw

    def envelope(self, state: State) -> float:
        """Mean over peak of the swing between receive and key-down, from the envelope of each mode (0 to 1)."""
        demand, whole, mean = self.operating.demand, 0.0, 0.0
        for one in self.carried:
            if one.id in state.keyed:
                swing = demand.amps(one, state, USUAL) - demand.amps(one, self.receive, USUAL)
                whole, mean = whole + swing, mean + swing * one.mode.envelope
        return mean / whole if whole > 0 else 1.0

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
        """Listening, and each load or group keyed, by its share of the time."""
        return [Phase(one.state.name, one.share, self.amps(one.state)) for one in self.turns]

    def endurance(self) -> Endurance:
        """The three answers and the trace."""
        made = discharge.run(self.pack(), self.phases())
        tight = self.tightest(made.moments[0].emf)
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
        return Endurance(
            self.feed.id, tight.load, tight.floor, tight.state, made.ideal_hours, tuple(ends),
            self._trace(made, tight), self._listening(made), weight.feed_kilograms(self.feed),
            converter=tight.load in self.operating.case.draw and bool(self.operating.case.draw[tight.load].converts),
        )  # fmt: skip

    def _listening(self, made: Discharge) -> float:
        """The share of the charge that goes while nothing is keyed."""
        charge = [phase.share * one for phase, one in zip(made.phases, made.moments[0].amps, strict=True)]
        listening = [one for one, turn in zip(charge, self.turns, strict=True) if not turn.state.is_keyed]
        return sum(listening) / (sum(charge) or 1.0)

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
        """Whether a load stands below its floor in any state, be it ever so short."""
        return any(self._below(self.solve(at.emf, state)) for state in self.states)

    def _below(self, solved: circuit.Solution | None) -> bool:
        if solved is None:
            return True
        draw = self.operating.case.draw
        return any(
            solved.volts[place] < draw[end].lowest - 1e-9
            for end, place in self.places.items()
            if end in draw and "window" not in draw[end].missing
        )

    def _trips(self, at: Moment) -> bool:
        """Whether the board opens: above its peak at once, above its continuous rating during an over."""
        return any(self._opens(self.solve(at.emf, state), state) for state in self.states)

    def _opens(self, solved: circuit.Solution | None, state: State) -> bool:
        if solved is None:
            return True
        amps, demand = solved.through[0] * (1 - 1e-9), self.operating.demand
        peak = demand.total(self.feed.id, state, demand.peak)
        over = demand.total(self.feed.id, state, demand.heating)
        return amps > self.feed.peak or amps * (over / peak if peak else 1.0) > self.feed.continuous

    def _terminals(self, at: Moment) -> float:
        """Volts at the battery's own terminals in the state that draws most."""
        found = self.solve(at.emf, self.hungriest)
        return found.volts[1] if found else 0.0

    def tightest(self, emf: float) -> Tight:
        """The load with the fewest volts above its floor, and the state in which that is so."""
        draw = self.operating.case.draw
        ends = [end for end in self.places if end in draw]
        if not ends or self.solve(emf, self.hungriest) is None:
            return Tight(ends[0], draw[ends[0]].lowest, self.hungriest) if ends else Tight("", 0.0, self.hungriest)
        solved = [(state, self.solve(emf, state)) for state in (self.hungriest, *self.states)]
        spare = [
            (found.volts[self.places[end]] - draw[end].lowest, Tight(end, draw[end].lowest, state))
            for state, found in solved
            for end in ends
            if found is not None
        ]
        return min(spare, key=lambda pair: pair[0])[1]

    def _trace(self, made: Discharge, tight: Tight) -> tuple[Hour, ...]:
        step = max(len(made.moments) // POINTS, 1)
        chosen = [*made.moments[::step], made.moments[-1]]
        place = self.places.get(tight.load, 1)
        found = []
        for at in chosen:
            keyed, receive = self.solve(at.emf, tight.state), self.solve(at.emf, self.receive)
            if keyed and receive:
                found.append(Hour(at.hours, at.charge, keyed.volts[place], receive.volts[place]))
        return tuple(found)
