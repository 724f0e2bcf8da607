"""Which version this is; looked up only when someone asks."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

NAME = "shackrail"


class ShowVersion(argparse.Action):
    """Prints the program's name and version, and ends."""

    def __call__(self, parser: argparse.ArgumentParser, *_: Any) -> None:
        """What the option does."""
        print(f"{NAME} {version()}")
        parser.exit()


def version() -> str:
    """The installed version; where nothing is installed, the one that its folder of sources declares."""
    from importlib import metadata

    try:
        return metadata.version(NAME)
    except metadata.PackageNotFoundError:
        return f"{_declared(Path(__file__).parents[1] / 'pyproject.toml')} (not installed)"


def _declared(project: Path) -> str:
    import tomllib

    try:
        return str(tomllib.loads(project.read_text(encoding="utf-8"))["project"]["version"])
    except (OSError, ValueError, KeyError):
        return "of unknown version"
