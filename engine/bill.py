"""What is still to be bought: every part that is not owned, with its price band."""

from __future__ import annotations

from engine.case import CONTACTS, COPPER, FUSE, Case, Feed, Lead
from engine.parts import Price
from engine.units import LENGTH, show, spell
from engine.verdict import Item


def lead_price(lead: Lead) -> Price:
    """The price band of one lead: both conductors, fuse with holder, and two contacts on each end; kept parts free."""
    low = high = 0.0
    if lead.conductor and COPPER not in lead.kept:
        metres = 2 * lead.pieces[0].length * lead.insulation.price_factor * lead.parallel
        low, high = metres * lead.conductor.price.low, metres * lead.conductor.price.high
    if lead.fuse_type and lead.fuse_rating and FUSE not in lead.kept:
        low, high = low + lead.fuse_type.price.low, high + lead.fuse_type.price.high
    for contact in lead.contacts or ():
        if CONTACTS not in lead.kept:
            low, high = low + 2 * contact.price.low, high + 2 * contact.price.high
    return Price(low, high)


def items(case: Case) -> tuple[Item, ...]:
    """The lines of the bill, owned parts at nothing."""
    lines = []
    for feed in case.feeds:
        price = Price(0, 0) if feed.owned else feed.price
        lines.append(Item(feed.id, feed_text(feed), "1", price.low, price.high, feed.owned))
    for hub in case.hubs:
        price = hub.strip.price if hub.strip and not hub.owned else Price(0, 0)
        lines.append(Item(hub.id, hub.title, "1", price.low, price.high, hub.owned))
    for lead in case.leads:
        price = lead_price(lead)
        lines.append(Item(lead.id, describe(lead), "1", price.low, price.high, lead.owned))
    return tuple(lines)


def feed_text(feed: Feed) -> str:
    """One supply as a line of a shopping list."""
    if feed.missing:
        return f"{feed.title}, rating open"
    if feed.part and feed.parallel > 1:
        return f"{feed.title} each: {feed.continuous:g} A for hours, {feed.peak:g} A keyed together"
    if feed.part:
        return f"{feed.title} for hours, {feed.peak:g} A keyed"
    return f"{feed.title}: {feed.volts:g} V, {feed.continuous:g} A for hours, {feed.peak:g} A keyed"


def describe(lead: Lead) -> str:
    """One lead as a line of a shopping list."""
    size = lead.conductor.either if lead.conductor else "conductor open"
    fuse = (
        f"{lead.fuse_rating:g} A {lead.fuse_type.id} fuse with holder"
        if lead.fuse_type and lead.fuse_rating
        else "no fuse"
    )
    ends = ", ".join(f"2 × {one.id}" for one in lead.contacts) if lead.contacts else "contacts open"
    cable = f"{spell(lead.length, LENGTH)} of {size} pair ({lead.insulation.id})"
    if lead.supplied:
        cable = f"the lead that came with it, {size}, {spell(lead.length, LENGTH)} of it"
    elif lead.tail:
        first = show(round(lead.pieces[0].length, 2), LENGTH)
        joined = f"joined to the {lead.tail.conductor.id} lead that came with it"
        cable = f"{first} of {size} pair ({lead.insulation.id}) {joined}"
    return f"{cable}, {fuse}, {ends}"


def total(case: Case) -> Price:
    """The sum of the bill."""
    lines = items(case)
    return Price(sum(one.low for one in lines), sum(one.high for one in lines))
