"""What a licensed electrician is to be asked: each wall circuit with its load, a suggested rating and wire by table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from engine.model import wall
from engine.model.case import MainsRun
from engine.model.operating import Operating
from engine.model.wall import Circuit, Plugged
from engine.parts import Conductor, Shelf
from engine.physics import copper

RATINGS = {
    "AWG": (15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0),
    "metric": (6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0),
}
"""Standard ratings of breakers [A]: NEC 240.6 where wire is AWG; IEC 60898, from memory, where it is metric."""

VOLTAGES = (120.0, 240.0)
"""The two mains voltages that are shown side by side where the lower is in use."""

GUIDE, WARM = 0.03, 75.0
"""Loss aimed for (NEC 210.19(A), informational note), and temperature of loaded wire [°C] (NEC chapter 9 table 8)."""


@dataclass(frozen=True)
class Asking:
    """One thing on a circuit: what it is, and the current [A] and power [W] it takes at most and over hours."""

    id: str
    title: str
    largest: float
    steady: float
    watts: float


@dataclass(frozen=True)
class Side:
    """One voltage [V] for the same load: current at most and as counted [A], rating [A], wire, and loss (a share)."""

    mains: float
    largest: float
    counted: float
    rating: float | None
    wire: str | None
    lost: float | None


@dataclass(frozen=True)
class Request:
    """One circuit to ask about: its rating today [A], what hangs on it, and the voltages compared."""

    circuit: str
    mains: float
    rating: float
    parts: tuple[Asking, ...]
    sides: tuple[Side, ...]
    length: float | None


def requests(operating: Operating, shelf: Shelf) -> tuple[Request, ...]:
    """What to ask about every wall circuit on which something of the station hangs."""
    return tuple(_request(operating, one, shelf) for one in wall.circuits(operating))


def _request(operating: Operating, circuit: Circuit, shelf: Shelf) -> Request:
    run = operating.case.place.wire_in_wall if circuit.id == wall.SITE else None
    volts = dict.fromkeys((circuit.mains, *(VOLTAGES if circuit.mains in VOLTAGES else ())))
    sides = tuple(_side(operating, circuit, one, run, shelf) for one in sorted(volts))
    parts = tuple(_asking(operating, one) for one in circuit.parts)
    return Request(circuit.id, circuit.mains, circuit.rating, parts, sides, run.length if run else None)


def _asking(operating: Operating, part: Plugged) -> Asking:
    alone = Circuit(part.id, wall.mains(operating, part), wall.rating(operating, part), (part,))
    amps = wall.worst(operating, alone, sized=False)[0].value
    factor = getattr(part, "power_factor", 1.0)
    return Asking(part.id, part.title, amps, wall.over_hours(operating, part), amps * alone.mains * factor)


def _side(operating: Operating, circuit: Circuit, mains: float, run: MainsRun | None, shelf: Shelf) -> Side:
    scale = circuit.mains / mains
    largest = wall.worst(operating, circuit, sized=False)[0].value * scale
    counted = wall.worst(operating, circuit)[0].value * scale
    family = operating.case.place.wire
    rating = suggested(counted, family)
    wire = wire_for(rating, family, largest, mains, run.length if run else 0.0, shelf) if rating else None
    lost = _lost(run.conductor, run.length, largest, mains) if run else None
    return Side(mains, largest, counted, rating, wire, lost)


def suggested(amps: float, family: str) -> float | None:
    """The smallest standard rating [A] that is not below ``amps``; None above the list.

    >>> suggested(15.4, "AWG"), suggested(15.4, "metric")
    (20.0, 16.0)
    """
    return next((one for one in RATINGS[family] if one >= amps - 1e-9), None)


def wire_for(rating: float, family: str, amps: float, mains: float, length: float, shelf: Shelf) -> str | None:
    """The thinnest wire that such a breaker commonly guards and that loses no more than 3 % over ``length`` [m]."""
    sizes = sorted((one for one in _guarded(shelf.conductors, shelf, rating, family)), key=lambda one: one.area)
    return next((one.id for one in sizes if _lost(one, length, amps, mains) <= GUIDE), None)


def _guarded(conductors: Mapping[str, Conductor], shelf: Shelf, rating: float, family: str) -> list[Conductor]:
    known = [(conductors[key], row) for key, row in shelf.mains.items() if key in conductors]
    return [one for one, row in known if one.system == family and (row.breaker or 0.0) >= rating]


def _lost(wire: Conductor, length: float, amps: float, mains: float) -> float:
    return amps * copper.loop_ohms(copper.ohms_per_metre(wire.ohms_per_metre, WARM), length) / mains
