"""Linear against switch-mode: what the other kind of supply would be, in weight, price, heat, hum and noise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from engine.findings import SEVERITY
from engine.model.assumptions import Notebook
from engine.model.case import Case, Feed
from engine.model.heat import supply_heat
from engine.model.operating import Operating
from engine.model.sources import Where, feed
from engine.parts import Price, Shelf
from engine.rules import supply
from engine.station.model import Source, Station

OTHER = {"linear": "switch-mode", "switch-mode": "linear"}


@dataclass(frozen=True)
class Rival:
    """One supply of a plan beside the cheapest of the other kind that the same rules keep as well.

    ``heat`` is what each loses over hours in the state that makes most [W].
    """

    mine: Feed
    other: Feed
    heat: tuple[float, float]

    @property
    def says(self) -> str:
        """The comparison in a sentence."""
        mine, other = self.mine, self.other
        kilograms = f"{other.kilograms:g} kg instead of {mine.kilograms:g}"
        price = f"price {_band(other.price)} instead of {_band(mine.price)}"
        watts = f"{self.heat[1]:.0f} W of heat instead of {self.heat[0]:.0f}"
        return f"{other.title}, instead: {kilograms}, {price}, {watts}; {CHARACTER[other.technology]}"


CHARACTER = {
    "linear": "no switching noise on the bands, but its transformer hums",
    "switch-mode": "no hum and far less heat, but it must be filtered for radio use and tried with the antenna on",
}
"""What each kind brings beside the figures (common practice)."""


def _band(price: Price) -> str:
    return f"{price.low:.0f} to {price.high:.0f}"


def rivals(station: Station, faces: Sequence[Operating], shelf: Shelf) -> tuple[Rival, ...]:
    """The other kind of every supply that is to be bought, where the shelf has one that serves."""
    return tuple(one for operating in faces for one in _of(station, operating, shelf))


def _of(station: Station, operating: Operating, shelf: Shelf) -> Iterator[Rival]:
    for mine in operating.case.feeds:
        source = next((one for one in station.sources if one.id == mine.id), None)
        if source is None or mine.owned or mine.part not in shelf.supplies or mine.technology not in OTHER:
            continue
        fit = [one for one in _candidates(source, mine, operating.case, shelf) if _keeps(operating, mine, one)]
        best = min(fit, key=lambda one: (one.price.usual, one.id), default=None)
        if best is not None:
            heat = (supply_heat(operating, mine).value, supply_heat(operating, best).value)
            yield Rival(mine, best, heat)


def _candidates(source: Source, mine: Feed, case: Case, shelf: Shelf) -> Iterator[Feed]:
    """Supplies of the other kind at the same set point, in the same place."""
    where = Where(shelf, case.place.coldest, case.place.hottest)
    for row in shelf.supplies.values():
        if row.technology == OTHER[mine.technology] and row.lowest <= mine.volts <= row.highest:
            yield feed(replace(source.socket, part=row.id, volts=mine.volts), where, Notebook())


def _keeps(operating: Operating, mine: Feed, other: Feed) -> bool:
    """Whether no rule about supplies says worse of the other than of the one that is there."""
    case = operating.case
    beside = Operating(replace(case, feeds=tuple(other if one is mine else one for one in case.feeds)))
    for rule in supply.RULES:
        before, after = rule.find(operating, mine), rule.find(beside, other)
        if after is not None and SEVERITY[after.outcome] > (SEVERITY[before.outcome] if before else 0):
            return False
    return True
