"""What may stand where leads divide: the catalogue's strips, and the one that stands there today."""

from __future__ import annotations

from dataclasses import replace

from engine.model.case import Hub
from engine.parts import Shelf
from engine.planning.cost import Option, Pricing


def hubs(hub: Hub, shelf: Shelf, pricing: Pricing, own: Hub | None = None) -> list[Option[Hub]]:
    """Every strip that could stand at an open place, cheapest first; ``own`` is the one that stands there today."""
    candidates = [own] if own else []
    candidates += [replace(hub, strip=row, title=row.title) for row in shelf.strips.values()]
    return sorted((Option(pricing.hub(one), one) for one in candidates), key=lambda one: (one.cost, one.item.title))
