"""What judging and planning give back: figures with their working, findings, reasons, assumptions."""

from __future__ import annotations

import keyword
import math
import re
import unicodedata
from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass, field
from functools import cache
from types import CodeType

SOUND, THIN, UNKNOWN, UNSOUND = "sound", "thin", "unknown", "unsound"
SEVERITY = {SOUND: 0, THIN: 1, UNKNOWN: 2, UNSOUND: 3}

_FUNCTIONS = {"sqrt": math.sqrt, "max": max, "min": min}


@dataclass(frozen=True)
class Term:
    """One quantity in a formula: value in ``unit`` and where it comes from; or what it was itself worked out from."""

    value: float
    unit: str
    origin: str = ""
    figure: Figure | None = None

    @classmethod
    def of(cls, figure: Figure, origin: str = "") -> Term:
        """A worked-out figure as a term of the next formula."""
        return cls(figure.value, figure.unit, origin, figure)


@dataclass(frozen=True)
class Figure:
    """A value with its unit; where it was calculated, the formula and the terms that gave it.

    ``behind`` makes the same figure from its formula when the working is asked for; it spares the search the trouble.
    """

    value: float
    unit: str
    formula: str = ""
    terms: Mapping[str, Term] = field(default_factory=dict, compare=False)
    behind: Callable[[], Figure] | None = field(default=None, compare=False, repr=False)

    def __str__(self) -> str:
        return number(self.value, self.unit)

    def worked(self) -> Figure:
        """The figure with its formula."""
        return self.behind() if self.behind else self

    def working(self) -> list[str]:
        """The arithmetic, written out from the formula that produced the value: symbols, figures, origins."""
        if self.behind:
            return self.behind().working()
        if not self.formula:
            return [str(self)]
        words = _NAME.sub(lambda name: _plain(name.group()), self.formula)
        figures = _NAME.sub(lambda name: self._term(name.group()), self.formula)
        lines = [_signs(words), f"= {_signs(figures)}", f"= {self}"]
        for name, term in self.terms.items():
            if term.origin:
                lines.append(f"{_plain(name)}: {term.origin}")
            if term.figure and (term.figure.formula or term.figure.behind):
                lines += [f"{_plain(name)}:", *(f"  {line}" for line in term.figure.working())]
        return lines

    def _term(self, name: str) -> str:
        return number(self.terms[name].value, self.terms[name].unit) if name in self.terms else name


_NAME = re.compile(r"[A-Za-z_]\w*")


def _plain(name: str) -> str:
    return name.replace("_", " ").strip()


def _signs(text: str) -> str:
    return text.replace(" ** 2", "²").replace("*", "×").replace(" - ", " − ")


@cache
def _compiled(formula: str) -> CodeType:
    return compile(formula, "<formula>", "eval")


def work(formula: str, unit: str, **terms: Term) -> Figure:
    """Evaluate ``formula`` over ``terms`` and keep both, so that the working shown is the working done.

    >>> drop = work("amps * ohms", "V", amps=Term(22, "A"), ohms=Term(0.02, "Ω"))
    >>> drop.working()
    ['amps × ohms', '= 22.0 A × 20.0 mΩ', '= 0.44 V']
    """
    # The formula is always a constant of this package, never text from outside.
    values = {name: term.value for name, term in terms.items()}
    return Figure(eval(_compiled(formula), {"__builtins__": {}, **_FUNCTIONS}, values), unit, formula, terms)


DIGITS = {"V": 2, "A": 1, "W": 1, "VA": 0, "Ω": 2, "°C": 0, "m": 2, "mm²": 2, "s": 2, "h": 1, "Ah": 1, "d": 0, "": 2}
DIGITS["Ω·mm²/m"] = 5
"""Decimals shown by unit."""


def symbol(id_: str, taken: Container[str] = ()) -> str:
    """A name for the part ``id_`` in a formula, other than those ``taken``; shown as the id with spaces for hyphens.

    An id may begin with a digit or be a word that formulas keep for themselves.

    >>> symbol("2m-rig"), symbol("hf-a", ["hf_a"])
    ('_2m_rig', 'hf_a_')
    """
    plain = unicodedata.normalize("NFKC", id_)
    name = "".join(char if f"_{char}".isidentifier() else "_" for char in plain)
    if not name.isidentifier() or keyword.iskeyword(name) or name in _FUNCTIONS:
        name = f"_{name}"
    while name in taken:
        name += "_"
    return name


def number(value: float, unit: str) -> str:
    """A figure for reading: as many digits as the trade's meters show."""
    if not math.isfinite(value):
        return f"unlimited {unit}".strip() if value > 0 else f"none {unit}".strip()
    if unit == "Ω" and abs(value) < 1:
        return f"{value * 1000:.1f} mΩ"
    if unit == "%":
        return f"{value * 100:.0f} %"
    decimals = DIGITS.get(unit, 2)
    if abs(value) >= 100 and decimals:
        decimals -= 1
    if abs(value) >= 1000:
        decimals = 0
    return f"{value:.{decimals}f} {unit}".strip()


@dataclass(frozen=True)
class Finding:
    """A rule's answer for one part of one station."""

    rule: str
    outcome: str
    about: str
    says: str
    figure: Figure | None
    limit: Figure | None
    basis: str

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
class Choice:
    """A gap that the plan filled. ``about`` is ``part.key``; ``filled`` names the keys it wrote."""

    about: str
    chosen: str
    because: str
    refused: tuple[Refused, ...]
    filled: tuple[str, ...]


@dataclass(frozen=True)
class Step:
    """One step of switching on or off: what to do, to which part, and what to see before the next."""

    about: str
    do: str
    verify: str


@dataclass(frozen=True)
class Item:
    """One line of the bill: what, how much of it, and its price band (zero for owned parts)."""

    about: str
    what: str
    amount: str
    low: float
    high: float
    owned: bool = False

    @property
    def price(self) -> str:
        """The price in words."""
        if self.high:
            return f"price about {self.low:.0f} to {self.high:.0f}"
        return "yours already" if self.owned else "no price known"


def outcome_of(findings: tuple[Finding, ...]) -> str:
    """The worst outcome among ``findings``; unknown when there are none."""
    return max((one.outcome for one in findings), key=SEVERITY.__getitem__, default=UNKNOWN)
