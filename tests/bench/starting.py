"""How long a command takes to start, and the wizard to its first picture, against the least that they stand on."""

from __future__ import annotations

from collections.abc import Iterator

from catalog.shelf import STATIONS
from tests.bench.ratio import Ratio, process_seconds
from tests.bench.terminal import first_picture, settled

CHECKED = str(STATIONS / "harbour-street.toml")


def ratios() -> Iterator[Ratio]:
    """Commands of one process against the import of the unit library."""
    least, bare = process_seconds("-c", "import pint"), process_seconds("-c", "pass")
    program = ("-m", "wizard")
    yield Ratio("check of one file", process_seconds(*program, "check", CHECKED) / least, "of import pint", 2)
    yield Ratio(
        "check of one file, brief", process_seconds(*program, "check", CHECKED, "--brief") / least, "of import pint", 2
    )
    yield Ratio("--help", process_seconds(*program, "--help") / least, "of import pint")
    yield Ratio("--version", process_seconds(*program, "--version") / least, "of import pint")
    yield Ratio("Python alone", bare / least, "of import pint")


def wizard_ratios() -> Iterator[Ratio]:
    """The wizard against the toolkit's smallest application with a field, each in a pseudo-terminal."""
    small, wizard = ("-m", "tests.bench.smallest"), ("-m", "wizard")
    first, least = first_picture(wizard), first_picture(small)
    yield Ratio("first picture of the wizard, CPU", first.cpu / least.cpu, "of the smallest app", 1.25)
    yield Ratio("first picture of the wizard, elapsed", first.elapsed / least.elapsed, "of the smallest app", 1.25)
    memory = settled(wizard) / settled(small)
    yield Ratio("memory of the wizard, all loaded", memory, "of the smallest app", 1.6)
