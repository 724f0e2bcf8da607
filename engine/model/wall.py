"""What the station asks of the wall: which things are on which circuit, and the current that each takes there.

Volts, amperes and watts of the mains side; a licensed electrician and the local code decide what is done about them.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.model.case import Draw, Feed
from engine.model.operating import RESTING, Operating, State
from engine.model.turns import heating_amps
from engine.physics import duty
from engine.working import Figure, greatest, label, total

SITE = "site"
"""The circuit of everything that has none of its own."""

Plugged = Feed | Draw


@dataclass(frozen=True)
class Circuit:
    """One wall circuit: its voltage [V], the rating of its breaker [A], and what is plugged in there."""

    id: str
    mains: float
    rating: float
    parts: tuple[Plugged, ...]


def circuits(operating: Operating) -> tuple[Circuit, ...]:
    """The wall circuits of the station with what is known to hang on them, the site's own first."""
    place, known = operating.case.place, plugged(operating)
    common = tuple(one for one in known if not has_own(one))
    site = [Circuit(SITE, place.mains, place.circuit, common)] if common else []
    own = [Circuit(one.id, mains(operating, one), rating(operating, one), (one,)) for one in known if has_own(one)]
    return (*site, *own)


def plugged(operating: Operating) -> tuple[Plugged, ...]:
    """Everything that plugs into the wall and whose current there is known."""
    case = operating.case
    feeds = [one for one in case.feeds if not one.missing and one.from_mains and operating.demand.served.get(one.id)]
    return (*(one for one in case.draws if one.wall is not None), *feeds)


def has_own(part: Plugged) -> bool:
    """Whether the part has a circuit of its own."""
    return part.mains is not None or part.circuit is not None


def mains(operating: Operating, part: Plugged) -> float:
    """The mains voltage [V] at a part."""
    return part.mains if part.mains is not None else operating.case.place.mains


def rating(operating: Operating, part: Plugged) -> float:
    """The rating [A] of the circuit of a part."""
    return part.circuit if part.circuit is not None else operating.case.place.circuit


def largest(operating: Operating, part: Plugged, state: State) -> Figure:
    """The current [A] that a part takes from the wall at once in one state."""
    top, _ = _both(operating, part, state)
    return _asks(operating, part, Figure(top, _drawn_in(part), "drawn", state.name))


def counted(operating: Operating, part: Plugged, state: State) -> Figure:
    """The current [A] by which a circuit is sized: the largest at once, or the steady part with the continuous rule."""
    top, steady = _both(operating, part, state)
    unit, rule = _drawn_in(part), "continuous rule, NEC 210.19 and 215.2"
    over_hours = Figure(steady, unit, "steady", "heating over hours")
    factor = Figure(operating.case.limits.continuous_factor, "", "factor", rule)
    sized = greatest(Figure(top, unit, "largest", state.name), over_hours * factor)
    return _asks(operating, part, sized.named("drawn"))


def over_hours(operating: Operating, part: Plugged) -> float:
    """The largest current [A] that a part counts as taking from the wall over hours, the continuous rule left out."""
    most = max(_both(operating, part, state)[1] for state in operating.states)
    return _asks(operating, part, Figure(most, _drawn_in(part), "drawn")).value


def _drawn_in(part: Plugged) -> str:
    """The unit of what a part draws: a supply gives direct current, of anything else the watts are known."""
    return "A" if isinstance(part, Feed) else "W"


def _asks(operating: Operating, part: Plugged, drawn: Figure) -> Figure:
    at_wall = Figure(mains(operating, part), "V", "mains", "at the wall")
    if isinstance(part, Draw):
        return drawn / at_wall
    volts = Figure(part.volts, "V", "volts", f"set point of {part.id}")
    efficiency = Figure(part.efficiency, "%", "efficiency", f"{part.title} at full load")
    return drawn * volts / (efficiency * Figure(part.power_factor, "", "power factor", part.title) * at_wall)


def _both(operating: Operating, part: Plugged, state: State) -> tuple[float, float]:
    """The largest and the steady draw in one state: direct current [A] of a supply, watts of what has no supply."""
    if isinstance(part, Draw):
        top = part.wall.high if part.wall and state.name != RESTING else 0.0
        return top, _wall_heating(part, top)
    top = operating.demand.total(part.id, state, operating.demand.peak)
    return min(top, part.limit), min(heating_amps(operating.demand, part.id), part.limit)


def _wall_heating(part: Draw, top: float) -> float:
    """Root mean square over hours [W] of what plugs into the wall itself and takes ``top`` [W] at key-down."""
    over = duty.keyed_rms(0.0, top, part.mode.duty, part.mode.envelope)
    return float(duty.rms_in_turns([(part.keyed, over)]))


def worst(operating: Operating, circuit: Circuit, sized: bool = True) -> tuple[Figure, State]:
    """The largest current [A] of a circuit over all states, as the sum over what hangs on it, and that state.

    ``sized`` counts the continuous rule in; without it the figure is what a clamp meter would show.
    """
    measure = counted if sized else largest
    found = []
    for state in operating.states:
        parts = (measure(operating, one, state).named(label(one.id), state.name) for one in circuit.parts)
        found.append((total(parts, "A"), state))
    return max(reversed(found), key=lambda one: one[0].value)
