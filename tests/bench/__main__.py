"""Prints how long the program takes, as ratios measured in one run: ``python -m tests.bench [PART ...]``."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator

from tests.bench import planning, starting, stations
from tests.bench.ratio import Ratio, line

PARTS: dict[str, Callable[[], Iterator[Ratio]]] = {
    "start": starting.ratios,
    "files": stations.ratios,
    "wizard": starting.wizard_ratios,
    "worked": planning.worked,
    "desks": planning.desks,
}


def main() -> None:
    """Measure each part that is asked for and print its rows as they come."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"what to measure: {', '.join(PARTS)}; all by default")
    asked = parser.parse_args().parts or list(PARTS)
    strange = [name for name in asked if name not in PARTS]
    if strange:
        parser.error(f"{strange[0]!r} is no part; write one of: {', '.join(PARTS)}")
    for name in asked:
        for ratio in PARTS[name]():
            print(line(ratio), flush=True)


if __name__ == "__main__":
    main()
