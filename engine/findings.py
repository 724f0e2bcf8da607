"""What judging and planning give back: outcomes, findings, choices with their reasons, assumptions, steps, the bill."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine.working import Figure

SOUND, THIN, UNKNOWN, UNSOUND = "sound", "thin", "unknown", "unsound"
SEVERITY = {SOUND: 0, THIN: 1, UNKNOWN: 2, UNSOUND: 3}


@dataclass(frozen=True)
class Finding:
    """A rule's answer for one part of one station. ``turns_on``: the keys that nobody gave and that decide it."""

    rule: str
    outcome: str
    about: str
    says: str
    figure: Figure | None
    limit: Figure | None
    basis: str
    turns_on: tuple[str, ...] = ()

    @property
    def severity(self) -> int:
        """0 for sound to 3 for unsound."""
        return SEVERITY[self.outcome]


@dataclass(frozen=True)
class Assumption:
    """A value taken without the owner's word: what it is, on what basis, and where to find the true one."""

    about: str
    value: str
    basis: str
    find: str


@dataclass(frozen=True)
class Refused:
    """A cheaper candidate and the rule that refused it."""

    candidate: str
    rule: str
    says: str


@dataclass(frozen=True)
class Better:
    """The next dearer candidate that gives more: for how much more, and the figure of which rule before and after."""

    candidate: str
    more: float
    rule: str
    before: Figure
    after: Figure

    @property
    def says(self) -> str:
        """The comparison in words."""
        gives = f"{GIVES.get(self.rule, self.rule)} {self.after} instead of {self.before}"
        price = f"about {self.more:.0f} more" if self.more >= 0.5 else "hardly more"
        return f"{self.candidate}, {price}: {gives}"


GIVES = {
    "drop": "a drop of",
    "supply-headroom": "to spare",
    "battery-hours": "lasts",
    "battery-ends": "lasts",
}
"""What the figure of a rule tells that the next better part is compared by."""


@dataclass(frozen=True)
class Choice:
    """A gap that the plan filled. ``about`` is ``part.key``; ``filled`` names the keys it wrote."""

    about: str
    chosen: str
    because: str
    refused: tuple[Refused, ...]
    filled: tuple[str, ...]
    better: Better | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Step:
    """One step of switching on or off: what to do, to which part, and what to see before the next."""

    about: str
    do: str
    verify: str


@dataclass(frozen=True)
class Item:
    """One line of the bill: what, how much of it, and its price band (zero for owned parts), and its weight [kg]."""

    about: str
    what: str
    amount: str
    low: float
    high: float
    owned: bool = False
    kilograms: float = 0.0

    @property
    def price(self) -> str:
        """The price in words."""
        if self.high:
            return f"price about {self.low:.0f} to {self.high:.0f}"
        return "yours already" if self.owned else "no price known"


def outcome_of(findings: tuple[Finding, ...]) -> str:
    """The worst outcome among ``findings``; unknown when there are none."""
    return max((one.outcome for one in findings), key=SEVERITY.__getitem__, default=UNKNOWN)
