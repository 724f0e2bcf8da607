"""Quantities as people write them: text to SI float and back.

The only module that parses a quantity. Text never reaches pint's own parser: a strict grammar takes one
finite number and one unit from a fixed alias table. A plain multiple is multiplied; pint converts every other
known pair.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

from engine.characters import first_hidden

if TYPE_CHECKING:
    import pint

LONGEST = 40
"""Characters accepted in one quantity."""


class QuantityError(ValueError):
    """A text that is not the quantity asked for: ``what`` is wrong and what to write ``instead``."""

    def __init__(self, what: str, instead: str) -> None:
        super().__init__(f"{what}; {instead}")
        self.what = what
        self.instead = instead


class Spelled(float):
    """An SI float that remembers how its owner spelled it, so that a profile keeps the owner's words."""

    text: str

    def __new__(cls, value: float, text: str) -> Spelled:  # noqa: D102
        made = super().__new__(cls, value)
        made.text = text
        return made

    def __reduce__(self) -> tuple[type[Spelled], tuple[float, str]]:
        return Spelled, (float(self), self.text)


@dataclass(frozen=True)
class Kind:
    """One sort of quantity: its name, SI unit, the units people write, and the range that makes sense."""

    name: str
    unit: str
    symbol: str
    aliases: dict[str, str]
    lowest: float
    highest: float
    example: str
    needs_unit: bool = False


def _units(**spellings: str) -> dict[str, str]:
    return {alias: unit for unit, text in spellings.items() for alias in text.split("|")}


VOLTS = Kind("voltage", "volt", "V", _units(volt="v|volt|volts|vdc|v dc", millivolt="mv"), 0, 1000, "13.8 V")
AMPS = Kind("current", "ampere", "A", _units(ampere="a|amp|amps|ampere|amperes", milliampere="ma"), 0, 2000, "22 A")
SHOWN_VOLTS = replace(VOLTS, lowest=-1000)
SHOWN_AMPS = replace(AMPS, lowest=-2000)
"""What a meter may show: below nought where its points, or its clamp, lie the other way round."""

LENGTH = Kind(
    "length",
    "meter",
    "m",
    _units(
        meter="m|metre|metres|meter|meters",
        centimeter="cm",
        millimeter="mm",
        foot="ft|foot|feet|'|′",
        inch='in|inch|inches|"|″',
    ),
    0,
    1000,
    "1.5 m or 5 ft",
    needs_unit=True,
)
CELSIUS = Kind(
    "temperature",
    "degC",
    "°C",
    _units(degC="c|°c|degc|celsius|deg c", degF="f|°f|degf|fahrenheit|deg f"),
    -90,
    250,
    "35 °C or 95 °F",
    needs_unit=True,
)
SHARE = Kind("share", "dimensionless", "%", _units(percent="%|percent|pct"), 0, 10, "30 %")
WATTS = Kind("power", "watt", "W", _units(watt="w|watt|watts", kilowatt="kw"), 0, 100_000, "100 W")
OHMS = Kind("resistance", "ohm", "Ω", _units(ohm="ohm|ohms|ω", milliohm="mohm|milliohm|mω"), 0, 1e6, "0.01 ohm")
SECONDS = Kind(
    "time", "second", "s", _units(second="s|sec|second|seconds", minute="min", hour="h|hour|hours"), 0, 1e7, "2 s"
)
AMP_HOURS = Kind(
    "battery capacity",
    "ampere_hour",
    "Ah",
    _units(ampere_hour="ah|amp hour|amp hours|ampere hours|amp-hours", milliampere_hour="mah"),
    0,
    100_000,
    "20 Ah",
    needs_unit=True,
)
HOURS = Kind("time", "hour", "h", _units(hour="h|hr|hrs|hour|hours", minute="min|minute|minutes"), 0, 10_000, "4 h")
YEARS = Kind("age", "year", "years", _units(year="y|yr|yrs|year|years", month="month|months"), 0, 100, "5 years")
MASS = Kind("mass", "kilogram", "kg", _units(kilogram="kg", gram="g", pound="lb|lbs|pound|pounds"), 0, 1000, "2 kg")

KINDS = (VOLTS, AMPS, LENGTH, CELSIUS, SHARE, WATTS, OHMS, SECONDS, AMP_HOURS, HOURS, YEARS, MASS)

_SCALED: dict[str, tuple[float, str]] = {
    "millivolt": (0.001, "volt"),
    "milliampere": (0.001, "ampere"),
    "centimeter": (0.01, "meter"),
    "millimeter": (0.001, "meter"),
    "foot": (0.3048, "meter"),
    "inch": (0.0254, "meter"),
    "percent": (0.01, "dimensionless"),
    "kilowatt": (1000, "watt"),
    "milliohm": (0.001, "ohm"),
    "minute": (60, "second"),
    "hour": (3600, "second"),
    "milliampere_hour": (0.001, "ampere_hour"),
    "gram": (0.001, "kilogram"),
    "pound": (0.45359237, "kilogram"),
}
"""Units that are a plain multiple of another: one multiplication, so that most files need no pint at all."""

_DEFINITIONS = """
volt = [electric_potential]
ampere = [current]
meter = [length]
kelvin = [temperature]; offset: 0
degC = kelvin; offset: 273.15
degF = 5 / 9 * kelvin; offset: 255.3722222222222
watt = volt * ampere
ohm = volt / ampere
second = [time]
ampere_hour = 3600 * ampere * second
kilogram = [mass]
year = 31557600 * second
month = 2629800 * second
"""


@cache
def registry() -> pint.UnitRegistry[float]:
    """The one unit registry, made from our own short list (the default list starts twenty times slower)."""
    import pint

    made: pint.UnitRegistry[float] = pint.UnitRegistry(None)
    scaled = (f"{unit} = {factor} * {base}" for unit, (factor, base) in _SCALED.items())
    for line in (*filter(None, _DEFINITIONS.splitlines()), *scaled):
        made.define(line.removesuffix(" * dimensionless"))
    return made


def convert(number: float, unit: str, to: str) -> float:
    """``number`` in ``unit`` expressed in ``to``, both names of the registry.

    >>> round(convert(5.0, "foot", "meter"), 4)
    1.524
    """
    if unit == to:
        return number
    factor, base = _SCALED.get(unit, (0.0, ""))
    if base == to:
        return round(number * factor, 12)
    return float(round(registry().Quantity(number, unit).to(to).magnitude, 12))


_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)")
_FEET_INCHES = re.compile(r"(\d+(?:\.\d+)?)\s*(?:ft|feet|foot|'|′)\s*(\d+(?:\.\d+)?)\s*(?:in|inch|inches|\"|″)$", re.I)


def tidy(text: str) -> str:
    """NFC text with single spaces and an ASCII minus.

    Raises:
        QuantityError: the text is empty, too long or holds control characters.

    """
    if len(text) > LONGEST * 4 or len(text.strip()) > LONGEST:
        raise QuantityError("too long for one quantity", f"write at most {LONGEST} characters")
    if first_hidden(text.strip()):
        raise QuantityError("contains a character that cannot be seen", "type the value again")
    plain = unicodedata.normalize("NFC", text).replace("−", "-").replace("\u00a0", " ").replace("\u202f", " ")
    plain = " ".join(plain.split())
    if not plain:
        raise QuantityError("is empty", "leave the key out if the value is not known")
    return plain


def number(text: str) -> float:
    """One finite decimal number; a comma counts as a decimal sign unless it could part thousands.

    Raises:
        QuantityError: not one number, or a comma that can be read in two ways.

    """
    if not _NUMBER.fullmatch(text) or len(text) > 20 or not text.isascii():
        raise QuantityError(f"{text!r} is not one number", "write one number, such as 13.8")
    if "," in text:
        before, after = text.lstrip("+-").split(",")
        if len(after) == 3 and 1 <= len(before) <= 3 and before != "0":
            raise QuantityError(
                f"{text!r} can be read as {before}{after} or as {before}.{after}",
                f"write {before}{after} or {before}.{after}",
            )
    return float(text.replace(",", "."))


def read(text: str, kind: Kind) -> Spelled:
    """The SI value of ``text``, of the ``kind`` asked for.

    >>> float(read("13,8 V", VOLTS))
    13.8
    >>> float(read("5 ft 6 in", LENGTH))
    1.6764

    Raises:
        QuantityError: what is wrong with the text and what to write instead.

    """
    plain = tidy(text)
    if kind is LENGTH and (pair := _FEET_INCHES.fullmatch(plain)):
        feet, inches = (float(part) for part in pair.groups())
        return _within(round(convert(feet, "foot", "meter") + convert(inches, "inch", "meter"), 12), plain, kind)
    start = _NUMBER.match(plain)
    if not start:
        raise QuantityError(f"{plain!r} does not start with a number", f"write for example {kind.example}")
    value, unit = number(start.group()), plain[start.end() :].strip()
    if not unit:
        if kind.needs_unit:
            raise QuantityError(f"{plain!r} has no unit", f"write for example {kind.example}")
        if kind is SHARE and 0 < value < 1:
            raise QuantityError(
                f"{plain!r} can be read as {value:.0%} or as {value} %", f"write {value:.0%} or {value} %"
            )
        unit, plain = kind.symbol, f"{plain} {kind.symbol}"
    return _within(convert(value, _unit_name(unit, kind, plain), kind.unit), plain, kind)


def _unit_name(unit: str, kind: Kind, plain: str) -> str:
    spelling = unit.casefold()
    if unit.startswith("M") and kind.aliases.get(spelling, "").startswith("milli") and len(unit) <= 2:
        raise QuantityError(
            f"{unit!r} is a million, not a thousandth", f"write m{unit[1:]}, or for example {kind.example}"
        )
    if spelling in kind.aliases:
        return kind.aliases[spelling]
    if kind is AMPS and spelling in WATTS.aliases:
        raise QuantityError(
            f"{plain!r} is a power; this asks for the direct current drawn",
            "look for 'current drain' in the manual: watts of radio output are not watts of supply "
            "(a 100 W HF set draws 18 to 23 A)",
        )
    other = next((one for one in KINDS if spelling in one.aliases), None)
    if other:
        raise QuantityError(
            f"{plain!r} is a {other.name}; this asks for a {kind.name}", f"write for example {kind.example}"
        )
    raise QuantityError(f"{unit!r} is not a unit of {kind.name} known here", f"write for example {kind.example}")


def _within(value: float, plain: str, kind: Kind) -> Spelled:
    if not math.isfinite(value) or not kind.lowest <= value <= kind.highest:
        raise QuantityError(
            f"{plain!r} is outside what a {kind.name} can be here",
            f"write a value from {show(kind.lowest, kind)} to {show(kind.highest, kind)}",
        )
    return Spelled(value, plain)


def show(value: float, kind: Kind, decimals: int | None = None) -> str:
    """``value`` (SI) as text with its unit; exact to ten digits unless ``decimals`` is given.

    >>> show(0.25, SHARE)
    '25 %'
    >>> show(13.456, VOLTS, 2)
    '13.46 V'
    """
    scaled = value * 100 if kind is SHARE else value
    text = f"{scaled:.10g}" if decimals is None else f"{scaled:.{decimals}f}"
    if "e-" in text:  # the grammar of read knows no exponents
        text = f"{scaled:.15f}".rstrip("0").rstrip(".")
    return f"{text} {kind.symbol}"


def spell(value: float, kind: Kind) -> str:
    """The owner's own spelling where there is one, else the plain form."""
    return value.text if isinstance(value, Spelled) else show(value, kind)


_AWG_FORMS = (
    re.compile(r"(?:#|no\.?|awg)\s*(\d{1,2}|[1-4]/0|0{1,4})", re.I),
    re.compile(r"#?\s*(\d{1,2}|[1-4]/0|0{1,4})\s*(?:awg|ga|gauge)", re.I),
    re.compile(r"([1-4]/0)", re.I),
)
_METRIC_FORM = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:mm2|mm²|mm\^2|sq\.? ?mm|qmm)", re.I)


def conductor_name(text: str) -> str:
    """The standard name of a conductor size: ``12 AWG``, ``1/0 AWG`` or ``4 mm²``.

    >>> conductor_name("#10"), conductor_name("2,5 mm2")
    ('10 AWG', '2.5 mm²')

    Raises:
        QuantityError: neither an AWG number nor a cross-section.

    """
    plain = tidy(text)
    for form in _AWG_FORMS:
        if found := form.fullmatch(plain):
            gauge = found.group(1)
            if set(gauge) == {"0"}:
                gauge = f"{len(gauge)}/0"
            return f"{gauge.lstrip('0') or gauge} AWG"
    if found := _METRIC_FORM.fullmatch(plain):
        return f"{number(found.group(1)):.10g} mm²"
    raise QuantityError(f"{plain!r} is not a conductor size", "write for example 12 AWG or 4 mm²")
