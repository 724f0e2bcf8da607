"""What can wait when the money does not reach: parts that only serve loads which can be added later."""

from __future__ import annotations

from dataclasses import dataclass

from engine.model.bill import lead_price
from engine.model.case import BATTERY, Case, Draw, Feed, Hub, Lead
from engine.parts import Charger

FIRST = ("radio", "computer", "accessory", "amplifier")
"""What a station begins with: a radio before anything else, an amplifier last (common practice)."""


@dataclass(frozen=True)
class Wait:
    """One thing that can wait, and what is then not bought yet [owner's money]."""

    what: str
    price: float


def first(case: Case) -> Draw | None:
    """The load that a station begins with: the radio that draws most."""
    fed = [one for one in case.draws if one.feed == "dc" and not one.converts]
    return min(fed, key=lambda one: (FIRST.index(one.group), -_most(one), one.id), default=None)


def _most(draw: Draw) -> float:
    return draw.transmit.usual if draw.transmit else draw.busy.usual


def waits(case: Case) -> tuple[Wait, ...]:
    """What can wait, dearest first: loads with what serves them alone, and a battery behind a changeover."""
    keeper = first(case)
    if keeper is None:
        return ()
    prices: dict[str, float] = {}
    for part in case.parts:
        loads = [one.id for one in case.served.get(part.id, ())]
        if loads and keeper.id not in loads:
            what = loads[0] if len(loads) == 1 else " and ".join(loads)
            prices[what] = prices.get(what, 0.0) + _price(part)
    for name, price in _backup(case):
        prices[name] = price
    found = (Wait(what, price) for what, price in prices.items() if price > 0)
    return tuple(sorted(found, key=lambda one: (-one.price, one.what)))


def _price(part: Feed | Hub | Lead) -> float:
    """What is still to be paid for a part."""
    if isinstance(part, Lead):
        return lead_price(part).usual
    if part.owned:
        return 0.0
    if isinstance(part, Feed):
        charger = part.cell.charger if part.cell else None
        return part.price.usual + (charger.price.usual if isinstance(charger, Charger) else 0.0)
    row = part.strip or part.changeover
    return row.price.usual if row else 0.0


def _backup(case: Case) -> list[tuple[str, float]]:
    """A battery that takes over from a supply, with the lead to its changeover."""
    if not any(one.from_mains for one in case.feeds):
        return []
    found = []
    for feed in (one for one in case.feeds if one.kind == BATTERY):
        leads = [one for one in case.leads if one.start == feed.id]
        if any(one.end in case.hub and case.hub[one.end].changes for one in leads):
            found.append((f"{feed.id}, against outages", _price(feed) + sum(map(_price, leads))))
    return found


def advice(case: Case, over: float) -> str:
    """What can wait, in words, and whether that is enough to save ``over`` [owner's money]."""
    found = waits(case)
    if not found:
        return "nothing of it can wait: a smaller set, less power, or parts that you own already"
    listed = ", ".join(f"{one.what} (about {one.price:.0f})" for one in found)
    left = over - sum(one.price for one in found)
    rest = "with that it fits" if left <= 0 else f"even then it is about {left:.0f} over"
    return f"what can wait: {listed}; {rest}"
