"""The bench sheet and the diagnosis in words: plain lines for a terminal or a printer."""

from __future__ import annotations

import math
from collections.abc import Iterator

from engine.diagnosis.interval import Interval
from engine.diagnosis.next_measurement import Measurement
from engine.diagnosis.result import CANNOT_TELL, FAULTS, SOUND_READINGS, Ageing, Cause, Diagnosis, Estimate
from engine.diagnosis.sheet import Line, Sheet
from engine.diagnosis.words import bounds, listed
from engine.terms import LoadState
from wizard.papers.words import WIDTH, wrap

MARK = {CANNOT_TELL: "?", SOUND_READINGS: "+"}
"""A mark beside what is said where no cause is named first."""

CARE = (
    "CAUTION: hold the points by their shields, one hand at a time; a slip across a battery or supply welds and burns.",
    "Key for a few seconds on a steady carrier (FM, CW or a tone) into a dummy load; voice peaks are too short for a "
    "meter. Put the points on the metal of the terminal itself. Use the same meter throughout.",
    "Millivolts across a fuse with its holder, or across all contacts of a run, are the sum over both legs.",
    "Type what you read: shackrail, What a meter showed; or shackrail ask FILE, line by line.",
)


def sheet_lines(sheet: Sheet, width: int = WIDTH) -> Iterator[str]:
    """The sheet to print and fill in with a pencil."""
    yield from wrap(f"Bench sheet: {sheet.name}", width)
    yield f"date ____________   meter: {sheet.meter}"
    if not sheet.lines:
        yield "nothing can be measured yet: no lead is described; plan the station first, or describe its runs"
        return
    for text in CARE:
        yield from wrap(text, width)
    state = None
    for line in sheet.lines:
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


def _span(interval: Interval, small: bool) -> str:
    if math.isinf(interval.high):
        return "too little is known"
    return f"{_volts(interval.low, small).split()[0]} and {_volts(interval.high, small)}"


def diagnosis_lines(name: str, diagnosis: Diagnosis, width: int = WIDTH) -> Iterator[str]:
    """What the readings of a station show; an alarm before everything else."""
    when = f" ({diagnosis.date})" if diagnosis.date else ""
    yield f"{name}{when}: {diagnosis.outcome.upper()}"
    if diagnosis.outcome in MARK:
        yield from wrap(f"{MARK[diagnosis.outcome]} {_sentence(diagnosis.says)}", width, 2)
    for cause in diagnosis.causes:
        yield from _cause_lines(cause, width)
    if diagnosis.next:
        yield from (line for text in next_text(diagnosis.next) for line in wrap(f"> {text}", width, 2))
    for note in diagnosis.notes:
        yield from wrap(f"* {note}", width, 2)
    if diagnosis.estimates or diagnosis.ageing:
        yield ""
        yield "What the readings say"
    for text in (*map(_estimate, diagnosis.estimates), *map(_ageing, diagnosis.ageing)):
        yield from wrap(f"  {text}", width, 4)


def _cause_lines(cause: Cause, width: int) -> Iterator[str]:
    """What is so, why, and what to do, one thought a line."""
    mark = "!" if cause.kind in FAULTS else "~"
    yield from wrap(f"{mark} {_sentence(cause.says)}", width, 2)
    for text in cause.because:
        yield from wrap(f"    {text}", width, 4)
    for text in cause.do:
        yield from wrap(f"  - {text}", width, 4)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def next_text(measurement: Measurement) -> Iterator[str]:
    """The next measurement: where, what sound parts show, and what would accuse which part."""
    yield f"Measure next: {_where(measurement)}, {_when(measurement)}."
    if measurement.again:
        yield f"It was read with a {measurement.again}: a hand-held multimeter is surer."
    if math.isinf(measurement.sound.low):
        yield f"Sound: {measurement.sound.high:.1f} V at most. How much less is not known: a part is not described."
    else:
        accusing = (_accusing(part, volts) for part, volts in measurement.faults)
        yield " ".join((f"Sound: {_bounds(measurement.sound)}.", *accusing))


def _where(measurement: Measurement) -> str:
    if measurement.across is None:
        return f"volts at the terminals of {measurement.at}"
    leg = f"{measurement.leg} leg, " if measurement.leg else ""
    return f"{leg}across the {measurement.across} of {measurement.at}" + (
        ", holder included" if measurement.across == "fuse" else ""
    )


def _when(measurement: Measurement) -> str:
    if measurement.keyed:
        return f"{listed(measurement.keyed)} keyed"
    return "every load unplugged" if measurement.state == LoadState.NO_LOAD else "at receive"


def _accusing(part: str, volts: Interval) -> str:
    of, what = part.rsplit(" ", 1)
    return f"{_bounds(volts)} accuses {of if what == 'source' else f'the {what} of {of}'}."


def _bounds(interval: Interval) -> str:
    return bounds(interval.not_negative, "V")


def _estimate(estimate: Estimate) -> str:
    """One stretch in figures: what was lost, what that is in ohms and watts, and what sound parts have."""
    mark, by_error = "!" if estimate.exceeds else "+", bounds(estimate.ohms, "Ω")
    sound = f"sound parts have {bounds(estimate.expected, 'Ω')}"
    if estimate.in_ohms:
        return f"{mark} {estimate.about}: {estimate.resistance} ({by_error} by the meter's error); {sound}"
    lost = f"{estimate.volts} at {estimate.amps:.1f} A is {estimate.resistance} and {estimate.watts}"
    return f"{mark} {estimate.about}, {estimate.state}: {lost} ({by_error} by the meters' errors); {sound}"


def _ageing(ageing: Ageing) -> str:
    then, now = bounds(ageing.before, "Ω"), bounds(ageing.after, "Ω")
    verb = "has grown" if ageing.grew else "is as it was, as far as the meter tells"
    return f"{'!' if ageing.grew else '+'} {ageing.about} {verb}: {then} on {ageing.since}, {now} on {ageing.now}"
