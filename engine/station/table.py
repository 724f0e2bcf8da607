"""Reading and writing tables: keys are declared once, faults are collected and named all at once."""

from __future__ import annotations

import difflib
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from engine import units
from engine.characters import escaped, first_hidden
from engine.units import Kind, QuantityError

Raw = Mapping[str, object]


@dataclass(frozen=True)
class Problem:
    """One fault of a file or an answer: where it is, what is wrong, what to write instead."""

    where: str
    what: str
    instead: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}; {self.instead}" if self.where else f"{self.what}; {self.instead}"


class Problems(Exception):
    """Everything wrong with one file, at once."""

    def __init__(self, found: Sequence[Problem]) -> None:
        super().__init__("\n".join(map(str, found)))
        self.found = tuple(found)


@dataclass(frozen=True)
class Shape:
    """What a value must look like: how to read it, how to write it, and its JSON Schema."""

    read: Callable[[object], Any]
    write: Callable[[Any], object]
    schema: Mapping[str, object]
    kind: Kind | None = None
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Named:
    """The rows of the catalogue that a value must name: those of some tables of the shelf, or of one kind in them.

    ``none`` is a word that may stand in place of a name.
    """

    tables: tuple[str, ...]
    kind: str = ""
    none: str = ""

    def rows(self, shelf: object) -> dict[str, object]:
        """The rows of a shelf by id."""
        found = {key: row for table in self.tables for key, row in getattr(shelf, table).items()}
        return {key: row for key, row in found.items() if self.kind in ("", getattr(row, "kind", ""))}


@dataclass(frozen=True)
class Field:
    """One key of a table: its shape, its meaning in a sentence, and whether it must be there.

    ``names`` are the catalogue's rows that it refers to; ``default`` is the attribute where the key is absent.
    """

    key: str
    shape: Shape
    says: str
    required: bool = False
    attr: str = ""
    names: Named | None = None
    default: Any = None

    @property
    def name(self) -> str:
        """The attribute of the record that the key fills."""
        return self.attr or self.key


def _same(value: Any) -> object:
    return value


def quantity(kind: Kind) -> Shape:
    """Text with a unit, such as ``"22 A"``."""

    def take(raw: object) -> float:
        if isinstance(raw, str):
            return units.read(raw, kind)
        if isinstance(raw, (int, float)) and not isinstance(raw, bool):
            raise QuantityError(f"the number {raw:.15g} has no unit", f'write it as text, for example "{kind.example}"')
        raise QuantityError("is not a quantity", f'write it as text, for example "{kind.example}"')

    schema = {"type": "string", "description": f"a {kind.name}, for example {kind.example}"}
    return Shape(take, lambda value: units.spell(value, kind), schema, kind)


def _text(raw: object, allowed: str = "\n\t") -> str:
    if not isinstance(raw, str):
        raise QuantityError("is not text", "write it between quotation marks")
    if not raw.strip():
        raise QuantityError("is empty", "leave the key out if there is nothing to say")
    if len(raw) > 2000:
        raise QuantityError("is longer than 2000 characters", "shorten it")
    if char := first_hidden(raw, allowed):
        raise QuantityError(f"contains a character that cannot be seen ({escaped(char)})", "type the text again")
    return raw


def _line(raw: object) -> str:
    return _text(raw, "\t")


TEXT = Shape(_line, _same, {"type": "string"})
"""Text of one line."""

PROSE = Shape(_text, _same, {"type": "string"})
"""Text of several lines."""


def above_nought(shape: Shape, instead: str = "leave the key out if it is not known") -> Shape:
    """The same shape without nought."""

    def take(raw: object) -> float:
        value: float = shape.read(raw)
        if value <= 0:
            raise QuantityError("is zero" if value == 0 else "is below zero", instead)
        return value

    return replace(shape, read=take)


def up_to(shape: Shape, most: float, what: str, instead: str) -> Shape:
    """The same shape up to ``most`` [SI], that included; ``what`` is wrong with more."""

    def take(raw: object) -> float:
        value: float = shape.read(raw)
        if value > most:
            raise QuantityError(what, instead)
        return value

    return replace(shape, read=take)


def below(shape: Shape, most: float, what: str, instead: str) -> Shape:
    """The same shape below ``most`` [SI]; ``what`` is wrong with that and more."""
    return up_to(shape, math.nextafter(most, 0), what, instead)


def part_of_whole(shape: Shape) -> Shape:
    """A share above nought and up to the whole."""
    return above_nought(up_to(shape, 1, "is above 100 %", "write a share up to 100 %"))


def _name(raw: object) -> str:
    text = _line(raw)
    if len(text) > 40 or not text.replace("-", "").replace("_", "").isalnum():
        raise QuantityError(f"{text[:40]!r} cannot be a name", "use up to 40 letters, digits, - and _")
    return text


NAME = Shape(_name, _same, {"type": "string", "pattern": "^[\\w-]{1,40}$"})


def _number(raw: object) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)):
        raise QuantityError("is not a number", "write a plain number without quotation marks")
    if not 0 <= raw <= 1e7:
        raise QuantityError(f"{raw:.15g} is not usable", "write a number from 0 to 10000000")
    return raw


NUMBER = Shape(_number, _same, {"type": "number", "minimum": 0})


def _flag(raw: object) -> bool:
    if not isinstance(raw, bool):
        raise QuantityError("is not true or false", "write true or false, without quotation marks")
    return raw


FLAG = Shape(_flag, _same, {"type": "boolean"})


def choice(*options: str) -> Shape:
    """One of a few words."""

    def take(raw: object) -> str:
        text = _line(raw)
        found = next((one for one in options if one.casefold() == text.strip().casefold()), None)
        if found is None:
            raise QuantityError(f"{text[:40]!r} is not one of the choices", f"write {nearest(text, options)}")
        return found

    return Shape(take, _same, {"enum": list(options)}, words=options)


def many(inner: Shape, least: int = 0, most: int = 60) -> Shape:
    """A list of values of one shape."""

    def take(raw: object) -> tuple[Any, ...]:
        if not isinstance(raw, list):
            raise QuantityError("is not a list", "write the values between [ and ]")
        if not least <= len(raw) <= most:
            count = f"{least}" if least == most else f"{least} to {most}"
            raise QuantityError(f"has {len(raw)} values", f"write {count} values")
        return tuple(inner.read(one) for one in raw)

    schema = {"type": "array", "items": inner.schema, "minItems": least, "maxItems": most}
    return Shape(take, lambda values: [inner.write(one) for one in values], schema)


CONDUCTOR = Shape(
    lambda raw: units.conductor_name(_line(raw)),
    _same,
    {"type": "string", "description": "a conductor size, for example 12 AWG or 4 mm²"},
)


def nearest(text: str, options: Iterable[str]) -> str:
    """The known word closest to ``text``, or the whole list when none is close."""
    known = list(options)
    lower = {one.casefold(): one for one in known}
    close = difflib.get_close_matches(text.casefold()[:80], lower, n=1, cutoff=0.6)
    if close:
        return f"{lower[close[0]]!r}?" if len(known) > 12 else f"{lower[close[0]]!r}? (known: {', '.join(known)})"
    shown = ", ".join(known[:24]) + (" ..." if len(known) > 24 else "")
    return f"one of: {shown}" if known else "nothing: no such thing is known"


@dataclass
class Reader:
    """Collects every fault of one document while its tables are read."""

    problems: list[Problem] = field(default_factory=list)

    def fault(self, where: str, what: str, instead: str) -> None:
        """Note one fault."""
        self.problems.append(Problem(where, what, instead))

    def record(self, raw: object, fields: Sequence[Field], where: str, beside: Sequence[str] = ()) -> dict[str, Any]:
        """The attributes of one table; unknown, missing and unreadable keys become faults.

        ``beside`` are keys read elsewhere, which an unknown one may have meant.
        """
        if not isinstance(raw, Mapping):
            self.fault(where, "is not a table", f"write a [{where}] section with keys and values")
            return {}
        known = {one.key: one for one in fields}
        dot = f"{where}." if where else ""
        for key in raw:
            if key not in known:
                self.fault(
                    f"{dot}{key}", "is not a key known here", f"did you mean {nearest(str(key), [*known, *beside])}"
                )
        values: dict[str, Any] = {}
        for one in fields:
            if one.key in raw:
                value = self.value(one.shape, raw[one.key], f"{dot}{one.key}")
                if value is not None:
                    values[one.name] = value
            elif one.required:
                self.fault(f"{dot}{one.key}", "is missing", f"add it: {one.says}")
        return values

    def value(self, shape: Shape, raw: object, where: str) -> Any:
        """One value, or None with its fault noted."""
        try:
            return shape.read(raw)
        except QuantityError as error:
            self.fault(where, error.what, error.instead)
            return None

    def rows(self, raw: Raw, key: str) -> list[Any]:
        """The list of tables under ``key``; anything else is a fault."""
        found = raw.get(key, [])
        if not isinstance(found, list):
            self.fault(key, "is not a list of tables", f"write [[{key}]] above each")
            return []
        if len(found) > 200:
            self.fault(key, f"has {len(found)} entries", "keep to 200")
            return []
        return found

    def done(self) -> None:
        """Raise every fault found, if any.

        Raises:
            Problems: one or more faults were noted.

        """
        if self.problems:
            raise Problems(self.problems)


def schema_of(fields: Sequence[Field]) -> dict[str, object]:
    """The JSON Schema of one table."""
    properties = {one.key: {**one.shape.schema, "title": one.says} for one in fields}
    required = [one.key for one in fields if one.required]
    return {"type": "object", "additionalProperties": False, "properties": properties, "required": required}
