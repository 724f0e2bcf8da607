"""How many planned stations are checked in a second, in one process, as the command does it."""

from __future__ import annotations

import contextlib
import io
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from catalog.shelf import STATIONS, built_in
from engine.planning.plan import plan
from engine.station import profile
from tests.bench.ratio import Ratio, seconds

TIMES = 5
"""How often each station is named on one command line."""


def ratios() -> Iterator[Ratio]:
    """Stations of one lead and one supply, then all worked stations, which hold days of sun and boosters too."""
    plain = [
        path for path in planned() if path.stem in ("harbour-street", "chapel-row", "orchard-lane", "windmill-hill")
    ]
    for name, paths in (("usual desks", plain), ("all worked stations", planned())):
        yield _rate(f"check of many files, brief, {name}", paths, "--brief", 400)
        yield _rate(f"check of many files, JSON, {name}", paths, "--json", 200)


def _rate(what: str, paths: list[Path], option: str, aim: float) -> Ratio:
    from wizard.commands.main import main

    arguments = ["check", option, *map(str, paths * TIMES)]
    with contextlib.redirect_stdout(io.StringIO()):
        taken = seconds(lambda: main(arguments), 3)
    return Ratio(what, TIMES * len(paths) / taken, "files a CPU second", aim, more=True)


@cache
def planned() -> list[Path]:
    """The profile of each worked station's plan, in a folder of its own."""
    folder = Path(tempfile.mkdtemp(prefix="bench-"))
    return [_planned(path, folder / path.name) for path in sorted(STATIONS.glob("*.toml"))]


def _planned(path: Path, to: Path) -> Path:
    read = profile.read(path.read_text(encoding="utf-8"), built_in())
    made = plan(read.station, built_in(), read.choices)
    to.write_text(profile.write(made.verdict.station), encoding="utf-8")
    return to
