"""What is still to be bought: every part that is not owned, with its price band."""

from __future__ import annotations

from engine.findings import Item
from engine.model import weight
from engine.model.case import BATTERY, BOOSTER, CONTACTS, COPPER, FUSE, VEHICLE, Case, Feed, Hub, Lead
from engine.parts import FREE, Charger, Panel, Price
from engine.units import LENGTH, show, spell

BLOCK = Price(3, 6)
"""A covered terminal block of two ways, where a heavy feed meets the lead that came with a load (illustrative)."""


def copper_price(lead: Lead) -> Price:
    """The price band of a lead's own copper, both conductors, and of what joins it to the lead that came with the load;
    nothing where it is kept or open.
    """
    if lead.conductor is None or COPPER in lead.kept:
        return FREE
    metres = 2 * lead.bought_length * lead.insulation.price_factor * lead.parallel
    block = BLOCK if lead.tail else FREE
    return Price(metres * lead.conductor.price.low + block.low, metres * lead.conductor.price.high + block.high)


def fuse_price(lead: Lead) -> Price:
    """The price band of a lead's fuse with its holder."""
    return lead.fuse_type.price if lead.fuse_type and lead.fuse_rating and FUSE not in lead.kept else FREE


def contacts_price(lead: Lead) -> Price:
    """The price band of two contacts on each end of a lead; the plug on one that came with its load is there."""
    if lead.contacts is None or CONTACTS in lead.kept:
        return FREE
    first, second = lead.contacts
    if lead.came_with:
        return Price(2 * first.price.low, 2 * first.price.high)
    return Price(2 * (first.price.low + second.price.low), 2 * (first.price.high + second.price.high))


def lead_price(lead: Lead) -> Price:
    """The price band of one lead: both conductors, fuse with holder, and two contacts on each end; kept parts free."""
    parts = (copper_price(lead), fuse_price(lead), contacts_price(lead))
    return Price(sum(one.low for one in parts), sum(one.high for one in parts))


def items(case: Case) -> tuple[Item, ...]:
    """The lines of the bill, owned parts at nothing."""
    lines = [_item(one, feed_text(one), one.price) for one in case.feeds]
    for hub in case.hubs:
        part = hub.strip or hub.changeover
        lines.append(_item(hub, hub.title, part.price if part else FREE))
    lines += _solar(case)
    return (*lines, *(_item(one, describe(one), lead_price(one)) for one in case.leads))


def _item(part: Feed | Hub | Lead, what: str, price: Price) -> Item:
    """One line; what is owned costs nothing, and what is bought only in part costs that part."""
    price = FREE if part.owned else price
    return Item(part.id, what, "1", price.low, price.high, part.owned, weight.kilograms(part))


def _solar(case: Case) -> list[Item]:
    """Panels, controllers and chargers."""
    sun = case.sunlight
    found = []
    if sun and sun.panel:
        what = f"{sun.count:g} × {sun.panel.title}" if sun.count > 1 else sun.panel.title
        found.append(_bought("sun", f"{what}, for the battery", sun.panel, sun.count))
    if sun and sun.controller:
        found.append(_bought("sun", sun.controller.title, sun.controller))
    for feed in case.feeds:
        charger = feed.cell.charger if feed.cell else None
        if isinstance(charger, Charger) and not feed.owned:
            found.append(_bought(feed.id, charger.title, charger))
    return found


def _bought(about: str, what: str, row: Charger | Panel, count: float = 1) -> Item:
    low, high = count * row.price.low, count * row.price.high
    return Item(about, what, f"{count:g}", low, high, kilograms=count * row.kilograms)


def feed_text(feed: Feed) -> str:
    """One supply as a line of a shopping list."""
    if feed.missing:
        return f"{feed.title}, {'capacity' if feed.kind == BATTERY else 'rating'} open"
    if feed.part and feed.parallel > 1:
        return f"{feed.title} each: {feed.continuous:g} A continuous, {feed.peak:g} A keyed together"
    if feed.kind == VEHICLE:
        return f"{feed.title}, from its battery"
    if feed.cell is not None:
        return f"{feed.title}, {feed.peak:g} A while keyed"
    if feed.kind == BOOSTER and feed.part:
        return f"{feed.title} while keyed, {feed.continuous:g} A continuous"
    if feed.part:
        knob = ", its knob locked or covered" if feed.adjustable and feed.locked else ""
        return f"{feed.title} continuous, {feed.peak:g} A keyed{knob}"
    return f"{feed.title}: {feed.volts:g} V, {feed.continuous:g} A continuous, {feed.peak:g} A keyed"


def describe(lead: Lead) -> str:
    """One lead as a line of a shopping list."""
    return f"{_cable(lead)}, {_fuse(lead)}, {_ends(lead)}"


def _cable(lead: Lead) -> str:
    size = lead.conductor.either if lead.conductor else "conductor open"
    if lead.supplied:
        return f"the lead that came with it, {size}, {spell(lead.length, LENGTH)} of it"
    cable = f"of {size} pair ({lead.insulation.id})"
    if lead.tail:
        last = f"{spell(lead.tail.length, LENGTH)} of the {lead.tail.conductor.id} lead that came with it"
        return (
            f"{show(round(lead.bought_length, 2), LENGTH)} {cable} to a covered terminal block, and {last} from there"
        )
    return f"{spell(lead.length, LENGTH)} {cable}"


def _fuse(lead: Lead) -> str:
    if not lead.fuse_type or not lead.fuse_rating:
        return "no fuse"
    if lead.supplied and FUSE in lead.kept:
        return f"its own {lead.fuse_rating:g} A fuse"
    return f"{lead.fuse_rating:g} A {lead.fuse_type.id} fuse with holder"


def _ends(lead: Lead) -> str:
    if not lead.contacts:
        return "contacts open"
    if lead.came_with:
        first, second = lead.contacts
        where = "its stripped end" if lead.supplied else "the feed"
        return f"2 × {first.id} on {where}, its own {second.id} on the other"
    return ", ".join(f"2 × {one.id}" for one in lead.contacts)


def total(case: Case) -> Price:
    """The sum of the bill."""
    lines = items(case)
    return Price(sum(one.low for one in lines), sum(one.high for one in lines))
