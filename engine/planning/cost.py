"""What a filling costs: first the margins that it lets go of, then what the owner's wishes put first.

A cost is a tuple of whole numbers, compared place by place and added place by place: the steps of margin let go of in
each rank of importance, then price, weight and noise in the order of the wishes. Whole numbers add up alike in any
order.
"""

from __future__ import annotations

import operator
from dataclasses import dataclass
from typing import Generic, TypeVar

from engine.model import quiet, weight
from engine.model.bill import contacts_price, copper_price, fuse_price
from engine.model.case import Feed, Hub, Lead
from engine.parts import Price
from engine.rules.book import NOTHING, LetGo
from engine.terms import Preference

Cost = tuple[int, ...]
SCALE = 10**6
"""One unit of price, kilogram or noise in a cost."""

PLACES = 4
ZERO: Cost = (*NOTHING, *(0,) * PLACES)

Item = TypeVar("Item")


@dataclass(frozen=True)
class Option(Generic[Item]):
    """One way to fill one gap, and its cost."""

    cost: Cost
    item: Item


def add(*costs: Cost) -> Cost:
    """The sum of costs, place by place.

    >>> add((0, 1), (2, 3))
    (2, 4)
    """
    total = costs[0]
    for one in costs[1:]:
        total = tuple(map(operator.add, total, one))
    return total


def minus(cost: Cost) -> Cost:
    """The cost turned round, to be taken off another."""
    return tuple(-one for one in cost)


def letting_go(steps: LetGo) -> Cost:
    """The cost of margins alone."""
    return (*steps, *(0,) * PLACES)


def margins(cost: Cost) -> LetGo:
    """The steps of margin that a cost lets go of."""
    return cost[: len(NOTHING)]


class Pricing:
    """Turns a part into a cost: after the margins the owner's preference decides, price by default."""

    def __init__(self, prefer: str = "price") -> None:
        self.prefer = prefer

    def feed(self, feed: Feed) -> Cost:
        """The cost of a supply; a knob that must be locked is the last thing to decide."""
        price = 0.0 if feed.owned else feed.price.usual
        noise = quiet.noise(feed, self.prefer)
        return self.of(price, weight.feed_kilograms(feed), noise, 1.0 if feed.adjustable and feed.locked else 0.0)

    def hub(self, hub: Hub) -> Cost:
        """The cost of a strip or changeover."""
        part = hub.strip or hub.changeover
        return self.of(part.price.usual if part and not hub.owned else 0.0, weight.hub_kilograms(hub))

    def lead(self, lead: Lead) -> Cost:
        """The cost of a lead as far as it is filled."""
        return add(self.copper(lead), self.fuse(lead), self.contacts(lead))

    def copper(self, lead: Lead) -> Cost:
        """The cost of a lead's copper."""
        return self._price(copper_price(lead), weight.copper_kilograms(lead))

    def fuse(self, lead: Lead) -> Cost:
        """The cost of a lead's fuse; of equal ones the smaller first."""
        return self._price(fuse_price(lead), weight.fuse_kilograms(lead), (lead.fuse_rating or 0.0) / 1e4)

    def contacts(self, lead: Lead) -> Cost:
        """The cost of a lead's contacts; of equal ones those that lock first."""
        loose = float(sum(not one.locks for one in lead.contacts or ()))
        return self._price(contacts_price(lead), weight.contacts_kilograms(lead), loose)

    def _price(self, price: Price, kilograms: float, last: float = 0.0) -> Cost:
        return self.of(price.usual, kilograms, 0.0, last)

    def of(self, price: float, kilograms: float = 0.0, noise: float = 0.0, last: float = 0.0) -> Cost:
        """A cost of its parts: price, weight [kg], noise and what decides between equals."""
        scaled = (round(one * SCALE) for one in (price, kilograms, noise, last))
        price_, kilograms_, noise_, last_ = scaled
        if self.prefer in (Preference.QUIET, Preference.QUIET_IN_THE_EAR, Preference.QUIET_ON_THE_BANDS):
            return (*NOTHING, noise_, price_, last_, kilograms_)
        if self.prefer == Preference.LIGHT:
            return (*NOTHING, kilograms_, price_, last_, noise_)
        return (*NOTHING, price_, last_, kilograms_, noise_)
