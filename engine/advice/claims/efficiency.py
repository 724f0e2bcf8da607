"""A claim that so many amperes are enough for so many watts of radio power, by the sort of set and its voltage."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.claims.result import CLOSE, DOUBTFUL, HOLDS, NOMINAL, REFUTED, Judged, plain
from engine.parts import Span
from engine.working import Figure

HIGH_SUPPLY = 20.0
"""From here [V] a final stage counts as one of 28 or 50 V."""

SMALL_WATTS, SET_WATTS = 20.0, 200.0
"""Up to these watts [W] of radio power a set is a small one, and a whole transceiver rather than an amplifier."""

TURNED_DOWN = "A larger set turned down to so few watts draws far more: 4 to 5 A at 5 W from one of 50 W"


@dataclass(frozen=True)
class Stage:
    """A sort of set: of the direct current's watts, what leaves as radio power (worst, usual, best share)."""

    id: str
    title: str
    shares: Span
    high_supply: Span | None = None
    basis: str = "common practice, no source"

    def share(self, volts: float) -> Span:
        """Its shares on a supply of ``volts`` [V]."""
        return self.high_supply if self.high_supply and volts >= HIGH_SUPPLY else self.shares


SMALL = Stage(
    "small set", "a whole transceiver of 20 W or less", Span(0.18, 0.27, 0.37), None,
    "common practice, no source: 5 W at 1 to 2 A, 10 W at 2 to 3.5 A, 20 W at 5 to 8 A",
)  # fmt: skip
WHOLE = Stage(
    "transceiver", "a whole transceiver", Span(50 / (NOMINAL * 12), 100 / (NOMINAL * 21), 100 / (NOMINAL * 18)), None,
    "common practice for a 100 W set, 18 to 23 A; NCVEC T4A01, 50 W at 12 A: the wider spread is carried",
)  # fmt: skip
LINEAR = Stage(
    "linear", "a linear amplifier", Span(0.36, 0.45, 0.55), Span(0.38, 0.55, 0.65),
    "common practice, no source: 300 W at 40 to 50 A and 13.8 V, 1 kW at 40 to 50 A and 50 V; no linear stage can "
    "pass 78.5 %, the theoretical limit of class B",
)  # fmt: skip
TUNED = Stage("class c", "an FM or CW stage in class C", Span(0.45, 0.60, 0.75))
SWITCHING = Stage("switching", "a stage in class D or E", Span(0.75, 0.85, 0.92))
STAGES = {stage.id: stage for stage in (SMALL, WHOLE, LINEAR, TUNED, SWITCHING)}


def usual_stage(watts: float, volts: float) -> Stage:
    """The sort of set that such power from such volts most likely is.

    >>> usual_stage(100, 13.8).id, usual_stage(300, 13.8).id, usual_stage(100, 28).id
    ('transceiver', 'linear', 'linear')
    """
    if volts >= HIGH_SUPPLY or watts > SET_WATTS:
        return LINEAR
    return SMALL if watts <= SMALL_WATTS else WHOLE


def draw(watts: float, amps: float, volts: float = NOMINAL, stage: Stage | None = None) -> Judged:
    """Whether ``amps`` [A] of direct current at ``volts`` [V] are enough for ``watts`` [W] of radio frequency.

    As much as such a set usually draws is enough; less than the best of them draws is refuted.
    """
    stage = stage or usual_stage(watts, volts)
    share = stage.share(volts)
    least, usual, most = (_needed(watts, volts, part, how) for part, how in (
        (share.high, "at best"), (share.usual, "usually"), (share.low, "at worst")
    ))  # fmt: skip
    outcome = REFUTED if amps < least.value * (1 - CLOSE) else HOLDS if amps >= usual.value - 1e-9 else DOUBTFUL
    span = f"{stage.title} draws {least} to {most} at key-down, usually {usual}"
    says = {REFUTED: span, DOUBTFUL: f"{span}: the manual's 'current drain' decides", HOLDS: f"{span}: ordinary"}
    claim = f"{plain(amps, 'A')} at {plain(volts, 'V')} is enough for {plain(watts, 'W')}"
    care = TURNED_DOWN if stage is SMALL else ""
    mistake = _mistake(watts, amps, volts) if outcome == REFUTED else ""
    return Judged(claim, outcome, says[outcome], (least, usual, most), mistake, stage.basis, care)


def _needed(watts: float, volts: float, share: float, how: str) -> Figure:
    power = Figure(watts, "W", "watts", "of radio frequency")
    at = Figure(volts, "V", "volts", "at the radio")
    return power / (at * Figure(share, "%", "share", how))


def _mistake(watts: float, amps: float, volts: float) -> str:
    """Watts of radio frequency taken for those of direct current: over the set's own volts, or over 12 V or so."""
    ratio = watts / max(amps, 1e-9)
    if 0.72 * volts <= ratio <= 1.13 * volts:
        return "watts of radio frequency were taken for watts of direct current: most of these become heat"
    if ratio > volts:
        return "that would be more radio power than direct power"
    return ""
