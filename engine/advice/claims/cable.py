"""A claim about a cable: so many volts are lost in it, or it is enough."""

from __future__ import annotations

from engine.advice.claims.result import CLOSE, DOUBTFUL, HOLDS, NOMINAL, REFUTED, Judged, plain, worse
from engine.parts import Conductor, Limits
from engine.physics import copper
from engine.working import Figure, number

BASIS = "IEC 60028, ASTM B258 with 2 % for stranding, IEC 60228 class 5; Ohm's law"

FEET = 0.3048
MISTAKES = (
    (FEET, "the figure fits {length} feet: feet and metres were exchanged"),
    (1 / FEET, "the figure fits metres where feet were meant, or the other way round"),
    (0.5, "only one conductor was counted: the current flows out and back"),
    (0.5 * FEET, "feet and metres were exchanged, and only one conductor was counted"),
    (2.0, "the loop was doubled twice"),
)
"""Slips that change a drop by a factor, and their names."""

TEN_PERCENT = "a table for 10 % passes it: that is for lamps and pumps, electronics want 3 % (ABYC E-11)"


def drop(
    conductor: Conductor, amps: float, length: float, claimed: float | None, limits: Limits, volts: float = NOMINAL
) -> Judged:
    """Volts lost in a cable: ``amps`` [A] over ``length`` [m] one way; ``claimed`` [V], or None to ask if it is little.

    The least is the catalogue's stranded conductor at 20 °C, as the check takes it; the most is the same at 60 °C.
    Fuse and contacts come on top of both. ``volts`` [V] is the nominal voltage of which the aim is a share.
    """
    loop = 2 * Figure(length, "m", "one way")
    out_and_back = loop.named("loop", "the current flows out and back")
    cold = Figure(conductor.ohms_per_metre, "Ω/m", "per metre", f"a metre of {conductor.id}, stranded, 20 °C")
    least = _lost(amps, out_and_back, cold)
    warm = copper.ohms_per_metre(conductor.ohms_per_metre, 60)
    most = _lost(amps, out_and_back, Figure(warm, "Ω/m", "per metre", f"a metre of {conductor.id} at 60 °C"))
    solid = amps * loop.value * copper.RESISTIVITY / conductor.area
    aims = (limits.drop_target * volts, limits.drop_limit * volts)
    outcome, because = _outcome(least.value, most.value, claimed, aims)
    says = f"the copper alone loses {least} cold to {most} warm (solid wire: {number(solid, 'V')})"
    said = f"{plain(amps, 'A')} over {plain(length, 'm')} of {conductor.id}"
    claim = f"{said} loses {plain(claimed, 'V')}" if claimed is not None else f"{said} is enough"
    mistake = _mistake(claimed, solid, most.value, length) if outcome == REFUTED and claimed is not None else ""
    if claimed is None and outcome == DOUBTFUL and least.value > limits.drop_target * volts:
        mistake = TEN_PERCENT
    care = _heat(conductor, amps)
    if care and claimed is None:
        outcome = REFUTED if amps > max(conductor.ampacity.values()) else worse(outcome, DOUBTFUL)
    return Judged(claim, outcome, says, (least, most), mistake, BASIS, care, because)


def _lost(amps: float, loop: Figure, per_metre: Figure) -> Figure:
    return Figure(amps, "A", "amps") * loop * per_metre


def _outcome(
    least: float, most: float, claimed: float | None, aims: tuple[float, float]
) -> tuple[str, tuple[str, ...]]:
    """The outcome and why; where no loss is claimed the aim and the limit [V] decide."""
    more = "Fuse and contacts come on top."
    if claimed is None:
        target, limit = aims
        outcome = HOLDS if most <= target else REFUTED if least > limit else DOUBTFUL
        return outcome, (more, f"Aim for {_spoken(target)} or less, never above {_spoken(limit)}.")
    if claimed < least * (1 - CLOSE):
        return REFUTED, (more,)
    if claimed < most:
        return DOUBTFUL, (more, f"{plain(claimed, 'V')} holds while it is cool, and for nothing but the copper.")
    return HOLDS, (more,)


def _spoken(volts: float) -> str:
    """Volts in a sentence."""
    return f"{volts:.1f} V"


def _mistake(claimed: float, solid: float, most: float, length: float) -> str:
    """The slip that would turn the true drop, by a table of solid copper or warm, into the claimed one."""
    for factor, says in MISTAKES:
        if solid * (1 - CLOSE) <= claimed / factor <= most * (1 + CLOSE):
            return says.format(length=f"{length:g}")
    return ""


def _heat(conductor: Conductor, amps: float) -> str:
    """A warning where the cable itself cannot bear the current (33 CFR 183.425, 30 °C)."""
    bears = [celsius for celsius, most in conductor.ampacity.items() if most >= amps]
    least = min(conductor.ampacity)
    if not bears:
        most = max(conductor.ampacity.values())
        return f"WARNING: {conductor.id} bears {number(most, 'A')} at the most (33 CFR 183.425): {amps:g} A burns it"
    if min(bears) > least:
        usual = number(conductor.ampacity[least], "A")
        return (
            f"WARNING: with insulation for {least} °C it bears {usual} in 30 °C air (33 CFR 183.425); "
            f"{amps:g} A wants insulation for {min(bears)} °C or thicker wire, and a fuse that guards it"
        )
    return ""
