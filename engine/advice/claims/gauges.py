"""Sizes of conductor that lie between the catalogue's: copper by law, current by the smaller neighbour."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from engine.parts import Conductor
from engine.physics import copper

_AWG = re.compile(r"(\d{1,2}|[1-4]/0) AWG")
_METRIC = re.compile(r"([\d.]+) mm²")

STRANDING = 1.02
"""Resistance of stranded over solid copper of the same AWG (NEC ch. 9 table 8, read in a secondary copy)."""


def size(name: str, rows: Mapping[str, Conductor]) -> Conductor | None:
    """The conductor called ``name``; made by law where the catalogue has only its neighbours, None beyond them.

    AWG has its area by ASTM B258 and its resistance by IEC 60028 with 2 % for stranding; a metric size has that of
    its two neighbours, in proportion. Both bear what the next smaller size of the catalogue bears.
    """
    if name in rows:
        return rows[name]
    area = _area(name)
    family = sorted((row for row in rows.values() if _family(row.id) == _family(name)), key=lambda row: row.area)
    smaller = [row for row in family if area and row.area < area]
    larger = [row for row in family if area and row.area > area]
    if area is None or not smaller or not larger:
        return None
    below, above = smaller[-1], larger[0]
    ohms = copper.RESISTIVITY / area * (STRANDING if _AWG.fullmatch(name) else _excess(area, below, above))
    grams = below.grams_per_metre * area / below.area
    return Conductor(name, below.system, area, ohms, below.ampacity, grams, below.source)


def _family(name: str) -> bool:
    return bool(_AWG.fullmatch(name))


def _area(name: str) -> float | None:
    """Cross-section [mm²] of a size by its name."""
    if gauge := _AWG.fullmatch(name):
        text = gauge[1]
        return copper.awg_area(1 - int(text[0]) if "/" in text else int(text))
    metric = _METRIC.fullmatch(name)
    return float(metric[1]) if metric else None


def _excess(area: float, below: Conductor, above: Conductor) -> float:
    """How much more than ideal copper a size between two others has: between theirs, on the logarithm of the area."""
    along = math.log(area / below.area) / math.log(above.area / below.area)
    first, second = (row.ohms_per_metre * row.area / copper.RESISTIVITY for row in (below, above))
    return first + (second - first) * along
