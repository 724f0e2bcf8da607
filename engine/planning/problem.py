"""What is to be planned: a station made whole with its gaps, what its owner has, and what may stand in each gap."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from engine.model.case import Case, Feed, Hub, Lead
from engine.model.sources import Where
from engine.parts import Shelf
from engine.planning.cost import ZERO, Cost, Option, Pricing
from engine.planning.slots import run, source, strip
from engine.planning.slots.run import Parts
from engine.station.model import Station

Part = Feed | Hub | Lead
Keys = frozenset[tuple[str, str]]
"""Findings by rule and part."""


@dataclass(frozen=True, eq=False)
class Problem:
    """A station to be planned.

    ``own`` is what stands there today and may stay; ``thin`` are findings that may be thin all the same, as where they
    are thin already. ``before`` is the cost of what was chosen on the way to this station, such as a changeover.
    ``banks``: several batteries side by side may stand where one is asked for.
    """

    station: Station
    case: Case
    shelf: Shelf
    own: Mapping[str, Part] = field(default_factory=dict)
    thin: Keys = frozenset()
    before: Cost = ZERO
    banks: bool = False

    @cached_property
    def pricing(self) -> Pricing:
        """What parts cost, by the owner's preference."""
        return Pricing(self.station.wishes.prefer or "price")

    @cached_property
    def where(self) -> Where:
        """What a source needs to know of the rest."""
        return Where(self.shelf, self.case.place.coldest, self.case.place.hottest)

    @cached_property
    def given_insulation(self) -> frozenset[str]:
        """The runs whose insulation the owner has stated."""
        return frozenset(one.id for one in self.station.runs if one.insulation is not None)

    @cached_property
    def open(self) -> tuple[str, ...]:
        """The parts that have gaps to fill, sources first."""
        feeds = [one.id for one in self.case.feeds if (one.missing or open_string(one)) and not one.owned]
        hubs = [one.id for one in self.case.hubs if one.strip is None and not one.changes and not one.owned]
        return (*feeds, *hubs, *(one.id for one in self.case.leads if one.missing and not one.owned))

    def feeds(self, feed: Feed) -> list[Option[Feed]]:
        """What may stand at a source, a bank without its cables; what is given stands alone and costs nothing more."""
        if feed.id not in self.open:
            return [Option(ZERO, feed)]
        own = self.own.get(feed.id)
        if not feed.missing:
            return [Option(self.pricing.feed(feed), feed)]
        old = own if isinstance(own, Feed) else None
        return source.feeds(self.station, feed.id, self.where, self.pricing, old, self.banks)

    def hubs(self, hub: Hub) -> list[Option[Hub]]:
        """What may stand where leads divide."""
        if hub.id not in self.open:
            return [Option(ZERO, hub)]
        own = self.own.get(hub.id)
        return strip.hubs(hub, self.shelf, self.pricing, own if isinstance(own, Hub) else None)

    def parts(self, lead: Lead) -> Parts:
        """What may fill the parts of a lead."""
        own = self.own.get(lead.id)
        given = lead.id in self.given_insulation and own is None
        old = own if isinstance(own, Lead) else None
        return run.parts(self.case, lead, self.shelf, given, self.pricing, self.shop, old)

    @cached_property
    def shop(self) -> run.Shop:
        """The fuses and contacts of the shelf: the same for every lead."""
        return run.shop(run.bare(self.case.leads[0]), self.shelf, self.pricing)


def open_string(feed: Feed) -> bool:
    """Whether it is a bank whose cables are described in part."""
    return feed.string is not None and bool(feed.string.missing)


def put(case: Case, part: Part) -> Case:
    """The case with ``part`` in the place of the one with its id."""
    if isinstance(part, Feed):
        return replace(case, feeds=tuple(part if one.id == part.id else one for one in case.feeds))
    if isinstance(part, Hub):
        return replace(case, hubs=tuple(part if one.id == part.id else one for one in case.hubs))
    return replace(case, leads=tuple(part if one.id == part.id else one for one in case.leads))
