"""Resistance and heat between two points, from what was read there."""

from __future__ import annotations

from engine.diagnosis.drops import RUN, Drop, in_words
from engine.diagnosis.expected import SOURCE, SoundStation
from engine.diagnosis.interval import Interval, total
from engine.diagnosis.result import Estimate
from engine.model.case import COPPER
from engine.working import Figure, given


def estimate(drop: Drop, sound: SoundStation) -> Estimate | None:
    """The stretch that a drop lies across; None where a source lies in it or no current is known to have flowed."""
    if any(part.name == SOURCE for part in drop.amps) or drop.usual <= 0 or drop.dead:
        return None
    lost, about = max(drop.value, 0.0), _between(drop)
    amps = Figure(drop.usual, "A", "amps", f"through {', '.join(drop.runs)}, {in_words(drop.state)}")
    volts = given(lost, "V", "lost", about)
    resistance = volts.named("volts") / amps
    watts = volts.named("volts") * amps
    expected, usual = _sound(drop, sound)
    return Estimate(
        about, drop.runs, in_words(drop.state), volts, drop.usual, resistance, watts, _ohms(drop), expected, usual,
        _copper(drop, sound), drop.exceeds(sound), drop.in_ohms, drop.within_run,
    )  # fmt: skip


def _between(drop: Drop) -> str:
    if not drop.within_run:
        return f"from {drop.upper} to {drop.lower}"
    leg = f" ({drop.leg} leg)" if drop.leg else ""
    return f"along {drop.upper}{leg}" if drop.lower == RUN else f"across the {drop.lower} of {drop.upper}{leg}"


def _ohms(drop: Drop) -> Interval:
    """The bounds that the meters' errors leave [Ω]."""
    through = next(iter(drop.amps.values())) if len(drop.runs) == 1 else Interval(drop.usual, drop.usual)
    return drop.lost.divided_by(through).not_negative


def _sound(drop: Drop, sound: SoundStation) -> tuple[Interval, float]:
    """The resistance that sound parts would show there, in bounds and usually."""
    if len(drop.runs) == 1:
        return total(sound.ohms(part) for part in drop.amps), sum(sound.usual(part) for part in drop.amps)
    through = Interval(drop.usual, drop.usual)
    usual = sum(sound.usual(part) * amps.middle for part, amps in drop.amps.items()) / drop.usual
    return drop.expected(sound).divided_by(through), usual


def _copper(drop: Drop, sound: SoundStation) -> float:
    """The resistance that its cable alone has at 20 °C [Ω], referred to the current of the whole stretch."""
    share = {part: 1.0 if len(drop.runs) == 1 else amps.middle / drop.usual for part, amps in drop.amps.items()}
    return sum(sound.copper_ohms(part.of) * share[part] for part in drop.amps if part.name == COPPER)
