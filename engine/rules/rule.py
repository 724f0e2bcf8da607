"""What a rule is: a small function with an id, the question it answers and its basis."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from engine.findings import SOUND, THIN, UNKNOWN, UNSOUND, Finding
from engine.model.operating import Operating
from engine.working import Figure

PRACTICE = "common practice, no source"
"""The basis of a rule that no document states."""

STATION, SOURCE, RUN, LOAD = "station", "source", "run", "load"


@dataclass(frozen=True)
class Answer:
    """A rule's outcome with the figure, the limit and a sentence in plain words."""

    outcome: str
    says: str
    figure: Figure | None = None
    limit: Figure | None = None


Judge = Callable[[Operating, Any], Answer | None]


@dataclass(frozen=True)
class Rule:
    """One question asked of every part of one kind. ``keep`` is the worst outcome that a plan settles for."""

    id: str
    asks: str
    basis: str
    of: str
    judge: Judge
    keep: str = THIN
    solved: bool = False
    danger: int = 1

    def find(self, operating: Operating, part: Any) -> Finding | None:
        """The finding for one part, or None where the question does not arise."""
        answer = self.judge(operating, part)
        if answer is None:
            return None
        about = part if isinstance(part, str) else part.id
        return Finding(self.id, answer.outcome, about, answer.says, answer.figure, answer.limit, self.basis)


def unknown(says: str) -> Answer:
    """The answer where a value is missing that decides it."""
    return Answer(UNKNOWN, says)


def grade_most(figure: float, limit: float, spare: float) -> str:
    """``figure`` against a limit from above: thin within the share ``spare`` of the limit."""
    if figure > limit * (1 + 1e-9):
        return UNSOUND
    return THIN if figure > limit * (1 - spare) * (1 + 1e-9) else SOUND


def grade_least(figure: float, limit: float, margin: float) -> str:
    """``figure`` against a limit from below: thin within ``margin`` above it."""
    if figure < limit - 1e-9:
        return UNSOUND
    return THIN if figure < limit + margin - 1e-9 else SOUND
