"""The one model: a station as its owner describes it. ``None`` is a gap: not known, or to be chosen.

Each attribute declares what it is in a station file. Reading, writing, the JSON Schema and the wizard's questions all
follow from these declarations (``engine.table``), and the tables of a file from those of ``Station`` itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from engine.station.declaration import Key, Rows, Section, fields_of, tables_of
from engine.station.shapes import (
    AMPS,
    CELSIUS,
    COUNT,
    DATE,
    DEGREES,
    FUSE,
    HOURS,
    LENGTH,
    NO_LEAD,
    OF_TIME,
    OFF_BY,
    OHMS,
    PART,
    SHARE,
    SHOWN_AMPS,
    SHOWN_VOLTS,
    SOME_AMP_HOURS,
    SOME_AMPS,
    SOME_LENGTH,
    SOME_VOLTS,
    SOME_WATTS,
    SUPPLIED,
    VOLTS,
    WATTS,
    WINDOW,
    Window,
)
from engine.station.table import CONDUCTOR, FLAG, NAME, NUMBER, PROSE, TEXT, Field, Named, choice, many
from engine.terms import (
    ACROSS,
    LEAD_PARTS,
    READ_STATES,
    SOURCE_CLASSES,
    ChargerKind,
    EngineState,
    FusedLegs,
    Layout,
    LoadModel,
    Negative,
    Preference,
    ReadLeg,
    Region,
    SourceKind,
    Technology,
    Use,
    WireSystem,
)

WIRE, METER = Named(("conductors",)), Named(("instruments",))

Id = Annotated[str, Key(NAME, "a short name of your own")]
Note = Annotated[str | None, Key(PROSE, "a remark of your own; it is kept")]
Owned = Annotated[bool, Key(FLAG, "true when it is yours already and costs nothing more")]
OwnMains = Annotated[float | None, Key(SOME_VOLTS, "mains voltage at it, where it has a wall circuit of its own")]
OwnCircuit = Annotated[float | None, Key(SOME_AMPS, "rating of its wall circuit, where it has one of its own")]


@dataclass(frozen=True)
class Load:
    """What draws: a class of equipment, or own figures, or both (own figures win). Volts, amperes, shares."""

    id: Id
    equipment: Annotated[
        str | None, Key(NAME, "the class of equipment, from the catalogue", "class", Named(("equipment",)))
    ] = None
    window: Annotated[Window | None, Key(WINDOW, "the voltage it accepts at its own terminals")] = None
    lowest: Annotated[float | None, Key(VOLTS, "lowest voltage at its own terminals")] = None
    highest: Annotated[float | None, Key(VOLTS, "highest voltage at its own terminals")] = None
    nominal: Annotated[float | None, Key(VOLTS, "voltage at which its currents are stated")] = None
    rest: Annotated[float | None, Key(AMPS, "current drawn when switched off")] = None
    always_on: Annotated[bool | None, Key(FLAG, "whether it stays on day and night, operating or not")] = None
    receive: Annotated[float | None, Key(AMPS, "current drawn when on and not keyed")] = None
    transmit: Annotated[float | None, Key(AMPS, "current drawn at key-down, full power")] = None
    busy: Annotated[float | None, Key(AMPS, "most ever drawn by something that is never keyed")] = None
    mode: Annotated[str | None, Key(TEXT, "mode of operation", names=Named(("modes",)))] = None
    keyed: Annotated[float | None, Key(OF_TIME, "share of the operating time spent transmitting")] = None
    follows: Annotated[LoadModel | None, Key(choice(*LoadModel), "how the current follows the voltage")] = None
    fuse: Annotated[float | None, Key(FUSE, "rating of the fuse in its own lead")] = None
    inlet: Annotated[str | None, Key(TEXT, "the post or socket on the equipment")] = None
    wall: Annotated[
        float | None, Key(SOME_WATTS, "power it takes from the wall at key-down, where it plugs in there")
    ] = None
    mains: OwnMains = None
    circuit: OwnCircuit = None
    lead: Annotated[
        str | None,
        Key(SUPPLIED, 'size of the lead that came with it, or "none"', names=Named(("conductors",), none=NO_LEAD)),
    ] = None
    lead_length: Annotated[float | None, Key(LENGTH, "length of the lead that came with it")] = None
    note: Note = None


@dataclass(frozen=True)
class Source:
    """What feeds. ``part`` names a row of the catalogue; own figures win over the row's."""

    id: Id
    technology: Annotated[
        Technology | SourceKind | None,
        Key(choice(*SOURCE_CLASSES), "how the supply regulates, or what else it is", "class"),
    ] = None
    part: Annotated[str | None, Key(NAME, "the class of supply, vehicle, battery or booster, from the catalogue")] = (
        None
    )
    volts: Annotated[float | None, Key(SOME_VOLTS, "set point at the output terminals")] = None
    tolerance: Annotated[float | None, Key(OFF_BY, "how far the set point may be off")] = None
    regulation: Annotated[float | None, Key(OFF_BY, "sag from no load to full load")] = None
    lowest: Annotated[float | None, Key(VOLTS, "lowest setting of the voltage knob")] = None
    highest: Annotated[float | None, Key(VOLTS, "highest setting of the voltage knob")] = None
    adjustable: Annotated[bool | None, Key(FLAG, "whether a knob can change the voltage")] = None
    locked: Annotated[bool | None, Key(FLAG, "whether that knob is set on purpose and locked or covered")] = None
    continuous: Annotated[float | None, Key(SOME_AMPS, "continuous current it gives")] = None
    peak: Annotated[float | None, Key(AMPS, "current it gives while keyed, for minutes; a battery: for seconds")] = None
    limit: Annotated[float | None, Key(AMPS, "current at which it limits itself")] = None
    efficiency: Annotated[float | None, Key(PART, "output power over mains power at full load")] = None
    power_factor: Annotated[float | None, Key(PART, "real over apparent mains power")] = None
    over_voltage: Annotated[bool | None, Key(FLAG, "whether it cuts off when its regulator fails")] = None
    filtered: Annotated[bool | None, Key(FLAG, "whether it is made for radio use: filtered, quiet on the bands")] = None
    outlets: Annotated[tuple[str, ...] | None, Key(many(TEXT, 1), "posts and sockets on it")] = None
    mains: OwnMains = None
    circuit: OwnCircuit = None
    parallel: Annotated[
        int | None, Key(COUNT, "how many alike supplies stand side by side; the ratings are those of one")
    ] = None
    shares: Annotated[bool | None, Key(FLAG, "whether they share the current by design, as their maker says")] = None
    engine: Annotated[
        EngineState | None, Key(choice(*EngineState), "a vehicle: whether you transmit with the engine off")
    ] = None
    cranking: Annotated[float | None, Key(SOME_AMPS, "a vehicle: cold cranking current of its battery")] = None
    load_sensor: Annotated[
        bool | None, Key(FLAG, "a vehicle: whether a sensor sits in the battery's negative lead")
    ] = None
    chemistry: Annotated[
        str | None, Key(NAME, "a battery: its chemistry, from the catalogue", names=Named(("chemistries",)))
    ] = None
    amp_hours: Annotated[float | None, Key(SOME_AMP_HOURS, "a battery: its rated capacity")] = None
    temperature: Annotated[
        float | None, Key(CELSIUS, "a battery: its own temperature in the coldest hours of operating")
    ] = None
    health: Annotated[float | None, Key(PART, "a battery: what age has left of its rated capacity")] = None
    charge: Annotated[float | None, Key(PART, "a battery: its charge at the start")] = None
    depth: Annotated[float | None, Key(PART, "a battery: how much of its capacity you are willing to draw")] = None
    ohms: Annotated[float | None, Key(OHMS, "resistance inside a battery, measured")] = None
    cut_off: Annotated[float | None, Key(VOLTS, "a booster: the input at which it stops")] = None
    charged_by: Annotated[str | None, Key(NAME, "a battery: the source that charges it, or sun")] = None
    charger: Annotated[
        str | None,
        Key(
            NAME,
            "a battery: the class of charger between; without one it hangs straight on that source",
            names=Named(("chargers", "changeovers")),
        ),
    ] = None
    owned: Owned = False
    note: Note = None

    @property
    def socket(self) -> Source:
        """Its place in the station with nothing in it: what stays when the supply or battery itself is another."""
        kept = ("mains", "circuit", "temperature", "depth", "charged_by", "charger")
        sort = None if self.technology in tuple(Technology) else self.technology
        return Source(self.id, technology=sort, **{name: getattr(self, name) for name in kept})


@dataclass(frozen=True)
class Strip:
    """A point where one feed divides into several leads."""

    id: Id
    part: Annotated[str | None, Key(NAME, "the class of strip, from the catalogue", names=Named(("strips",)))] = None
    owned: Owned = False
    note: Note = None


@dataclass(frozen=True)
class Changeover:
    """A point where one of two sources is chosen to feed what lies beyond."""

    id: Id
    part: Annotated[
        str | None, Key(NAME, "the class of changeover, from the catalogue", names=Named(("changeovers",)))
    ] = None
    owned: Owned = False
    note: Note = None


@dataclass(frozen=True)
class Run:
    """One length of cable, both conductors, with its fuse and contacts. Metres, amperes, degrees Celsius.

    Where a lead that came with the load is lengthened, ``tail`` is that lead: the last ``tail_length`` of ``length``.
    """

    id: Id
    start: Annotated[str | None, Key(NAME, "the source or strip it comes from", "from")]
    end: Annotated[str, Key(NAME, "the load or strip it feeds", "to")]
    length: Annotated[float | None, Key(SOME_LENGTH, "one-way length")] = None
    conductor: Annotated[str | None, Key(CONDUCTOR, "size of each conductor", names=WIRE)] = None
    insulation: Annotated[float | None, Key(CELSIUS, "highest temperature of its insulation")] = None
    supplied: Annotated[bool | None, Key(FLAG, "whether its copper is the lead that came with the load")] = None
    tail: Annotated[
        str | None,
        Key(CONDUCTOR, "size of the lead that came with the load, where this run lengthens it", names=WIRE),
    ] = None
    tail_length: Annotated[float | None, Key(LENGTH, "how much of the length is that lead")] = None
    parallel: Annotated[int | None, Key(COUNT, "conductors side by side in each leg, where there are several")] = None
    ambient: Annotated[float | None, Key(CELSIUS, "hottest air along it, where it differs from the site's")] = None
    together: Annotated[int | None, Key(COUNT, "loaded conductors lying together, this pair included")] = None
    fuse: Annotated[float | None, Key(FUSE, 'fuse rating at its source end, or "none"')] = None
    fuse_type: Annotated[str | None, Key(TEXT, "the family of fuse", names=Named(("fuses",)))] = None
    own_fuse: Annotated[
        float | None, Key(SOME_AMPS, "a second fuse, in the lead that came with the load: its rating")
    ] = None
    fuse_at: Annotated[float | None, Key(LENGTH, "distance of the fuse from the source")] = None
    fuse_legs: Annotated[FusedLegs | None, Key(choice(*FusedLegs), "which legs are fused")] = None
    negative: Annotated[Negative | None, Key(choice(*Negative), "where the negative leg lands")] = None
    engine_space: Annotated[
        float | None, Key(LENGTH, "how much of it lies in the heat beside an engine, from its source on")
    ] = None
    contacts: Annotated[
        tuple[str, ...] | None,
        Key(many(TEXT, 2, 2), "the contact at the source end and at the load end", names=Named(("contacts",))),
    ] = None
    owned: Owned = False
    kept: Annotated[tuple[str, ...] | None, Key(many(choice(*LEAD_PARTS)), "which of its parts are yours already")] = (
        None
    )
    note: Note = None


@dataclass(frozen=True)
class Site:
    """Where the station stands. Volts, amperes, metres, watts, degrees Celsius."""

    mains: Annotated[float | None, Key(SOME_VOLTS, "mains voltage at the wall")] = None
    circuit: Annotated[float | None, Key(SOME_AMPS, "rating of the wall circuit's breaker or fuse")] = None
    circuit_wire: Annotated[
        str | None, Key(CONDUCTOR, "size of that circuit's wire in the wall, where it is known", names=WIRE)
    ] = None
    circuit_length: Annotated[
        float | None, Key(LENGTH, "one-way length of that wire from the breaker to the outlet")
    ] = None
    extension: Annotated[
        str | None,
        Key(CONDUCTOR, "size of the extension lead between outlet and station, where there is one", names=WIRE),
    ] = None
    extension_length: Annotated[float | None, Key(LENGTH, "one-way length of the extension lead")] = None
    generator: Annotated[
        float | None, Key(SOME_WATTS, "running watts of the generator that feeds the station, where one does")
    ] = None
    coldest: Annotated[float | None, Key(CELSIUS, "coldest air around the cables")] = None
    hottest: Annotated[float | None, Key(CELSIUS, "hottest air around the cables")] = None
    wire: Annotated[WireSystem | None, Key(choice(*WireSystem), "whether cable is bought in AWG or in mm²")] = None
    layout: Annotated[
        Layout | None, Key(choice(*Layout), "one lead from the supply to each load, or through a fused strip")
    ] = None
    as_built: Annotated[
        float | None, Key(SHARE, "allowance on the resistance of every path, as built against as calculated")
    ] = None
    region: Annotated[
        Region | None, Key(choice(*Region), "whose practice for two-way radio in vehicles is followed")
    ] = None


@dataclass(frozen=True)
class Sun:
    """The sun on a battery: latitude [degrees, north positive], peak sun hours of the worst month, panels."""

    latitude: Annotated[float | None, Key(DEGREES, "latitude, degrees; south of the equator negative")] = None
    hours: Annotated[float | None, Key(HOURS, "peak sun hours of a day in the worst month")] = None
    tilt: Annotated[float | None, Key(DEGREES, "tilt of the panel from the horizontal, degrees")] = None
    days: Annotated[float | None, Key(NUMBER, "days without sun that the battery must carry")] = None
    operating: Annotated[float | None, Key(HOURS, "hours of operating in a day")] = None
    panel: Annotated[str | None, Key(NAME, "the class of panel, from the catalogue", names=Named(("panels",)))] = None
    panels: Annotated[float | None, Key(NUMBER, "how many of them")] = None
    watts: Annotated[float | None, Key(WATTS, "nominal power of all panels, where no class is named")] = None
    controller: Annotated[
        str | None,
        Key(
            NAME,
            "the class of solar controller, from the catalogue",
            names=Named(("chargers",), ChargerKind.SOLAR),
        ),
    ] = None


@dataclass(frozen=True)
class Wishes:
    """What the owner wants of the plan."""

    budget: Annotated[float | None, Key(NUMBER, "the most to spend, in your own money")] = None
    headroom: Annotated[
        float | None, Key(SHARE, "spare on the supply, over key-down and over what heats it for minutes")
    ] = None
    prefer: Annotated[Preference | None, Key(choice(*Preference), "what decides between sound plans")] = None
    hours: Annotated[float | None, Key(HOURS, "how long it must work from a battery in one go")] = None


@dataclass(frozen=True)
class Reading:
    """What a meter showed: at a source, strip or load, or across a part of a run. Volts, amperes, ohms.

    ``state`` is what the loads did; ``keyed`` names those that transmitted. ``date`` is of the form 2026-11-24.
    ``leg``: positive or negative where only one of the two was read across; else both are added.
    """

    at: Annotated[str, Key(NAME, "the source, strip, load or run that was measured")]
    across: Annotated[str | None, Key(choice(*ACROSS), "the part of a run that the meter's two points lay across")]
    state: Annotated[str, Key(choice(*READ_STATES), "what the loads did meanwhile")]
    keyed: Annotated[
        tuple[str, ...] | None, Key(many(NAME), "the loads that transmitted, where that is not plain from the place")
    ] = None
    leg: Annotated[
        ReadLeg | None, Key(choice(*ReadLeg), "the leg that was read across, where it was only one of the two")
    ] = None
    volts: Annotated[float | None, Key(SHOWN_VOLTS, "what the meter showed; across a part often millivolts")] = None
    amps: Annotated[float | None, Key(SHOWN_AMPS, "the current that flowed there, if known")] = None
    ohms: Annotated[float | None, Key(OHMS, "what an ohmmeter showed, everything off and one end free")] = None
    instrument: Annotated[str | None, Key(TEXT, "the instrument that showed volts or ohms", names=METER)] = None
    amps_instrument: Annotated[str | None, Key(TEXT, "the instrument that showed the current", names=METER)] = None
    date: Annotated[str | None, Key(DATE, "the day of the measurement")] = None
    note: Note = None


Together = Annotated[
    tuple[tuple[str, ...], ...], Key(many(many(NAME, 2)), "groups of loads that transmit at the same time")
]


@dataclass(frozen=True)
class Station:
    """The whole station, gaps and all; what it declares as sections and rows are the tables of a file."""

    name: Annotated[str, Key(TEXT, "the station's name")]
    use: Annotated[Use | None, Key(choice(*Use), "how the station is used")] = None
    note: Note = None
    site: Annotated[Site, Section("site", Site)] = Site()
    wishes: Annotated[Wishes, Section("wishes", Wishes)] = Wishes()
    sun: Annotated[Sun | None, Section("sun", Sun)] = None
    loads: Annotated[tuple[Load, ...], Rows("load", Load)] = ()
    sources: Annotated[tuple[Source, ...], Rows("source", Source)] = ()
    strips: Annotated[tuple[Strip, ...], Rows("strip", Strip)] = ()
    changeovers: Annotated[tuple[Changeover, ...], Rows("changeover", Changeover)] = ()
    runs: Annotated[tuple[Run, ...], Rows("run", Run)] = ()
    keyed_together: Together = ()
    readings: Annotated[tuple[Reading, ...], Rows("reading", Reading)] = ()

    @property
    def parts(self) -> tuple[Load | Source | Strip | Changeover | Run, ...]:
        """Everything in the station that has an id."""
        return (*self.loads, *self.sources, *self.strips, *self.changeovers, *self.runs)


TOP = (Field("format", NUMBER, "the number of this file format: 1", True), *fields_of(Station))
"""The keys above the first table."""

SECTIONS, LISTS = tables_of(Station, Section), tables_of(Station, Rows)
"""The tables of a file by name, in the order in which they are written: ``[site]`` and ``[[load]]``."""

FIELDS = {"": TOP, **{one.name: one.fields for one in (*SECTIONS.values(), *LISTS.values())}}
"""The keys of every table by its name; those above the first table by none."""

PARTS = tuple(one.name for one in LISTS.values() if one.has_id)
"""The tables whose rows are parts of the station, each with an id of its own."""
