"""The order of switching on and off, derived from the tree: a source before what it feeds, what keys the most last."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.findings import Step
from engine.model.case import BATTERY, BOOSTER, MAINS, VEHICLE, Case, Draw, Feed
from engine.terms import Group, PowerInput

RANK: dict[str, int] = {Group.ACCESSORY: 0, Group.COMPUTER: 1, Group.RADIO: 2, Group.AMPLIFIER: 3}
"""Later is switched on later: what keys the most comes last, when everything that it needs is steady."""


@dataclass(frozen=True)
class Way:
    """How one kind of source is brought up and down. ``rank``: lower comes on earlier and goes off later.

    The texts may name ``{id}`` and the ``{low}`` and ``{high}`` volts that its terminals show.
    """

    rank: int
    on: str
    steady: str
    off: str
    rests: str


SEEN = "its meter, or yours at its terminals, shows {low:.1f} to {high:.1f} V and stays there"
SUPPLY = Way(
    2, "switch on {id}", SEEN, "switch off {id}, after everything that it feeds",
    "its lamp is dark; only now may a plug be moved",
)  # fmt: skip
WAYS: dict[str, Way] = {
    MAINS: SUPPLY,
    BATTERY: Way(
        0, "close the isolator of {id}", SEEN, "open the isolator of {id}, after everything that it feeds",
        "a meter behind the isolator shows nothing; the battery's own posts stay live",
    ),
    VEHICLE: Way(
        1, "start the engine", "a meter at the battery of {id} shows {low:.1f} to {high:.1f} V and stays there",
        "stop the engine, after everything that {id} feeds", "nothing that it feeds is lit",
    ),
    BOOSTER: Way(
        3, "switch on {id}", SEEN,
        "switch off {id}, after everything that it feeds", "nothing behind it is lit",
    ),
}  # fmt: skip
"""One row for each kind of source. A new kind needs a row here and nothing else in this file."""


def way(feed: Feed) -> Way:
    """How a source is switched; one of a kind without a row is switched like a supply."""
    return WAYS.get(feed.kind, SUPPLY)


def order(case: Case) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """The steps to switch on and to switch off; the parts come off in the reverse of the order they go on."""
    draws = sorted((d for d in case.draws if not d.converts), key=lambda one: (RANK.get(one.group, 2), one.id))
    feeds = sorted(case.feeds, key=lambda one: way(one).rank)
    amplifiers = [one for one in draws if one.group == Group.AMPLIFIER]
    on = [_all_off(amplifiers), *_wall_on(case), *(step for feed in feeds for step in _source_on(feed))]
    on += [*map(_load_on, draws), *map(_operate, amplifiers)]
    off = [_unkey(draws), *map(_standby, reversed(amplifiers)), *(s for one in reversed(draws) for s in _load_off(one))]
    off += [*map(_source_off, reversed(feeds)), *_wall_off(case)]
    return tuple(on), tuple(off)


def never(case: Case) -> tuple[str, ...]:
    """What must never be plugged, parted or turned while it is live."""
    return tuple(_never(case))


def _never(case: Case) -> Iterator[str]:
    if case.leads:
        yield "never join or part a direct-current plug while its source is on: the arc spoils it, and a slip shorts it"
    loose = [lead.id for lead in case.leads if any(not one.locks for one in lead.contacts or ())]
    if loose:
        yield f"these pull apart by hand, so nothing may tug at them while live: {', '.join(loose)}"
    knobs = [one.id for one in case.feeds if one.adjustable]
    if knobs:
        yield f"never turn the voltage knob of {', '.join(knobs)} with anything connected"
    keyed = [one.id for one in case.draws if one.is_keyed]
    if keyed:
        yield f"never change an antenna or its plug while any of {', '.join(keyed)} may be keyed"
    for one in (one for one in case.draws if one.feed == PowerInput.MAINS):
        yield f"never pull the plug of {one.id} while it is on, and never open it: lethal voltage stays when it is off"
    batteries = [one.id for one in case.feeds if one.kind in (BATTERY, VEHICLE)]
    if batteries:
        yield f"never lift a clamp off the posts of {', '.join(batteries)} while anything draws or charges"


def _all_off(amplifiers: list[Draw]) -> Step:
    standby = "".join(f", and {one.id} is in standby" for one in amplifiers)
    do = "make sure that everything is switched off at its own switch" + standby
    return Step("station", do, "no lamp or display is lit, and every plug is fully home: none is moved from now on")


def _wall_on(case: Case) -> Iterator[Step]:
    """The mains side first: a generator until it runs evenly, or the breaker of the circuit."""
    if case.place.generator is not None:
        do = "start the generator, outdoors and with nothing switched on behind it"
        yield Step("generator", do, "it runs evenly and its voltage has settled")
    elif any(one.from_mains for one in case.feeds) or any(one.feed == PowerInput.MAINS for one in case.draws):
        yield Step(
            "wall", "see that the breaker of the circuit is on", "the outlet is live and no earth pin is missing"
        )


def _wall_off(case: Case) -> Iterator[Step]:
    if case.place.generator is not None:
        yield Step("generator", "stop the generator, after everything else", "it stands still; let it cool before fuel")


def _source_on(feed: Feed) -> Iterator[Step]:
    if feed.adjustable:
        yield Step(
            f"{feed.id} (first time)",
            f"the first time, with nothing connected, set {feed.id} to {feed.volts:g} V, then lock or cover its knob",
            f"a meter of your own at its terminals shows {feed.volts:g} V; switch it off and connect the leads",
        )
    yield Step(feed.id, _worded(way(feed).on, feed), _worded(way(feed).steady, feed))


def _worded(text: str, feed: Feed) -> str:
    return text.format(id=feed.id, low=feed.lowest_volts, high=feed.highest_volts)


def _load_on(draw: Draw) -> Step:
    if draw.feed != PowerInput.DC:
        wait = "it has warmed up in standby for as long as its maker says"
        return Step(draw.id, f"switch on {draw.id} at its own switch, in standby", wait)
    if draw.group == Group.AMPLIFIER:
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
    if draw.feed != PowerInput.DC:
        yield Step(f"{draw.id} (cooling)", f"leave {draw.id} on in standby to cool", "as long as its maker says")
    yield Step(draw.id, f"switch off {draw.id} at its own switch", "its display is dark")


def _source_off(feed: Feed) -> Step:
    return Step(feed.id, _worded(way(feed).off, feed), _worded(way(feed).rests, feed))
