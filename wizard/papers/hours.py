"""A session on battery in words: the three answers, what ends it, and what lower power would buy."""

from __future__ import annotations

from collections.abc import Iterator

from engine.advice.reduced_power import Lower, lower
from engine.advice.spreads import Sureness, sureness
from engine.model.endurance import DEPTH, FLOOR, Endurance, listening_hours, parked_sessions, sessions
from engine.parts import Shelf
from engine.physics.power import output_share
from engine.rules.check import Verdict


def hours_lines(verdict: Verdict, shelf: Shelf) -> Iterator[str]:
    """Every battery of the station."""
    found = [*sessions(verdict.faces), *parked_sessions(verdict.faces)]
    for number, (operating, feed, made) in enumerate(found):
        yield from ("",) if number else ()
        yield from session_lines(made, engine_off=feed.starter is not None)
        yield f"  {listening_hours(operating, feed):.1f} h if you only listen"
        yield from sure_lines(sureness(operating, feed))
        yield from lower_lines(lower(operating, feed, shelf))
    if not found:
        yield f"{verdict.station.name}: no battery whose kind and capacity are known feeds anything here"


def session_lines(made: Endurance, engine_off: bool = False) -> Iterator[str]:
    """The three answers of one session."""
    depth, floor = made.end(DEPTH), made.end(FLOOR)
    who = f"the input of {made.load}," if made.converter else made.load
    left = f"with {made.first.left * 100:.0f} % left in it"
    when = ", engine off" if engine_off else ""
    yield f"{made.feed}{when}: lasts {made.hours:.1f} h; then {made.first.says}, {left}"
    yield f"  on the back of an envelope   {made.ideal:.1f} h   rated ampere-hours over the mean current"
    if depth:
        yield f"  by the battery's own nature  {depth.hours:.1f} h   rate, cold and age counted, to the depth accepted"
    if floor:
        yield f"  until the radio's floor      {floor.hours:.1f} h   {who} keyed falls to {made.floor:.2f} V"
    else:
        yield f"  until the radio's floor      never before that: {who} keyed stays above {made.floor:.2f} V"
    yield f"  {made.receive_share * 100:.0f} % of the charge goes into listening"
    if not engine_off:
        yield f"  {made.weight:.1f} kg of battery, {made.weight / max(made.hours, 0.01):.1f} kg for each hour"
    before = [one for one in made.trace if one.hours <= made.hours]
    if before and not made.converter:
        volts = before[-1].keyed
        share = output_share(volts)
        said = f"about {share.low * 100:.0f} to {share.high * 100:.0f} % of full power"
        yield f"  just before the end {who} keyed sees {volts:.2f} V: {said}, an estimate"


def sure_lines(found: Sureness | None) -> Iterator[str]:
    """How far the hours may be off, and what moves them most."""
    if found is None or not found.alone:
        return
    hours, volts = found.together.hours, found.together.volts
    yield f"  between {hours.low:.1f} and {hours.high:.1f} h, {hours.usual:.1f} h likely, as such figures differ"
    most = found.alone[0]
    yield f"  most by {most.name}: {most.hours.low:.1f} to {most.hours.high:.1f} h; measure that first"
    yield f"  keyed volts at the likely end: {volts.low:.1f} to {volts.high:.1f} V"


def lower_lines(found: tuple[Lower, ...]) -> Iterator[str]:
    """What lower power buys."""
    if not found:
        return
    yield ""
    yield f"  {found[0].load} turned down      current     lasts   listening takes"
    for one in found:
        level = f"{one.share * 100:.0f} % of its power" + (f", {one.decibels:.0f} dB" if one.share < 1 else "")
        yield f"    {level:<24} {one.amps:5.1f} A   {one.hours:5.1f} h   {one.receive_share * 100:3.0f} %"
    yield "  current by a curve of its class, never in proportion; one S unit is commonly counted as 6 dB"
