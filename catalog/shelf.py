"""The loader: every table beside this module, then the owner's own rows, into one Shelf."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from catalog import energy, files, second_opinion, tables
from catalog.tables import Table
from engine.parts import Conductor, Price, Shelf
from engine.station.table import Problem, Problems, Reader, nearest
from engine.station.toml import parse
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


@dataclass(frozen=True)
class Stock:
    """Every table as read so far, and the file in which each row, price and margin stands."""

    rows: dict[str, dict[str, Any]]
    prices: dict[str, dict[str, Price]]
    limits: dict[str, Any]
    places: dict[tuple[str, str], Path]

    def where(self, name: str, key: str = "") -> str:
        """A row, a price or the margins, with their file."""
        return f"{self.places[name, key]}: {name} {key}".rstrip()

    def named(self) -> Iterable[tuple[str, str, Any]]:
        """Every row with its table and id."""
        return ((name, key, row) for name, rows in self.rows.items() for key, row in rows.items())


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
    stock = Stock({name: {} for name in FILES}, {name: {} for name in PRICED}, {}, {})
    for folder in (HERE, *([own] if own and _usable(own, found) else [])):
        _add(folder, stock, found)
    _cited(stock, found)
    _named(stock, found)
    _priced(stock, found)
    if found:
        raise Problems(found)
    return _shelf(stock)


def _add(folder: Path, stock: Stock, found: list[Problem]) -> None:
    """The tables of one folder, over those read before."""
    for name, table in FILES.items():
        path = folder / f"{name}.toml"
        for row in _rows(path, table, found):
            stock.rows[name][row.id] = row
            stock.places[name, row.id] = path
    path = folder / "prices.toml"
    for name, bands in _prices(path, found):
        stock.prices[name] |= bands
        stock.places.update({(f"prices {name}", key): path for key in bands})
    path = folder / "limits.toml"
    margins = _limits(path, found, whole=folder is HERE)
    stock.limits.update(margins)
    if margins:
        stock.places["limits", ""] = path


def _shelf(stock: Stock) -> Shelf:
    rows: dict[str, dict[str, Any]] = dict(stock.rows)
    for name in PRICED:
        prices = stock.prices[name]
        rows[name] = {key: replace(row, price=prices.get(key, row.price)) for key, row in rows[name].items()}
    rows["conductors"] = {key: replace(row, like=_like(row, rows)) for key, row in rows["conductors"].items()}
    return Shelf(limits=tables.LIMITS.make(**stock.limits), **rows)


def _usable(folder: Path, found: list[Problem]) -> bool:
    """Whether the owner's folder is there; what stands in its place or lies in it by mistake is a fault."""
    try:
        there = sorted(os.listdir(folder))
    except FileNotFoundError:
        if folder.is_symlink():
            found.append(Problem(str(folder), "is a link that leads nowhere", "mend or remove the link"))
        return False
    except OSError as error:
        found.append(Problem(str(folder), f"cannot be read ({files.reason(error)})", "make it a folder of tables"))
        return False
    known = [f"{name}.toml" for name in (*FILES, "prices", "limits")]
    for name in there:
        if name.casefold().endswith(".toml") and not name.startswith(".") and name not in known:
            found.append(
                Problem(str(folder / name), "is not a table known here", f"did you mean {nearest(name, known)}")
            )
    return True


def _priced(stock: Stock, found: list[Problem]) -> None:
    """A part without a price would be chosen before all others: every row that a plan may buy needs one."""
    for name in PRICED:
        for key in stock.rows[name]:
            if key not in stock.prices[name]:
                table = FILES[name].name
                remedy = f'add "{key}" = [lowest, highest] under [{table}] in prices.toml, [0, 0] when it is yours'
                found.append(Problem(stock.where(name, key), "has no price", remedy))


def _like(row: Conductor, stock: Mapping[str, Mapping[str, Any]]) -> str:
    """The thinnest conductor of the other family that has no less copper, within 3 %."""
    others = [one for one in stock["conductors"].values() if one.system != row.system and one.area >= 0.97 * row.area]
    return min(others, key=lambda one: one.area).id if others else ""


def _document(path: Path, found: list[Problem]) -> Mapping[str, Any]:
    """The document in a file; none where there is no such file."""
    try:
        return parse(files.decode(files.read_bytes(path)))
    except FileNotFoundError:
        if path.is_symlink():
            found.append(Problem(str(path), "is a link that leads nowhere", "mend or remove the link"))
    except files.FileTrouble as error:
        found.append(Problem(str(path), f"cannot be read ({error.what})", "mend or remove the file"))
    except Problems as error:
        found += [Problem(str(path), f"cannot be read ({one.what})", one.instead) for one in error.found]
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
                bands[id_] = tables.BAND.read(raw)
            except QuantityError:
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


def _cited(stock: Stock, found: list[Problem]) -> None:
    """Every row and every cause cites a source that is known."""
    cited = [(stock.where(name, key), row.source) for name, key, row in stock.named() if name != "sources"]
    symptoms = stock.rows["symptoms"].items()
    cited += [(stock.where("symptoms", key), one.source) for key, row in symptoms for one in row.causes]
    if "source" in stock.limits:
        cited.append((stock.where("limits"), stock.limits["source"]))
    for where, source in cited:
        if source not in stock.rows["sources"]:
            found.append(Problem(where, f"cites {source!r}, which is not in sources.toml", "add the source"))


def _named(stock: Stock, found: list[Problem]) -> None:
    """Rows that name a row of another table must name one that is there."""
    named = [(stock.where(f"prices {name}", id_), name, id_) for name, bands in stock.prices.items() for id_ in bands]
    named += [(stock.where(*at), table, id_) for *at, row in stock.named() for table, id_ in _names(at[0], row)]
    if "insulation" in stock.limits:
        named.append((stock.where("limits"), "insulations", tables.insulation_id(stock.limits["insulation"])))
    for where, name, id_ in named:
        if id_ not in stock.rows[name]:
            what = f"names {id_!r}, which is not in {name}.toml"
            found.append(Problem(where, what, f"did you mean {nearest(id_, stock.rows[name])}"))


def _names(name: str, row: Any) -> Iterable[tuple[str, str]]:
    """The rows of other tables that a row of table ``name`` names."""
    if name == "equipment" and row.mode:
        yield "modes", row.mode
    if name == "equipment" and row.lead:
        yield "conductors", row.lead.conductor
        yield "insulations", row.lead.insulation
        yield "fuses", row.lead.fuse
    if name == "batteries":
        yield "chemistries", row.chemistry
    if name == "powers":
        yield from (("equipment", one) for one in row.classes)
