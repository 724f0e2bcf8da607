"""The loader: every table beside this module, then the owner's own rows, into one Shelf."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from catalog import energy, second_opinion, tables
from catalog.tables import Table
from engine.parts import Conductor, Price, Shelf
from engine.station.table import Problem, Problems, Reader, nearest
from engine.units import QuantityError

HERE = Path(__file__).parent
STATIONS = HERE / "stations"

FILES: dict[str, Table] = {
    "sources": tables.NOTES,
    "conductors": tables.CONDUCTORS,
    "insulations": tables.INSULATIONS,
    "fuses": tables.FUSES,
    "contacts": tables.CONTACTS,
    "supplies": tables.SUPPLIES,
    "strips": tables.STRIPS,
    "equipment": tables.EQUIPMENT,
    "mains": tables.MAINS,
    "modes": tables.MODES,
    "chemistries": energy.CHEMISTRIES,
    "batteries": energy.BATTERIES,
    "vehicles": energy.VEHICLES,
    "changeovers": energy.CHANGEOVERS,
    "boosters": energy.BOOSTERS,
    "chargers": energy.CHARGERS,
    "panels": energy.PANELS,
    "powers": energy.POWERS,
    "instruments": second_opinion.INSTRUMENTS,
    "symptoms": second_opinion.SYMPTOMS,
}
PRICED = (
    "conductors",
    "fuses",
    "contacts",
    "supplies",
    "strips",
    "changeovers",
    "boosters",
    "chargers",
    "panels",
    "batteries",
)


@cache
def built_in() -> Shelf:
    """The catalogue as shipped."""
    return load()


def load(own: Path | None = None) -> Shelf:
    """The catalogue, with the rows of the owner's folder ``own`` added or put in place of rows of the same id.

    Raises:
        Problems: every fault of every table, with file and dotted key.

    """
    found: list[Problem] = []
    stock: dict[str, dict[str, Any]] = {name: {} for name in FILES}
    prices: dict[str, dict[str, Price]] = {name: {} for name in PRICED}
    limits: dict[str, Any] = {}
    for folder in (HERE, *([own] if own and own.is_dir() else [])):
        for name, table in FILES.items():
            for row in _rows(folder / f"{name}.toml", table, found):
                stock[name][row.id] = row
        for name, band in _prices(folder / "prices.toml", found):
            prices[name].update(band)
        limits |= _limits(folder / "limits.toml", found, whole=folder is HERE)
    _cited(stock, limits, found)
    _named(stock, prices, limits, found)
    _priced(stock, prices, found)
    if found:
        raise Problems(found)
    for name in PRICED:
        stock[name] = {key: replace(row, price=prices[name].get(key, row.price)) for key, row in stock[name].items()}
    stock["conductors"] = {key: replace(row, like=_like(row, stock)) for key, row in stock["conductors"].items()}
    return Shelf(limits=tables.LIMITS.make(**limits), **stock)


def _priced(
    stock: Mapping[str, Mapping[str, Any]], prices: Mapping[str, Mapping[str, Price]], found: list[Problem]
) -> None:
    """A part without a price would be chosen before all others: every row that a plan may buy needs one."""
    for name in PRICED:
        for key in stock[name]:
            if key not in prices[name]:
                table = FILES[name].name
                remedy = f'add "{key}" = [lowest, highest] under [{table}] in prices.toml, [0, 0] when it is yours'
                found.append(Problem(f"{name} {key}", "has no price", remedy))


def _like(row: Conductor, stock: Mapping[str, Mapping[str, Any]]) -> str:
    """The thinnest conductor of the other family that has no less copper, within 3 %."""
    others = [one for one in stock["conductors"].values() if one.system != row.system and one.area >= 0.97 * row.area]
    return min(others, key=lambda one: one.area).id if others else ""


def _document(path: Path, found: list[Problem]) -> Mapping[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, RecursionError) as error:
        found.append(Problem(str(path), f"cannot be read ({error})", "mend or remove the file"))
        return {}


def _only(document: Mapping[str, Any], known: Iterable[str], path: Path, found: list[Problem]) -> None:
    for key in document:
        if key not in known:
            found.append(Problem(f"{path}: {key}", "is not a table known here", f"did you mean {nearest(key, known)}"))


def _rows(path: Path, table: Table, found: list[Problem]) -> list[Any]:
    document = _document(path, found)
    _only(document, [table.name], path, found)
    reader, made, seen = Reader(), [], set()
    for index, raw in enumerate(reader.rows(document, table.name)):
        where = f"{path}: {table.name}[{index}]"
        before = len(reader.problems)
        values = reader.record(raw, table.fields, where)
        if len(reader.problems) > before:
            continue
        if values["id"] in seen:
            reader.fault(f"{where}.id", f"{values['id']!r} stands twice", "give each row an id of its own")
        seen.add(values["id"])
        made.append(table.make(**values))
    found += reader.problems
    return made


def _prices(path: Path, found: list[Problem]) -> list[tuple[str, dict[str, Price]]]:
    document = _document(path, found)
    names = {FILES[name].name: name for name in PRICED}
    _only(document, names, path, found)
    out = []
    for key, name in names.items():
        bands: dict[str, Price] = {}
        rows = document.get(key, {})
        if not isinstance(rows, Mapping):
            found.append(Problem(f"{path}: {key}", "is not a table", f"write a [{key}] section with ids and bands"))
            continue
        for id_, raw in rows.items():
            try:
                low, high = tables.RATINGS.read(raw)
                bands[id_] = Price(low, high)
            except (QuantityError, ValueError):
                found.append(Problem(f"{path}: {key}.{id_}", "is not a price band", "write [lowest, highest]"))
        out.append((name, bands))
    return out


def _limits(path: Path, found: list[Problem], whole: bool) -> dict[str, Any]:
    document = _document(path, found)
    _only(document, ["limits"], path, found)
    raw, reader = document.get("limits", {}), Reader()
    fields = tables.LIMITS.fields if whole else [replace(one, required=False) for one in tables.LIMITS.fields]
    values = reader.record(raw, fields, f"{path}: limits")
    found += reader.problems
    return values


def _cited(stock: Mapping[str, Mapping[str, Any]], limits: Mapping[str, Any], found: list[Problem]) -> None:
    known = stock["sources"]
    cited = [
        (f"{name} {key}", row.source) for name, rows in stock.items() if name != "sources" for key, row in rows.items()
    ]
    cited += [(f"symptoms {key}", one.source) for key, row in stock["symptoms"].items() for one in row.causes]
    cited.append(("limits", limits.get("source")))
    for where, source in cited:
        if source is not None and source not in known:
            found.append(Problem(where, f"cites {source!r}, which is not in sources.toml", "add the source"))


def _named(
    stock: Mapping[str, Mapping[str, Any]],
    prices: Mapping[str, Mapping[str, Price]],
    limits: Mapping[str, Any],
    found: list[Problem],
) -> None:
    """Rows that name a row of another table must name one that is there."""
    named = [(f"prices {name}", name, id_) for name, bands in prices.items() for id_ in bands]
    named += [("equipment " + key, "modes", row.mode) for key, row in stock["equipment"].items() if row.mode]
    named += [("batteries " + key, "chemistries", row.chemistry) for key, row in stock["batteries"].items()]
    named += [("powers " + key, "equipment", one) for key, row in stock["powers"].items() for one in row.classes]
    if "insulation" in limits:
        named.append(("limits", "insulations", tables.insulation_id(limits["insulation"])))
    for where, name, id_ in named:
        if id_ not in stock[name]:
            what = f"names {id_!r}, which is not in {name}.toml"
            found.append(Problem(where, what, f"did you mean {nearest(id_, stock[name])}"))
