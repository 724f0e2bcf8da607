"""What a source gives over hours into a battery that it charges."""

from __future__ import annotations

from engine.model.case import Feed
from engine.parts import Charger
from engine.physics import cells, charge
from engine.terms import ConditionName


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
