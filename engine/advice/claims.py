"""A claim of plain figures held against the arithmetic: a loss in a cable, a current for a power, a higher setting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.findings import SOUND, THIN, UNSOUND, Finding
from engine.parts import Conductor, Equipment, Limits, Shelf
from engine.physics import copper
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station.model import Station
from engine.working import Figure, number

HOLDS, DOUBTFUL, REFUTED = "holds", "doubtful", "refuted"

NOMINAL = 13.8
CLOSE = 0.05
"""A figure within this share of the truth is not quarrelled with."""

BEST_SHARE = 100 / (NOMINAL * 18)
WORST_SHARE = 50 / (NOMINAL * 12)
"""Of the direct current's watts, what leaves as radio frequency: 100 W sets draw 18 to 23 A (common practice), a 50 W
one 12 A (NCVEC T4A01). The two do not agree to the last ampere: the wider spread is carried."""

SUPPLY_TOLERANCE = 0.02
"""How far a supply's setting may be off when nothing is known of it (common practice)."""

FEET = 0.3048
MISTAKES = (
    (FEET, "the figure fits {length} feet: feet and metres were exchanged"),
    (1 / FEET, "the figure fits metres where feet were meant, or the other way round"),
    (0.5, "only one conductor was counted: the current flows out and back"),
    (0.5 * FEET, "feet and metres were exchanged, and only one conductor was counted"),
    (2.0, "the loop was doubled twice"),
)
"""Slips that change a drop by a factor, and their names."""


@dataclass(frozen=True)
class Judged:
    """A claim's outcome with the arithmetic, the slip that would explain it, and on what it leans."""

    claim: str
    outcome: str
    says: str
    figures: tuple[Figure, ...]
    mistake: str
    basis: str
    care: str = ""


def drop(conductor: Conductor, amps: float, length: float, claimed: float | None, limits: Limits) -> Judged:
    """Volts lost in a cable: ``amps`` [A] over ``length`` [m] one way; ``claimed`` [V], or None to ask if it is little.

    The least is solid copper at 20 °C (IEC 60028); the most is the catalogue's conductor at 60 °C. Fuse and contacts
    come on top of both.
    """
    least, most = _lost(conductor, amps, length)
    outcome, says = _drop_outcome(least, most, claimed, limits)
    said = f"{number(amps, 'A')} over {number(length, 'm')} of {conductor.id}"
    claim = f"{said} loses {number(claimed, 'V')}" if claimed is not None else f"{said} is enough"
    mistake = _mistake(claimed, least.value, most.value, length) if outcome == REFUTED and claimed is not None else ""
    care = _heat(conductor, amps)
    if care and claimed is None:
        outcome = REFUTED if amps > max(conductor.ampacity.values()) else max(outcome, DOUBTFUL, key=_rank)
    return Judged(claim, outcome, says, (least, most), mistake, "IEC 60028, ASTM B258, IEC 60228; Ohm's law", care)


def _lost(conductor: Conductor, amps: float, length: float) -> tuple[Figure, Figure]:
    """The least and the most that the copper of a cable loses [V]."""
    current, loop = Figure(amps, "A", "amps"), 2 * Figure(length, "m", "one way")
    resistivity = Figure(copper.RESISTIVITY, "Ω·mm²/m", "resistivity", "annealed copper at 20 °C, IEC 60028")
    area = Figure(conductor.area, "mm²", "area", conductor.id)
    warm = Figure(copper.ohms_per_metre(conductor.ohms_per_metre, 60), "Ω/m", "per metre")
    least = current * loop.named("loop", "the current flows out and back") * resistivity / area
    return least, current * loop.named("loop") * warm


def _rank(outcome: str) -> int:
    return (HOLDS, DOUBTFUL, REFUTED).index(outcome)


def _drop_outcome(least: Figure, most: Figure, claimed: float | None, limits: Limits) -> tuple[str, str]:
    span = f"the copper alone loses {least} at 20 °C and up to {most} warm; fuse and contacts come on top"
    if claimed is None:
        target, limit = limits.drop_target * NOMINAL, limits.drop_limit * NOMINAL
        outcome = HOLDS if most.value <= target else REFUTED if least.value > limit else DOUBTFUL
        return outcome, f"{span}; aim for {number(target, 'V')} or less, never above {number(limit, 'V')}"
    if claimed < least.value * (1 - CLOSE):
        return REFUTED, f"{span}: that is more than {number(claimed, 'V')}"
    if claimed < most.value:
        return DOUBTFUL, f"{span}: {number(claimed, 'V')} holds while it is cool, and for nothing but the copper"
    return HOLDS, f"{span}: within {number(claimed, 'V')}"


def _mistake(claimed: float, least: float, most: float, length: float) -> str:
    """The slip that would turn the true drop into the claimed one, if there is one."""
    for factor, says in MISTAKES:
        if least * (1 - CLOSE) <= claimed / factor <= most * (1 + CLOSE):
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


def draw(watts: float, amps: float, volts: float = NOMINAL) -> Judged:
    """Whether ``amps`` [A] of direct current are enough for a transmitter of ``watts`` [W] of radio frequency."""
    power, at = Figure(watts, "W", "watts", "of radio frequency"), Figure(volts, "V", "volts", "at the radio")
    least = power / (at * Figure(BEST_SHARE, "%", "share", "at best"))
    most = power / (at * Figure(WORST_SHARE, "%", "share", "at worst"))
    outcome = REFUTED if amps < least.value * (1 - CLOSE) else HOLDS if amps >= most.value - 1e-9 else DOUBTFUL
    says = {
        REFUTED: f"it draws {least} to {most} at key-down",
        DOUBTFUL: f"such sets draw {least} to {most} at key-down: the manual's 'current drain' decides",
        HOLDS: f"such sets draw {least} to {most} at key-down, and that is within it",
    }[outcome]
    mistake = ""
    if outcome == REFUTED and 10 <= watts / max(amps, 1e-9) <= 15.5:
        mistake = "watts of radio frequency were taken for watts of direct current: most of these become heat"
    basis = "common practice for a 100 W set, 18 to 23 A; NCVEC T4A01, 50 W at 12 A: the wider spread is carried"
    claim = f"{number(amps, 'A')} is enough for {number(watts, 'W')}"
    return Judged(claim, outcome, says, (least, most), mistake, basis)


def raised_for(row: Equipment, volts: float) -> Judged:
    """Whether a class of equipment may hang on a supply set to ``volts`` [V], by the narrow reading of its window."""
    off = Figure(SUPPLY_TOLERANCE, "%", "tolerance", "how far a setting may be off, common practice")
    figure = Figure(volts, "V", "set point") * (1 + off)
    claim = f"raise the supply to {number(volts, 'V')} for a {row.title}"
    if figure.value > row.highest:
        says = f"with little drawn it may see {figure}, and accepts {row.highest:.2f} V by the narrow reading"
        return Judged(claim, REFUTED, f"{says}; {row.find} may allow more", (figure,), "", _WINDOW, _INSTEAD)
    if volts < row.lowest:
        says = f"{volts:.2f} V at the supply are below its floor of {row.lowest:.2f} V at its own terminals"
        return Judged(claim, REFUTED, says, (figure,), "", _WINDOW, _INSTEAD)
    says = f"with little drawn it may see {figure}, and accepts up to {row.highest:.2f} V; everything else that "
    says += "hangs on the supply must accept that too"
    return Judged(claim, DOUBTFUL, says, (figure,), "", _WINDOW, _INSTEAD)


_WINDOW = "the maker's window; 47 CFR 2.1055(d) tests equipment from 85 % to 115 % of nominal"
_INSTEAD = "a loss on the way is mended on the way: cable, fuse holder, contacts; a knob that was turned is locked"


def raised_in(station: Station, shelf: Shelf, volts: float) -> Judged:
    """Whether every source of a station may be set to ``volts`` [V]: the rules judge the station so changed."""
    before = checking.check(station, shelf)
    sources = tuple(replace(one, volts=volts) for one in station.sources)
    after = checking.check(replace(station, sources=sources), shelf)
    claim = f"raise the supply of {station.name} to {number(volts, 'V')}"
    if not station.sources:
        return Judged(claim, DOUBTFUL, "it names no source: nothing is known of what can be set", (), "", _WINDOW)
    reach = _out_of_reach(before, volts)
    if reach:
        return Judged(claim, REFUTED, reach, (), "", "the supply's own range", _INSTEAD)
    worse = _worse(before.findings, after.findings)
    if worse and worse[0].outcome == UNSOUND:
        return Judged(claim, REFUTED, f"then {worse[0].says}", _figures(worse), "", worse[0].basis, _INSTEAD)
    if worse:
        return Judged(claim, DOUBTFUL, f"it holds, but {worse[0].says}", _figures(worse), "", worse[0].basis, _INSTEAD)
    floors = [one for one in after.findings if one.rule == "window-floor" and one.outcome == UNSOUND]
    if floors:
        return Judged(claim, DOUBTFUL, f"allowed, but no cure: {floors[0].says}", _figures(floors), "", floors[0].basis)
    return Judged(claim, HOLDS, "no rule objects; measure with nothing drawn, then lock the knob", (), "", _WINDOW)


def _out_of_reach(before: Verdict, volts: float) -> str:
    for feed in before.case.feeds:
        if not feed.adjustable and abs(feed.volts - volts) > 0.05:
            return f"{feed.id} cannot be set: it gives {number(feed.volts, 'V')}"
        if feed.adjustable and not feed.lowest <= volts <= feed.highest:
            return f"{feed.id} can be set from {number(feed.lowest, 'V')} to {number(feed.highest, 'V')} only"
    return ""


def _worse(before: Sequence[Finding], after: Sequence[Finding]) -> list[Finding]:
    """What is worse after than before, worst first."""
    was = {(one.rule, one.about): one.severity for one in before}
    return [one for one in after if one.outcome not in (SOUND,) and one.severity > was.get((one.rule, one.about), 0)]


def _figures(found: Sequence[Finding]) -> tuple[Figure, ...]:
    return tuple(one.figure for one in found[:1] if one.figure and one.outcome in (THIN, UNSOUND))
