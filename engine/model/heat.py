"""Heat in the room: what supplies and leads lose over hours, with everything at its larger figures."""

from __future__ import annotations

from dataclasses import dataclass

from engine.model.case import Draw, Feed, Lead
from engine.model.operating import RECEIVE, RESTING, SAGGING, Operating, State
from engine.physics import duty
from engine.working import Figure, label, total


@dataclass(frozen=True)
class Heat:
    """Mean heat [W] of the state that makes most, as the sum over supplies and leads, largest part first."""

    state: str
    total: Figure
    parts: tuple[tuple[str, Figure], ...]


def heat(operating: Operating) -> Heat | None:
    """The mean heat of supplies and leads while the worst of the keyed states is kept up; None while nothing is known.

    What the equipment itself turns into heat is not in it: nearly all that it draws, less what it radiates.
    """
    found = [_in(operating, state) for state in operating.states if state.name != RESTING]
    best = max(found, key=lambda one: one.total.value, default=None)
    return best if best is not None and best.parts else None


def worst_supply_heat(operating: Operating, feed: Feed) -> float:
    """The mean heat [W] over hours that a supply, which may be another than the one that stands there, turns out."""
    states = (one for one in operating.states if one.name != RESTING)
    return max(_supply(operating, feed, one).value for one in states)


def _in(operating: Operating, state: State) -> Heat:
    case, served = operating.case, operating.demand.served
    feeds = [(one.id, _supply(operating, one, state)) for one in case.feeds if not one.missing and served.get(one.id)]
    leads = [(one.id, _lead(operating, one, state)) for one in case.leads if one.conductor and served.get(one.id)]
    parts = tuple(sorted((*feeds, *leads), key=lambda pair: -pair[1].value))
    return Heat(state.name, total((one.named(label(name), "over hours") for name, one in parts), "W"), parts)


def _supply(operating: Operating, feed: Feed, state: State) -> Figure:
    means = (
        Figure(_mean(operating, one, state), "A", label(one.id), "mean over hours, from mode and share keyed")
        for one in operating.demand.fed_by(feed.id)
    )
    volts = Figure(feed.volts, "V", "volts", f"set point of {feed.id}")
    efficiency = Figure(feed.efficiency, "%", "efficiency", f"{feed.title} at full load; it is less at light load")
    return total(means, "A").named("current") * volts * (1 / efficiency - 1)


def _mean(operating: Operating, draw: Draw, state: State) -> float:
    """The largest mean current [A] of a load over hours in one state."""
    if draw.id in state.keyed and draw.transmit:
        idle = draw.receive.high
        return duty.mean(idle, max(draw.transmit.high, idle), draw.mode.envelope, draw.keyed)
    return operating.demand.amps(draw, state, SAGGING)


def _lead(operating: Operating, lead: Lead, state: State) -> Figure:
    demand = operating.demand
    keyed = [one.keyed for one in demand.fed_by(lead.id) if one.id in state.keyed]
    rest = demand.total(lead.id, State(RECEIVE), demand.heating)
    mean = duty.shared_rms(rest, demand.total(lead.id, state, demand.heating), max(keyed, default=0.0))
    amps = Figure(mean, "A", "amps", "heating current over hours")
    return amps**2 * Figure(
        operating.stretch(lead, SAGGING).ohms, "Ω", "ohms", "warm loop with fuse and contacts, as built"
    )
