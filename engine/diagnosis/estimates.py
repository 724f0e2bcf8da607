"""Resistance and heat between two points, from what was read there."""

from __future__ import annotations

from engine.diagnosis.band import Band, total
from engine.diagnosis.clues import Clue
from engine.diagnosis.result import Estimate
from engine.diagnosis.sound import SOURCE, Sound
from engine.working import Figure, given


def estimate(clue: Clue, sound: Sound) -> Estimate | None:
    """The stretch that a clue is about; None where a source lies in it or no current flowed."""
    if any(one.name == SOURCE for one in clue.amps) or clue.usual <= 0:
        return None
    amps = Figure(clue.usual, "A", "amps", f"through {', '.join(clue.runs)} with {clue.state.name}")
    volts = given(max(clue.value, 0.0), "V", "lost", _between(clue))
    resistance, watts = volts.named("volts") / amps, volts.named("volts") * amps
    expected, usual = _sound(clue, sound)
    currents = list(clue.amps.values())
    ohms = clue.lost.over(currents[0]) if len(set(clue.runs)) == 1 else clue.lost.over(Band(clue.usual, clue.usual))
    ohms = Band(max(ohms.low, 0.0), max(ohms.high, 0.0))
    return Estimate(
        _between(clue), clue.runs, clue.state.name, volts, clue.usual, resistance, watts, ohms, expected, usual,
        clue.over(sound), clue.in_ohms,
    )  # fmt: skip


def _between(clue: Clue) -> str:
    if clue.upper == (clue.runs or ("",))[0]:
        return f"across the {clue.lower} of {clue.upper}" if clue.lower != "run" else f"along {clue.upper}"
    return f"from {clue.upper} to {clue.lower}"


def _sound(clue: Clue, sound: Sound) -> tuple[Band, float]:
    """The resistance that sound parts would show there, in bounds and usually."""
    if len(clue.runs) == 1:
        return total(sound.ohms(one) for one in clue.amps), sum(sound.usual(one) for one in clue.amps)
    through = Band(clue.usual, clue.usual)
    usual = sum(sound.usual(one) * amps.middle for one, amps in clue.amps.items()) / clue.usual
    return clue.expected(sound).over(through), usual
