"""Who transmits when: every load's share of the time keyed, taken in turns, and what is left for listening.

One load is keyed at a time unless the owner names those that are keyed together. Whatever is reckoned over hours, be
it charge, sun or heat, takes its mean over these turns.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from engine.model.case import Draw
from engine.model.operating import RECEIVE, Demand, State
from engine.physics import duty
from engine.terms import PowerInput
from engine.working import Figure, label

Keyed = frozenset[str]
Measure = Callable[[Draw, State], float]
"""What a load takes in a state [A]."""

TINY = 1e-12
"""A share of the time that is none."""


@dataclass(frozen=True)
class Turn:
    """What the loads do for a ``share`` of the time (0 to 1)."""

    state: State
    share: float


def airtime(shares: Mapping[str, float], together: Iterable[Keyed]) -> dict[Keyed, float]:
    """For how much of the time exactly these loads are keyed, for every such set of them.

    Loads of a group are keyed at the same time, each for its own share; all else is keyed one after the other.

    >>> found = airtime({"a": 0.3, "b": 0.2, "c": 0.1}, [frozenset("ab")])
    >>> [("".join(sorted(keyed)), round(share, 3)) for keyed, share in found.items()]
    [('ab', 0.2), ('a', 0.1), ('c', 0.1)]
    """
    left = {name: share for name, share in shares.items() if share > TINY}
    turns: dict[Keyed, float] = {}
    for group in together:
        _overlap(group, left, turns)
    for name, share in left.items():
        if share > TINY:
            turns[frozenset((name,))] = share
    return turns


def _overlap(group: Keyed, left: dict[str, float], turns: dict[Keyed, float]) -> None:
    """Move what the loads of a group do at the same time from ``left`` to ``turns``."""
    while len(sending := [name for name in left if name in group and left[name] > TINY]) > 1:
        share = min(left[name] for name in sending)
        keyed = frozenset(sending)
        turns[keyed] = turns.get(keyed, 0.0) + share
        for name in sending:
            left[name] -= share


def station_airtime(demand: Demand) -> dict[Keyed, float]:
    """The turns of every load that is keyed, on whatever source it hangs."""
    return demand.remembered(("airtime",), lambda: _station_airtime(demand))


def _station_airtime(demand: Demand) -> dict[Keyed, float]:
    shares = {one.id: one.keyed for one in demand.draws if one.is_keyed and one.feed == PowerInput.DC}
    return airtime(shares, (one.keyed for one in demand.states if len(one.keyed) > 1))


def turns(demand: Demand, part: str) -> tuple[Turn, ...]:
    """What a source, strip or lead sees of the station's turns, listening first; the shares sum to one.

    Where the owner's shares are more than the whole time, nothing is left for listening and they sum to more.
    """
    return demand.remembered(("turns", part), lambda: _turns(demand, part))


def _turns(demand: Demand, part: str) -> tuple[Turn, ...]:
    served = frozenset(one.id for one in carried(demand, part))
    shares: dict[Keyed, float] = {}
    for group, share in station_airtime(demand).items():
        if group & served:
            shares[group & served] = shares.get(group & served, 0.0) + share
    listening = max(1 - sum(shares.values()), 0.0)
    receive = [Turn(State(RECEIVE), listening)] if listening > TINY else []
    return (*receive, *(Turn(_state(demand, keyed), share) for keyed, share in shares.items()))


def _state(demand: Demand, keyed: Keyed) -> State:
    """The state in which exactly these loads are keyed."""
    known = {one.keyed: one for one in demand.states if one.is_keyed}
    return known.get(keyed) or State(" + ".join(sorted(keyed)) + " keyed", keyed)


def carried(demand: Demand, part: str) -> list[Draw]:
    """The loads that a part carries in the end, those behind a booster in the booster's place."""
    ends: list[Draw] = []
    for draw in demand.fed_by(part):
        ends += carried(demand, draw.converts) if draw.converts else [draw]
    return ends


def mean_amps(demand: Demand, part: str, measure: Measure) -> float:
    """Mean over the turns [A] of what a part carries."""
    return sum(turn.share * demand.total(part, turn.state, measure) for turn in turns(demand, part))


def heating_amps(demand: Demand, part: str) -> float:
    """Root mean square over the turns [A] of what a part carries, with everything at its larger figures."""

    def work() -> float:
        in_turns = ((one.share, demand.total(part, one.state, demand.heating)) for one in turns(demand, part))
        return float(duty.rms_in_turns(in_turns))

    return demand.remembered(("heating over hours", part), work)


def heating(demand: Demand, part: str) -> Figure:
    """``heating_amps`` with its working."""
    shares = (Figure(one.share, "%", label(one.state.name), "share of the time") for one in turns(demand, part))
    during = (
        Figure(
            demand.total(part, one.state, demand.heating),
            "A",
            label(f"{one.state.name} current"),
            "what heats meanwhile, from the mode's duty",
        )
        for one in turns(demand, part)
    )
    return duty.rms_in_turns(zip(shares, during, strict=True))
