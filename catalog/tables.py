"""The keys of each catalogue table, declared once, and the record that a row becomes."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from engine import parts, units
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
)
from engine.terms import (
    EQUIPMENT_GROUPS,
    SUPPLY_LIMITING,
    Fan,
    FusedLegs,
    LoadModel,
    PowerInput,
    RfNoise,
    Stranding,
    Technology,
    WireSystem,
)
from engine.units import QuantityError

VOLTS, AMPS, SHARE = quantity(units.VOLTS), quantity(units.AMPS), quantity(units.SHARE)
BREAKING = quantity(replace(units.AMPS, highest=100_000, example="1000 A"))
OHMS, CELSIUS, LENGTH, MASS = (
    quantity(units.OHMS),
    quantity(units.CELSIUS),
    quantity(units.LENGTH),
    quantity(units.MASS),
)

STATED = "write what its maker states"
SOME_VOLTS, SOME_AMPS = above_nought(VOLTS, STATED), above_nought(AMPS, STATED)
SOME_OHMS, SOME_LENGTH = above_nought(OHMS, STATED), above_nought(LENGTH, STATED)
SOME = above_nought(NUMBER, "write a number above nought")
SOME_SHARE, PART = above_nought(SHARE, "write a share above nought"), part_of_whole(SHARE)
OFF_BY = below(SHARE, 0.5, "is half or more of the voltage", "write a small share, such as 2 %")


def _rising(values: Sequence[float]) -> bool:
    return all(low <= high for low, high in itertools.pairwise(values))


def _span(raw: object, shape: Shape = AMPS) -> parts.Span:
    low, usual, high = many(shape, 3, 3).read(raw)
    if not _rising((low, usual, high)):
        raise QuantityError("is not in rising order", "write lowest, usual, highest")
    return parts.Span(low, usual, high)


def _gates(raw: object) -> tuple[parts.Gate, ...]:
    rows = many(many(NUMBER, 3, 3), 2).read(raw)
    gates = tuple(parts.Gate(*row) for row in rows)
    if not _rising([one.multiple for one in gates]) or not _rising([-one.slowest for one in gates]):
        raise QuantityError("is not in order", "write multiples rising and times falling")
    if any(one.fastest > one.slowest for one in gates):
        raise QuantityError("has a fastest time above its slowest", "write [multiple, fastest s, slowest s]")
    return gates


def _ratings(raw: object) -> tuple[float, ...]:
    found: tuple[float, ...] = many(SOME, 1).read(raw)
    if not _rising(found):
        raise QuantityError("is not in rising order", "sort the ratings")
    return found


def _band(raw: object) -> parts.Price:
    low, high = many(NUMBER, 2, 2).read(raw)
    if low > high:
        raise QuantityError("is not in rising order", "write [lowest, highest]")
    return parts.Price(low, high)


def _ampacity(raw: object) -> dict[int, float]:
    if not isinstance(raw, dict) or not raw:
        raise QuantityError("is not a table of currents", 'write {"60" = 25, "75" = 25}')
    found = {}
    for key, amps in raw.items():
        if not str(key).isdigit():
            raise QuantityError(f"{key!r} is not an insulation temperature", "write whole degrees Celsius")
        found[int(key)] = float(SOME.read(amps))
    ordered = [found[key] for key in sorted(found)]
    if not _rising(ordered):
        raise QuantityError("falls with a hotter insulation", "check the row against its source")
    return {key: found[key] for key in sorted(found)}


def _plain(value: Any) -> object:
    return value


SPAN = Shape(_span, _plain, {"type": "array"})
POWER_SPAN = Shape(lambda raw: _span(raw, quantity(units.WATTS)), _plain, {"type": "array"})
GATES = Shape(_gates, _plain, {"type": "array"})
RATINGS = Shape(_ratings, _plain, {"type": "array"})
BAND = Shape(_band, _plain, {"type": "array"})
AMPACITY = Shape(_ampacity, _plain, {"type": "object"})
KILOGRAMS = Field("kilograms", MASS, "weight", True)
SOURCE = Field("source", NAME, "the id of its source", True)


@dataclass(frozen=True)
class Table:
    """One catalogue file: its list's name, its keys and the record that a row becomes."""

    name: str
    fields: tuple[Field, ...]
    make: Callable[..., Any]


def _row(*fields: Field) -> tuple[Field, ...]:
    return (*fields, SOURCE)


def _need(key: str, shape: Shape, says: str) -> Field:
    return Field(key, shape, says, True)


CONDUCTORS = Table(
    "conductor",
    _row(
        _need("id", CONDUCTOR, "the size: 12 AWG or 4 mm²"),
        _need("system", choice(*WireSystem), "which family it is sold in"),
        _need("area", SOME, "copper cross-section [mm²]"),
        Field("ohms_per_metre", SOME_OHMS, "resistance of one metre at 20 °C", True),
        _need("ampacity", AMPACITY, "allowable current at 30 °C by insulation temperature"),
        _need("grams_per_metre", NUMBER, "weight of one metre of one conductor [g]"),
    ),
    parts.Conductor,
)
INSULATIONS = Table(
    "insulation",
    _row(
        _need("id", CELSIUS, "highest conductor temperature"),
        _need("title", TEXT, "what it is sold as"),
        _need("k", SOME, "short-circuit constant [A√s/mm²]"),
        _need("price_factor", SOME, "price against the plainest insulation"),
        _need("sold", FLAG, "whether single cores are commonly sold with it"),
    ),
    lambda **row: parts.Insulation(celsius=float(row["id"]), **{**row, "id": insulation_id(row["id"])}),
)
FUSES = Table(
    "fuse",
    _row(
        _need("id", TEXT, "the family's name"),
        _need("title", TEXT, "in plain words"),
        _need("ratings", RATINGS, "current ratings made [A]"),
        _need("volts", SOME_VOLTS, "rated voltage"),
        _need("breaking", above_nought(BREAKING, STATED), "breaking capacity"),
        _need("drop", VOLTS, "drop at rated current"),
        _need("gates", GATES, "opening times: [multiple, fastest s, slowest s]"),
        KILOGRAMS,
    ),
    parts.FuseType,
)
CONTACTS = Table(
    "contact",
    _row(
        _need("id", TEXT, "the contact's name"),
        _need("title", TEXT, "in plain words"),
        _need("amps", SOME_AMPS, "rated current"),
        _need("ohms", OHMS, "resistance when sound"),
        _need("thinnest", NUMBER, "thinnest conductor taken [mm²]"),
        _need("thickest", SOME, "thickest conductor taken [mm²]"),
        _need("locks", FLAG, "whether it holds against a pull"),
        _need("fits", many(TEXT), "posts and sockets it goes on"),
        _need("stranded", choice(*Stranding), "how it treats stranded copper"),
        KILOGRAMS,
        _need("note", PROSE, "what to know"),
    ),
    parts.Contact,
)
SUPPLIES = Table(
    "supply",
    _row(
        _need("id", NAME, "the class's name"),
        _need("title", TEXT, "in plain words"),
        _need("technology", choice(*Technology), "how it regulates"),
        _need("volts", SOME_VOLTS, "set point as bought"),
        _need("tolerance", OFF_BY, "how far the set point may be off"),
        _need("regulation", OFF_BY, "sag from no load to full load"),
        _need("lowest", SOME_VOLTS, "lowest setting"),
        _need("highest", SOME_VOLTS, "highest setting"),
        _need("adjustable", FLAG, "whether a knob reaches the whole range"),
        _need("continuous", SOME_AMPS, "continuous current"),
        _need("peak", SOME_AMPS, "current while keyed for minutes"),
        _need("limit", SOME_AMPS, "current at which it limits"),
        _need("limiting", choice(*SUPPLY_LIMITING), "what it does at the limit"),
        _need("efficiency", PART, "output power over input power at full load"),
        _need("power_factor", PART, "real over apparent input power"),
        KILOGRAMS,
        _need("fan", choice(*Fan), "the fan's habit"),
        _need("rf_noise", choice(*RfNoise), "what it does to reception"),
        _need("over_voltage", FLAG, "whether it cuts off when its regulator fails"),
        _need("outlets", many(TEXT, 1), "posts and sockets on it"),
        Field("shares", FLAG, "whether alike ones share the current by design"),
        Field("meters", FLAG, "whether it shows volts and amperes"),
    ),
    parts.Supply,
)
STRIPS = Table(
    "strip",
    _row(
        _need("id", NAME, "the strip's name"),
        _need("title", TEXT, "in plain words"),
        _need("ways", SOME, "fused outlets"),
        _need("amps", SOME_AMPS, "rated current of the whole"),
        _need("inlet", many(TEXT, 1), "posts and sockets that take the feed"),
        _need("outlets", many(TEXT, 1), "posts and sockets that take the branches"),
        KILOGRAMS,
    ),
    parts.Strip,
)
EQUIPMENT = Table(
    "equipment",
    _row(
        _need("id", NAME, "the class's name"),
        _need("title", TEXT, "in plain words"),
        _need("group", choice(*EQUIPMENT_GROUPS), "what sort of thing"),
        _need("feed", choice(*PowerInput), "whether it takes direct current or plugs into the wall"),
        _need("nominal", SOME_VOLTS, "voltage at which the currents hold"),
        _need("lowest", VOLTS, "narrow reading of the window's floor"),
        _need("highest", VOLTS, "narrow reading of the window's ceiling"),
        _need("follows", choice(*LoadModel), "how the draw follows the voltage"),
        _need("receive", SPAN, "drawn when on and not keyed"),
        Field("transmit", SPAN, "drawn at key-down"),
        Field("busy", SPAN, "most ever drawn, for equipment that is never keyed"),
        _need("rest", AMPS, "drawn when switched off"),
        Field("mode", TEXT, "usual mode of operation"),
        Field("fuse", AMPS, "fuse in its own lead"),
        Field("inlet", TEXT, "the contact on its own inlet"),
        _need("low_volts", TEXT, "what it does when the voltage is too low"),
        _need("find", TEXT, "where the true figures stand"),
        Field("wall", POWER_SPAN, "power from the wall at key-down, for what plugs in there"),
        Field("lead", CONDUCTOR, "size of the lead that it usually comes with"),
        Field("lead_length", SOME_LENGTH, "length of that lead"),
        Field("lead_insulation", CELSIUS, "insulation of that lead"),
        Field("lead_fuse", TEXT, "family of the fuse in that lead"),
        Field("lead_legs", choice(*FusedLegs), "which of its legs are fused"),
        Field("note", PROSE, "what else to know"),
    ),
    lambda **row: _equipment(**row),
)


def _equipment(
    lead: str | None = None,
    lead_length: float = 0.0,
    lead_insulation: float = 0.0,
    lead_fuse: str = "",
    lead_legs: str = FusedLegs.POSITIVE,
    **row: Any,
) -> parts.Equipment:
    """A class of equipment, with the lead that it usually comes with."""
    supplied = lead and parts.SuppliedLead(lead, lead_length, insulation_id(lead_insulation), lead_fuse, lead_legs)
    absent = dict.fromkeys(("transmit", "busy", "mode", "fuse", "inlet"))
    return parts.Equipment(**{**absent, **row}, lead=supplied or None)


MAINS = Table(
    "mains_wire",
    _row(
        _need("id", CONDUCTOR, "the size"),
        Field("breaker", SOME_AMPS, "largest breaker that commonly guards it in a building"),
        Field("cord", SOME_AMPS, "current as a flexible lead, unrolled"),
    ),
    lambda **row: parts.MainsWire(**{"breaker": None, "cord": None, **row}),
)
MODES = Table(
    "mode",
    _row(
        _need("id", TEXT, "the mode"),
        _need("title", TEXT, "in plain words"),
        _need("duty", PART, "envelope power duty while keyed"),
        _need("steady", FLAG, "whether overs run for minutes at full current"),
        Field("on_off", FLAG, "whether the envelope is either full or nothing, as in Morse"),
    ),
    parts.Mode,
)
NOTES = Table(
    "sources",
    (
        _need("id", NAME, "the name rows cite"),
        _need("title", TEXT, "the document or statement"),
        _need("read", choice("primary", "secondary", "memory", "practice", "own"), "how firmly it was read"),
        Field("note", PROSE, "what was taken from it"),
    ),
    parts.SourceNote,
)
LIMITS = Table(
    "limits",
    _row(
        _need("window_margin", VOLTS, "volts in hand below which a window finding is thin"),
        _need("rating_margin", SHARE, "spare below which a rating finding is thin"),
        _need("fuse_margin", SHARE, "spare of a fuse over a momentary peak below which it is thin"),
        _need("drop_target", SOME_SHARE, "key-down drop that a plan keeps within, of nominal"),
        _need("drop_limit", SOME_SHARE, "key-down drop that is never sound, of nominal"),
        _need("continuous_factor", SOME_SHARE, "fuse and mains rating over a current held for hours"),
        _need("fuse_over_wire", SHARE, "most that a fuse may exceed its conductor's ampacity"),
        _need("fuse_reach", LENGTH, "farthest a fuse may sit from its source"),
        _need("fuse_reach_sheathed", LENGTH, "the same where the wire is sheathed or enclosed up to the fuse"),
        _need("fuse_usual", SHARE, "usual drop of a sound fuse, of the most its standard allows"),
        _need("as_built", SHARE, "allowance on a path's resistance as built"),
        _need("voice_headroom", SHARE, "supply headroom for voice and Morse when the owner states none"),
        _need("steady_headroom", SHARE, "the same for FM and digital modes"),
        _need("desk_lead", LENGTH, "one-way lead length on a desk when not measured"),
        _need("strip_lead", LENGTH, "one-way length from supply to fused strip when not measured"),
        _need("amplifier_lead", LENGTH, "longest usual lead of a 12 V-class amplifier fed from the mains"),
        _need("leads_on_posts", NUMBER, "most leads on one pair of posts"),
        _need("keyed", SHARE, "share of time keyed when not given"),
        _need("coldest", CELSIUS, "coldest air when not given"),
        _need("hottest", CELSIUS, "hottest air when not given"),
        _need("cabin_coldest", CELSIUS, "coldest air in a vehicle's cabin when not given"),
        _need("cabin_hottest", CELSIUS, "hottest air in a vehicle's cabin when not given"),
        Field("contact_watts", quantity(units.WATTS), "heat in one contact that is too much", True),
        _need("least_wire", SOME, "thinnest copper that bears handling [mm²]"),
        _need("joint_ohms", OHMS, "one crimped or bolted joint between two pieces of a lead"),
        _need("vehicle_lead", LENGTH, "one-way length from a vehicle's battery into the cab when not measured"),
        _need("engine_space", LENGTH, "how much of that lies beside the engine"),
        _need("engine_celsius", CELSIUS, "hottest air beside an engine"),
        _need("health", PART, "what age has left of a battery's capacity when not given"),
        _need("standby_days", NUMBER, "days that a parked vehicle must bear what is left on"),
        _need("insulation", CELSIUS, "insulation of a conductor whose insulation is not given"),
    ),
    lambda **row: parts.Limits(**{**row, "insulation": insulation_id(row["insulation"])}),
)


def insulation_id(celsius: float) -> str:
    """The id of an insulation class, from its temperature [°C]."""
    return f"{celsius:g} °C"
