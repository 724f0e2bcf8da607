"""What two units make together: volts by amperes are watts, and amperes are never added to volts.

Units are the texts that figures carry. Hours, days and seconds are strangers to each other, so that no formula turns
one into the other without the factor that belongs between them.
"""

from __future__ import annotations

from functools import cache

_BASIC = ("V", "A", "h", "d", "s", "m", "mm²", "°C", "years")
_COMPOSED: dict[str, dict[str, float]] = {
    "": {},
    "W": {"V": 1, "A": 1},
    "Ω": {"V": 1, "A": -1},
    "Ah": {"A": 1, "h": 1},
    "h/d": {"h": 1, "d": -1},
    "Ω/m": {"V": 1, "A": -1, "m": -1},
    "Ω·mm²/m": {"V": 1, "A": -1, "mm²": 1, "m": -1},
    "A√s/mm²": {"A": 1, "s": 0.5, "mm²": -1},
    "/°C": {"°C": -1},
}
_OTHERWISE = {"%": "", "VA": "W"}
"""Other names for the same unit; a formula ends in one of these only where it says so."""

_POWERS = {unit: {unit: 1.0} for unit in _BASIC} | _COMPOSED | {own: _COMPOSED[of] for own, of in _OTHERWISE.items()}
_UNITS = {frozenset(powers.items()): unit for unit, powers in _POWERS.items() if unit not in _OTHERWISE}


@cache
def product(unit: str, other: str) -> str:
    """The unit of a product.

    >>> product("A", "Ω"), product("V", "A"), product("%", "A")
    ('V', 'W', 'A')
    """
    return _unit(_sum(unit, other, 1))


@cache
def quotient(unit: str, other: str) -> str:
    """The unit of a quotient.

    >>> quotient("Ah", "A"), quotient("V", "%"), quotient("A", "A")
    ('h', 'V', '')
    """
    return _unit(_sum(unit, other, -1))


@cache
def power(unit: str, exponent: float) -> str:
    """The unit of a power; 0.5 is the root.

    >>> power("A", 2), power(power("A", 2), 0.5)
    ('A^2', 'A')
    """
    return _unit({base: times * exponent for base, times in _powers(unit).items()})


@cache
def same(unit: str, other: str) -> bool:
    """Whether two units are one, whatever they are called.

    >>> same("W", "VA"), same("%", ""), same("h", "d")
    (True, True, False)
    """
    return _powers(unit) == _powers(other)


def _sum(unit: str, other: str, sign: int) -> dict[str, float]:
    mine, its = _powers(unit), _powers(other)
    return {base: mine.get(base, 0.0) + sign * its.get(base, 0.0) for base in mine | its}


def _powers(unit: str) -> dict[str, float]:
    """The powers of the basic units in a unit of the table, or in one that a formula passes through."""
    if unit in _POWERS:
        return _POWERS[unit]
    pairs = (base.split("^") for base in unit.split("·"))
    return {base: float(exponent) for base, exponent in pairs}


def _unit(powers: dict[str, float]) -> str:
    left = {base: exponent for base, exponent in powers.items() if exponent}
    known = _UNITS.get(frozenset(left.items()))
    return known if known is not None else "·".join(f"{base}^{exponent:g}" for base, exponent in sorted(left.items()))
