"""What a plan offers beside itself: a knob turned up on purpose for a lone amplifier, a supply nearer to the radio."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from engine.model.case import LOW_CLASS, Case, Draw, Feed, Lead
from engine.parts import Shelf
from engine.station.model import Station
from engine.terms import Group, PowerInput
from engine.units import LENGTH, VOLTS, Spelled, show, spell

UP = 0.2
"""The least [V] by which turning up is worth a word."""

FAR = 5.0
"""From this length [m] on a lead from a mains supply is compared with a supply beside its load (own choice)."""


def turned_up(case: Case) -> Iterator[str]:
    """For each amplifier of the 12 V class that is alone on its supply: what more volts would give (load-line law)."""
    for feed in case.feeds:
        fed = [one for one in case.served.get(feed.id, ()) if one.feed == PowerInput.DC]
        if feed.from_mains and len(fed) == 1 and fed[0].group == Group.AMPLIFIER and fed[0].nominal < LOW_CLASS:
            yield from _up(case, feed, fed[0])


def _up(case: Case, feed: Feed, draw: Draw) -> Iterator[str]:
    """The highest set point that stays inside the amplifier's window with the usual margin, and what it gives."""
    most = (draw.highest - case.limits.window_margin) / (1 + feed.tolerance)
    volts = math.floor((min(most, feed.highest) if feed.adjustable else most) * 10 + 1e-6) / 10
    if volts < feed.volts + UP:
        return
    gain = (volts / feed.volts) ** 2 - 1
    knob = f"the knob of {feed.id}" if feed.adjustable else "a supply with a voltage knob, that knob"
    yield (
        f"offered: {draw.id} is alone on {feed.id} and accepts up to {show(draw.highest, VOLTS)}; {knob} set to "
        f"{show(volts, VOLTS)} on purpose and locked there gives about {gain * 100:.0f} % more output. "
        "Never where another load hangs on that supply"
    )


def far(station: Station, case: Case) -> Lead | None:
    """The longest lead between a supply at the wall and a load, where it is long enough to think of another place."""
    feeds = {one.id for one in case.feeds if one.from_mains}
    loads = {one.id for one in case.draws if not one.converts}
    given = {one.id for one in station.runs if one.length is not None}
    some = [one for one in case.leads if one.start in feeds and one.end in loads and one.length >= FAR]
    return max((one for one in some if one.id in given), key=lambda one: one.length, default=None)


def nearer(station: Station, lead: Lead, shelf: Shelf) -> Station:
    """The station with the supply beside the load at the end of ``lead``."""
    metres = Spelled(shelf.limits.desk_lead, show(shelf.limits.desk_lead, LENGTH))
    runs = tuple(replace(one, length=metres) if one.id == lead.id else one for one in station.runs)
    return replace(station, runs=runs)


def beside(lead: Lead, cost: float | None, instead: float) -> str:
    """What a supply beside the load would cost in all, against what the long lead makes it."""
    now = f" instead of {cost:.0f}" if cost is not None else ", where there is no plan over that lead"
    return (
        f"offered: {spell(lead.length, LENGTH)} is far for {lead.end} at these volts; with its supply beside it, on a "
        f"wall outlet there (a licensed electrician's work), all is about {instead:.0f}{now}"
    )
