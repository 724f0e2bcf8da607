"""Faults of meter readings that only the rest of the station file can show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from engine.station.model import Reading
from engine.station.shapes import NO_FUSE
from engine.station.table import Reader, nearest
from engine.terms import LeadPart, LoadState


def check(rows: Mapping[str, Sequence[Any]], reader: Reader) -> None:
    """Note every fault of the readings among ``rows``, the records of a file by table."""
    ids = {part.id for name in ("load", "source", "strip", "run") for part in rows[name]}
    runs = {run.id: run for run in rows["run"]}
    for index, reading in enumerate(rows["reading"]):
        where = f"reading[{index}]"
        if reading.at not in ids:
            what = f"{reading.at!r} is no source, strip, load or run"
            reader.fault(f"{where}.at", what, f"write {nearest(reading.at, ids)}")
            continue
        _place(reading, runs, where, reader)
        _values(reading, where, reader)
        _keyed(reading, rows, where, reader)


def _place(reading: Reading, runs: Mapping[str, Any], where: str, reader: Reader) -> None:
    if reading.at not in runs and reading.across is not None:
        reader.fault(f"{where}.across", f"{reading.at!r} is not a run", "name a run under at, or leave across out")
    if reading.at in runs and reading.across is None and reading.amps is None:
        reader.fault(f"{where}.across", "is missing for a run", "write fuse, contacts, copper or run")
    if reading.leg is not None and reading.across is None:
        reader.fault(f"{where}.leg", "stands beside no across", "write across too, or leave leg out")
    if reading.across == LeadPart.FUSE and reading.at in runs and runs[reading.at].fuse == NO_FUSE:
        reader.fault(
            f"{where}.across", f'{reading.at!r} has fuse = "none"', "give the fuse its rating, or measure the run"
        )


def _values(reading: Reading, where: str, reader: Reader) -> None:
    if reading.volts is None and reading.amps is None and reading.ohms is None:
        reader.fault(f"{where}.volts", "is missing, and so are amps and ohms", "write what the meter showed")
    if reading.ohms is not None and (reading.volts is not None or reading.amps is not None):
        reader.fault(f"{where}.ohms", "stands beside volts or amps", "write two readings")
    if reading.ohms is not None and reading.state != LoadState.NO_LOAD:
        what, instead = (
            "is read with the power on",
            f'measure with everything off, and write state = "{LoadState.NO_LOAD}"',
        )
        reader.fault(f"{where}.ohms", what, instead)
    if reading.ohms is not None and reading.across is None:
        reader.fault(f"{where}.across", "is missing beside ohms", "write fuse, contacts, copper or run")


def _keyed(reading: Reading, rows: Mapping[str, Sequence[Any]], where: str, reader: Reader) -> None:
    loads = {load.id for load in rows["load"]}
    for name in reading.keyed or ():
        if name not in loads:
            reader.fault(f"{where}.keyed", f"{name!r} is not a load", f"write {nearest(name, loads)}")
    if reading.keyed and reading.state != LoadState.KEYED:
        reader.fault(
            f"{where}.keyed",
            f"stands beside state {reading.state!r}",
            f'write state = "{LoadState.KEYED}", or leave it out',
        )
