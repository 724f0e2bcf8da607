"""A judged claim in words: the outcome, the arithmetic, and the slip that would explain it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from engine.bench.report import number
from engine.claims.result import DOUBTFUL, HOLDS, REFUTED, Judged
from wizard.papers.words import WIDTH, wrap

MARK = {HOLDS: "+", DOUBTFUL: "~", REFUTED: "!"}


def claim_lines(one: Judged, width: int = WIDTH) -> Iterator[str]:
    """One claim to read."""
    yield from wrap(f"{one.claim}: {one.outcome.upper()}", width)
    yield from wrap(f"{MARK[one.outcome]} {one.says[:1].upper()}{one.says[1:]}.", width, 2)
    for text in one.because:
        yield from wrap(f"  {text}", width, 2)
    for text in (one.mistake, one.care):
        yield from wrap(f"* {text[:1].upper()}{text[1:]}.", width, 2) if text else ()
    for figure in one.figures:
        yield ""
        yield from (f"  {line}" for text in figure.working() for line in wrap(text, width - 2, 2))
    yield ""
    yield from wrap(f"from {one.basis}", width)


def claim_data(one: Judged) -> dict[str, Any]:
    """One claim as plain data."""
    return {
        "claim": one.claim,
        "outcome": one.outcome,
        "says": " ".join((f"{one.says}.", *one.because)),
        "mistake": one.mistake,
        "care": one.care,
        "figures": [{"value": number(figure.value), "unit": figure.unit} for figure in one.figures],
        "basis": one.basis,
    }
