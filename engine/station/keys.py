"""Every key of a station file, declared once: for reading, writing, the schema and the wizard's questions."""

from __future__ import annotations

import datetime
import re

from engine import units
from engine.station.model import NO_FUSE, Window
from engine.station.table import (
    CONDUCTOR,
    FLAG,
    NAME,
    NUMBER,
    PROSE,
    TEXT,
    Field,
    Shape,
    above_nought,
    below,
    choice,
    many,
    part_of_whole,
    quantity,
    up_to,
)
from engine.terms import (
    ACROSS,
    LEAD_PARTS,
    READ_STATES,
    SOURCE_CLASSES,
    EngineState,
    FusedLegs,
    Layout,
    LoadModel,
    Negative,
    Preference,
    ReadLeg,
    Region,
    Use,
    WireSystem,
)
from engine.units import QuantityError, Spelled

VOLTS, AMPS, SHARE = quantity(units.VOLTS), quantity(units.AMPS), quantity(units.SHARE)
LENGTH, CELSIUS = quantity(units.LENGTH), quantity(units.CELSIUS)
OHMS, WATTS = quantity(units.OHMS), quantity(units.WATTS)
AMP_HOURS, HOURS = quantity(units.AMP_HOURS), quantity(units.HOURS)
SOME_VOLTS, SOME_AMPS, SOME_WATTS = above_nought(VOLTS), above_nought(AMPS), above_nought(WATTS)
SOME_AMP_HOURS = above_nought(AMP_HOURS)
SOME_LENGTH = above_nought(LENGTH, "write the one-way length, such as 0.3 m")
PART = part_of_whole(SHARE)
OF_TIME = up_to(SHARE, 1, "is more than all the time", "write a share from 0 % to 100 %")
OFF_BY = below(SHARE, 0.5, "is half or more of the voltage", "write a small share, such as 2 %")

_AROUND = re.compile(r"(?P<nominal>[^±+]+?)\s*(?:±|\+/-|\+-)\s*(?P<share>[\d.,]+\s*%)", re.I)
_FROM_TO = re.compile(r"(?P<low>[\d.,]+\s*(?:v|volts?)?)\s*(?:-|–|to)\s*(?P<high>[\d.,]+\s*(?:v|volts?))", re.I)


def window(text: str) -> Window:
    """A voltage window written as ``13.8 V ± 15 %`` or ``11.7 to 15.9 V``.

    >>> window("13.8 V ± 10 %").lowest
    12.42

    Raises:
        QuantityError: not readable in either form, or empty.

    """
    plain = units.tidy(text)
    if around := _AROUND.fullmatch(plain):
        nominal, share = units.read(around["nominal"], units.VOLTS), units.read(around["share"], units.SHARE)
        low, high = round(nominal * (1 - share), 9), round(nominal * (1 + share), 9)
        if share >= 1:
            raise QuantityError(f"{plain!r} leaves no lowest voltage", "write for example 13.8 V ± 15 %")
    elif pair := _FROM_TO.fullmatch(plain):
        low, high = float(units.read(pair["low"], units.VOLTS)), float(units.read(pair["high"], units.VOLTS))
    else:
        raise QuantityError(f"{plain!r} is not a voltage window", "write 13.8 V ± 15 % or 11.7 to 15.9 V")
    if not 0 < low < high:
        raise QuantityError(f"{plain!r} has its lowest voltage at or above its highest", "write the lower one first")
    return Window(low, high, plain)


def _fuse(raw: object) -> float:
    if isinstance(raw, str) and raw.strip().casefold() == "none":
        return Spelled(NO_FUSE, "none")
    value: float = AMPS.read(raw)
    if value <= 0:
        raise QuantityError("a fuse of 0 A cannot be", 'write its rating, or "none" when there is no fuse')
    return value


def _window(raw: object) -> Window:
    return window(str(TEXT.read(raw)))


def _date(raw: object) -> str:
    text = raw.isoformat() if type(raw) is datetime.date else str(TEXT.read(raw)).strip()
    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        raise QuantityError(f"{text[:40]!r} is not a date", "write year, month and day: 2026-11-24") from None


def _together(raw: object) -> int:
    value = NUMBER.read(raw)
    if value != int(value) or value < 2:
        raise QuantityError(f"{raw} is not a count of several", "write a whole number from 2 up")
    return int(value)


def _degrees(raw: object) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)) or not -90 <= raw <= 90:
        raise QuantityError(f"{raw} is not an angle", "write a plain number of degrees from -90 to 90")
    return raw


def _same(value: float) -> object:
    return value


FUSE = Shape(_fuse, lambda value: units.spell(value, units.AMPS) if value else "none", {"type": "string"}, units.AMPS)
WINDOW = Shape(
    _window, lambda value: value.text or f"{value.lowest:.10g} to {value.highest:.10g} V", {"type": "string"}
)
DEGREES = Shape(_degrees, _same, {"type": "number", "minimum": -90, "maximum": 90})
COUNT = Shape(_together, lambda value: value, {"type": "integer", "minimum": 2})

DATE = Shape(_date, lambda value: value, {"type": "string", "format": "date"})

NOTE = Field("note", PROSE, "a remark of your own; it is kept")
OWN_MAINS = Field("mains", SOME_VOLTS, "mains voltage at it, where it has a wall circuit of its own")
OWN_CIRCUIT = Field("circuit", SOME_AMPS, "rating of its wall circuit, where it has one of its own")
OWNED = Field("owned", FLAG, "true when it is yours already and costs nothing more")

TOP: tuple[Field, ...] = (
    Field("format", NUMBER, "the number of this file format: 1", True),
    Field("name", TEXT, "the station's name", True),
    Field("use", choice(*Use), "how the station is used"),
    NOTE,
    Field("keyed_together", many(many(NAME, 2)), "groups of loads that transmit at the same time"),
)
SITE: tuple[Field, ...] = (
    Field("mains", SOME_VOLTS, "mains voltage at the wall"),
    Field("circuit", SOME_AMPS, "rating of the wall circuit's breaker or fuse"),
    Field("circuit_wire", CONDUCTOR, "size of that circuit's wire in the wall, where it is known"),
    Field("circuit_length", LENGTH, "one-way length of that wire from the breaker to the outlet"),
    Field("extension", CONDUCTOR, "size of the extension lead between outlet and station, where there is one"),
    Field("extension_length", LENGTH, "one-way length of the extension lead"),
    Field("generator", SOME_WATTS, "running watts of the generator that feeds the station, where one does"),
    Field("coldest", CELSIUS, "coldest air around the cables"),
    Field("hottest", CELSIUS, "hottest air around the cables"),
    Field("wire", choice(*WireSystem), "whether cable is bought in AWG or in mm²"),
    Field("layout", choice(*Layout), "one lead from the supply to each load, or through a fused strip"),
    Field("as_built", SHARE, "allowance on the resistance of every path, as built against as calculated"),
    Field("region", choice(*Region), "whose practice for two-way radio in vehicles is followed"),
)
WISHES: tuple[Field, ...] = (
    Field("budget", NUMBER, "the most to spend, in your own money"),
    Field("headroom", SHARE, "spare on the supply, over key-down and over what heats it for minutes"),
    Field("prefer", choice(*Preference), "what decides between sound plans"),
    Field("hours", HOURS, "how long it must work from a battery in one go"),
)
SUN: tuple[Field, ...] = (
    Field("latitude", DEGREES, "latitude, degrees; south of the equator negative"),
    Field("hours", HOURS, "peak sun hours of a day in the worst month"),
    Field("tilt", DEGREES, "tilt of the panel from the horizontal, degrees"),
    Field("days", NUMBER, "days without sun that the battery must carry"),
    Field("operating", HOURS, "hours of operating in a day"),
    Field("panel", NAME, "the class of panel, from the catalogue"),
    Field("panels", NUMBER, "how many of them"),
    Field("watts", WATTS, "nominal power of all panels, where no class is named"),
    Field("controller", NAME, "the class of solar controller, from the catalogue"),
)
LOAD: tuple[Field, ...] = (
    Field("id", NAME, "a short name of your own", True),
    Field("class", NAME, "the class of equipment, from the catalogue", attr="equipment"),
    Field("window", WINDOW, "the voltage it accepts at its own terminals"),
    Field("lowest", VOLTS, "lowest voltage at its own terminals"),
    Field("highest", VOLTS, "highest voltage at its own terminals"),
    Field("nominal", VOLTS, "voltage at which its currents are stated"),
    Field("rest", AMPS, "current drawn when switched off"),
    Field("receive", AMPS, "current drawn when on and not keyed"),
    Field("transmit", AMPS, "current drawn at key-down, full power"),
    Field("busy", AMPS, "most ever drawn by something that is never keyed"),
    Field("mode", TEXT, "mode of operation"),
    Field("keyed", OF_TIME, "share of the operating time spent transmitting"),
    Field("follows", choice(*LoadModel), "how the current follows the voltage"),
    Field("fuse", FUSE, "rating of the fuse in its own lead"),
    Field("inlet", TEXT, "the post or socket on the equipment"),
    Field("wall", SOME_WATTS, "power it takes from the wall at key-down, where it plugs in there"),
    OWN_MAINS,
    OWN_CIRCUIT,
    Field("lead", CONDUCTOR, "size of the lead that came with it"),
    Field("lead_length", LENGTH, "length of the lead that came with it"),
    NOTE,
)
SOURCE: tuple[Field, ...] = (
    Field("id", NAME, "a short name of your own", True),
    Field("class", choice(*SOURCE_CLASSES), "how the supply regulates, or what else it is", attr="technology"),
    Field("part", NAME, "the class of supply, vehicle, battery or booster, from the catalogue"),
    Field("volts", SOME_VOLTS, "set point at the output terminals"),
    Field("tolerance", OFF_BY, "how far the set point may be off"),
    Field("regulation", OFF_BY, "sag from no load to full load"),
    Field("lowest", VOLTS, "lowest setting of the voltage knob"),
    Field("highest", VOLTS, "highest setting of the voltage knob"),
    Field("adjustable", FLAG, "whether a knob can change the voltage"),
    Field("locked", FLAG, "whether that knob is set on purpose and locked or covered"),
    Field("continuous", SOME_AMPS, "current it gives for hours"),
    Field("peak", AMPS, "current it gives while keyed, for minutes; a battery: for seconds"),
    Field("limit", AMPS, "current at which it limits itself"),
    Field("efficiency", PART, "output power over mains power at full load"),
    Field("power_factor", PART, "real over apparent mains power"),
    Field("over_voltage", FLAG, "whether it cuts off when its regulator fails"),
    Field("filtered", FLAG, "whether it is made for radio use: filtered, quiet on the bands"),
    Field("outlets", many(TEXT, 1), "posts and sockets on it"),
    OWN_MAINS,
    OWN_CIRCUIT,
    Field("parallel", COUNT, "how many alike supplies stand side by side; the ratings are those of one"),
    Field("shares", FLAG, "whether they share the current by design, as their maker says"),
    Field("engine", choice(*EngineState), "a vehicle: whether you transmit with the engine off"),
    Field("cranking", SOME_AMPS, "a vehicle: cold cranking current of its battery"),
    Field("load_sensor", FLAG, "a vehicle: whether a sensor sits in the battery's negative lead"),
    Field("chemistry", NAME, "a battery: its chemistry, from the catalogue"),
    Field("amp_hours", SOME_AMP_HOURS, "a battery: its rated capacity"),
    Field("temperature", CELSIUS, "a battery: its own temperature in the coldest hours of operating"),
    Field("health", PART, "a battery: what age has left of its rated capacity"),
    Field("charge", PART, "a battery: its charge at the start"),
    Field("depth", PART, "a battery: how much of its capacity you are willing to draw"),
    Field("ohms", OHMS, "resistance inside a battery, measured"),
    Field("cut_off", VOLTS, "a booster: the input at which it stops"),
    Field("charged_by", NAME, "a battery: the source that charges it, or sun"),
    Field("charger", NAME, "a battery: the class of charger between; without one it hangs straight on that source"),
    OWNED,
    NOTE,
)
CHANGEOVER: tuple[Field, ...] = (
    Field("id", NAME, "a short name of your own", True),
    Field("part", NAME, "the class of changeover, from the catalogue"),
    OWNED,
    NOTE,
)
STRIP: tuple[Field, ...] = (
    Field("id", NAME, "a short name of your own", True),
    Field("part", NAME, "the class of strip, from the catalogue"),
    OWNED,
    NOTE,
)
RUN: tuple[Field, ...] = (
    Field("id", NAME, "a short name of your own", True),
    Field("from", NAME, "the source or strip it comes from", attr="start"),
    Field("to", NAME, "the load or strip it feeds", True, attr="end"),
    Field("length", SOME_LENGTH, "one-way length"),
    Field("conductor", CONDUCTOR, "size of each conductor"),
    Field("insulation", CELSIUS, "highest temperature of its insulation"),
    Field("supplied", FLAG, "whether its copper is the lead that came with the load"),
    Field("tail", CONDUCTOR, "size of the lead that came with the load, where this run lengthens it"),
    Field("tail_length", LENGTH, "how much of the length is that lead"),
    Field("parallel", COUNT, "conductors side by side in each leg, where there are several"),
    Field("ambient", CELSIUS, "hottest air along it, where it differs from the site's"),
    Field("together", COUNT, "loaded conductors lying together, this pair included"),
    Field("fuse", FUSE, 'fuse rating at its source end, or "none"'),
    Field("fuse_type", TEXT, "the family of fuse"),
    Field("fuse_at", LENGTH, "distance of the fuse from the source"),
    Field("fuse_legs", choice(*FusedLegs), "which legs are fused"),
    Field("negative", choice(*Negative), "where the negative leg lands"),
    Field("engine_space", LENGTH, "how much of it lies in the heat beside an engine, from its source on"),
    Field("contacts", many(TEXT, 2, 2), "the contact at the source end and at the load end"),
    OWNED,
    Field("kept", many(choice(*LEAD_PARTS)), "which of its parts are yours already"),
    NOTE,
)
READING: tuple[Field, ...] = (
    Field("at", NAME, "the source, strip, load or run that was measured", True),
    Field("across", choice(*ACROSS), "the part of a run that the meter's two points lay across"),
    Field("state", choice(*READ_STATES), "what the loads did meanwhile", True),
    Field("keyed", many(NAME), "the loads that transmitted, where that is not plain from the place"),
    Field("leg", choice(*ReadLeg), "the leg that was read across, where it was only one of the two"),
    Field("volts", quantity(units.SHOWN_VOLTS), "what the meter showed; across a part often millivolts"),
    Field("amps", quantity(units.SHOWN_AMPS), "the current that flowed there, if known"),
    Field("ohms", quantity(units.OHMS), "what an ohmmeter showed, everything off and one end free"),
    Field("instrument", TEXT, "the instrument that showed volts or ohms"),
    Field("amps_instrument", TEXT, "the instrument that showed the current"),
    Field("date", DATE, "the day of the measurement"),
    NOTE,
)
_NAMED = "write the figure that was named"
CLAIM: tuple[Field, ...] = (
    Field("conductor", CONDUCTOR, "the size of each conductor"),
    Field("amps", above_nought(AMPS, _NAMED), "the current"),
    Field("length", above_nought(LENGTH, _NAMED), "one way"),
    Field("drop", VOLTS, "the loss that is claimed"),
    Field("watts", above_nought(WATTS, _NAMED), "radio-frequency power"),
    Field("volts", above_nought(VOLTS, _NAMED), "the voltage at which it is drawn"),
    Field("raise", above_nought(VOLTS, _NAMED), "the higher setting"),
)
"""The figures of a claim; no file holds them."""
