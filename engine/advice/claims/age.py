"""A claim that a battery of some age still has so much of its capacity."""

from __future__ import annotations

from engine.advice.claims.result import CLOSE, DOUBTFUL, HOLDS, REFUTED, Judged, plain, span
from engine.parts import Chemistry
from engine.working import Figure, greatest, number

END_OF_LIFE = 0.80
"""Share of its rated capacity below which a battery is replaced (US Bureau of Reclamation, FIST 3-6)."""

LIFE = {"flooded": (3.0, 6.0), "agm": (3.0, 6.0), "gel": (4.0, 7.0)}
LITHIUM_LIFE = (8.0, 15.0)
"""Years at 25 °C until only that is left, kept charged and seldom emptied (common practice, no source)."""

HALVED_BY = 8.0
"""Each so many kelvin above 25 °C halve the life of lead-acid: 10 years at 25 °C, 5 at 33 °C, 30 months at 41 °C
(read in secondary copies that agree)."""

LITHIUM_HALVED_BY = 10.0
"""The same for lithium (common practice, no source)."""

BASIS = (
    "life until 80 % is left, common practice by chemistry; each 8 °C above 25 °C halves that of lead-acid; a battery "
    "below 80 % is not to be relied on (US Bureau of Reclamation, FIST 3-6)"
)
TEST = "A discharge at a known current, timed, tells what is left."


def still_holds(chemistry: Chemistry, years: float, claimed: float = END_OF_LIFE, celsius: float = 25.0) -> Judged:
    """Whether a battery of ``years`` still holds ``claimed`` of its rated capacity (0 to 1), kept at ``celsius`` [°C].

    Its life runs down evenly, faster where it is warmer than 25 °C; ``claimed`` is 80 % where nothing is named.
    """
    shortest, longest = LIFE.get(chemistry.id, LITHIUM_LIFE)
    least, most = (_left(chemistry, years, life, celsius) for life in (shortest, longest))
    outcome = REFUTED if claimed > most.value + CLOSE else HOLDS if claimed <= least.value + 1e-9 else DOUBTFUL
    says = f"{span(least, most)} of its capacity is left, if it was kept charged"
    because = () if outcome == REFUTED else (TEST,)
    claim = f"{chemistry.title}, {years:g} years old, still holds {plain(claimed, '%')} of its ampere-hours"
    care = f"below {number(END_OF_LIFE, '%')} it is no longer to be relied on" if most.value < END_OF_LIFE else ""
    return Judged(claim, outcome, says, (least, most), "", BASIS, care, because)


def ageing(chemistry: Chemistry, celsius: float) -> float:
    """How many times faster a battery ages at ``celsius`` [°C] than at 25 °C or below."""
    halved_by = HALVED_BY if chemistry.is_lead else LITHIUM_HALVED_BY
    return float(2 ** (max(celsius - 25.0, 0.0) / halved_by))


def _left(chemistry: Chemistry, years: float, life: float, celsius: float) -> Figure:
    lost = Figure(1 - END_OF_LIFE, "%", "lost", "lost in a life")
    pace = Figure(ageing(chemistry, celsius), "", "pace", f"of ageing at {number(celsius, '°C')}")
    used = lost * Figure(years, "years", "years") * pace / Figure(life, "years", "life", "at 25 °C")
    return greatest(1 - used, Figure(0.0, "", "0")).as_("%")
