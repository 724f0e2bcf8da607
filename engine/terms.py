"""The words that a kind, a state or a choice may have, with what each means. By value they are the words of the files.

A term compares, prints and is written like its word, so a file holds the word and nothing else.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Self

SUN = "sun"
"""What charges a battery where panels do: it stands in the place of a source's id."""


class Term(StrEnum):
    """A word with what it means in plain words, as the wizard shows it beside a choice."""

    says: str

    def __new__(cls, word: str, says: str = "") -> Self:  # noqa: D102
        made = str.__new__(cls, word)
        made._value_ = word
        made.says = says or word
        return made

    def __repr__(self) -> str:
        return repr(self.value)


class Use(Term):
    """How a station is used: it decides the kind of its source."""

    FIXED = "fixed", "fixed: at home, from the mains"
    MOBILE = "mobile", "mobile: in a vehicle, from its battery"
    BATTERY = "battery", "battery: portable, or off the grid"
    AMPLIFIER = "amplifier", "amplifier: at home, with a power amplifier"


class SourceKind(Term):
    """What sort of thing feeds."""

    MAINS = "mains", "a supply that plugs into the wall: it holds a set point and limits its own current"
    VEHICLE = "vehicle", "the battery and alternator of a vehicle"
    BATTERY = "battery", "a battery of the station's own"
    BOOSTER = "booster", "a converter that holds its output while its input sags: a load to one source, itself a source"


class Technology(Term):
    """How a mains supply regulates."""

    LINEAR = "linear", "linear: heavy, with a mains transformer"
    SWITCH_MODE = "switch-mode", "switch-mode: light, ask about noise on the bands"


SOURCE_CLASSES = (*Technology, SourceKind.VEHICLE, SourceKind.BATTERY, SourceKind.BOOSTER)
"""What a source's ``class`` may be: how a supply regulates, or what else it is."""


class PowerInput(Term):
    """What equipment takes."""

    DC = "dc", "direct current, through a lead of the station"
    MAINS = "mains", "it plugs into the wall itself"


class Group(Term):
    """What sort of thing draws."""

    RADIO = "radio", "a transmitter or receiver"
    AMPLIFIER = "amplifier", "it needs a radio to drive it"
    ACCESSORY = "accessory", "tuner, lamp, charger and the like"
    COMPUTER = "computer", "a computer, screen or network device"
    CONVERTER = "converter", "the input of a booster; no class of equipment is one"


EQUIPMENT_GROUPS = (Group.RADIO, Group.AMPLIFIER, Group.ACCESSORY, Group.COMPUTER)


class LoadModel(Term):
    """How the current of a load follows the voltage at its terminals."""

    STEADY_CURRENT = "steady current", "steady current: most transmitters and receivers"
    STEADY_POWER = "steady power", "steady power: a converter inside, as in computers and chargers"
    RESISTIVE = "resistive", "resistive: heaters, old lamps, plain fans"


class EngineState(Term):
    """What a vehicle's engine does while the station transmits."""

    RUNNING = "running", "engine running"
    OFF = "off", "engine off"


class Region(Term):
    """Whose practice for two-way radio in vehicles is followed."""

    NORTH_AMERICA = "North America"
    UNITED_KINGDOM = "United Kingdom"
    ELSEWHERE = "elsewhere"


class WireSystem(Term):
    """The family of sizes in which cable is bought."""

    AWG = "AWG"
    METRIC = "metric"


class Layout(Term):
    """How several loads hang on one source."""

    SINGLE = "one lead each", "one lead each, from the supply's own posts"
    STRIP = "fused strip", "through a strip with a fuse for each lead"


class FusedLegs(Term):
    """Which legs of a run are fused."""

    POSITIVE = "positive", "the positive only"
    BOTH = "both", "both, positive and negative"


class Negative(Term):
    """Where the negative leg of a run lands."""

    SUPPLY = "supply"
    POST = "battery post", "on the battery's negative post"
    BODY = "body near the battery bond", "on the body, near where the battery's own negative lands"


class Serves(Term):
    """What a run is for that feeds no load: it ends at a battery."""

    STRING = "string", "from each battery of a bank to the posts that they share, one run for all of them"
    CHARGER = "charger", "between the battery and what charges it, or from a vehicle to that charger"
    PANELS = "panels", "from the panels to the controller"


class Preference(Term):
    """What decides between sound plans."""

    PRICE = "price"
    QUIET = "quiet", "in the ear and on the bands alike"
    QUIET_IN_THE_EAR = "quiet in the ear", "a fan that rests, no hum"
    QUIET_ON_THE_BANDS = "quiet on the bands", "nothing heard in the receiver"
    LIGHT = "light"


class LoadState(Term):
    """What all loads are doing; a state in which loads are keyed is named after them."""

    RESTING = "resting", "switched off, still drawing what they draw then"
    NO_LOAD = "no load", "nothing is connected or switched on"
    RECEIVE = "receive", "everything is on, nothing is keyed"
    KEYED = "keyed", "something transmits"


READ_STATES = (LoadState.NO_LOAD, LoadState.RECEIVE, LoadState.KEYED)
"""The states in which a meter is read."""


class ConditionName(Term):
    """What the source and the surroundings are doing: three that every source has, and those of one kind."""

    LIGHT = "light", "the source at its highest, small draws, cold copper"
    USUAL = "usual", "the source as it usually is, usual draws"
    SAGGING = "sagging", "the source at its lowest, largest draws, hot copper"
    ENGINE_OFF = "engine off", "a vehicle: its battery rested"
    ENGINE_RUNNING = "engine running", "a vehicle: its alternator charges"
    STARTING = "starting", "a vehicle: while its engine is started"
    FULL = "full", "a battery: fully charged"
    HALF_CHARGED = "half charged", "a battery: half charged"


class LeadPart(Term):
    """The parts of a run that resist; ``RUN`` is all of them."""

    COPPER = "copper"
    FUSE = "fuse"
    CONTACTS = "contacts"
    RUN = "run"


LEAD_PARTS = (LeadPart.COPPER, LeadPart.FUSE, LeadPart.CONTACTS)
"""The parts of a run, each of which may be its owner's already."""

ACROSS = (LeadPart.FUSE, LeadPart.CONTACTS, LeadPart.COPPER, LeadPart.RUN)
"""The parts of a run across which a meter may lie."""


class ReadLeg(Term):
    """The leg of a run that a meter lay across."""

    POSITIVE = "positive", "positive: the red leg alone"
    NEGATIVE = "negative", "negative: the black leg alone"


class ChargerKind(Term):
    """What feeds a charger."""

    MAINS = "mains charger"
    SOLAR = "solar controller"
    ALTERNATOR = "alternator charger (DC-DC)"


class ChargeMethod(Term):
    """How a solar controller regulates."""

    PWM = "PWM", "it connects the panel straight to the battery, in pulses"
    MPPT = "MPPT", "it converts: the panel works at the volts of its greatest power"


class Family(Term):
    """The family of a battery's chemistry: chargers are made for a family."""

    LEAD_ACID = "lead-acid"
    IRON_PHOSPHATE = "lithium iron phosphate"
    LITHIUM_ION = "lithium-ion"
    NICKEL = "nickel metal hydride"


class Limiting(Term):
    """What a source does when more is asked than it gives."""

    CONSTANT_CURRENT = "constant current"
    FOLDBACK = "foldback"
    SHUTS_DOWN = "shuts down"
    OWN_RESISTANCE = "its own resistance"


SUPPLY_LIMITING = (Limiting.CONSTANT_CURRENT, Limiting.FOLDBACK, Limiting.SHUTS_DOWN)


class RfNoise(Term):
    """What a part does to reception."""

    NONE = "none"
    FILTERED = "filtered"
    ASK = "ask"


class Fan(Term):
    """The habit of a supply's fan."""

    NONE = "none"
    WITH_LOAD = "with load"
    ALWAYS = "always"


class Stranding(Term):
    """How a contact treats stranded copper."""

    GOOD = "good"
    POOR = "poor"
    BAD = "bad"
