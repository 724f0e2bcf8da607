"""The bench sheet and the diagnosis in words: plain lines for a terminal or a printer."""

from __future__ import annotations

import math
from collections.abc import Iterator

from engine.diagnosis.band import Band
from engine.diagnosis.causes import bounds
from engine.diagnosis.result import CANNOT_TELL, FOUND, Aged, Diagnosis, Estimate
from engine.diagnosis.sheet import Line, Sheet
from engine.diagnosis.telling import Measurement
from wizard.papers.words import WIDTH, wrap

MARK = {FOUND: "!", CANNOT_TELL: "?"}
"""A mark beside the word; anything else is marked as sound."""

CARE = (
    "CAUTION: hold the points by their shields, one hand at a time; a slip across a battery or supply welds and burns.",
    "Key for a few seconds on a steady carrier (FM, CW or a tone) into a dummy load; voice peaks are too short for a "
    "meter. Put the points on the metal of the terminal itself. Use the same meter throughout.",
    "Millivolts across a fuse with its holder, or across all contacts of a run, are the sum over both legs.",
    "Type what you read: shackrail, What a meter showed; or shackrail ask FILE, line by line.",
)


def sheet_lines(one: Sheet, width: int = WIDTH) -> Iterator[str]:
    """The sheet to print and fill in with a pencil."""
    yield from wrap(f"Bench sheet: {one.name}", width)
    yield f"date ____________   meter: {one.meter}"
    if not one.lines:
        yield "nothing can be measured yet: no lead is described; plan the station first, or describe its runs"
        return
    for text in CARE:
        yield from wrap(text, width)
    state = None
    for line in one.lines:
        if (line.state, line.keyed) != state:
            state = (line.state, line.keyed)
            yield ""
            yield _title(line)
            yield f"  {'where':<33} {'expected':>9}  {'nothing wrong between':<22} read"
        yield _row(line)


def _title(line: Line) -> str:
    return f"{' and '.join(line.keyed)} keyed" if line.keyed else "receive: everything on, nothing keyed"


def _row(line: Line) -> str:
    where = f"across the {line.across} of {line.at}" if line.across else f"terminals of {line.at}"
    if line.usual is None or line.expected is None:
        return f"  {where:<33} {'?':>9}  {'too little is known':<22} _________"
    usual, span = _volts(line.usual, bool(line.across)), _span(line.expected, bool(line.across))
    return f"  {where:<33} {usual:>9}  {span:<22} _________"


def _volts(value: float, small: bool) -> str:
    return f"{value * 1000:.0f} mV" if small else f"{value:.2f} V"


def _span(band: Band, small: bool) -> str:
    if math.isinf(band.high):
        return "too little is known"
    return f"{_volts(band.low, small).split()[0]} and {_volts(band.high, small)}"


def diagnosis_lines(name: str, one: Diagnosis, width: int = WIDTH) -> Iterator[str]:
    """What the readings of a station show."""
    when = f" ({one.date})" if one.date else ""
    yield f"{name}{when}: {one.outcome.upper()}"
    yield from wrap(f"{MARK.get(one.outcome, '+')} {one.says}", width, 2)
    for cause in one.causes:
        yield from wrap(f"- {cause.kind}, {cause.about}: {cause.says}", width, 2)
    if one.next:
        yield from wrap(f"> measure next: {next_text(one.next)}", width, 2)
    if one.estimates:
        yield ""
        yield "What the readings say"
        for made in one.estimates:
            yield from wrap(f"  {_estimate(made)}", width, 4)
    for grown in one.aged:
        yield from wrap(f"* {_aged(grown)}", width, 2)
    for note in one.notes:
        yield from wrap(f"* {note}", width, 2)


def next_text(one: Measurement) -> str:
    """The next measurement in a sentence."""
    where = f"across the {one.across} of {one.at}" if one.across else f"volts at the terminals of {one.at}"
    text = f"{where}, with {one.state}; sound parts show {_bounds(one.sound)}"
    for part, band in one.faults:
        text += f"; {_bounds(band)} would accuse the {' '.join(reversed(part.split(' ')))}"
    return text


def _bounds(band: Band) -> str:
    low = max(band.low, 0.0)
    return f"{low:.2f} V or more" if math.isinf(band.high) else bounds(Band(low, band.high), "V")


def _estimate(one: Estimate) -> str:
    mark = "!" if one.over else "+"
    measured = f"{one.resistance} ({bounds(one.ohms, 'Ω')} by the meters' errors)"
    sound = f"sound parts have {bounds(one.expected, 'Ω')}, usually {one.usual * 1000:.0f} mΩ"
    if one.in_ohms:
        return f"{mark} {one.about}: {measured}; {sound}"
    return f"{mark} {one.about}, {one.state}: {one.volts} at {one.amps:.1f} A is {measured} and {one.watts}; {sound}"


def _aged(one: Aged) -> str:
    then, now = bounds(one.before, "Ω"), bounds(one.after, "Ω")
    verb = "has grown" if one.grew else "is as it was, as far as the meter tells"
    return f"{one.about} {verb}: {then} on {one.since}, {now} on {one.now}"
