"""What the station asks of the wall: which things are on which circuit, and the current that each takes there.

Volts, amperes and watts of the mains side; a licensed electrician and the local code decide what is done about them.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.case import Draw, Feed
from engine.operating import RESTING, Operating, State
from engine.physics import duty
from engine.rules.supply import hours
from engine.verdict import Figure, Term, work

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
    return _asks(operating, part, Term(top, "A" if isinstance(part, Feed) else "W", state.name))


def counted(operating: Operating, part: Plugged, state: State) -> Figure:
    """The current [A] by which a circuit is sized: the largest at once, or the steady part with the continuous rule."""
    top, steady = _both(operating, part, state)
    unit = "A" if isinstance(part, Feed) else "W"
    of_class = work(
        "max(largest, steady * factor)",
        unit,
        largest=Term(top, unit, state.name),
        steady=Term(steady, unit, "heating over hours"),
        factor=Term(operating.case.limits.continuous_factor, "", "continuous rule, NEC 210.19 and 215.2"),
    )
    return _asks(operating, part, Term.of(of_class))


def over_hours(operating: Operating, part: Plugged) -> float:
    """The largest current [A] that a part counts as taking from the wall over hours, the continuous rule left out."""
    unit = "A" if isinstance(part, Feed) else "W"
    found = max(_both(operating, part, state)[1] for state in operating.states)
    return _asks(operating, part, Term(found, unit)).value


def _asks(operating: Operating, part: Plugged, drawn: Term) -> Figure:
    volts = Term(mains(operating, part), "V", "at the wall")
    if isinstance(part, Draw):
        return work("drawn / mains", "A", drawn=drawn, mains=volts)
    return work(
        "drawn * volts / (efficiency * power_factor * mains)",
        "A",
        drawn=drawn,
        volts=Term(part.volts, "V", f"set point of {part.id}"),
        efficiency=Term(part.efficiency, "%", f"{part.title} at full load"),
        power_factor=Term(part.power_factor, "", part.title),
        mains=volts,
    )


def _both(operating: Operating, part: Plugged, state: State) -> tuple[float, float]:
    """The largest and the steady draw in one state: direct current [A] of a supply, watts of what has no supply."""
    if isinstance(part, Draw):
        top = part.wall.high if part.wall and state.name != RESTING else 0.0
        return top, duty.shared_rms(0.0, duty.keyed_rms(0.0, top, part.mode.duty, part.mode.envelope), part.keyed)
    top = operating.demand.total(part.id, state, operating.demand.peak)
    return min(top, part.limit), min(hours(operating, part, state)[0], part.limit)


def worst(operating: Operating, circuit: Circuit, sized: bool = True) -> tuple[Figure, State]:
    """The largest current [A] of a circuit over all states, as the sum over what hangs on it, and that state.

    ``sized`` counts the continuous rule in; without it the figure is what a clamp meter would show.
    """
    measure = counted if sized else largest
    found = []
    for state in operating.states:
        parts = {one.id.replace("-", "_"): measure(operating, one, state) for one in circuit.parts}
        found.append((sum(one.value for one in parts.values()), state, parts))
    total, state, parts = max(reversed(found), key=lambda one: one[0])

    def behind() -> Figure:
        terms = {name: Term.of(one, state.name) for name, one in parts.items()}
        return work(" + ".join(terms) or "0", "A", **terms)

    return Figure(total, "A", behind=behind), state
