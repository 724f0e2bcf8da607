"""Heat in the room: what supplies and leads lose over hours, with everything at its larger figures."""

from __future__ import annotations

from dataclasses import dataclass

from engine.model.case import Draw, Feed, Lead
from engine.model.operating import RECEIVE, SAGGING, Operating, State
from engine.model.turns import heating_amps, turns
from engine.physics import duty
from engine.working import Figure, label, total


@dataclass(frozen=True)
class Heat:
    """Mean heat [W] over the station's turns, as the sum over supplies and leads, largest part first."""

    total: Figure
    parts: tuple[tuple[str, Figure], ...]


def heat(operating: Operating) -> Heat | None:
    """The mean heat of supplies and leads while every load keeps its share of the time; None while nothing is known.

    What the equipment itself turns into heat is not in it: nearly all that it draws, less what it radiates.
    """
    case, served = operating.case, operating.demand.served
    feeds = [(one.id, supply_heat(operating, one)) for one in case.feeds if not one.missing and served.get(one.id)]
    leads = [(one.id, _lead(operating, one)) for one in case.leads if one.conductor and served.get(one.id)]
    parts = tuple(sorted((*feeds, *leads), key=lambda pair: -pair[1].value))
    return Heat(total((one.named(label(name), "over hours") for name, one in parts), "W"), parts) if parts else None


def supply_heat(operating: Operating, feed: Feed) -> Figure:
    """The mean heat [W] over hours that a supply, which may be another than the one that stands there, turns out."""
    means = (
        Figure(_mean(operating, one, feed.id), "A", label(one.id), "mean over hours, from mode and share keyed")
        for one in operating.demand.fed_by(feed.id)
    )
    volts = Figure(feed.volts, "V", "volts", f"set point of {feed.id}")
    efficiency = Figure(feed.efficiency, "%", "efficiency", f"{feed.title} at full load; it is less at light load")
    return total(means, "A").named("current") * volts * (1 / efficiency - 1)


def _mean(operating: Operating, draw: Draw, source: str) -> float:
    """The mean current [A] of a load over the turns of its source."""
    in_turns, rest = turns(operating.demand, source), _during(operating, draw, State(RECEIVE))
    more = sum(one.share * (_during(operating, draw, one.state) - rest) for one in in_turns)
    return rest * sum(one.share for one in in_turns) + more


def _during(operating: Operating, draw: Draw, state: State) -> float:
    """The largest mean current [A] of a load in one state, the envelope of its mode counted."""
    if draw.id in state.keyed and draw.transmit:
        idle = draw.receive.high
        return duty.mean(idle, max(draw.transmit.high, idle), draw.mode.envelope)
    return operating.demand.amps(draw, state, SAGGING)


def _lead(operating: Operating, lead: Lead) -> Figure:
    amps = Figure(heating_amps(operating.demand, lead.id), "A", "amps", "heating current over hours")
    return amps**2 * Figure(
        operating.stretch(lead, SAGGING).ohms, "Ω", "ohms", "warm loop with fuse and contacts, as built"
    )
