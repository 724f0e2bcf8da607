"""A station made whole: catalogue rows looked up, unknown values assumed in writing, gaps marked.

Rules read a Case, never the station: in it every figure is a number and every gap is listed in ``missing``.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

from engine.parts import (
    FREE,
    Changeover,
    Charger,
    Chemistry,
    Conductor,
    Contact,
    FuseType,
    Insulation,
    Limits,
    Mode,
    Panel,
    Price,
    Span,
    Strip,
    Vehicle,
)
from engine.physics import supply
from engine.terms import LEAD_PARTS, ConditionName, Group, Negative, PowerInput, SourceKind


@dataclass(frozen=True)
class Piece:
    """One piece of a lead: its conductor, insulation and one-way length [m].

    A lead has several where one that came with the load is lengthened by another (that one is the ``tail``), and
    where its first part lies in air of its own (``ambient`` [°C], otherwise the lead's).
    """

    conductor: Conductor
    insulation: Insulation
    length: float
    ambient: float | None = None


@dataclass(frozen=True)
class OwnFuse:
    """The fuse in a lead that came with its load: its family, its rating [A], and the legs that are fused."""

    family: FuseType
    rating: float
    legs: str


MAINS, VEHICLE, BATTERY, BOOSTER = SourceKind
HIGHEST, MIDDLE, LOWEST = ConditionName.LIGHT, ConditionName.USUAL, ConditionName.SAGGING
"""The three conditions that every source has: its highest volts, its middle, its lowest."""


@dataclass(frozen=True)
class Corner:
    """What a source shows in one condition: its electromotive force [V] behind an internal resistance [Ω]."""

    name: str
    says: str
    volts: float
    ohms: float = 0.0


@dataclass(frozen=True)
class Cell:
    """A battery as it is: rated capacity [Ah], its own temperature [°C], and as shares of the rated capacity what age
    has left, the charge at the start and the depth that its owner accepts. ``board``: electronics cut it off.
    """

    chemistry: Chemistry
    amp_hours: float
    celsius: float
    health: float
    start: float
    depth: float
    board: bool = False
    charged_by: str = ""
    charger: Charger | Changeover | None = None


PARTS_OF_LEAD: tuple[str, str, str] = LEAD_PARTS
COPPER, FUSE, CONTACTS = PARTS_OF_LEAD
WHOLE = frozenset(LEAD_PARTS)
"""The parts of a lead, each of which may be its owner's already."""

EVEN_SHARE = 0.9
"""Of the sum of their ratings, what alike supplies that share by design give together (common practice, no source)."""

HEAVY_AMPS, LOW_CLASS = 40.0, 30.0
"""From this key-down current [A], below this nominal voltage, an amplifier wants a short lead (common practice)."""


@dataclass(frozen=True)
class Stated:
    """A current [A] that the owner gave (``key``: receive, transmit or busy) where the class knows what is usual."""

    key: str
    amps: float
    usual: Span


@dataclass(frozen=True)
class Draw:
    """A load, whole. Volts at its own terminals; currents [A] at ``nominal`` volts.

    A booster is a load to its source and a source to its own loads: ``converts`` is then its id as a source, and it
    draws what those loads do, over its ``efficiency``, and ``idle`` [W] beside.
    """

    id: str
    title: str
    feed: str
    group: str
    lowest: float
    highest: float
    nominal: float
    follows: str
    rest: float
    receive: Span
    transmit: Span | None
    busy: Span
    mode: Mode
    keyed: float
    fuse: float | None
    inlets: tuple[str, ...]
    lead: Piece | None = None
    lead_fuse: OwnFuse | None = None
    own_fuse_given: bool = False
    class_fuse: float | None = None
    missing: tuple[str, ...] = ()
    low_volts: str = ""
    equipment: str = ""
    converts: str = ""
    output_volts: float = 0.0
    efficiency: float = 1.0
    idle: float = 0.0
    wall: Span | None = None
    mains: float | None = None
    circuit: float | None = None
    stated: tuple[Stated, ...] = ()
    radio_watts: float | None = None
    find: str = ""
    always_on: bool = False

    @property
    def is_keyed(self) -> bool:
        """Whether it transmits."""
        return self.transmit is not None

    @property
    def wants_short_lead(self) -> bool:
        """Whether it is a 12 V-class amplifier of 40 A or more, which the trade sets beside its supply."""
        heavy = self.transmit is not None and self.transmit.high >= HEAVY_AMPS
        return self.group == Group.AMPLIFIER and self.feed == PowerInput.DC and self.nominal < LOW_CLASS and heavy


@dataclass(frozen=True)
class Feed:
    """A source, whole. Volts and amperes at its output terminals; of several side by side, all together."""

    id: str
    title: str
    technology: str
    volts: float
    tolerance: float
    regulation: float
    lowest: float
    highest: float
    adjustable: bool
    locked: bool
    continuous: float
    peak: float
    limit: float
    limiting: str
    efficiency: float
    power_factor: float
    over_voltage: bool | None
    outlets: tuple[str, ...]
    kilograms: float = 0.0
    fan: str = ""
    rf_noise: str = ""
    price: Price = FREE
    owned: bool = False
    part: str | None = None
    missing: tuple[str, ...] = ()
    mains: float | None = None
    circuit: float | None = None
    parallel: int = 1
    shares: bool = False
    kind: SourceKind = MAINS
    corners: tuple[Corner, ...] = ()
    fault_ohms: float = 0.0
    cell: Cell | None = None
    vehicle: Vehicle | None = None
    sensor: bool = False

    def corner(self, name: str) -> Corner:
        """What it shows in a condition; in one that is not its own, what it usually shows."""
        found = {one.name: one for one in self.corners}
        return found[name] if name in found else found.get(MIDDLE) or self._regulated(name)

    def _regulated(self, name: str) -> Corner:
        if name == HIGHEST:
            return Corner(name, "set point at its highest", supply.highest(self.volts, self.tolerance))
        if name == LOWEST:
            lowest = supply.lowest(self.volts, self.tolerance, self.regulation)
            return Corner(name, "set point at its lowest and full-load sag", lowest)
        return Corner(MIDDLE, "set point as set", self.volts * (1 - self.regulation / 2))

    @property
    def own_conditions(self) -> tuple[Corner, ...]:
        """What it may show beside the three conditions that every source has."""
        return tuple(one for one in self.corners if one.name not in (HIGHEST, MIDDLE, LOWEST))

    @property
    def terminals(self) -> str:
        """The name of its output terminals in a solution; those of a booster are not where its own lead ends."""
        return f"{self.id} output" if self.kind == BOOSTER else self.id

    @property
    def is_regulated(self) -> bool:
        """Whether it holds a set point and limits its own current."""
        return self.kind in (MAINS, BOOSTER)

    @property
    def counts(self) -> float:
        """How many times the rating of one supply counts: several that do not share by design count as one."""
        return self.parallel * EVEN_SHARE if self.parallel > 1 and self.shares else 1.0

    @property
    def from_mains(self) -> bool:
        """Whether it is a supply that plugs into the wall."""
        return self.kind == MAINS

    @property
    def highest_volts(self) -> float:
        """The most its terminals can show with nothing drawn [V]."""
        return self.corner(HIGHEST).volts

    @property
    def lowest_volts(self) -> float:
        """The least its terminals can show at full load [V]; a battery's before its internal drop."""
        return self.corner(LOWEST).volts


@dataclass(frozen=True)
class Hub:
    """A strip, whole: where one feed divides. Or a changeover (``changes``): where one of two feeds is chosen."""

    id: str
    title: str
    strip: Strip | None
    owned: bool = False
    changeover: Changeover | None = None
    changes: bool = False


@dataclass(frozen=True)
class Lead:
    """A run, whole as far as known; None where a part is still a gap. ``fuse_rating`` 0 means that there is none.

    ``own_fuse`` is a second fuse, in the lead that came with the load: before its ``tail``, or behind the fuse at the
    source where all of it is that lead.
    """

    id: str
    start: str
    end: str
    length: float
    conductor: Conductor | None
    insulation: Insulation
    ambient: float
    together: int
    fuse_type: FuseType | None
    fuse_rating: float | None
    fuse_at: float
    contacts: tuple[Contact, Contact] | None
    kept: frozenset[str] = frozenset()
    shared: bool = False
    supplied: bool = False
    tail: Piece | None = None
    parallel: int = 1
    fuse_legs: str | None = None
    negative: str = Negative.SUPPLY
    engine_space: float = 0.0
    engine_celsius: float = 0.0
    own_fuse: OwnFuse | None = None

    @property
    def came_with(self) -> bool:
        """Whether it ends in the lead that came with the load, whose own plug is on it."""
        return self.supplied or self.tail is not None

    def guard(self, piece: Piece) -> float:
        """The rating [A] of the fuse before one of its pieces."""
        rating = self.fuse_rating or 0.0
        behind_own = self.own_fuse is not None and (self.supplied or piece is self.tail)
        return min(rating, self.own_fuse.rating) if behind_own and self.own_fuse else rating

    @property
    def owned(self) -> bool:
        """Whether all of it is its owner's already."""
        return self.kept == WHOLE

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces in series, source first; none while the conductor is a gap."""
        if self.conductor is None:
            return ()
        rest = max(self.length - (self.tail.length if self.tail else 0.0), 0.0)
        hot = min(self.engine_space, rest)
        made = [Piece(self.conductor, self.insulation, hot, self.engine_celsius)] if hot else []
        if rest - hot > 0 or not made:
            made.append(Piece(self.conductor, self.insulation, rest - hot))
        return (*made, self.tail) if self.tail else tuple(made)

    @property
    def bought_length(self) -> float:
        """The one-way length [m] of its own conductor, the lead that came with the load left out."""
        return max(self.length - (self.tail.length if self.tail else 0.0), 0.0)

    def air(self, piece: Piece) -> float:
        """The air [°C] around one of its pieces."""
        return self.ambient if piece.ambient is None else piece.ambient

    @property
    def missing(self) -> tuple[str, ...]:
        """The parts that are still gaps."""
        gaps = {
            "conductor": self.conductor is None,
            "fuse": self.fuse_rating is None,
            "contacts": self.contacts is None,
        }
        return tuple(name for name, gap in gaps.items() if gap)


@dataclass(frozen=True)
class MainsRun:
    """One length [m] of mains wire: a circuit's in the wall, or an extension lead.

    ``amps`` is what commonly guards it, or what a flexible lead may carry; None where that is not known.
    """

    conductor: Conductor
    length: float
    amps: float | None
    cord: bool


@dataclass(frozen=True)
class Place:
    """The site, whole. Volts, amperes, watts, degrees Celsius."""

    mains: float
    circuit: float
    coldest: float
    hottest: float
    wire: str
    wire_in_wall: MainsRun | None = None
    extension: MainsRun | None = None
    generator: float | None = None
    region: str = ""


@dataclass(frozen=True)
class Sunlight:
    """The sun on a battery, whole: peak sun hours of a day in the worst month, days without sun, hours of operating
    in a day, nominal power of the panels [W], their open-circuit volts, the controller.
    """

    hours: float
    days: float
    operating: float
    watts: float | None
    open_circuit: float
    controller: Charger | None
    panel: Panel | None = None
    count: float = 1


@dataclass(frozen=True)
class Case:
    """A whole station, ready to be solved and judged. ``only``: the source that a changeover has chosen."""

    name: str
    draws: tuple[Draw, ...]
    feeds: tuple[Feed, ...]
    hubs: tuple[Hub, ...]
    leads: tuple[Lead, ...]
    place: Place
    limits: Limits
    headroom: float | None
    budget: float | None
    keyed_together: tuple[tuple[str, ...], ...] = ()
    hours: float | None = None
    sunlight: Sunlight | None = None
    only: str = ""
    whole: Case | None = field(default=None, compare=False, repr=False)

    @cached_property
    def draw(self) -> dict[str, Draw]:
        """Loads by id."""
        return {one.id: one for one in self.draws}

    @cached_property
    def feed(self) -> dict[str, Feed]:
        """Sources by id."""
        return {one.id: one for one in self.feeds}

    @cached_property
    def hub(self) -> dict[str, Hub]:
        """Strips by id."""
        return {one.id: one for one in self.hubs}

    @property
    def parts(self) -> tuple[Feed | Hub | Lead, ...]:
        """Everything between the wall and the loads."""
        return (*self.feeds, *self.hubs, *self.leads)

    @cached_property
    def into(self) -> dict[str, Lead]:
        """The lead that feeds each load or strip."""
        return {one.end: one for one in reversed(self.leads)}

    @cached_property
    def faces(self) -> tuple[Case, ...]:
        """The station as it is on each of the sources that a changeover chooses from; itself where there is none."""
        for hub in self.hubs:
            ways = [one for one in self.leads if one.end == hub.id]
            if hub.changes and len(ways) > 1:
                return tuple(self._face(way, ways) for way in ways)
        return (self,)

    @property
    def joint(self) -> Case:
        """The station with everything in it, where this is one face of it; itself otherwise."""
        return self.whole or self

    def _face(self, way: Lead, ways: list[Lead]) -> Case:
        """The station on one way into a changeover: what only the other ways reach is left out."""
        leads = tuple(one for one in self.leads if one is way or one not in ways)
        feeding = {one.start for one in leads}
        feeds = tuple(one for one in self.feeds if one.id in feeding or not any(w.start == one.id for w in ways))
        face = replace(self, leads=leads, feeds=feeds, only=way.start, whole=self)
        reached = tuple(one for one in self.draws if face.source_of(one.id) or not self.path(one.id))
        return replace(face, draws=reached)

    def path(self, end: str) -> tuple[Lead, ...]:
        """The leads from the source to ``end``, source first; empty when nothing feeds it."""
        found: list[Lead] = []
        while end in self.into and len(found) <= len(self.leads):
            found.append(self.into[end])
            end = self.into[end].start
            if end in self.feed:
                break
        return tuple(reversed(found))

    def source_of(self, end: str) -> Feed | None:
        """The source that feeds ``end``."""
        path = self.path(end)
        return self.feed.get(path[0].start) if path else None

    @cached_property
    def served(self) -> dict[str, tuple[Draw, ...]]:
        """The loads downstream of each source, strip and lead, by id."""
        found: dict[str, list[Draw]] = {one.id: [] for one in self.parts}
        for draw in self.draws:
            path = self.path(draw.id)
            for key in [lead.id for lead in path] + [lead.start for lead in path]:
                found.setdefault(key, []).append(draw)
        return {key: tuple(draws) for key, draws in found.items()}
