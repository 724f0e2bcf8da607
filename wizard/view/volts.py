"""What the volts at the loads do on a battery and in a vehicle, as lines with a drawing behind each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.model.case import VEHICLE, Draw, Feed
from engine.model.endurance import Endurance, sessions
from engine.model.operating import LIGHT, RESTING, Condition, Operating, own_condition
from engine.model.terminals import Terminal
from engine.rules.check import Verdict
from wizard.view.drawing import windows
from wizard.view.over_hours import WIDTH, over_hours

OFF, RUNNING, STARTING, CHARGING = "engine off", "running", "starting", "charging"
NAMED = {STARTING: "starting", OFF: "engine off", RUNNING: "engine running"}
"""The conditions of a vehicle by the names that the engine gives them."""

KEY = "[ ] what it accepts, = its volts from receive to keyed, ! outside"
START = "while it starts the radio is off: start the engine first, then switch on"


def _window(operating: Operating, made: Endurance) -> tuple[float, float]:
    """The window of the load that is nearest to its floor."""
    draw = operating.case.draw.get(made.load)
    return (draw.lowest, draw.highest) if draw else (made.floor, made.floor)


def lasts(made: Endurance) -> str:
    """How long a session lasts, and what ends it, in a line."""
    left = f"{made.first.left * 100:.0f} % left"
    return f"{made.feed} lasts about {made.hours:.1f} h, then {made.first.says}; {left}"


def vehicle_of(operating: Operating) -> Feed | None:
    """The vehicle of a station, where it feeds something."""
    found = [one for one in operating.case.feeds if one.kind == VEHICLE and operating.demand.served.get(one.id)]
    return found[0] if found else None


def conditions(operating: Operating, feed: Feed) -> dict[str, Condition]:
    """What a vehicle does, by a word for each, from few volts to many."""
    own = {one.name: own_condition(one) for one in feed.own_conditions}
    found = {word: own[name] for word, name in NAMED.items() if name in own}
    return {**found, CHARGING: LIGHT}


def moved(operating: Operating, feed: Feed, draw: Draw) -> list[Terminal]:
    """The volts of one load in every condition of a vehicle: the fewest keyed, the most at rest."""
    window = None if "window" in draw.missing else (draw.lowest, draw.highest)
    found = []
    for name, condition in conditions(operating, feed).items():
        points = [operating.point(state, condition) for state in operating.states if state.name != RESTING]
        volts = [one.volts[draw.id] for one in points if one.fed and draw.id in one.volts]
        if volts:
            top = max(*volts, operating.point(operating.states[0], condition).volts.get(draw.id, 0.0))
            found.append(Terminal(name, window, min(volts), None, top, ""))
    return found


def vehicle_loads(operating: Operating, feed: Feed) -> list[tuple[Draw, list[Terminal]]]:
    """Every load on a vehicle whose leads are known, a booster's input too, with its volts in every condition."""
    case = operating.case
    served = operating.demand.fed_by(feed.id)
    whole = [one for one in served if all(lead.conductor for lead in case.path(one.id))]
    return [(one, found) for one in whole if (found := moved(operating, feed, one))]


def off_line(draw: Draw, found: Sequence[Terminal]) -> str:
    """What a load sees keyed with the engine off, in a line; empty where that is not known."""
    off = next((one for one in found if one.id == OFF), None)
    if off is None or off.lowest is None:
        return ""
    inside = off.window is None or off.lowest >= off.window[0]
    floor = f", its floor is {off.window[0]:.2f} V" if off.window else ""
    return f"{'+' if inside else '!'} engine off: {draw.id} sees {off.lowest:.2f} V keyed{floor}"


def drawings(verdict: Verdict, width: int = WIDTH) -> Iterator[tuple[str, str]]:
    """A line for each battery and for each load in a vehicle, with its drawing."""
    for operating, _, made in sessions(verdict.faces):
        picture = over_hours(made, _window(operating, made), width)
        if picture:
            yield lasts(made), "\n".join(picture)
    for operating in verdict.faces:
        feed = vehicle_of(operating)
        for draw, found in vehicle_loads(operating, feed) if feed else ():
            yield _swing(draw, found), "\n".join((*windows(found, width), KEY, START))


def _swing(draw: Draw, found: Sequence[Terminal]) -> str:
    said = [f"{one.id} {one.lowest:.1f}" for one in found if one.lowest is not None and one.id != CHARGING]
    top = next((f", {one.id} up to {one.highest:.1f} V" for one in found if one.id == CHARGING), " V")
    return f"{draw.id} sees while keyed: {', '.join(said)}{top}"


def drawing_lines(verdict: Verdict, width: int) -> Iterator[str]:
    """Every drawing under its line."""
    for number, (title, picture) in enumerate(drawings(verdict, min(width, WIDTH))):
        yield from ("",) if number else ()
        yield title
        yield from picture.split("\n")
