"""What lower power buys on a battery: hours, against decibels. Never in proportion, because a transmitter's standing
current and the receiver do not shrink with the power.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.model.case import Case, Draw, Feed
from engine.model.endurance import endurance
from engine.model.operating import Operating
from engine.parts import PowerCurve, Shelf, Span
from engine.physics import power

SHARES = (1.0, 0.5, 0.25, 0.1, 0.05)
"""Shares of full power that are looked at."""


@dataclass(frozen=True)
class Lower:
    """One power: its share of full power, decibels against that, key-down current [A], hours and what ends them,
    and the share of the charge that goes into listening.
    """

    load: str
    share: float
    decibels: float
    amps: float
    hours: float
    ends: str
    receive_share: float


def lower(operating: Operating, feed: Feed, shelf: Shelf) -> tuple[Lower, ...]:
    """The hungriest keyed load of a battery at several powers; empty where nothing is known of its current at less."""
    draw = _hungriest(operating, feed)
    curve = _curve(draw, shelf) if draw else None
    if draw is None or draw.transmit is None or curve is None:
        return ()
    return tuple(one for share in SHARES if (one := _at(operating.case, feed, draw, curve, share)))


def _hungriest(operating: Operating, feed: Feed) -> Draw | None:
    keyed = operating.demand.worst_peak(feed.id)[1].keyed
    found = [one for one in operating.case.draws if one.id in keyed and one.transmit]
    return max(found, key=lambda one: one.transmit.usual if one.transmit else 0.0, default=None)


def _curve(draw: Draw, shelf: Shelf) -> PowerCurve | None:
    return next((one for one in shelf.powers.values() if draw.equipment in one.classes), None)


def _at(case: Case, feed: Feed, draw: Draw, curve: PowerCurve, share: float) -> Lower | None:
    full = draw.transmit.usual if draw.transmit else 0.0
    ratio = power.reduced_amps(curve.points, share, full) / full
    turned = replace(draw, transmit=_scaled(draw, ratio))
    draws = tuple(turned if one.id == draw.id else one for one in case.draws)
    made = endurance(Operating(replace(case, draws=draws)), feed)
    if made is None:
        return None
    amps = turned.transmit.usual if turned.transmit else 0.0
    return Lower(
        draw.id, share, power.decibels(share, 1.0), amps, made.hours, made.first.says, made.receive_share
    )  # fmt: skip


def _scaled(draw: Draw, ratio: float) -> Span:
    span = draw.transmit or Span.exactly(0.0)
    least = draw.receive
    return Span(
        max(span.low * ratio, least.low), max(span.usual * ratio, least.usual), max(span.high * ratio, least.high)
    )
