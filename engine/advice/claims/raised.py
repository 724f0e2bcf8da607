"""A claim that the supply should be turned up, for a class of equipment or for a station."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from engine.advice.claims.result import DOUBTFUL, HOLDS, REFUTED, Judged, plain
from engine.findings import SOUND, THIN, UNSOUND, Finding
from engine.parts import Equipment, Shelf
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station.model import Station
from engine.working import Figure, number

SUPPLY_TOLERANCE = 0.02
"""How far a supply's setting may be off when nothing is known of it (common practice)."""


def raised_for(row: Equipment, volts: float) -> Judged:
    """Whether a class of equipment may hang on a supply set to ``volts`` [V], by the narrow reading of its window."""
    tolerance = Figure(SUPPLY_TOLERANCE, "%", "tolerance", "how far a setting may be off, common practice")
    figure = Figure(volts, "V", "set point") * (1 + tolerance)
    claim = f"raise the supply to {plain(volts, 'V')} for a {row.title}"
    sees = f"with little drawn it may see {figure}"
    most, least = number(row.highest, "V"), number(row.lowest, "V")
    if figure.value > row.highest:
        says, because = f"{sees}, and accepts {most} by the narrow reading", f"Look at {row.find}: it may allow more."
        return Judged(claim, REFUTED, says, (figure,), "", _WINDOW, _INSTEAD, (because,))
    if volts < row.lowest:
        says = f"{number(volts, 'V')} at the supply is below the {least} that it wants at its own terminals"
        return Judged(claim, REFUTED, says, (figure,), "", _WINDOW, _INSTEAD)
    because = "Everything else that hangs on the supply must accept that too."
    return Judged(claim, DOUBTFUL, f"{sees}, and accepts up to {most}", (figure,), "", _WINDOW, _INSTEAD, (because,))


_WINDOW = "the maker's window; 47 CFR 2.1055(d) tests equipment from 85 % to 115 % of nominal"
_INSTEAD = "mend a loss where it is: cable, fuse holder, contacts; lock a knob that was turned"


def raised_in(station: Station, shelf: Shelf, volts: float) -> Judged:
    """Whether every source of a station may be set to ``volts`` [V]: the rules judge the station so changed."""
    before = checking.check(station, shelf)
    sources = tuple(replace(source, volts=volts) for source in station.sources)
    after = checking.check(replace(station, sources=sources), shelf)
    claim = f"raise the supply of {station.name} to {plain(volts, 'V')}"
    if not station.sources:
        return Judged(claim, DOUBTFUL, "the station names no source to be set", (), "", _WINDOW)
    reach = _out_of_reach(before, volts)
    if reach:
        return Judged(claim, REFUTED, reach, (), "", "the supply's own range", _INSTEAD)
    worse = _worse(before.findings, after.findings)
    if worse and worse[0].outcome == UNSOUND:
        return Judged(claim, REFUTED, f"then {worse[0].says}", _figures(worse), "", worse[0].basis, _INSTEAD)
    if worse:
        return Judged(claim, DOUBTFUL, f"it holds, but {worse[0].says}", _figures(worse), "", worse[0].basis, _INSTEAD)
    floors = [finding for finding in after.findings if finding.rule == "window-floor" and finding.outcome == UNSOUND]
    if floors:
        return Judged(claim, DOUBTFUL, f"allowed, but no cure: {floors[0].says}", _figures(floors), "", floors[0].basis)
    lock = ("Read it with nothing drawn, then lock the knob.",)
    return Judged(claim, HOLDS, "no rule objects", (), "", _WINDOW, because=lock)


def _out_of_reach(before: Verdict, volts: float) -> str:
    for feed in before.case.feeds:
        if not feed.adjustable and abs(feed.volts - volts) > 0.05:
            return f"{feed.id} cannot be set: it gives {number(feed.volts, 'V')}"
        if feed.adjustable and not feed.lowest <= volts <= feed.highest:
            return f"{feed.id} can be set from {number(feed.lowest, 'V')} to {number(feed.highest, 'V')} only"
    return ""


def _worse(before: Sequence[Finding], after: Sequence[Finding]) -> list[Finding]:
    """What is worse after than before, worst first."""
    was = {(finding.rule, finding.about): finding.severity for finding in before}
    return [
        finding
        for finding in after
        if finding.outcome not in (SOUND,) and finding.severity > was.get((finding.rule, finding.about), 0)
    ]


def _figures(worst_first: Sequence[Finding]) -> tuple[Figure, ...]:
    first = worst_first[0]
    return (first.figure.worked(),) if first.figure and first.outcome in (THIN, UNSOUND) else ()
