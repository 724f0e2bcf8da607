"""A figure that knows how it was worked out: its value and the formula shown come from one expression.

>>> amps, ohms = Figure(22, "A", "amps", "key-down"), Figure(0.02, "Ω", "ohms")
>>> drop = amps * ohms
>>> drop.working()
['amps × ohms', '= 22.0 A × 20.0 mΩ', '= 0.44 V', 'amps: key-down']

Names are labels that are shown and nothing else: any text will do, two figures may share one.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import reduce
from typing import TypeVar, overload

from engine import dimension

DIGITS = {"V": 2, "A": 1, "W": 1, "VA": 0, "Ω": 2, "°C": 0, "m": 2, "mm²": 2, "s": 2, "h": 1, "Ah": 1, "d": 0, "": 2}
DIGITS |= {"Ω·mm²/m": 5, "/°C": 5}
"""Decimals shown by unit."""

SUM, MINUS, TIMES, OVER, POWER, ROOT, GREATEST, LEAST = "+", "−", "×", "/", "^", "sqrt", "max", "min"
PLAIN = "plain number"
BINDS = {SUM: 1, MINUS: 1, TIMES: 2, OVER: 2, POWER: 3}
"""How strongly an operator binds; what is called by name or stands alone binds strongest."""

ALONE = 4
SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its unit. ``label`` and ``origin`` are what a formula calls it and where it comes from.

    ``operator`` and ``parts`` are what it was worked out from. ``behind`` works the same figure out again when the
    working is asked for, where judging knows the value more quickly. Two figures are equal when value and unit are.
    """

    value: float
    unit: str
    label: str = field(default="", compare=False)
    origin: str = field(default="", compare=False)
    operator: str = field(default="", compare=False)
    parts: tuple[Figure, ...] = field(default=(), compare=False, repr=False)
    behind: Callable[[], Figure] | None = field(default=None, compare=False, repr=False)

    def __str__(self) -> str:
        return number(self.value, self.unit)

    def __float__(self) -> float:
        return float(self.value)

    def __add__(self, other: Figure | float) -> Figure:
        return _joined(SUM, self.value + _value(other), self, _beside(other, self.unit))

    def __radd__(self, other: float) -> Figure:
        return _joined(SUM, other + self.value, plain(other, self.unit), self)

    def __sub__(self, other: Figure | float) -> Figure:
        return _joined(MINUS, self.value - _value(other), self, _beside(other, self.unit))

    def __rsub__(self, other: float) -> Figure:
        return _joined(MINUS, other - self.value, plain(other, self.unit), self)

    def __mul__(self, other: Figure | float) -> Figure:
        by = _beside(other, "")
        return _made(TIMES, self.value * by.value, dimension.product(self.unit, by.unit), self, by)

    def __rmul__(self, other: float) -> Figure:
        return _made(TIMES, other * self.value, self.unit, plain(other), self)

    def __truediv__(self, other: Figure | float) -> Figure:
        by = _beside(other, "")
        return _made(OVER, self.value / by.value, dimension.quotient(self.unit, by.unit), self, by)

    def __rtruediv__(self, other: float) -> Figure:
        return _made(OVER, other / self.value, dimension.quotient("", self.unit), plain(other), self)

    def __pow__(self, exponent: int) -> Figure:
        unit = dimension.power(self.unit, exponent)
        return _made(POWER, self.value**exponent, unit, self, plain(exponent))

    def as_(self, unit: str) -> Figure:
        """The same figure under another name of its unit, as volt-amperes for watts or per cent for a share.

        Raises:
            ValueError: it is not the same unit.

        """
        if not dimension.same(self.unit, unit):
            raise ValueError(f"{self.unit or 'a plain number'} is not {unit}")
        return Figure(self.value, unit, self.label, self.origin, self.operator, self.parts, self.behind)

    def named(self, label: str, origin: str = "") -> Figure:
        """The figure as a term of the next formula, which shows its label and keeps its own working apart."""
        return Figure(self.value, self.unit, label, origin, self.operator, self.parts, self.behind)

    def worked(self) -> Figure:
        """The figure with what it was worked out from."""
        return self.behind().worked() if self.behind else self

    def terms(self) -> tuple[Figure, ...]:
        """The labelled figures in the formula, each once, in the order of its words."""
        return tuple({id(one): one for one in _terms(self.worked())}.values())

    def working(self) -> list[str]:
        """The arithmetic written out: in words, in figures, the result, then the origin and working of each term."""
        made = self.worked()
        if not made.operator:
            return [str(self)]
        lines = [_formula(made, _label)[0], f"= {_formula(made, str)[0]}", f"= {made}"]
        for term in made.terms():
            lines += [f"{term.label}: {term.origin}"] if term.origin else []
            if term.operator or term.behind:
                lines += [f"{term.label}:", *(f"  {line}" for line in term.working())]
        return lines


Measure = TypeVar("Measure", float, Figure)
"""What a formula of physics is given and gives back: plain numbers, or figures that keep the formula as their working.

So the formula that tests prove on numbers is the very one that rules judge by and that a working shows.
"""


def plain(value: float, unit: str = "") -> Figure:
    """A number as it stands in a formula, such as the 2 of a loop; its unit is understood."""
    return Figure(value, unit, operator=PLAIN)


def total(parts: Iterable[Figure], unit: str) -> Figure:
    """The sum of ``parts`` in ``unit``; 0 when there are none.

    >>> total([Figure(22, "A", "hf"), Figure(1, "A", "lamp")], "A").working()
    ['hf + lamp', '= 22.0 A + 1.0 A', '= 23.0 A']

    Raises:
        ValueError: a part has another unit.

    """
    summed = tuple(parts)
    _agree(*(one.unit for one in summed), unit)
    return Figure(reduce(operator.add, (one.value for one in summed), 0.0), unit, operator=SUM, parts=summed)


def given(value: float, unit: str, label: str, origin: str) -> Figure:
    """A figure that is known without arithmetic, whose working says where from."""
    return total([Figure(value, unit, label, origin)], unit)


def greatest(*parts: Figure) -> Figure:
    """The greatest of figures of one unit."""
    _agree(*(one.unit for one in parts))
    return _made(GREATEST, max(one.value for one in parts), parts[0].unit, *parts)


@overload
def least(*parts: float) -> float: ...
@overload
def least(*parts: Figure) -> Figure: ...
def least(*parts: Figure | float) -> Figure | float:
    """The least of plain numbers, or of figures of one unit."""
    figures = [one for one in parts if isinstance(one, Figure)]
    if not figures:
        return min(map(_value, parts))
    _agree(*(one.unit for one in figures))
    return _made(LEAST, min(one.value for one in figures), figures[0].unit, *figures)


def root(of: Measure) -> Measure:
    """The square root of a plain number or a figure."""
    if isinstance(of, Figure):
        return _made(ROOT, math.sqrt(of.value), dimension.power(of.unit, 0.5), of)
    return math.sqrt(of)


def label(id_: str) -> str:
    """A part's id as a formula shows it; no two ids look alike.

    >>> label("hf-lead"), label("hf_lead")
    ('hf lead', 'hf_lead')
    """
    return id_.replace("-", " ")


def number(value: float, unit: str) -> str:
    """A figure for reading: as many digits as the trade's meters show."""
    if not math.isfinite(value):
        return f"unlimited {unit}".strip() if value > 0 else f"none {unit}".strip()
    if unit in ("Ω", "Ω/m") and abs(value) < 1:
        return f"{value * 1000:.1f} m{unit}"
    if unit == "%":
        return f"{value * 100:.0f} %"
    decimals = DIGITS.get(unit, 2)
    if abs(value) >= 100 and decimals:
        decimals -= 1
    if abs(value) >= 1000:
        decimals = 0
    return f"{value:.{decimals}f} {unit}".strip()


def _made(how: str, value: float, unit: str, *parts: Figure) -> Figure:
    return Figure(value, unit, operator=how, parts=parts)


def _joined(how: str, value: float, first: Figure, second: Figure) -> Figure:
    _agree(first.unit, second.unit)
    return _made(how, value, first.unit, first, second)


def _agree(*units: str) -> None:
    """Raises ValueError where units differ that are compared or summed."""
    for one in units:
        if one != units[0] and not dimension.same(one, units[0]):
            raise ValueError(f"{units[0] or 'a plain number'} and {one or 'a plain number'} are not of one kind")


def _beside(other: Figure | float, unit: str) -> Figure:
    return other if isinstance(other, Figure) else plain(other, unit)


def _value(other: Figure | float) -> float:
    return other.value if isinstance(other, Figure) else other


def _terms(made: Figure) -> Iterator[Figure]:
    for part in made.parts:
        if part.label:
            yield part
        else:
            yield from _terms(part)


def _label(term: Figure) -> str:
    return term.label or str(term)


def _formula(made: Figure, shown: Callable[[Figure], str]) -> tuple[str, int]:
    """The formula of a figure, its terms as ``shown``, and how strongly its outermost operator binds."""
    how, parts = made.operator, [_part(one, shown) for one in made.parts]
    texts = [text for text, _ in parts]
    if how in (ROOT, GREATEST, LEAST):
        return f"{how}({', '.join(texts)})", ALONE
    if how == SUM and len(parts) < 2:
        return parts[0] if parts else ("0", ALONE)
    if how == SUM:
        return f" {SUM} ".join(texts), BINDS[SUM]
    if how == POWER:
        return _bracketed(*parts[0], BINDS[POWER] + 1) + texts[1].translate(SUPERSCRIPTS), BINDS[POWER]
    second = made.parts[1]
    chained = how == TIMES and second.operator == TIMES and not second.label
    after = _bracketed(*parts[1], BINDS[how] + (0 if chained else 1))
    return f"{_bracketed(*parts[0], BINDS[how])} {how} {after}", BINDS[how]


def _part(part: Figure, shown: Callable[[Figure], str]) -> tuple[str, int]:
    if part.operator == PLAIN:
        return f"{part.value:g}", ALONE
    return _formula(part, shown) if part.operator and not part.label else (shown(part), ALONE)


def _bracketed(text: str, binds: int, least_binding: int) -> str:
    return text if binds >= least_binding else f"({text})"
