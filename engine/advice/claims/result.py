"""What judging a claim gives back."""

from __future__ import annotations

from dataclasses import dataclass

from engine.working import Figure

HOLDS, DOUBTFUL, REFUTED = "holds", "doubtful", "refuted"

NOMINAL = 13.8
"""Volts at which a 12 V station is reckoned with where none are named (common practice)."""

CLOSE = 0.05
"""A figure within this share of the truth is not quarrelled with."""


@dataclass(frozen=True)
class Judged:
    """A claim's outcome with the arithmetic, the slip that would explain it, and on what it leans.

    ``says`` is one sentence without its full stop; ``because`` are whole sentences, one thought each.
    """

    claim: str
    outcome: str
    says: str
    figures: tuple[Figure, ...]
    mistake: str
    basis: str
    care: str = ""
    because: tuple[str, ...] = ()


def plain(value: float, unit: str) -> str:
    """A figure as a person repeats it.

    >>> plain(30.0, "A"), plain(0.45, "V"), plain(0.25, "%")
    ('30 A', '0.45 V', '25 %')
    """
    return f"{value * 100:.4g} %" if unit == "%" else f"{value:.4g} {unit}"


def span(least: Figure, most: Figure) -> str:
    """Two figures, or one where they are said alike: ``3.1 h to 4.0 h``."""
    return str(least) if str(least) == str(most) else f"{least} to {most}"


def at_most(claimed: float, least: float, most: float) -> str:
    """The outcome for a claim that so much is enough, where between ``least`` and ``most`` is needed.

    >>> at_most(8, 18, 24), at_most(20, 18, 24), at_most(24, 18, 24)
    ('refuted', 'doubtful', 'holds')
    """
    if claimed < least * (1 - CLOSE):
        return REFUTED
    return HOLDS if claimed >= most * (1 - 1e-9) else DOUBTFUL


def at_least(claimed: float, least: float, most: float) -> str:
    """The outcome for a claim that so much is had, where between ``least`` and ``most`` can be had.

    >>> at_least(10, 9.6, 16), at_least(12, 9.6, 16), at_least(20, 9.6, 16)
    ('holds', 'doubtful', 'refuted')
    """
    if claimed > most * (1 + CLOSE):
        return REFUTED
    return HOLDS if claimed <= least * (1 + CLOSE) else DOUBTFUL


def worse(outcome: str, other: str) -> str:
    """The graver of two outcomes."""
    return max(outcome, other, key=(HOLDS, DOUBTFUL, REFUTED).index)


def near(value: float, other: float, share: float = 2 * CLOSE) -> bool:
    """Whether two figures are the same but for rounding."""
    return abs(value - other) <= share * abs(other)
