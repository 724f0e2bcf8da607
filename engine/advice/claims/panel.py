"""A claim that a solar panel brings so many ampere-hours a day."""

from __future__ import annotations

from engine.advice.claims.result import REFUTED, Judged, at_least, near, plain, span
from engine.physics import array
from engine.working import Figure

BASIS = (
    "SAND87-7023: 2 % lost in wire, 10 % in the battery; common practice: PWM passes a panel's current at some 18 V, "
    "both methods give less than the label"
)
CARE = (
    "A panel is never put on a battery without a charge controller made for its chemistry (NCVEC G4E11); reckon with "
    "the sun of the worst month"
)
LABEL_VOLTS = (12.0, 13.8)
"""Volts by which a panel's watts are wrongly divided."""


def per_day(watts: float, sun: float, claimed: float) -> Judged:
    """Whether a panel of ``watts`` [W] on its label serves ``claimed`` [Ah] a day with ``sun`` peak sun hours [h]."""
    figures = [_served(watts, sun, method) for method in ("PWM", "MPPT")]
    least, most = sorted(figures, key=lambda figure: figure.value)
    outcome = at_least(claimed, least.value, most.value)
    says = f"it serves {span(least, most)} a day, by its controller"
    claim = f"{plain(watts, 'W')} of panel in {plain(sun, 'h')} of full sun serves {plain(claimed, 'Ah')} a day"
    mistake = ""
    if outcome == REFUTED and any(near(claimed, watts / volts * sun) for volts in LABEL_VOLTS):
        mistake = "the label's watts were divided by the battery's volts: a panel gives its current at some 18 V"
    return Judged(claim, outcome, says, (least, most), mistake, BASIS, CARE)


def _served(watts: float, sun: float, method: str) -> Figure:
    origin = f"into the battery in full sun, {method} controller"
    amps = Figure(array.charging_amps(watts, method), "A", "amps", origin)
    hours = Figure(sun, "h", "sun", "peak sun hours of a day")
    wire = Figure(array.WIRE, "%", "wire", "through the wiring")
    return amps * hours * wire * Figure(array.BATTERY, "%", "battery", "given back by the battery")
