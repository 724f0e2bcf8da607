"""How many judgements of the planned station a plan is worth: worked stations, and desks of many loads."""

from __future__ import annotations

from collections.abc import Iterator

from catalog.shelf import STATIONS, built_in
from engine.planning.plan import plan
from engine.rules.check import check
from engine.station import profile
from tests.bench.ratio import Ratio, seconds

DESKS = {5: 60.0, 10: 120.0, 20: 250.0}
"""Loads of each desk, and the most judgements that its plan may cost."""

KEYED = ("hf-100w", "vhf-50w", "hf-20w", "vhf-75w", "hf-qrp", "digital-25w")
SMALL = ("tuner", "lamp", "small-computer", "receiver-sdr", "router", "dc-fan", "keyer", "speaker-amp", "rotator")


def worked() -> Iterator[Ratio]:
    """Every worked station."""
    for path in sorted(STATIONS.glob("*.toml")):
        yield judgements(path.stem, path.read_text(encoding="utf-8"), 40)


def desks() -> Iterator[Ratio]:
    """Desks of a growing number of loads."""
    for loads, aim in DESKS.items():
        yield judgements(f"desk of {loads} loads", desk(loads), aim)


def judgements(name: str, text: str, aim: float) -> Ratio:
    """What a plan costs, in judgements of the station that it makes."""
    read, shelf = profile.read(text, built_in()), built_in()
    made = plan(read.station, shelf, read.choices)
    planned = made.verdict.station
    judged = seconds(lambda: check(planned, shelf))
    return Ratio(
        f"plan of {name}", seconds(lambda: plan(read.station, shelf, read.choices), 1) / judged, "judgements", aim
    )


def desk(loads: int) -> str:
    """A desk whose first half are radios, one keyed at a time, and whose other half draw steadily."""
    radios = [KEYED[at % len(KEYED)] for at in range((loads + 1) // 2)]
    rest = [SMALL[at % len(SMALL)] for at in range(loads // 2)]
    rows = [f'[[load]]\nid = "{name}-{at}"\nclass = "{name}"' for at, name in enumerate([*radios, *rest], 1)]
    return "\n".join(['format = 1\nname = "A desk"\nuse = "fixed"', *rows])
