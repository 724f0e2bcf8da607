"""What a rule is: a small function with an id, the question it answers and its basis."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from engine.findings import SOUND, THIN, UNKNOWN, UNSOUND, Finding
from engine.model.operating import Operating
from engine.working import Figure

PRACTICE = "common practice, no source"
"""The basis of a rule that no document states."""

STATION, SOURCE, RUN, LOAD = "station", "source", "run", "load"

PROTECTION, WINDOW, HOURS, SUPPLY = "protection", "window", "hours", "supply"
FITTING, DROP, NEATNESS = "fitting", "drop", "neatness"
IMPORTANCE: dict[str, str] = {
    PROTECTION: "what keeps a fault from doing harm: the right fuse, sound contacts, a cut-off, a knob that stays put",
    WINDOW: "spare volts at the radio, in its worst hour",
    HOURS: "the hours and dark days that the owner wishes for",
    SUPPLY: "current to spare in the supply",
    FITTING: "the load's own fuse before it, and wire that hands and strain do not break",
    DROP: "the aim of a small loss on the way",
    NEATNESS: "what only makes it neater: few leads on a post, no blink when going over",
}
"""What a plan lets go of last, first; least important last. A plan never lets go of more of an earlier one to keep more
of a later one, and never of safety: what is unsound is in no plan that can avoid it. Common practice, no source.
"""


@dataclass(frozen=True)
class Margin:
    """A margin that a plan keeps where it can: how important it is, and how far missed counts as how much.

    Without a ``step`` a thin finding counts once. With one it counts by how far its figure is from ``room`` beyond its
    limit, in whole steps (in the figure's own unit, or as a share ``of_limit``), so that the nearest that is possible
    is chosen. ``more`` says that a larger figure is better.
    """

    rank: str
    step: float = 0.0
    more: bool = True
    of_limit: bool = False
    room: float = 0.0

    def missed(self, figure: float, limit: float) -> int:
        """By how many steps a figure misses its margin, at least 1.

        >>> Margin(DROP, 0.05, more=False).missed(0.62, 0.5)
        3
        """
        unit = self.step * (abs(limit) if self.of_limit else 1.0)
        if unit <= 0:
            return 1
        short = limit + self.room - figure if self.more else figure - limit + self.room
        return max(math.ceil(short / unit - 1e-9), 1)


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
    """One question asked of every part of one kind.

    ``keep`` is the worst outcome that a plan settles for; where that is ``sound``, ``margin`` says how important it is.
    ``wish``: it holds the owner's wish and no limit of safety, so that a plan which cannot meet it comes as near as it
    can.
    """

    id: str
    asks: str
    basis: str
    of: str
    judge: Judge
    keep: str = THIN
    solved: bool = False
    danger: int = 1
    margin: Margin = Margin(NEATNESS)
    wish: bool = False

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
