"""The records that catalogue rows become. Plain data in SI units; temperatures in degrees Celsius.

Every record carries ``source``: the id of an entry in the list of sources, or of a plain statement such as
"common practice".
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from engine.terms import Family


@dataclass(frozen=True)
class Span:
    """A figure with its spread: lowest, usual and highest [same unit]."""

    low: float
    usual: float
    high: float

    @classmethod
    def exactly(cls, value: float) -> Span:
        """A figure without spread."""
        return cls(value, value, value)


@dataclass(frozen=True)
class Price:
    """A price band in the owner's money; ``usual`` is its middle and what plans add up."""

    low: float
    high: float

    @property
    def usual(self) -> float:
        """The middle of the band."""
        return (self.low + self.high) / 2


FREE = Price(0.0, 0.0)


@dataclass(frozen=True)
class SourceNote:
    """One entry of the list of sources: what it is and how firmly it was read."""

    id: str
    title: str
    read: str
    note: str = ""


@dataclass(frozen=True)
class Conductor:
    """One size of copper conductor: area [mm²], resistance at 20 °C [Ω/m], current by insulation class [A]."""

    id: str
    system: str
    area: float
    ohms_per_metre: float
    ampacity: Mapping[int, float]
    grams_per_metre: float
    source: str
    price: Price = FREE
    like: str = ""

    @property
    def either(self) -> str:
        """The size, with the next size up of the other family: ``10 AWG (or 6 mm²)``."""
        return f"{self.id} (or {self.like})" if self.like else self.id


@dataclass(frozen=True)
class Insulation:
    """An insulation class: highest conductor temperature [°C], short-circuit constant k [A·√s/mm²].

    ``sold`` marks the classes that single cores are commonly sold in; a plan buys no other.
    """

    id: str
    celsius: float
    k: float
    price_factor: float
    title: str
    sold: bool
    source: str


@dataclass(frozen=True)
class Gate:
    """Opening time of a fuse at ``multiple`` of its rating: between ``fastest`` and ``slowest`` [s]."""

    multiple: float
    fastest: float
    slowest: float


@dataclass(frozen=True)
class FuseType:
    """A family of fuses: ratings [A], rated voltage [V], breaking capacity [A], drop at rating [V].

    ``kilograms`` is the weight of one with its holder.
    """

    id: str
    title: str
    ratings: tuple[float, ...]
    volts: float
    breaking: float
    drop: float
    gates: tuple[Gate, ...]
    kilograms: float
    source: str
    price: Price = FREE


@dataclass(frozen=True)
class Contact:
    """A way of joining a conductor to a post or socket: rating [A], resistance [Ω], sizes taken [mm²]."""

    id: str
    title: str
    amps: float
    ohms: float
    thinnest: float
    thickest: float
    locks: bool
    fits: tuple[str, ...]
    stranded: str
    note: str
    kilograms: float
    source: str
    price: Price = FREE


@dataclass(frozen=True)
class Supply:
    """A class of mains supply. Volts and amperes at its output terminals; shares as fractions."""

    id: str
    title: str
    technology: str
    volts: float
    tolerance: float
    regulation: float
    lowest: float
    highest: float
    adjustable: bool
    continuous: float
    peak: float
    limit: float
    limiting: str
    efficiency: float
    power_factor: float
    kilograms: float
    fan: str
    rf_noise: str
    over_voltage: bool
    outlets: tuple[str, ...]
    source: str
    price: Price = FREE
    shares: bool = False
    meters: bool = False


@dataclass(frozen=True)
class Chemistry:
    """A kind of 12 V class battery. Volts of the whole battery, rested at 25 °C.

    ``open_circuit``: (state of charge, lowest, usual, highest V); ``ohm_ah``: resistance inside times capacity [Ω·Ah];
    ``peukert``: exponent on the rating of ``hours``; ``cold`` and ``cold_ohms``: (°C, factor) on the Ah needed and on
    the resistance; ``depth``: share drawn for long life; ``cut_off`` [V]; ``absorption`` and ``float_volts`` [V] with
    ``slope`` [V/K]; ``charge_from`` [°C]; ``charge_share``: greatest charging current over capacity [1/h].
    """

    id: str
    title: str
    family: str
    cells: float
    open_circuit: tuple[tuple[float, float, float, float], ...]
    ohm_ah: Span
    peukert: Span
    hours: float
    cold: tuple[tuple[float, float], ...]
    cold_ohms: tuple[tuple[float, float], ...]
    depth: float
    cut_off: float
    absorption: tuple[float, float]
    slope: float
    charge_from: float
    charge_share: float
    watt_hours_per_kilogram: float
    vents: bool
    note: str
    source: str
    float_volts: tuple[float, float] | None = None

    @property
    def is_lead(self) -> bool:
        """Whether it is a lead-acid battery."""
        return self.family == Family.LEAD_ACID

    @property
    def is_lithium(self) -> bool:
        """Whether it is one of the lithium kinds, which have a protection board inside."""
        return self.family.startswith("lithium")


@dataclass(frozen=True)
class Battery:
    """A class and size of battery that can be bought: capacity [Ah], discharge currents [A], the peak for seconds.

    ``board``: electronics cut it off.
    """

    id: str
    title: str
    chemistry: str
    amp_hours: float
    continuous: float
    peak: float
    board: bool
    kilograms: float
    outlets: tuple[str, ...]
    source: str
    price: Price = FREE


@dataclass(frozen=True)
class Vehicle:
    """A class of vehicle as a source: volts at its battery's posts, nothing drawn, and the resistance behind them.

    ``rested`` with the engine off, ``running``, ``charging`` hard in the cold, ``starting`` [V]; ``ohms`` inside [Ω];
    ``cranking`` [A] sets the fault level; ``spare`` [A] is what its alternator leaves over; ``standby`` [Ah] may be
    drawn with the engine off before it does not start.
    """

    id: str
    title: str
    rested: Span
    running: Span
    charging: float
    starting: Span
    ohms: Span
    cranking: float
    spare: float
    standby: float
    outlets: tuple[str, ...]
    note: str
    source: str


@dataclass(frozen=True)
class SuppliedLead:
    """The lead that a class of equipment usually comes with: conductor, one-way length [m], insulation, its own fuse's
    family, and the legs that are fused; each by the id of its row.
    """

    conductor: str
    length: float
    insulation: str
    fuse: str
    legs: str


@dataclass(frozen=True)
class Equipment:
    """A class of equipment: voltage window [V] and direct current drawn [A], each current with its spread."""

    id: str
    title: str
    group: str
    feed: str
    nominal: float
    lowest: float
    highest: float
    follows: str
    receive: Span
    transmit: Span | None
    busy: Span | None
    rest: float
    mode: str | None
    fuse: float | None
    inlet: str | None
    low_volts: str
    find: str
    source: str
    note: str = ""
    wall: Span | None = None
    lead: SuppliedLead | None = None


@dataclass(frozen=True)
class Strip:
    """A fused distribution strip: one heavy inlet, several fused ways. Rating of the whole [A]."""

    id: str
    title: str
    ways: int
    amps: float
    inlet: tuple[str, ...]
    outlets: tuple[str, ...]
    kilograms: float
    source: str
    price: Price = FREE


@dataclass(frozen=True)
class Changeover:
    """A way of going over from a mains supply to a battery: drop [V] at any current and resistance [Ω] in the path.

    ``gap_free`` where a radio in operation does not notice; ``charges`` where it charges the battery in a managed way;
    ``idle`` is what it draws itself [A].
    """

    id: str
    title: str
    drop: Span
    ohms: float
    amps: float
    gap_free: bool
    charges: bool
    idle: float
    note: str
    kilograms: float
    source: str
    price: Price = FREE


@dataclass(frozen=True)
class Booster:
    """A class of converter that holds a radio's volts up from a sagging battery or a long cable.

    ``lowest`` to ``highest`` [V] at its input, ``volts`` at its output; ``efficiency`` (0 to 1) is that of its best
    load; ``idle`` [A] is drawn at nominal input without load; ``cut_off`` [V] is the input at which it stops.
    """

    id: str
    title: str
    lowest: float
    highest: float
    volts: float
    continuous: float
    peak: float
    efficiency: float
    idle: float
    cut_off: float
    settable: bool
    isolated: bool
    rf_noise: str
    kilograms: float
    outlets: tuple[str, ...]
    source: str
    price: Price = FREE


@dataclass(frozen=True)
class Charger:
    """A class of charger for a 12 V battery: current [A], families of battery suited, highest input [V] if from DC.

    ``absorbs`` where it goes through bulk, absorption and float; ``cold_lockout`` where it does not charge below
    freezing; ``method`` is PWM or MPPT for a solar controller.
    """

    id: str
    title: str
    kind: str
    suits: tuple[str, ...]
    amps: float
    absorbs: bool
    cold_lockout: bool
    rf_noise: str
    kilograms: float
    source: str
    method: str = ""
    highest: float | None = None
    price: Price = FREE


@dataclass(frozen=True)
class Panel:
    """A class of solar panel under standard test conditions: power [W], volts and amperes at that power, open [V]."""

    id: str
    title: str
    watts: float
    volts: float
    amps: float
    open_circuit: float
    kilograms: float
    source: str
    price: Price = FREE


@dataclass(frozen=True)
class PowerCurve:
    """Direct current [A] against radio power [W] for classes of transmitter, as rising points, with its spread."""

    id: str
    title: str
    classes: tuple[str, ...]
    points: tuple[tuple[float, float], ...]
    spread: float
    note: str
    source: str


@dataclass(frozen=True)
class MainsWire:
    """One size of wire on the mains side: the breaker that commonly guards it, and what it carries as a cord [A]."""

    id: str
    breaker: float | None
    cord: float | None
    source: str


@dataclass(frozen=True)
class Mode:
    """A mode of operation: envelope power duty while keyed (0 to 1).

    ``steady`` where overs run for minutes at full current, ``on_off`` where the envelope is either full or nothing.
    """

    id: str
    title: str
    duty: float
    steady: bool
    source: str
    on_off: bool = False

    @property
    def envelope(self) -> float:
        """The largest mean of the envelope over its peak during an over (0 to 1).

        Where it is on or off its mean is its duty; otherwise it is at most the root of that.
        """
        return self.duty if self.on_off else math.sqrt(self.duty)


@dataclass(frozen=True)
class Instrument:
    """A sort of meter: the most it may be off, a share of the reading and a fixed part [V, A, Ω].

    ``small_volts`` is the fixed part below ``SMALL_VOLTS``. None where it does not measure that at all.
    """

    id: str
    title: str
    volts_share: float | None
    volts: float | None
    small_volts: float | None
    amps_share: float | None
    amps: float | None
    ohms_share: float | None
    ohms: float | None
    note: str
    source: str


@dataclass(frozen=True)
class SymptomCause:
    """One cause of a symptom: what tells it apart, the measurement or question that decides, what then to do."""

    cause: str
    apart: str
    ask: str
    then: str
    about: str
    source: str


@dataclass(frozen=True)
class Symptom:
    """What an owner notices, and the causes it may have, likeliest first."""

    id: str
    title: str
    first: str
    causes: tuple[SymptomCause, ...]
    source: str


@dataclass(frozen=True)
class Limits:
    """The house's margins and defaults, each editable in the catalogue. Volts, shares as fractions, metres."""

    window_margin: float
    rating_margin: float
    fuse_margin: float
    drop_target: float
    drop_limit: float
    continuous_factor: float
    fuse_over_wire: float
    fuse_reach: float
    fuse_reach_sheathed: float
    fuse_usual: float
    as_built: float
    voice_headroom: float
    steady_headroom: float
    desk_lead: float
    strip_lead: float
    amplifier_lead: float
    leads_on_posts: int
    keyed: float
    coldest: float
    hottest: float
    cabin_coldest: float
    cabin_hottest: float
    contact_watts: float
    least_wire: float
    joint_ohms: float
    vehicle_lead: float
    engine_space: float
    engine_celsius: float
    health: float
    standby_days: float
    insulation: str
    source: str


@dataclass(frozen=True)
class Shelf:
    """All that is known: the loaded catalogue, by id."""

    conductors: Mapping[str, Conductor]
    insulations: Mapping[str, Insulation]
    fuses: Mapping[str, FuseType]
    contacts: Mapping[str, Contact]
    supplies: Mapping[str, Supply]
    strips: Mapping[str, Strip]
    equipment: Mapping[str, Equipment]
    mains: Mapping[str, MainsWire]
    modes: Mapping[str, Mode]
    chemistries: Mapping[str, Chemistry]
    batteries: Mapping[str, Battery]
    vehicles: Mapping[str, Vehicle]
    changeovers: Mapping[str, Changeover]
    boosters: Mapping[str, Booster]
    chargers: Mapping[str, Charger]
    panels: Mapping[str, Panel]
    powers: Mapping[str, PowerCurve]
    instruments: Mapping[str, Instrument]
    symptoms: Mapping[str, Symptom]
    sources: Mapping[str, SourceNote]
    limits: Limits
