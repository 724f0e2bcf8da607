"""What the catalogue knows, in columns."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from engine.parts import Price, Shelf, Span

STATIONS = "stations"


@dataclass(frozen=True)
class Column:
    """One column: its head with the unit, and what stands in it for a row."""

    head: str
    text: Callable[[Any], str]
    right: bool = True


def _plain(head: str, key: str) -> Column:
    """A figure of the row as it stands; nothing where there is none."""

    def text(row: Any) -> str:
        value = getattr(row, key)
        return "" if value is None else f"{value:g}"

    return Column(head, text)


def _span(head: str, key: str) -> Column:
    """A figure with its spread, from low to high."""

    def text(row: Any) -> str:
        value: Span | None = getattr(row, key)
        return (
            "" if value is None else f"{value.low:g} – {value.high:g}" if value.low < value.high else f"{value.high:g}"
        )

    return Column(head, text)


def _price(row: Any) -> str:
    price: Price = row.price
    return f"{price.low:g} – {price.high:g}" if price.high else ""


def _window(row: Any) -> str:
    return f"{row.lowest:g} – {row.highest:g}"


PRICE = Column("price", _price)
KILOGRAMS = _plain("kg", "kilograms")

COLUMNS: Mapping[str, Sequence[Column]] = {
    "equipment": (
        Column("window V", _window),
        _span("receive A", "receive"),
        _span("key-down A", "transmit"),
        _plain("fuse A", "fuse"),
    ),
    "supplies": (
        _plain("volts", "volts"),
        _plain("continuous A", "continuous"),
        _plain("keyed A", "peak"),
        KILOGRAMS,
        PRICE,
    ),
    "batteries": (_plain("Ah", "amp_hours"), _plain("continuous A", "continuous"), KILOGRAMS, PRICE),
    "chemistries": (
        _plain("cut-off V", "cut_off"),
        Column("drawn for long life %", lambda row: f"{row.depth * 100:g}"),
        _plain("charge from °C", "charge_from"),
    ),
    "vehicles": (
        _span("running V", "running"),
        _plain("charging V", "charging"),
        _plain("alternator A", "alternator"),
    ),
    "boosters": (_plain("gives V", "volts"), _plain("continuous A", "continuous"), KILOGRAMS, PRICE),
    "changeovers": (_plain("A", "amps"), _span("drop V", "drop"), KILOGRAMS, PRICE),
    "chargers": (_plain("A", "amps"), KILOGRAMS, PRICE),
    "panels": (_plain("W", "watts"), _plain("at V", "volts"), KILOGRAMS, PRICE),
    "contacts": (_plain("A", "amps"), PRICE),
    "fuses": (
        Column("ratings A", lambda row: f"{row.ratings[0]:g} – {row.ratings[-1]:g}"),
        _plain("volts", "volts"),
        _plain("breaks A", "breaking"),
        PRICE,
    ),
    "modes": (Column("keyed heating %", lambda row: f"{row.duty * 100:.0f}"),),
}
"""The figures by which one chooses, for each table that has some; the name and the title stand beside them."""


def lines(table: str, shelf: Shelf) -> Iterator[str]:
    """A table of the catalogue: the head, then a line for each row."""
    if table == STATIONS:
        yield from _aligned([["name", "station"], *_stations()], (False, False))
        return
    columns = COLUMNS.get(table, ())
    rows = [[key, *(column.text(row) for column in columns), row.title] for key, row in getattr(shelf, table).items()]
    head = ["name", *(column.head for column in columns), "what it is"]
    yield from _aligned([head, *rows], (False, *(column.right for column in columns), False))


def _aligned(rows: Sequence[Sequence[str]], right: Sequence[bool]) -> Iterator[str]:
    wide = [max(map(len, texts)) for texts in zip(*rows, strict=True)]
    for row in rows:
        cells = zip(row, wide, right, strict=True)
        yield "  ".join(f"{text:>{room}}" if is_right else f"{text:<{room}}" for text, room, is_right in cells).rstrip()


def _stations() -> Iterator[list[str]]:
    from engine.station.toml import parse
    from wizard import store

    for name, path in store.worked().items():
        yield [name, str(parse(path.read_text(encoding="utf-8")).get("name", ""))]
