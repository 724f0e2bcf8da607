"""The order of switching on and off, derived from the tree: a source before what it feeds, a radio last."""

from __future__ import annotations

from engine.case import Case, Draw, Feed
from engine.verdict import Step

RANK = {"accessory": 0, "computer": 1, "radio": 2, "amplifier": 3}
"""Later is switched on later: what keys the most comes last, when everything that it needs is steady."""


def order(case: Case) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """The steps to switch on and to switch off; off is on in reverse."""
    draws = sorted((one for one in case.draws if one.feed == "dc"), key=lambda one: (RANK.get(one.group, 2), one.id))
    on = [_all_off(case)]
    for feed in case.feeds:
        on += [_supply_on(feed), *_gauge(case, feed)]
    on += [_load_on(one) for one in draws]
    off = [
        _unkey(draws),
        *(_load_off(one) for one in reversed(draws)),
        *(_supply_off(one) for one in reversed(case.feeds)),
    ]
    return tuple(on), tuple(off)


def _all_off(case: Case) -> Step:
    return Step("station", "make sure that every load is switched off at its own switch", "no lamp or display is lit")


def _supply_on(feed: Feed) -> Step:
    low, high = feed.lowest_volts, feed.highest_volts
    seen = f"its meter, or yours at its terminals, shows {low:.1f} to {high:.1f} V and stays there"
    return Step(feed.id, f"switch on {feed.id}", seen)


def _gauge(case: Case, feed: Feed) -> list[Step]:
    if not feed.adjustable:
        return []
    return [
        Step(
            feed.id,
            f"the first time, with nothing connected, set {feed.id} to {feed.volts:g} V, then lock or cover its knob",
            f"a meter of your own at its terminals shows {feed.volts:g} V",
        )
    ]


def _load_on(draw: Draw) -> Step:
    if draw.is_keyed:
        return Step(draw.id, f"switch on {draw.id}", "it receives; key it at low power first and look at the voltage")
    return Step(draw.id, f"switch on {draw.id}", "it starts and stays on")


def _unkey(draws: list[Draw]) -> Step:
    keyed = ", ".join(one.id for one in draws if one.is_keyed) or "everything"
    return Step("station", f"stop transmitting on {keyed}", "the supply's current falls to that of receive")


def _load_off(draw: Draw) -> Step:
    return Step(draw.id, f"switch off {draw.id} at its own switch", "its display is dark")


def _supply_off(feed: Feed) -> Step:
    return Step(feed.id, f"switch off {feed.id}, last of all", "pull or push no plug while current flows")
