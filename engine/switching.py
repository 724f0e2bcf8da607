"""The order of switching on and off, derived from the tree: a source before what it feeds, what keys the most last."""

from __future__ import annotations

from collections.abc import Iterator

from engine.case import BATTERY, BOOSTER, VEHICLE, Case, Draw, Feed
from engine.verdict import Step

RANK = {"accessory": 0, "computer": 1, "radio": 2, "amplifier": 3}
"""Later is switched on later: what keys the most comes last, when everything that it needs is steady."""


def order(case: Case) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """The steps to switch on and to switch off; the parts come off in the reverse of the order they go on."""
    draws = sorted((d for d in case.draws if not d.converts), key=lambda one: (RANK.get(one.group, 2), one.id))
    feeds = sorted(case.feeds, key=lambda one: one.kind == BOOSTER)
    amplifiers = [one for one in draws if one.group == "amplifier"]
    on = [_all_off(amplifiers), *(step for feed in feeds for step in _source_on(feed)), *map(_load_on, draws)]
    on += [_operate(one) for one in amplifiers]
    off = [_unkey(draws), *map(_standby, reversed(amplifiers)), *(s for one in reversed(draws) for s in _load_off(one))]
    off += [_source_off(one) for one in reversed(feeds)]
    return tuple(on), tuple(off)


def _all_off(amplifiers: list[Draw]) -> Step:
    standby = "".join(f", and {one.id} is in standby" for one in amplifiers)
    do = "make sure that everything is switched off at its own switch" + standby
    return Step("station", do, "no lamp or display is lit, and every plug is fully home: none is moved from now on")


def _source_on(feed: Feed) -> Iterator[Step]:
    if feed.kind == VEHICLE:
        yield Step(feed.id, f"start the engine of {feed.id}", "it runs evenly and the charging lamp is out")
        return
    low, high = feed.lowest_volts, feed.highest_volts
    seen = f"its meter, or yours at its terminals, shows {low:.1f} to {high:.1f} V and stays there"
    if feed.adjustable:
        yield Step(
            f"{feed.id} (first time)",
            f"the first time, with nothing connected, set {feed.id} to {feed.volts:g} V, then lock or cover its knob",
            f"a meter of your own at its terminals shows {feed.volts:g} V; switch it off and connect the leads",
        )
    does = f"close the isolator or put in the fuse of {feed.id}" if feed.kind == BATTERY else f"switch on {feed.id}"
    yield Step(feed.id, does, seen)


def _load_on(draw: Draw) -> Step:
    if draw.feed != "dc":
        wait = "it has warmed up in standby for as long as its maker says"
        return Step(draw.id, f"switch on {draw.id} at its own switch, in standby", wait)
    if draw.group == "amplifier":
        return Step(draw.id, f"switch on {draw.id}, in standby", "its display is lit and it shows no fault")
    if draw.is_keyed:
        return Step(draw.id, f"switch on {draw.id}", "it receives; key it at low power first and look at the voltage")
    return Step(draw.id, f"switch on {draw.id}", "it starts and stays on")


def _operate(draw: Draw) -> Step:
    return Step(f"{draw.id} (operate)", f"take {draw.id} from standby to operate, with nothing keyed", "nothing jumps")


def _unkey(draws: list[Draw]) -> Step:
    keyed = ", ".join(one.id for one in draws if one.is_keyed) or "everything"
    return Step("station", f"stop transmitting on {keyed}", "the supply's current has fallen to that of receive")


def _standby(draw: Draw) -> Step:
    return Step(f"{draw.id} (standby)", f"take {draw.id} to standby", "its display says so")


def _load_off(draw: Draw) -> Iterator[Step]:
    if draw.feed != "dc":
        yield Step(f"{draw.id} (cooling)", f"leave {draw.id} on in standby to cool", "as long as its maker says")
    yield Step(draw.id, f"switch off {draw.id} at its own switch", "its display is dark")


def _source_off(feed: Feed) -> Step:
    if feed.kind == VEHICLE:
        return Step(feed.id, f"stop the engine of {feed.id}", "everything that it feeds was off before")
    if feed.kind == BATTERY:
        does = f"open the isolator or take out the fuse of {feed.id}, after everything that it feeds"
        return Step(feed.id, does, "its posts are covered; only now may a plug be moved")
    return Step(
        feed.id,
        f"switch off {feed.id}, after everything that it feeds",
        "its lamp is dark; only now may a plug be moved",
    )
