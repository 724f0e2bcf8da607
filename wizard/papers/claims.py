"""A judged claim in words: the outcome, the arithmetic, and the slip that would explain it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from engine.advice.claims.result import DOUBTFUL, HOLDS, REFUTED, Judged
from engine.diagnosis.report import number
from wizard.papers.words import WIDTH, wrap

MARK = {HOLDS: "+", DOUBTFUL: "~", REFUTED: "!"}


def claim_lines(judged: Judged, width: int = WIDTH) -> Iterator[str]:
    """One claim to read."""
    yield from wrap(f"{judged.claim}: {judged.outcome.upper()}", width)
    yield from wrap(f"{MARK[judged.outcome]} {judged.says[:1].upper()}{judged.says[1:]}.", width, 2)
    for text in judged.because:
        yield from wrap(f"  {text}", width, 2)
    for text in (judged.mistake, judged.care):
        yield from wrap(f"* {text[:1].upper()}{text[1:]}.", width, 2) if text else ()
    for figure in judged.figures:
        yield ""
        yield from (f"  {line}" for text in figure.working() for line in wrap(text, width - 2, 2))
    yield ""
    yield from wrap(f"from {judged.basis}", width)


def claim_data(judged: Judged) -> dict[str, Any]:
    """One claim as plain data."""
    return {
        "claim": judged.claim,
        "outcome": judged.outcome,
        "says": " ".join((f"{judged.says}.", *judged.because)),
        "mistake": judged.mistake,
        "care": judged.care,
        "figures": [{"value": number(figure.value), "unit": figure.unit} for figure in judged.figures],
        "basis": judged.basis,
    }
