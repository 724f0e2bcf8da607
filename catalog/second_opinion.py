"""The keys of the two tables that a second opinion reads: instruments and symptoms."""

from __future__ import annotations

from typing import Any

from catalog.tables import AMPS, OHMS, SHARE, SOURCE, VOLTS, Table
from engine import parts
from engine.station.table import NAME, PROSE, TEXT, Field, Reader, Shape, choice
from engine.units import QuantityError

INSTRUMENT_KEYS = (
    Field("id", TEXT, "the sort of meter", True),
    Field("title", TEXT, "in plain words", True),
    Field("volts_share", SHARE, "most it may be off, of the volts shown"),
    Field("volts", VOLTS, "and beside that, in volts"),
    Field("small_volts", VOLTS, "the same on its smallest range, below 0.2 V"),
    Field("amps_share", SHARE, "most it may be off, of the current shown"),
    Field("amps", AMPS, "and beside that, in amperes"),
    Field("ohms_share", SHARE, "most it may be off, of the resistance shown"),
    Field("ohms", OHMS, "and beside that, in ohms: the resistance of its leads"),
    Field("note", PROSE, "what to know", True),
    SOURCE,
)
INSTRUMENTS = Table(
    "instrument",
    INSTRUMENT_KEYS,
    lambda **row: parts.Instrument(**{**dict.fromkeys(one.key for one in INSTRUMENT_KEYS), **row}),
)

WHERE = ("supply", "path", "fuse", "battery", "radio", "noise", "elsewhere")
CAUSE_KEYS = (
    Field("cause", TEXT, "what it may be", True),
    Field("apart", TEXT, "what tells it from the other causes", True),
    Field("ask", TEXT, "the measurement or question that decides", True),
    Field("then", TEXT, "what to do if so", True),
    Field("about", choice(*WHERE), "where it lies; elsewhere is no power problem", True),
    SOURCE,
)


def _causes(raw: object) -> tuple[parts.SymptomCause, ...]:
    if not isinstance(raw, list) or not raw:
        raise QuantityError("holds no cause", "write [[symptom.causes]] above each cause")
    reader = Reader()
    rows = [reader.record(one, CAUSE_KEYS, f"causes[{index}]") for index, one in enumerate(raw)]
    if reader.problems:
        first = reader.problems[0]
        raise QuantityError(f"{first.where} {first.what}", first.instead)
    return tuple(parts.SymptomCause(**row) for row in rows)


def _plain(value: Any) -> object:
    return value


SYMPTOMS = Table(
    "symptom",
    (
        Field("id", NAME, "the symptom's name", True),
        Field("title", TEXT, "in plain words", True),
        Field("first", TEXT, "what to do before anything else", True),
        Field("causes", Shape(_causes, _plain, {"type": "array"}), "its causes, likeliest first", True),
        SOURCE,
    ),
    parts.Symptom,
)
