"""Whether the program still says the same: every answer about many stations recorded, and compared byte for byte.

    python -m tests.tools.same_answers record DIR [--random 300]
    python -m tests.tools.same_answers compare DIR [--only 'random-00*'] [--quick]

``record`` copies the worked stations and writes random ones into DIR/stations, and everything that the program answers
about each into DIR/answers. ``compare`` reads those same stations, asks anew, and shows what differs; its exit status
is 1 if anything does. ``--quick`` plans nothing anew and judges the recorded profiles. The program is entered by the
command that pyproject.toml declares, so that moving its files changes nothing here. DIR belongs outside the repository.
"""

from __future__ import annotations

import argparse
import contextlib
import difflib
import importlib
import io
import os
import shutil
import sys
import tempfile
import tomllib
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from fnmatch import fnmatch
from pathlib import Path

from tests.tools.random_stations import station

ROOT = Path(__file__).parents[2]
WORKED = ROOT / "catalog" / "stations"
PROFILE, UPGRADED, MENDED = "profile.toml", "upgraded.toml", "mended.toml"

ASKED: tuple[tuple[str, ...], ...] = (
    ("plan", "FILE", "--json", "-o", PROFILE),
    ("check", "FILE", "--json"),
    ("check", "FILE"),
    ("readings", "FILE", "--json"),
    ("check", PROFILE, "--json"),
    ("card", PROFILE),
    ("note", PROFILE),
    ("hours", PROFILE),
    ("compare", "FILE", PROFILE, "--json"),
)
"""What is asked about each station, in this order; FILE stands for the station's own file."""

ASKED_OF_WORKED: tuple[tuple[str, ...], ...] = (
    ("plan", "FILE"),
    ("plan", PROFILE, "--again", "--json"),
    ("bench", "FILE", "--json"),
    ("reach", PROFILE, "--json"),
    ("repair", "FILE", "--json", "-o", MENDED),
    ("upgrade", PROFILE, "--add", "lamp", "--json", "-o", UPGRADED),
)
"""What is asked beside that about each worked station: it searches again, and takes longer."""

RANDOM = "random-"
"""What the name of a random station begins with."""

SEARCHES = ("plan", "repair", "upgrade")
"""The commands that take long; a quick comparison leaves them out."""

SHOWN = 12
"""Lines of a difference that are shown."""


def entry() -> Callable[[Sequence[str]], int]:
    """The function behind the command ``shackrail``."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    module, _, name = project["scripts"]["shackrail"].partition(":")
    main: Callable[[Sequence[str]], int] = getattr(importlib.import_module(module), name)
    return main


def stations(count: int) -> Iterator[tuple[str, str]]:
    """Every worked station and ``count`` random ones: name and text."""
    for path in sorted(WORKED.glob("*.toml")):
        yield path.stem, path.read_text(encoding="utf-8")
    for seed in range(count):
        yield f"{RANDOM}{seed:04}", station(seed)


def asked(name: str) -> tuple[tuple[str, ...], ...]:
    """What is asked about a station of that name."""
    return ASKED if name.startswith(RANDOM) else ASKED + ASKED_OF_WORKED


def answer(path: Path, into: Path, recorded: Path | None = None) -> None:
    """Everything that the program says about one station file, written into a folder.

    With ``recorded`` answers at hand nothing is planned: what planning says is taken over from there.
    """
    into.mkdir(parents=True)
    if recorded:
        for old in (one for one in recorded.iterdir() if _planned(one)):
            shutil.copy(old, into)
    shutil.copy(path, into / "station.toml")
    os.environ |= {"COLUMNS": "100", "XDG_CONFIG_HOME": str(into), "XDG_STATE_HOME": str(into)}
    main = entry()
    with contextlib.chdir(into):
        for number, words in enumerate(asked(path.stem)):
            if recorded and words[0] in SEARCHES:
                continue
            said = _said(main, ["station.toml" if one == "FILE" else one for one in words])
            Path(f"{number:02}-{words[0]}.txt").write_text(said, encoding="utf-8")


def _planned(path: Path) -> bool:
    """Whether a file of answers came from planning."""
    return path.suffix == ".toml" or path.stem.partition("-")[2] in SEARCHES


def _said(main: Callable[[Sequence[str]], int], words: Sequence[str]) -> str:
    """What one command prints, and its exit status."""
    out, errors = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(errors):
        status = main(words)
    return f"$ {' '.join(words)}\n{out.getvalue()}{errors.getvalue()}status {status}\n"


def answer_all(paths: Iterable[Path], into: Path, jobs: int, recorded: Path | None = None) -> None:
    """The answers about each station, one folder each."""
    with ProcessPoolExecutor(jobs) as pool:
        known = {path: recorded / path.stem if recorded else None for path in paths}
        for done in [pool.submit(answer, path, into / path.stem, old) for path, old in known.items()]:
            done.result()


def record(folder: Path, count: int, jobs: int) -> int:
    """Write the stations, and what is said about them today."""
    if folder.exists() and any(folder.iterdir()):
        print(f"{folder}: is there already; name a new folder", file=sys.stderr)
        return 2
    (folder / "stations").mkdir(parents=True)
    for name, text in stations(count):
        (folder / "stations" / f"{name}.toml").write_text(text, encoding="utf-8")
    paths = sorted((folder / "stations").glob("*.toml"))
    answer_all(paths, folder / "answers", jobs)
    print(f"{len(paths)} stations, {sum(len(asked(one.stem)) for one in paths)} answers recorded in {folder}")
    return 0


def compare(folder: Path, only: str, jobs: int, quick: bool) -> int:
    """Ask anew about the recorded stations, and show every answer that is another."""
    paths = [path for path in sorted((folder / "stations").glob("*.toml")) if fnmatch(path.stem, only)]
    with tempfile.TemporaryDirectory() as fresh:
        answer_all(paths, Path(fresh), jobs, folder / "answers" if quick else None)
        other = [line for path in paths for line in differences(folder / "answers" / path.stem, Path(fresh, path.stem))]
    print("\n".join([*other, f"{len(paths)} stations compared, {len(other)} answers differ"]))
    return 1 if other or not paths else 0


def differences(before: Path, after: Path) -> Iterator[str]:
    """One text for each file of two folders that is not the same in both."""
    names = {path.name for folder in (before, after) for path in folder.glob("*.t*")}
    for name in sorted(names):
        old, new = (
            (one / name).read_text(encoding="utf-8") if (one / name).exists() else "" for one in (before, after)
        )
        if old != new:
            yield "\n".join([f"{before.name}/{name}", *_lines(old, new)])


def _lines(old: str, new: str) -> list[str]:
    """The first lines that differ; JSON is broken into lines at its commas."""
    split = [one.replace(', "', ',\n"').splitlines() for one in (old, new)]
    found = [one for one in difflib.unified_diff(*split, lineterm="", n=0) if one[:3] not in ("---", "+++", "@@ ")]
    return [f"    {one[:200]}" for one in found[:SHOWN]]


def main() -> int:
    """Run one of the two commands."""
    parser = argparse.ArgumentParser(prog="same_answers", description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--jobs", type=int, default=1, help="processes at once")
    commands = parser.add_subparsers(dest="command", required=True)
    recording = commands.add_parser("record", help="write stations and answers into a new folder")
    recording.add_argument("folder", type=Path)
    recording.add_argument(
        "--random", type=int, default=300, metavar="N", help="random stations beside the worked ones"
    )
    comparing = commands.add_parser("compare", help="ask anew and show what differs")
    comparing.add_argument("folder", type=Path)
    comparing.add_argument("--only", default="*", metavar="PATTERN", help="stations whose name is like this")
    comparing.add_argument("--quick", action="store_true", help="judge the recorded profiles, plan nothing anew")
    args = parser.parse_args()
    folder = args.folder.resolve()
    if args.command == "record":
        return record(folder, args.random, args.jobs)
    return compare(folder, args.only, args.jobs, args.quick)


if __name__ == "__main__":
    sys.exit(main())
