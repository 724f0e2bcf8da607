"""Currents over hours: what a source gives for its loads, and what it gives into a battery that it charges."""

from __future__ import annotations

from engine.model.case import Feed
from engine.model.operating import RECEIVE, Operating, State
from engine.parts import Charger
from engine.physics import cells, charge, duty
from engine.terms import ConditionName


def steady_amps(operating: Operating, feed: Feed, state: State) -> tuple[float, float, float, float]:
    """Heating current over time in one state, with the share keyed and the currents during and between overs [A]."""
    demand = operating.demand
    share = max((one.keyed for one in demand.fed_by(feed.id) if one.id in state.keyed), default=0.0)
    over = demand.total(feed.id, state, demand.heating)
    rest = demand.total(feed.id, State(RECEIVE), demand.heating)
    return duty.shared_rms(rest, over, share), share, over, rest


def charging_amps(feed: Feed, by: Feed) -> float:
    """Current [A] that a battery takes from a supply once it is as empty as its owner lets it get."""
    cell = feed.cell
    if cell is None:
        return 0.0
    if isinstance(cell.charger, Charger):
        return cell.charger.amps
    if cell.charger is not None:
        return min(cell.chemistry.charge_share * cell.amp_hours, cell.charger.amps)
    left = cells.open_circuit(cell.chemistry, cell.start - cell.depth, "low")
    return charge.recharge_amps(by.volts, left, feed.corner(ConditionName.USUAL).ohms, by.limit)
