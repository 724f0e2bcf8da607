"""A station made whole: catalogue rows looked up, unknown values assumed in writing, gaps marked.

Rules read a Case, never the station: in it every figure is a number and every gap is listed in ``missing``.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from engine.parts import FREE, Conductor, Contact, FuseType, Insulation, Limits, Mode, Price, Span, Strip


@dataclass(frozen=True)
class Piece:
    """One piece of a lead: its conductor, insulation and one-way length [m].

    A lead has two where one that came with the load is lengthened by another: that one is the ``tail``.
    """

    conductor: Conductor
    insulation: Insulation
    length: float


COPPER, FUSE, CONTACTS = "copper", "fuse", "contacts"
WHOLE = frozenset((COPPER, FUSE, CONTACTS))
"""The parts of a lead, each of which may be its owner's already."""

MAINS = ("", "linear", "switch-mode")
"""The technologies of supplies that plug into the wall; nothing said counts as one."""

EVEN_SHARE = 0.9
"""Of the sum of their ratings, what alike supplies that share by design give together (common practice, no source)."""

HEAVY_AMPS, LOW_CLASS = 40.0, 30.0
"""From this key-down current [A], below this nominal voltage, an amplifier wants a short lead (common practice)."""


@dataclass(frozen=True)
class Draw:
    """A load, whole. Volts at its own terminals; currents [A] at ``nominal`` volts."""

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
    own_fuse_given: bool = False
    class_fuse: float | None = None
    missing: tuple[str, ...] = ()
    low_volts: str = ""
    wall: Span | None = None
    mains: float | None = None
    circuit: float | None = None

    @property
    def is_keyed(self) -> bool:
        """Whether it transmits."""
        return self.transmit is not None

    @property
    def wants_short_lead(self) -> bool:
        """Whether it is a 12 V-class amplifier of 40 A or more, which the trade sets beside its supply."""
        heavy = self.transmit is not None and self.transmit.high >= HEAVY_AMPS
        return self.group == "amplifier" and self.feed == "dc" and self.nominal < LOW_CLASS and heavy


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

    @property
    def counts(self) -> float:
        """How many times the rating of one supply counts: several that do not share by design count as one."""
        return self.parallel * EVEN_SHARE if self.parallel > 1 and self.shares else 1.0

    @property
    def from_mains(self) -> bool:
        """Whether it is a supply that plugs into the wall."""
        return self.technology in MAINS

    @property
    def highest_volts(self) -> float:
        """The most its terminals can show with nothing drawn [V]."""
        return self.volts * (1 + self.tolerance)

    @property
    def lowest_volts(self) -> float:
        """The least its terminals can show at full load [V]."""
        return self.volts * (1 - self.tolerance) * (1 - self.regulation)


@dataclass(frozen=True)
class Hub:
    """A strip, whole: where one feed divides."""

    id: str
    title: str
    strip: Strip | None
    owned: bool = False


@dataclass(frozen=True)
class Lead:
    """A run, whole as far as known; None where a part is still a gap. ``fuse_rating`` 0 means that there is none."""

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
    negative: str = "supply"

    @property
    def owned(self) -> bool:
        """Whether all of it is its owner's already."""
        return self.kept == WHOLE

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces in series, source first; none while the conductor is a gap."""
        if self.conductor is None:
            return ()
        if self.tail is None:
            return (Piece(self.conductor, self.insulation, self.length),)
        first = max(self.length - self.tail.length, 0.0)
        return (Piece(self.conductor, self.insulation, first), self.tail)

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


@dataclass(frozen=True)
class Case:
    """A whole station, ready to be solved and judged."""

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
        return {one.end: one for one in self.leads}

    def path(self, end: str) -> tuple[Lead, ...]:
        """The leads from the source to ``end``, source first; empty when nothing feeds it."""
        found: list[Lead] = []
        while end in self.into and len(found) <= len(self.leads):
            found.append(self.into[end])
            end = self.into[end].start
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
