"""The one model: a station as its owner describes it. ``None`` is a gap: not known, or to be chosen."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine.terms import Technology

NO_FUSE = 0.0
"""The fuse rating that stands for "there is none"."""


@dataclass(frozen=True)
class Window:
    """The lowest and highest voltage [V] that a load accepts at its own terminals, as its owner wrote it."""

    lowest: float
    highest: float
    text: str = field(default="", compare=False)


@dataclass(frozen=True)
class Load:
    """What draws: a class of equipment, or own figures, or both (own figures win). Volts, amperes, shares."""

    id: str
    equipment: str | None = None
    window: Window | None = None
    lowest: float | None = None
    highest: float | None = None
    nominal: float | None = None
    rest: float | None = None
    receive: float | None = None
    transmit: float | None = None
    busy: float | None = None
    mode: str | None = None
    keyed: float | None = None
    follows: str | None = None
    fuse: float | None = None
    inlet: str | None = None
    wall: float | None = None
    mains: float | None = None
    circuit: float | None = None
    lead: str | None = None
    lead_length: float | None = None
    note: str | None = None


@dataclass(frozen=True)
class Source:
    """What feeds. ``part`` names a row of the catalogue; own figures win over the row's."""

    id: str
    technology: str | None = None
    part: str | None = None
    volts: float | None = None
    tolerance: float | None = None
    regulation: float | None = None
    lowest: float | None = None
    highest: float | None = None
    adjustable: bool | None = None
    locked: bool | None = None
    continuous: float | None = None
    peak: float | None = None
    limit: float | None = None
    efficiency: float | None = None
    power_factor: float | None = None
    over_voltage: bool | None = None
    filtered: bool | None = None
    outlets: tuple[str, ...] | None = None
    engine: str | None = None
    cranking: float | None = None
    load_sensor: bool | None = None
    chemistry: str | None = None
    amp_hours: float | None = None
    temperature: float | None = None
    health: float | None = None
    charge: float | None = None
    depth: float | None = None
    ohms: float | None = None
    cut_off: float | None = None
    charged_by: str | None = None
    charger: str | None = None
    mains: float | None = None
    circuit: float | None = None
    parallel: int | None = None
    shares: bool | None = None
    owned: bool = False
    note: str | None = None

    @property
    def socket(self) -> Source:
        """Its place in the station with nothing in it: what stays when the supply or battery itself is another."""
        kept = ("mains", "circuit", "temperature", "depth", "charged_by", "charger")
        sort = None if self.technology in tuple(Technology) else self.technology
        return Source(self.id, technology=sort, **{name: getattr(self, name) for name in kept})


@dataclass(frozen=True)
class Strip:
    """A point where one feed divides into several leads."""

    id: str
    part: str | None = None
    owned: bool = False
    note: str | None = None


@dataclass(frozen=True)
class Changeover:
    """A point where one of two sources is chosen to feed what lies beyond."""

    id: str
    part: str | None = None
    owned: bool = False
    note: str | None = None


@dataclass(frozen=True)
class Run:
    """One length of cable, both conductors, with its fuse and contacts. Metres, amperes, degrees Celsius.

    Where a lead that came with the load is lengthened, ``tail`` is that lead: the last ``tail_length`` of ``length``.
    """

    id: str
    start: str | None
    end: str
    length: float | None = None
    conductor: str | None = None
    insulation: float | None = None
    supplied: bool | None = None
    tail: str | None = None
    tail_length: float | None = None
    parallel: int | None = None
    ambient: float | None = None
    together: int | None = None
    fuse: float | None = None
    fuse_type: str | None = None
    fuse_at: float | None = None
    fuse_legs: str | None = None
    negative: str | None = None
    engine_space: float | None = None
    contacts: tuple[str, ...] | None = None
    owned: bool = False
    kept: tuple[str, ...] | None = None
    note: str | None = None


@dataclass(frozen=True)
class Site:
    """Where the station stands. Volts, amperes, metres, watts, degrees Celsius."""

    mains: float | None = None
    circuit: float | None = None
    circuit_wire: str | None = None
    circuit_length: float | None = None
    extension: str | None = None
    extension_length: float | None = None
    generator: float | None = None
    coldest: float | None = None
    hottest: float | None = None
    wire: str | None = None
    layout: str | None = None
    as_built: float | None = None
    region: str | None = None


@dataclass(frozen=True)
class Sun:
    """The sun on a battery: latitude [degrees, north positive], peak sun hours of the worst month, panels."""

    latitude: float | None = None
    hours: float | None = None
    tilt: float | None = None
    days: float | None = None
    operating: float | None = None
    panel: str | None = None
    panels: float | None = None
    watts: float | None = None
    controller: str | None = None


@dataclass(frozen=True)
class Wishes:
    """What the owner wants of the plan."""

    budget: float | None = None
    headroom: float | None = None
    prefer: str | None = None
    hours: float | None = None


@dataclass(frozen=True)
class Reading:
    """What a meter showed: at a source, strip or load, or across a part of a run. Volts, amperes, ohms.

    ``state`` is what the loads did; ``keyed`` names those that transmitted. ``date`` is of the form 2026-11-24.
    ``leg``: positive or negative where only one of the two was read across; else both are added.
    """

    at: str
    state: str
    across: str | None = None
    keyed: tuple[str, ...] | None = None
    volts: float | None = None
    amps: float | None = None
    ohms: float | None = None
    instrument: str | None = None
    amps_instrument: str | None = None
    leg: str | None = None
    date: str | None = None
    note: str | None = None


@dataclass(frozen=True)
class Station:
    """The whole station, gaps and all."""

    name: str
    use: str | None = None
    note: str | None = None
    site: Site = Site()
    wishes: Wishes = Wishes()
    sun: Sun | None = None
    loads: tuple[Load, ...] = ()
    sources: tuple[Source, ...] = ()
    strips: tuple[Strip, ...] = ()
    changeovers: tuple[Changeover, ...] = ()
    runs: tuple[Run, ...] = ()
    keyed_together: tuple[tuple[str, ...], ...] = ()
    readings: tuple[Reading, ...] = ()

    @property
    def parts(self) -> tuple[Load | Source | Strip | Changeover | Run, ...]:
        """Everything in the station that has an id."""
        return (*self.loads, *self.sources, *self.strips, *self.changeovers, *self.runs)
