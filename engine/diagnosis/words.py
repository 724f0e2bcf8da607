"""Figures of a diagnosis as a person says them; the whole figure stands in the working."""

from __future__ import annotations

import math
from collections.abc import Iterable

from engine.diagnosis.interval import Interval
from engine.working import number


def spoken(value: float, unit: str) -> str:
    """A figure rounded for a sentence.

    >>> spoken(1.252, "V"), spoken(0.0804, "V"), spoken(24.9, "W"), spoken(1.25, "A"), spoken(0.0955, "Ω")
    ('1.3 V', '80 mV', '25 W', '1.2 A', '96 mΩ')
    """
    if not math.isfinite(value) or unit not in ("V", "A", "W", "Ω"):
        return number(value, unit)
    size = abs(value)
    if size < (0.1 if unit == "V" else 1.0) and unit in ("V", "Ω") and value:
        return f"{value * 1000:.0f} m{unit}"
    return f"{value:.0f} {unit}" if size >= (100 if unit == "V" else 10) else f"{value:.1f} {unit}"


def beside(value: float, limit: float) -> tuple[str, str]:
    """Volts and the limit they are held against, to as many digits as tell them apart.

    >>> beside(17.0, 15.87), beside(12.38, 12.42)
    (('17.0 V', '15.9 V'), ('12.38 V', '12.42 V'))
    """
    digits = 1 if f"{value:.1f}" != f"{limit:.1f}" else 2
    return f"{value:.{digits}f} V", f"{limit:.{digits}f} V"


def bounds(interval: Interval, unit: str) -> str:
    """An interval in words.

    >>> bounds(Interval(13.2, 13.64), "V"), bounds(Interval(0.02, 0.16), "V")
    ('13.20 to 13.64 V', '20 to 160 mV')
    """
    if unit == "V" and max(abs(interval.low), abs(interval.high)) < 1:
        low, high = f"{interval.low * 1000:.0f} mV", f"{interval.high * 1000:.0f} mV"
    else:
        low, high = number(interval.low, unit), number(interval.high, unit)
    if low == high:
        return low
    if math.isinf(interval.high):
        return f"{low} or more"
    same_unit = low.split()[-1] == high.split()[-1]
    return f"{low.split()[0] if same_unit else low} to {high}"


def listed(names: Iterable[str], last: str = "and") -> str:
    """Names as a person lists them.

    >>> listed(["hf", "vhf", "pc"]), listed(["hf"])
    ('hf, vhf and pc', 'hf')
    """
    every = list(names)
    return f"{', '.join(every[:-1])} {last} {every[-1]}" if len(every) > 1 else "".join(every)
