"""Faults of meter readings that only the rest of the station file can show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from engine.fields import Reader, nearest
from engine.keys import KEYED, NO_LOAD
from engine.parts import Shelf
from engine.station import NO_FUSE, Reading


def check(rows: Mapping[str, Sequence[Any]], shelf: Shelf, reader: Reader) -> None:
    """Note every fault of the readings among ``rows``, the records of a file by table."""
    ids = {one.id for name in ("load", "source", "strip", "run") for one in rows[name]}
    runs = {one.id: one for one in rows["run"]}
    for index, one in enumerate(rows["reading"]):
        where = f"reading[{index}]"
        if one.at not in ids:
            what = f"{one.at!r} is no source, strip, load or run"
            reader.fault(f"{where}.at", what, f"write {nearest(one.at, ids)}")
            continue
        _place(one, runs, where, reader)
        _values(one, where, reader)
        _keyed(one, rows, where, reader)
        for key in ("instrument", "amps_instrument"):
            name = getattr(one, key)
            if name is not None and name not in shelf.instruments:
                what = f"{name[:40]!r} is not in the catalogue"
                reader.fault(f"{where}.{key}", what, f"did you mean {nearest(name, shelf.instruments)}")


def _place(one: Reading, runs: Mapping[str, Any], where: str, reader: Reader) -> None:
    if one.at not in runs and one.across is not None:
        reader.fault(f"{where}.across", f"{one.at!r} is not a run", "name a run under at, or leave across out")
    if one.at in runs and one.across is None and one.amps is None:
        reader.fault(f"{where}.across", "is missing for a run", "write fuse, contacts, copper or run")
    if one.leg is not None and one.across is None:
        reader.fault(f"{where}.leg", "stands beside no across", "write across too, or leave leg out")
    if one.across == "fuse" and one.at in runs and runs[one.at].fuse == NO_FUSE:
        reader.fault(f"{where}.across", f'{one.at!r} has fuse = "none"', "give the fuse its rating, or measure the run")


def _values(one: Reading, where: str, reader: Reader) -> None:
    if one.volts is None and one.amps is None and one.ohms is None:
        reader.fault(f"{where}.volts", "is missing, and so are amps and ohms", "write what the meter showed")
    if one.ohms is not None and (one.volts is not None or one.amps is not None):
        reader.fault(f"{where}.ohms", "stands beside volts or amps", "write two readings")
    if one.ohms is not None and one.state != NO_LOAD:
        what, instead = "is read with the power on", f'measure with everything off, and write state = "{NO_LOAD}"'
        reader.fault(f"{where}.ohms", what, instead)
    if one.ohms is not None and one.across is None:
        reader.fault(f"{where}.across", "is missing beside ohms", "write fuse, contacts, copper or run")


def _keyed(one: Reading, rows: Mapping[str, Sequence[Any]], where: str, reader: Reader) -> None:
    loads = {load.id for load in rows["load"]}
    for name in one.keyed or ():
        if name not in loads:
            reader.fault(f"{where}.keyed", f"{name!r} is not a load", f"write {nearest(name, loads)}")
    if one.keyed and one.state != KEYED:
        reader.fault(
            f"{where}.keyed", f"stands beside state {one.state!r}", f'write state = "{KEYED}", or leave it out'
        )
