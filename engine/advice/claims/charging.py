"""A claim about how long a charge takes."""

from __future__ import annotations

from engine.advice.claims.result import DOUBTFUL, HOLDS, REFUTED, Judged, at_most, near, plain, span
from engine.parts import Chemistry
from engine.physics import charge
from engine.working import Figure, number

LITHIUM_RETURN = 1.05
"""Ampere-hours put back for each taken out of a lithium battery (common practice, no source)."""

BASIS = (
    "ampere-hours put back for each taken as chargers are sized, 1.15 for lead-acid; the last fifth of lead-acid takes "
    "as long as the rest (common practice)"
)


def charge_hours(chemistry: Chemistry, amp_hours: float, amps: float, hours: float, taken: float = 1.0) -> Judged:
    """Whether a charger of ``amps`` [A] fills a battery of ``amp_hours`` [Ah] in ``hours`` [h].

    ``taken`` is the share of the charge that was drawn (0 to 1, all where none is named). The least is the charger's
    whole current to the end, losses paid; the most has the slow end of the charge.
    """
    back = charge.TEXTBOOK_RETURN if chemistry.is_lead else LITHIUM_RETURN
    drawn = Figure(amp_hours * taken, "Ah", "drawn", "out of the battery")
    current = Figure(amps, "A", "amps", "the charger's")
    ideal = drawn / current
    least = drawn * Figure(back, "", "back", "put back for each taken") / current
    most = _slow(chemistry, amp_hours, amps, taken, back)
    outcome = at_most(hours, least.value, most.value)
    says = f"it takes {span(least, most)}"
    because = {
        REFUTED: ("The first is without the slow end of the charge.",),
        DOUBTFUL: ("Nearly full by then, not quite.",),
        HOLDS: (),
    }[outcome]
    claim = f"{plain(amps, 'A')} fills {plain(amp_hours * taken, 'Ah')} in {plain(hours, 'h')} ({chemistry.id})"
    forgotten = outcome == REFUTED and near(hours, ideal.value)
    mistake = "losses and the slow end of the charge were forgotten" if forgotten else ""
    care = _care(chemistry, amp_hours, amps)
    return Judged(claim, outcome, says, (ideal, least, most), mistake, BASIS, care, because)


def _slow(chemistry: Chemistry, amp_hours: float, amps: float, taken: float, back: float) -> Figure:
    tail = charge.LEAD_TAIL if chemistry.is_lead else charge.LITHIUM_TAIL
    slow = min(amp_hours * taken, tail.share * amp_hours)
    drawn = Figure(amp_hours * taken, "Ah", "drawn", "out of the battery")
    end = Figure(slow, "Ah", "slow", "of it at the slow end")
    pace = Figure(tail.pace, "%", "pace", "of the charger's current there, on average")
    put_back = Figure(back, "", "back", "put back for each taken")
    return (drawn - end + end / pace) * put_back / Figure(amps, "A", "amps", "the charger's")


def _care(chemistry: Chemistry, amp_hours: float, amps: float) -> str:
    """What may hurt the battery, or whoever stands beside it."""
    greatest = chemistry.charge_share * amp_hours
    if amps > greatest:
        return (
            f"WARNING: {number(greatest, 'A')} is the most that {chemistry.title} of this size should be charged with; "
            "its maker's figure wins"
        )
    if chemistry.is_lead:
        return "CAUTION: lead-acid gives off hydrogen while it is charged: air the room, no sparks"
    return "CAUTION: a charger made for this chemistry, and never below freezing"
