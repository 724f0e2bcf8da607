"""A station file's tables into a Station: every fault of structure and of reference, named at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from engine.parts import Shelf
from engine.station import constraints
from engine.station.declaration import Table
from engine.station.model import LISTS, PARTS, SECTIONS, TOP, Load, Run, Source, Station
from engine.station.shapes import NO_LEAD
from engine.station.table import Reader, nearest
from engine.terms import SUN, PowerInput, SourceKind

FORMAT = 1
DERIVED = ("verdict", "choice", "assumption", "finding", "switching", "bill", "caution", "must")
"""Tables that Shackrail writes below the station; all but the choices are made anew and never read."""


@dataclass(frozen=True)
class Row:
    """A record as read, with its place in the file."""

    where: str
    record: Any


def read_station(document: Mapping[str, object], shelf: Shelf, reader: Reader) -> Station | None:
    """The station in ``document``; faults go to ``reader``. None when too little could be read."""
    tables = (*LISTS, *SECTIONS)
    own = {key: value for key, value in document.items() if key not in DERIVED and key not in tables}
    top = reader.record(own, TOP, "", tables)
    if top.pop("format", FORMAT) != FORMAT:
        what = f"{document['format']:g} is a format this version does not know"
        reader.fault("format", what, f"write format = {FORMAT}")
    sections = {name: _section(document, one, shelf, reader) for name, one in SECTIONS.items()}
    rows = {name: _records(document, one, reader) for name, one in LISTS.items()}
    _constraints(rows, shelf, reader)
    _together(top.get("keyed_together", ()), rows["load"], reader)
    if reader.problems or "name" not in top:
        return None
    filled = {SECTIONS[name].attr: one for name, one in sections.items() if one is not None}
    lists: dict[str, Any] = {LISTS[name].attr: tuple(row.record for row in found) for name, found in rows.items()}
    return Station(**top, **filled, **lists)


def _section(document: Mapping[str, object], table: Table, shelf: Shelf, reader: Reader) -> Any:
    """The record of one section; None where the file has none."""
    if table.name not in document:
        return None
    values = reader.record(document[table.name], table.fields, table.name)
    if table.name == "site":
        _site(values, reader)
    record = table.record(**values)
    _names(Row(table.name, record), table, shelf, reader)
    return record


def _site(site: Mapping[str, Any], reader: Reader) -> None:
    """The mains side: each size with its length."""
    for wire, length in (("circuit_wire", "circuit_length"), ("extension", "extension_length")):
        if (wire in site) != (length in site):
            missing = length if wire in site else wire
            reader.fault(f"site.{missing}", "is missing beside the other", "give size and length, or neither")


def _records(document: Mapping[str, object], table: Table, reader: Reader) -> list[Row]:
    found = []
    for index, raw in enumerate(reader.rows(document, table.name)):
        where = f"{table.name}[{index}]"
        values = reader.record(raw, table.fields, where)
        if all(one.name in values for one in table.fields if one.required):
            absent = {one.name: one.default for one in table.fields if one.name not in values}
            found.append(Row(where, table.record(**absent, **values)))
    return found


def _names(row: Row, table: Table, shelf: Shelf, reader: Reader) -> None:
    """Whatever names a row of the catalogue must name one that is there."""
    for one in table.fields:
        value = getattr(row.record, one.name)
        if one.names is None or value is None or value == one.names.none:
            continue
        known = one.names.rows(shelf)
        if isinstance(value, tuple):
            for index, inner in enumerate(value):
                _known(inner, known, f"{row.where}.{one.key}[{index}]", reader)
        else:
            _known(value, known, f"{row.where}.{one.key}", reader)


def _together(groups: Sequence[Sequence[str]], rows: Sequence[Row], reader: Reader) -> None:
    loads = {row.record.id for row in rows}
    for index, group in enumerate(groups):
        for one in group:
            if one not in loads:
                reader.fault(f"keyed_together[{index}]", f"{one!r} is not a load", f"write {nearest(one, loads)}")


def _constraints(rows: Mapping[str, Sequence[Row]], shelf: Shelf, reader: Reader) -> None:
    """What the keys of a row ask of each other, and the rows of one table of another."""
    _unique(rows, reader)
    for name, found in rows.items():
        for row in found:
            _names(row, LISTS[name], shelf, reader)
    for row in rows["load"]:
        _load(row, shelf, reader)
    for row in rows["source"]:
        _source(row, rows["source"], shelf, reader)
    for row in rows["run"]:
        _run(row, shelf, reader)
    _tree(rows, reader)
    constraints.check({name: [row.record for row in found] for name, found in rows.items()}, reader)


def _known(
    value: str | None, known: Mapping[str, object], where: str, reader: Reader, what: str = "in the catalogue"
) -> None:
    if value is not None and value not in known:
        reader.fault(where, f"{value[:40]!r} is not {what}", f"did you mean {nearest(value, known)}")


def _unique(rows: Mapping[str, Sequence[Row]], reader: Reader) -> None:
    seen: dict[str, str] = {}
    for row in (row for name in PARTS for row in rows[name]):
        if row.record.id in seen:
            reader.fault(f"{row.where}.id", f"{row.record.id!r} is also {seen[row.record.id]}", "give it another id")
        seen.setdefault(row.record.id, row.where)


def _load(row: Row, shelf: Shelf, reader: Reader) -> None:
    load: Load = row.record
    if load.lead == NO_LEAD and load.lead_length is not None:
        reader.fault(f"{row.where}.lead_length", "stands beside no lead", "leave it out, or give the size of the lead")
    elif load.lead != NO_LEAD and (load.lead is None) != (load.lead_length is None):
        missing = "lead" if load.lead is None else "lead_length"
        reader.fault(f"{row.where}.{missing}", "is missing beside the other", "give size and length, or neither")
    if load.window and (load.lowest is not None or load.highest is not None):
        reader.fault(f"{row.where}.window", "stands beside lowest or highest", "keep the window, or the two limits")
    if load.lowest is not None and load.highest is not None and load.lowest >= load.highest:
        reader.fault(f"{row.where}.lowest", "is not below highest", "exchange or correct the two")
    row_of = shelf.equipment.get(load.equipment or "")
    for key in ("wall", "mains", "circuit"):
        if getattr(load, key) is not None and (row_of is None or row_of.feed != PowerInput.MAINS):
            reader.fault(f"{row.where}.{key}", "is for what plugs into the wall itself", "leave it out here")
    if load.transmit is not None and load.receive is not None and load.receive > load.transmit:
        reader.fault(f"{row.where}.receive", "is more than transmit", "exchange or correct the two")


def _parts(source: Source, shelf: Shelf) -> Mapping[str, object]:
    """The catalogue rows that a source of its class may be."""
    tables: dict[str, Mapping[str, object]] = {
        "vehicle": shelf.vehicles,
        "battery": shelf.batteries,
        "booster": shelf.boosters,
    }
    if source.technology is None:
        return {**shelf.supplies, **tables["vehicle"], **tables["battery"], **tables["booster"]}
    return tables.get(source.technology, shelf.supplies)


def _source(row: Row, sources: Sequence[Row], shelf: Shelf, reader: Reader) -> None:
    source: Source = row.record
    _known(source.part, _parts(source, shelf), f"{row.where}.part", reader)
    others = {one.record.id: one for one in sources if one is not row} | {SUN: row}
    _known(source.charged_by, others, f"{row.where}.charged_by", reader, "a source of this station")
    if source.continuous is not None and source.peak is not None and source.peak < source.continuous:
        reader.fault(f"{row.where}.peak", "is below continuous", "exchange or correct the two")
    if source.lowest is not None and source.highest is not None and source.lowest > source.highest:
        reader.fault(f"{row.where}.lowest", "is above highest", "exchange or correct the two")


def _run(row: Row, shelf: Shelf, reader: Reader) -> None:
    run: Run = row.record
    if run.insulation is not None and f"{run.insulation:g} °C" not in shelf.insulations:
        known = ", ".join(shelf.insulations)
        reader.fault(
            f"{row.where}.insulation", f"{run.insulation:g} °C is not a class known here", f"write one of {known}"
        )
    if run.tail_length is not None and run.tail is None:
        reader.fault(f"{row.where}.tail_length", "stands without tail", "write the size of that piece as tail")
    if None not in (run.length, run.tail_length) and (run.tail_length or 0) > (run.length or 0):
        reader.fault(f"{row.where}.tail_length", "is longer than length", "length is the whole way, tail included")


def _tree(rows: Mapping[str, Sequence[Row]], reader: Reader) -> None:
    """Every run must lead from a source or strip to a load or strip, each fed once, and in no circle."""
    boosters = {row.record.id for row in rows["source"] if row.record.technology == SourceKind.BOOSTER}
    changeovers = {row.record.id for row in rows["changeover"]}
    starts = {row.record.id for name in ("source", "strip", "changeover") for row in rows[name]}
    ends = {row.record.id for name in ("load", "strip") for row in rows[name]} | boosters | changeovers
    fed: dict[str, list[str]] = {}
    for row in rows["run"]:
        _ends(row, starts, ends, len(rows["source"]) > 1 and not changeovers, reader)
        end = row.record.end
        if len(fed.get(end, ())) >= (2 if end in changeovers else 1):
            instead = "feed a changeover by two runs" if end in changeovers else "feed each load by one run"
            reader.fault(f"{row.where}.to", f"{end!r} is already fed by {fed[end][-1]}", instead)
        fed.setdefault(end, []).append(row.where)
    if len(changeovers) > 1:
        reader.fault("changeover", "stands twice", "describe one changeover")
    _circles(rows["run"], reader)


def _ends(row: Row, starts: set[str], ends: set[str], several: bool, reader: Reader) -> None:
    run: Run = row.record
    if run.start is None and several:
        reader.fault(f"{row.where}.from", "is missing and there are several sources", f"write {nearest('', starts)}")
    if run.start is not None and run.start not in starts:
        reader.fault(
            f"{row.where}.from", f"{run.start!r} is not a source or strip", f"write {nearest(run.start, starts)}"
        )
    if run.end not in ends:
        reader.fault(f"{row.where}.to", f"{run.end!r} is not a load or strip", f"write {nearest(run.end, ends)}")


def _circles(runs: Sequence[Row], reader: Reader) -> None:
    above: dict[str, list[str]] = {}
    for row in runs:
        above.setdefault(row.record.end, []).append(row.record.start or "")
    for row in runs:
        reached, fresh = set[str](), {row.record.end}
        while fresh:
            fresh = {start for end in fresh for start in above.get(end, ())} - reached
            reached |= fresh
        if row.record.end in reached:
            reader.fault(f"{row.where}.from", "leads round in a circle", "let every run lead away from a source")
