"""Claims about a battery's hours: how long so many ampere-hours last at a mean current."""

from __future__ import annotations

from collections.abc import Sequence

from engine.advice.claims.result import CLOSE, DOUBTFUL, HOLDS, REFUTED, Judged, at_least, near, plain, span
from engine.parts import Chemistry
from engine.physics import cells
from engine.working import Figure

USUAL_CELSIUS = 25.0
"""Temperature of a battery where none is named [°C]: that of its rating."""

DEEPEST = {"lead-acid": 0.8}
"""Share of a charge that may be drawn now and then; a lithium battery's may be whole (common practice, no source)."""


BASIS = (
    "NCVEC T4A09, ampere-hours over amperes; Peukert's law on the H-hour rating; half a lead-acid battery and four "
    "fifths at the most, common practice"
)
ALSO = "A radio stops at its own lowest volts, often before the battery is empty"


def battery_hours(
    amp_hours: float,
    amps: float,
    hours: float,
    chemistries: Sequence[Chemistry],
    celsius: float = USUAL_CELSIUS,
    health: float = 1.0,
) -> Judged:
    """Whether a battery of ``amp_hours`` [Ah] lasts ``hours`` [h] at a mean of ``amps`` [A].

    ``chemistries`` are those that it may be, one where it is known. ``celsius`` is its own temperature [°C], ``health``
    the share of its capacity that age has left (0 to 1). The least is what long life allows, by the largest published
    exponent; the most is as deep as it may go, by the smallest.
    """
    mean = Figure(amps, "A", "amps", "the mean of receive and key-down")
    ideal = Figure(amp_hours, "Ah", "ampere-hours", "as on the label") / mean
    usable = [_usable(chemistry, amp_hours, amps, celsius, health) for chemistry in chemistries]
    least = min((low for low, _ in usable), key=lambda figure: figure.value)
    most = max((high for _, high in usable), key=lambda figure: figure.value)
    outcome = at_least(hours, least.value, most.value)
    kinds = chemistries[0].title if len(chemistries) == 1 else "by its sort"
    says = f"usable are {span(least, most)} ({kinds})"
    because = [f"Ampere-hours over amperes are {ideal}: until empty, new and warm."]
    if len(chemistries) > 1 and outcome == DOUBTFUL:
        because.append("Name the sort of battery, and the answer is closer.")
    claim = f"{plain(amp_hours, 'Ah')} lasts {plain(hours, 'h')} at {amps:.3g} A"
    mistake = _mistake(hours, ideal.value, most.value) if outcome != HOLDS else ""
    care = ALSO if outcome != REFUTED else ""
    return Judged(claim, outcome, says, (ideal, least, most), mistake, BASIS, care, tuple(because))


def _usable(
    chemistry: Chemistry, amp_hours: float, amps: float, celsius: float, health: float
) -> tuple[Figure, Figure]:
    """The least and the most hours of one sort of battery."""
    left = cells.capacity(chemistry, amp_hours, celsius, health)
    deepest = DEEPEST.get(chemistry.family, 1.0)
    longest = cells.hours_to_empty(left, chemistry.hours, amps, chemistry.peukert.low)
    shortest = cells.hours_to_empty(left, chemistry.hours, amps, chemistry.peukert.high)
    return _share(chemistry, shortest, chemistry.depth), _share(chemistry, longest, deepest)


def _share(chemistry: Chemistry, empty: float, depth: float) -> Figure:
    to_empty = Figure(empty, "h", "to empty", f"{chemistry.title}, at this current, temperature and age")
    return to_empty * Figure(depth, "%", "depth", "of the charge")


def _mistake(hours: float, ideal: float, most: float) -> str:
    if near(hours, ideal) or most * (1 + CLOSE) < hours < ideal:
        return "these are the hours until the battery is empty, by its label: usable are fewer"
    return "more than the label itself allows" if hours > ideal * (1 + CLOSE) else ""
