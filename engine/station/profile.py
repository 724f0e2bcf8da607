"""A station and its verdict as TOML text, and back. Reading takes the station and the reasons of its choices."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from engine.findings import Choice, Refused
from engine.parts import Shelf
from engine.station.model import LISTS, SECTIONS, TOP, Station
from engine.station.reading import DERIVED, FORMAT, read_station
from engine.station.table import NAME, TEXT, Field, Problem, Problems, Reader, many, schema_of
from engine.station.toml import dump, parse

REFUSED = (
    Field("candidate", TEXT, "the cheaper candidate", True),
    Field("rule", TEXT, "the rule that refused it", True),
    Field("says", TEXT, "the figure and the limit", True),
)
CHOICE = (
    Field("about", TEXT, "part.key", True),
    Field("chosen", TEXT, "what was chosen", True),
    Field("because", TEXT, "why", True),
    Field("filled", many(NAME), "the keys that the plan wrote", True),
)

HEAD = """\
# A Shackrail station profile. Everything down to the line of dashes is yours to edit: quantities are text with
# a unit, an absent key is a gap. What follows that line is written anew at every save.

"""
LINE = "\n# ----------------------------------------------------------------------------------------------------\n\n"


REASONED = ("part", "charger", "conductor", "fuse", "contacts", "panel", "controller")
"""The keys that a plan gives reasons for."""


@dataclass(frozen=True)
class Profile:
    """What a file holds: the station, and why the plan chose what it chose in it."""

    station: Station
    choices: tuple[Choice, ...] = ()


def read(text: str, shelf: Shelf) -> Profile:
    """The profile in ``text``.

    Raises:
        Problems: every fault of the file, each with its key and a remedy.

    """
    return from_document(parse(text), shelf)


def from_document(document: Mapping[str, Any], shelf: Shelf) -> Profile:
    """The profile in a TOML document already parsed.

    Raises:
        Problems: every fault of the document.

    """
    reader = Reader()
    station = read_station(document, shelf, reader)
    choices = tuple(
        _choice(raw, f"choice[{index}]", reader) for index, raw in enumerate(reader.rows(document, "choice"))
    )
    reader.done()
    if station is None:
        raise Problems([Problem("", "the file holds no station", "start with format and name")])
    return Profile(station, tuple(one for one in choices if one and stands(station, one)))


def _choice(raw: object, where: str, reader: Reader) -> Choice | None:
    if not isinstance(raw, Mapping):
        reader.fault(where, "is not a table", "delete the choices: plan writes them anew")
        return None
    before = len(reader.problems)
    values = reader.record({key: value for key, value in raw.items() if key != "refused"}, CHOICE, where)
    refused = [
        reader.record(one, REFUSED, f"{where}.refused[{n}]") for n, one in enumerate(reader.rows(raw, "refused"))
    ]
    if len(reader.problems) > before:
        return None
    return Choice(refused=tuple(Refused(**one) for one in refused), **values)


def part_of(station: Station, id_: str) -> Any:
    """The load, source, strip or run of that id, or the sun; or None."""
    return station.sun if id_ == "sun" else next((one for one in station.parts if one.id == id_), None)


def stands(station: Station, choice: Choice) -> bool:
    """Whether what a choice wrote is still in the station, so that its reason still holds."""
    id_, _, key = choice.about.partition(".")
    part = part_of(station, id_)
    if part is None or key not in REASONED:
        return False
    if key in ("part", "charger", "panel", "controller"):
        return choice.chosen.endswith(f"({getattr(part, key, None)})")
    if key == "conductor":
        insulation = "" if part.insulation is None else f"{part.insulation:g} °C"
        return choice.chosen.startswith(f"{part.conductor}, {insulation}")
    if key == "fuse":
        return choice.chosen == f"{part.fuse or 0:g} A {part.fuse_type}"
    return choice.chosen == " / ".join(part.contacts or ())


def station_document(station: Station) -> dict[str, Any]:
    """The station as a TOML document, gaps left out, in the owner's own spelling."""
    document: dict[str, Any] = {"format": FORMAT} | _table(station, TOP[1:])
    for name, one in SECTIONS.items():
        record = getattr(station, one.attr)
        table = _table(record, one.fields) if record else {}
        if table:
            document[name] = table
    for name, one in LISTS.items():
        rows = [_table(record, one.fields) for record in getattr(station, one.attr)]
        if rows:
            document[name] = rows
    return document


def _table(record: Any, fields: Sequence[Field]) -> dict[str, Any]:
    """What the owner gave: nought, none and false are words of the owner's, except where they say nothing new."""
    values = {one.key: (one, getattr(record, one.name)) for one in fields}
    return {key: one.shape.write(value) for key, (one, value) in values.items() if value not in (None, (), one.default)}


def write(station: Station, derived: Mapping[str, Any] | None = None) -> str:
    """The profile's text: the station, then what was derived from it."""
    return with_derived(HEAD + dump(station_document(station)), derived)


def with_derived(text: str, derived: Mapping[str, Any] | None) -> str:
    """The owner's part of a profile, and beneath the line of dashes what was derived from it."""
    return text + LINE + dump(derived) if derived else text


def schema() -> dict[str, object]:
    """The JSON Schema of a station file."""
    own = schema_of(TOP)
    properties: dict[str, object] = dict(own["properties"])  # type: ignore[call-overload]
    properties |= {name: schema_of(one.fields) for name, one in SECTIONS.items()}
    properties |= {name: {"type": "array", "items": schema_of(one.fields)} for name, one in LISTS.items()}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Shackrail station file",
        **own,
        "properties": properties | dict.fromkeys(DERIVED, True),
    }


if __name__ == "__main__":
    print(json.dumps(schema(), ensure_ascii=False, indent=1))
