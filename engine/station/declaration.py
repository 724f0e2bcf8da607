"""The tables of a station file, derived from the records that they become: each attribute declares its own key."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, get_args, get_type_hints

from engine.station.table import Field, Named, Shape


@dataclass(frozen=True)
class Key:
    """What an attribute of a record is in a file: its shape, its meaning, its key where that is another word, and the
    rows of the catalogue that it names.
    """

    shape: Shape
    says: str
    key: str = ""
    names: Named | None = None


@dataclass(frozen=True)
class Section:
    """An attribute that is a table of its own, ``[name]``."""

    name: str
    record: type


@dataclass(frozen=True)
class Rows:
    """An attribute that is a list of tables, ``[[name]]``."""

    name: str
    record: type


@dataclass(frozen=True)
class Table:
    """One table of a file: its name, the attribute of the whole that it fills, its record and that one's keys."""

    name: str
    attr: str
    record: type
    fields: tuple[Field, ...]

    @property
    def has_id(self) -> bool:
        """Whether its rows are parts that others refer to."""
        return any(one.key == "id" for one in self.fields)


def _declared(record: type, sort: type) -> dict[str, Any]:
    """What each attribute of a record declares of one sort, in the record's own order."""
    hints = get_type_hints(record, include_extras=True)
    found = {one.name: getattr(hints[one.name], "__metadata__", ()) for one in dataclasses.fields(record)}
    return {name: one for name, said in found.items() for one in said if isinstance(one, sort)}


def fields_of(record: type) -> tuple[Field, ...]:
    """The keys that a record declares; one that has no default and may not be None is required."""
    hints, own = get_type_hints(record), {one.name: one for one in dataclasses.fields(record)}
    made = []
    for name, key in _declared(record, Key).items():
        absent = own[name].default
        required = absent is dataclasses.MISSING and type(None) not in get_args(hints[name])
        default = None if absent is dataclasses.MISSING else absent
        made.append(Field(key.key or name, key.shape, key.says, required, name, key.names, default))
    return tuple(made)


def tables_of(record: type, sort: type) -> Mapping[str, Table]:
    """The sections, or the lists of tables, that a record declares, by the name in the file."""
    return {
        one.name: Table(one.name, attr, one.record, fields_of(one.record))
        for attr, one in _declared(record, sort).items()
    }
