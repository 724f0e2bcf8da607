"""What a station weighs: every part between the wall and the loads [kg]; the equipment itself is not in it."""

from __future__ import annotations

from engine.model.case import Case, Feed, Hub, Lead, Sunlight
from engine.parts import Charger
from engine.physics import cells
from engine.terms import FusedLegs

GRAMS = 1000.0


def total(case: Case) -> float:
    """The weight of the whole station, owned parts as well: they are carried too."""
    sun = sun_kilograms(case.sunlight) if case.sunlight else 0.0
    feeds = sum(feed_kilograms(one) + charger_kilograms(one) + string_kilograms(one) for one in case.feeds)
    feeds += sum(lead_kilograms(one.lead) for one in case.branches)
    return feeds + sum(map(hub_kilograms, case.hubs)) + sum(map(lead_kilograms, case.leads)) + sun


def kilograms(part: Feed | Hub | Lead) -> float:
    """One part; a charger of its own is not in it."""
    if isinstance(part, Feed):
        return feed_kilograms(part)
    return hub_kilograms(part) if isinstance(part, Hub) else lead_kilograms(part)


def feed_kilograms(feed: Feed) -> float:
    """A source; a battery of which only the capacity is known weighs what its kind does; a vehicle nothing."""
    if feed.kilograms or feed.cell is None:
        return feed.kilograms
    watt_hours = feed.cell.amp_hours * cells.open_circuit(feed.cell.chemistry, 0.5)
    return watt_hours / feed.cell.chemistry.watt_hours_per_kilogram


def charger_kilograms(feed: Feed) -> float:
    """The charger of a battery, where it is a part of its own."""
    charger = feed.cell.charger if feed.cell else None
    return charger.kilograms if isinstance(charger, Charger) else 0.0


def string_kilograms(feed: Feed) -> float:
    """The cables of a bank, one for each battery."""
    return lead_kilograms(feed.string) * feed.parallel if feed.string else 0.0


def hub_kilograms(hub: Hub) -> float:
    """A strip or a changeover."""
    part = hub.strip or hub.changeover
    return part.kilograms if part else 0.0


def lead_kilograms(lead: Lead) -> float:
    """One lead as far as it is known: both legs of copper, each fuse with its holder, two contacts on each end."""
    return copper_kilograms(lead) + fuse_kilograms(lead) + contacts_kilograms(lead)


def copper_kilograms(lead: Lead) -> float:
    """Both legs of a lead's copper, that of a lead joined to it included."""
    return sum(2 * one.conductor.grams_per_metre * one.length * lead.parallel for one in lead.pieces) / GRAMS


def fuse_kilograms(lead: Lead) -> float:
    """The fuses of a lead with their holders."""
    if lead.fuse_type is None or not lead.fuse_rating:
        return 0.0
    return (2 if lead.fuse_legs == FusedLegs.BOTH else 1) * lead.fuse_type.kilograms


def contacts_kilograms(lead: Lead) -> float:
    """Two contacts on each end of a lead."""
    return sum(2 * one.kilograms for one in lead.contacts or ())


def sun_kilograms(sun: Sunlight) -> float:
    """Panels and their controller."""
    panels = sun.count * sun.panel.kilograms if sun.panel else 0.0
    return panels + (sun.controller.kilograms if sun.controller else 0.0)
