"""A whole station solved for every state of its loads and every condition of its source.

States say what the loads do (resting, receive, one or several keyed); conditions say what the source does.
Each condition takes the corner that makes it worst: ``sagging`` the lowest volts, hottest copper and largest
draws; ``light`` the reverse; ``usual`` the middle.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar, cast

from engine.model.case import HIGHEST, LOWEST, MIDDLE, Case, Corner, Draw, Feed, Lead, Piece
from engine.parts import Changeover, Span
from engine.physics import circuit, convert, copper, duty, fuses
from engine.terms import Group, LoadModel, LoadState, PowerInput

Worked = TypeVar("Worked")

STEADY_CURRENT, STEADY_POWER, RESISTIVE = LoadModel
ROOM = 22.0
"""Air in the usual condition [°C]."""


@dataclass(frozen=True)
class Condition:
    """What the source and the surroundings do: which corner of every spread is taken."""

    name: str
    says: str
    draws: Callable[[Span], float]
    worst: bool


LIGHT = Condition(
    HIGHEST,
    "source at its highest, small draws, cold copper",
    lambda span: span.low,
    False,
)
USUAL = Condition(
    MIDDLE,
    "source as it usually is, usual draws",
    lambda span: span.usual,
    False,
)
SAGGING = Condition(
    LOWEST,
    "source at its lowest, largest draws, hot copper",
    lambda span: span.high,
    True,
)
CONDITIONS = (LIGHT, USUAL, SAGGING)


def own_condition(corner: Corner) -> Condition:
    """A condition that only one kind of source has, with usual draws and copper."""
    return Condition(corner.name, corner.says, USUAL.draws, False)


RESTING, RECEIVE = LoadState.RESTING, LoadState.RECEIVE


@dataclass(frozen=True)
class State:
    """What the loads are doing: ``keyed`` names those that transmit."""

    name: str
    keyed: frozenset[str] = frozenset()

    @property
    def is_keyed(self) -> bool:
        """Whether anything transmits."""
        return bool(self.keyed)


@dataclass(frozen=True)
class Stretch:
    """One lead in one condition: the resistances in its loop [Ω] and its conductor's temperature [°C]."""

    copper: float
    fuse: float
    contacts: float
    celsius: float
    allowance: float

    @property
    def ohms(self) -> float:
        """The whole loop, allowance included."""
        return (self.copper + self.fuse + self.contacts) * (1 + self.allowance)


@dataclass(frozen=True)
class Point:
    """One state in one condition: volts and amperes everywhere. ``fed`` is false when there is no solution."""

    state: State
    condition: Condition
    fed: bool
    volts: dict[str, float] = field(default_factory=dict)
    amps: dict[str, float] = field(default_factory=dict)
    through: dict[str, float] = field(default_factory=dict)
    drop: dict[str, float] = field(default_factory=dict)


class Demand:
    """What the loads ask for in every state: it depends on loads and on who feeds whom, not on any cable."""

    def __init__(self, case: Case) -> None:
        self.draws = case.draws
        self.keyed_together = case.keyed_together
        self.served = case.served
        self._worst: dict[tuple[str, str], tuple[float, State]] = {}
        self._remembered: dict[Hashable, object] = {}

    def remembered(self, key: Hashable, work: Callable[[], Worked]) -> Worked:
        """What ``work`` gives, done once for each ``key``: for what depends on these loads and on the key alone."""
        if key not in self._remembered:
            self._remembered[key] = work()
        return cast(Worked, self._remembered[key])

    @cached_property
    def states(self) -> tuple[State, ...]:
        """Resting, receive, each keyed load alone, and the groups that are keyed together.

        An amplifier that is in no group of its owner's is keyed with the hungriest radio: it needs one to drive it.
        """
        keyed = [one.id for one in self.draws if one.is_keyed and one.feed == PowerInput.DC]
        groups = [frozenset([one]) for one in keyed]
        groups += [frozenset(group) & frozenset(keyed) for group in self.keyed_together]
        groups += self._driven(keyed)
        unique = list(dict.fromkeys(group for group in groups if group))
        order = {one: index for index, one in enumerate(keyed)}
        names = [" + ".join(sorted(group, key=order.__getitem__)) + " keyed" for group in unique]
        return (State(RESTING), State(RECEIVE), *(State(n, g) for n, g in zip(names, unique, strict=True)))

    def _driven(self, keyed: list[str]) -> list[frozenset[str]]:
        grouped = {one for group in self.keyed_together for one in group}
        radios = [one for one in self.draws if one.id in keyed and one.group != Group.AMPLIFIER and one.transmit]
        if not radios:
            return []
        driver = max(radios, key=lambda one: one.transmit.high if one.transmit else 0.0)
        amplifiers = [one.id for one in self.draws if one.group == Group.AMPLIFIER and one.id in keyed]
        return [frozenset((driver.id, one)) for one in amplifiers if one not in grouped]

    def amps(self, draw: Draw, state: State, condition: Condition) -> float:
        """Current [A] at nominal volts that ``draw`` takes in a state and condition."""
        if draw.converts:
            return self._through(draw, state, lambda one, doing: self.amps(one, doing, condition))
        if state.name == RESTING:
            return condition.draws(draw.busy if condition.worst else draw.receive) if draw.always_on else draw.rest
        if draw.id in state.keyed and draw.transmit:
            return condition.draws(draw.transmit)
        return condition.draws(draw.busy if condition.worst else draw.receive)

    def heating(self, draw: Draw, state: State) -> float:
        """Largest heating current [A] of ``draw`` during an over, at the worst volts inside its window."""
        if draw.converts:
            return self._through(draw, state, self.heating) * _swell(draw)
        amps = self.amps(draw, state, SAGGING)
        if draw.id in state.keyed and draw.transmit:
            top, mode = max(draw.transmit.high, draw.receive.high), draw.mode
            amps = duty.keyed_rms(draw.receive.high, top, mode.duty, mode.envelope)
        return amps * _swell(draw)

    def sustained(self, draw: Draw, state: State) -> float:
        """Largest current [A] of ``draw`` averaged over the minutes of an over: what heats a supply.

        FM, digital modes and carriers hold their whole key-down; voice and Morse the mean of their envelope.
        """
        if draw.converts:
            return self._through(draw, state, self.sustained) * _swell(draw)
        amps = self.amps(draw, state, SAGGING)
        if draw.id in state.keyed and draw.transmit:
            idle = draw.receive.high
            amps = duty.mean(idle, max(draw.transmit.high, idle), draw.mode.envelope)
        return amps * _swell(draw)

    def foreseen(self, draw: Draw, state: State, measure: Callable[[Draw, State], float]) -> float:
        """What spare is counted over [A]: ``measure`` of what is keyed, and of all else what it usually takes."""
        if draw.converts:
            return self._through(draw, state, lambda one, doing: self.foreseen(one, doing, measure)) * _swell(draw)
        return measure(draw, state) if draw.id in state.keyed else self.amps(draw, state, USUAL)

    def peak(self, draw: Draw, state: State) -> float:
        """Largest current [A] of ``draw`` in ``state``, at the worst volts inside its window."""
        if draw.converts:
            return self._through(draw, state, self.peak) * _swell(draw)
        return self.amps(draw, state, SAGGING) * _swell(draw)

    def _through(self, draw: Draw, state: State, measure: Callable[[Draw, State], float]) -> float:
        """Current [A] at nominal volts that a booster takes for what it feeds."""
        watts = self.total(draw.converts, state, measure) * draw.output_volts
        return convert.input_amps(watts, draw.nominal, draw.efficiency, draw.idle)

    def worst_peak(self, part: str) -> tuple[float, State]:
        """The largest current [A] that ``part`` carries at once, and the state that gives it."""
        return self._largest(part, "peak", self.peak)

    def worst_heating(self, part: str) -> tuple[float, State]:
        """The largest heating current [A] of ``part`` during an over, and the state that gives it."""
        return self._largest(part, "heating", self.heating)

    def _largest(self, part: str, name: str, measure: Callable[[Draw, State], float]) -> tuple[float, State]:
        key = (part, name)
        if key not in self._worst:
            sums = [(self.total(part, state, measure), state) for state in self.states]
            self._worst[key] = max(sums, key=lambda pair: pair[0])
        return self._worst[key]

    def fed_by(self, part: str) -> list[Draw]:
        """The loads that ``part`` serves with direct current."""
        return [one for one in self.served.get(part, ()) if one.feed == PowerInput.DC]

    def total(self, part: str, state: State, measure: Callable[[Draw, State], float]) -> float:
        """The sum [A] of ``measure`` over the loads that ``part`` serves in ``state``."""
        return sum(measure(one, state) for one in self.fed_by(part))


def _swell(draw: Draw) -> float:
    if draw.follows == STEADY_POWER and draw.lowest > 0:
        return max(draw.nominal / draw.lowest, 1.0)
    if draw.follows == RESISTIVE and draw.nominal > 0:
        return max(draw.highest / draw.nominal, 1.0)
    return 1.0


class Operating:
    """The operating points of one Case, solved when first asked for.

    A ``demand`` made for another case with the same loads and the same tree may be shared.
    """

    def __init__(self, case: Case, demand: Demand | None = None) -> None:
        self.case = case
        self.demand = demand or Demand(case)
        self._points: dict[tuple[str, str], Point] = {}
        self._stretches: dict[tuple[str, str], Stretch] = {}

    @property
    def states(self) -> tuple[State, ...]:
        """What the loads may be doing."""
        return self.demand.states

    def point(self, state: State, condition: Condition) -> Point:
        """The solution for one state and condition."""
        key = (state.name, condition.name)
        if key not in self._points:
            self._points[key] = _solve(self, state, condition)
        return self._points[key]

    def points(self) -> list[Point]:
        """Every state in every condition."""
        return [self.point(state, condition) for state in self.states for condition in CONDITIONS]

    def stretch(self, lead: Lead, condition: Condition) -> Stretch:
        """The resistances of ``lead`` in one condition; a gap counts as no resistance."""
        key = (lead.id, condition.name)
        if key not in self._stretches:
            self._stretches[key] = _stretch(self, lead, condition)
        return self._stretches[key]


def own_points(operating: Operating) -> list[Point]:
    """Every state in every condition that only one kind of source has, such as an engine that is off."""
    corners = {corner.name: corner for feed in operating.case.feeds for corner in feed.own_conditions}
    found = [operating.point(state, own_condition(one)) for one in corners.values() for state in operating.states]
    return [one for one in found if one.fed]


def _stretch(operating: Operating, lead: Lead, condition: Condition) -> Stretch:
    case = operating.case
    celsius, loop = _air(operating, lead, condition), 0.0
    for piece in lead.pieces:
        warm = piece_warmth(operating, lead, piece, condition)
        at = min(warm, piece.insulation.celsius * 2)
        loop += (
            copper.loop_ohms(copper.ohms_per_metre(piece.conductor.ohms_per_metre, at), piece.length) / lead.parallel
        )
        celsius = max(celsius, warm)
    fuse = fuses.ohms(lead.fuse_rating, lead.fuse_type.drop) if lead.fuse_type and lead.fuse_rating else 0.0
    if lead.own_fuse:
        fuse += fuses.ohms(lead.own_fuse.rating, lead.own_fuse.family.drop)
    if not condition.worst:
        fuse *= case.limits.fuse_usual
    contacts = sum(2 * one.ohms for one in lead.contacts) if lead.contacts else 0.0
    if lead.tail:
        contacts += 2 * case.limits.joint_ohms
    return Stretch(loop, fuse, contacts, celsius, case.limits.as_built if condition.worst else 0.0)


def _air(operating: Operating, lead: Lead, condition: Condition) -> float:
    """The air [°C] around a lead in one condition."""
    if condition.worst:
        return lead.ambient
    return operating.case.place.coldest if condition is LIGHT else min(ROOM, lead.ambient)


def piece_warmth(operating: Operating, lead: Lead, piece: Piece, condition: Condition) -> float:
    """Temperature [°C] of a piece in one condition: heated by its own current only in the worst."""
    if condition.worst:
        return piece_celsius(lead, piece, operating.demand.worst_heating(lead.id)[0])
    air = _air(operating, lead, condition)
    return air if condition is LIGHT or piece.ambient is None else (air + piece.ambient) / 2


def piece_celsius(lead: Lead, piece: Piece, amps: float) -> float:
    """Temperature [°C] of one piece of the lead under a heating current, in the lead's own air."""
    table, side_by_side = piece.conductor.ampacity, lead.parallel
    each = copper.ampacity(table, piece.insulation.celsius, conductors=lead.together * side_by_side)
    column = copper.column(table, piece.insulation.celsius) or piece.insulation.celsius
    return copper.temperature(amps, each * side_by_side, column, lead.air(piece))


def _solve(operating: Operating, state: State, condition: Condition) -> Point:
    case = operating.case
    point = Point(state, condition, True)
    for feed in case.feeds:
        if not _solve_source(operating, feed, point):
            return Point(state, condition, False)
    return point


def _solve_source(operating: Operating, feed: Feed, point: Point) -> bool:
    case, condition = operating.case, point.condition
    order, corner = outward(case, feed.id), feed.corner(condition.name)
    branches = source_branches(operating, order, feed.id, point.state, condition, corner.ohms)
    fixed = fixed_drop(case, order, condition)
    found = circuit.solve(corner.volts - fixed, branches)
    if found is None:
        return False
    point.volts[feed.terminals] = found.volts[1] + fixed
    point.amps[feed.terminals] = found.through[0]
    for number, lead in enumerate(order, 1):
        point.volts[lead.end] = found.volts[number + 1]
        point.amps[lead.end] = found.drawn[number]
        point.through[lead.id] = found.through[number]
        point.drop[lead.id] = found.through[number] * branches[number].ohms
        if changeover_of(case, lead):
            point.drop[lead.id] += fixed
    return True


def changeover_of(case: Case, lead: Lead) -> Changeover | None:
    """The changeover in which a lead ends."""
    hub = case.hub.get(lead.end)
    return hub.changeover if hub else None


def fixed_drop(case: Case, order: list[Lead], condition: Condition) -> float:
    """Volts that a changeover of diodes takes of everything behind a source; all its loads are taken as behind it."""
    parts = [changeover_of(case, lead) for lead in order]
    return max((condition.draws(part.drop) for part in parts if part), default=0.0)


def source_branches(
    operating: Operating, order: list[Lead], source: str, state: State, condition: Condition, ohms: float
) -> list[circuit.Branch]:
    """The tree of one source for the solver; its first branch is the source's own resistance [Ω]."""
    index = {source: 1} | {lead.end: number + 2 for number, lead in enumerate(order)}
    branches = [circuit.Branch(0, ohms)]
    for lead in order:
        draw = operating.case.draw.get(lead.end)
        amps, siemens, watts = _demand(operating, draw, state, condition) if draw else (0.0, 0.0, 0.0)
        part = changeover_of(operating.case, lead)
        stretch = operating.stretch(lead, condition).ohms + (part.ohms if part else 0.0)
        branches.append(circuit.Branch(index[lead.start], stretch, amps, siemens, watts))
    return branches


def outward(case: Case, source: str) -> list[Lead]:
    """The leads of one source, each after the lead that feeds it; what a booster feeds is not among them."""
    order: list[Lead] = []
    fresh = {source}
    while fresh:
        taken = {one.id for one in order}
        found = [lead for lead in case.leads if lead.start in fresh and lead.id not in taken]
        order += found
        fresh = {lead.end for lead in found} - set(case.feed)
    return order


def _demand(operating: Operating, draw: Draw, state: State, condition: Condition) -> tuple[float, float, float]:
    amps = operating.demand.amps(draw, state, condition)
    if draw.follows == STEADY_POWER:
        return 0.0, 0.0, amps * draw.nominal
    if draw.follows == RESISTIVE and draw.nominal > 0:
        return 0.0, amps / draw.nominal, 0.0
    return amps, 0.0, 0.0
