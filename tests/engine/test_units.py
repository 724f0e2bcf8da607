"""The strict grammar of quantities: what people type is read as they mean it, or refused with a remedy."""

import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pint
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from engine import units
from engine.units import (
    AMP_HOURS,
    AMPS,
    CELSIUS,
    HOURS,
    KINDS,
    LENGTH,
    MASS,
    OHMS,
    SECONDS,
    SHARE,
    VOLTS,
    WATTS,
    Kind,
    QuantityError,
)

ROOT = Path(__file__).parents[2]
PINT: pint.UnitRegistry[float] = pint.UnitRegistry()

MEANT = [
    ("13,8 V", VOLTS, 13.8),
    ("13.8V", VOLTS, 13.8),
    ("13.8 volts", VOLTS, 13.8),
    ("13.8 VDC", VOLTS, 13.8),
    ("+13.8 V", VOLTS, 13.8),
    ("13.8\u00a0V", VOLTS, 13.8),
    ("13.8\u202fV", VOLTS, 13.8),
    ("13.8", VOLTS, 13.8),
    ("0,800 V", VOLTS, 0.8),
    ("250 mV", VOLTS, 0.25),
    ("5 amps", AMPS, 5.0),
    ("22A", AMPS, 22.0),
    ("500 mA", AMPS, 0.5),
    ("1,5 A", AMPS, 1.5),
    ("5 ft 6 in", LENGTH, 1.6764),
    ("5'6\"", LENGTH, 1.6764),
    ("5′ 6″", LENGTH, 1.6764),
    ("5 feet 6 inches", LENGTH, 1.6764),
    ("1.5m", LENGTH, 1.5),
    ("18 in", LENGTH, 0.4572),
    ("20 C", CELSIUS, 20.0),
    ("20 °C", CELSIUS, 20.0),
    ("68 F", CELSIUS, 20.0),
    ("95 °F", CELSIUS, 35.0),
    ("−5 °C", CELSIUS, -5.0),
    ("-40 °F", CELSIUS, -40.0),
    ("30%", SHARE, 0.3),
    ("30 percent", SHARE, 0.3),
    ("1.5 kW", WATTS, 1500.0),
    ("20 Ah", AMP_HOURS, 20.0),
    ("7,2 ah", AMP_HOURS, 7.2),
    ("2500mAh", AMP_HOURS, 2.5),
    ("4 h", HOURS, 4.0),
    ("90 min", HOURS, 1.5),
    ("2.5 hours", HOURS, 2.5),
    ("4", HOURS, 4.0),
]

REFUSED = [
    ("13 800 V", VOLTS, "not a unit of voltage"),
    ("13,800 V", VOLTS, "can be read as 13800 or as 13.800"),
    ("1,234.5 V", VOLTS, "can be read as"),
    ("13.8.1 V", VOLTS, "not a unit"),
    ("−13.8 V", VOLTS, "outside"),
    ("-13.8 V", VOLTS, "outside"),
    ("1e999 V", VOLTS, "not a unit"),
    ("1e3 V", VOLTS, "not a unit"),
    ("nan V", VOLTS, "does not start with a number"),
    ("inf V", VOLTS, "does not start with a number"),
    ("20 C", VOLTS, "is a temperature"),
    ("9**9**9", VOLTS, "not a unit"),
    ("9**9**9**9 V", VOLTS, "not a unit"),
    ("(1+1) V", VOLTS, "does not start with a number"),
    ("a" * 1_000_000, VOLTS, "too long"),
    ("9" * 1_000_000, VOLTS, "too long"),
    (" " * 1_000_000, VOLTS, "too long"),
    ("9" * 39, VOLTS, "is not one number"),
    ("0x10 V", VOLTS, "not a unit"),
    ("1_000 V", VOLTS, "not a unit"),
    ("١٣ V", VOLTS, "is not one number"),
    ("13.8\u200bV", VOLTS, "cannot be seen"),
    ("13.8\x00V", VOLTS, "cannot be seen"),
    ("", VOLTS, "is empty"),
    ("   ", VOLTS, "is empty"),
    ("V", VOLTS, "does not start with a number"),
    ("5 parsecs", LENGTH, "not a unit of length"),
    ("5", LENGTH, "has no unit"),
    ("20", CELSIUS, "has no unit"),
    ("20 K", CELSIUS, "not a unit"),
    ("100 W", AMPS, "is a power"),
    ("0.1 kW", AMPS, "is a power"),
    ("5 ft", AMPS, "is a length"),
    ("1001 V", VOLTS, "outside"),
    ("#10", AMPS, "does not start with a number"),
    ("20 Ah", AMPS, "is a battery capacity"),
    ("20 A", AMP_HOURS, "is a current"),
    ("20 Wh", AMP_HOURS, "not a unit of battery capacity"),
    ("4 Ah", HOURS, "is a battery capacity"),
]

EXACT = [
    ("1 ft", LENGTH, Fraction(3048, 10_000)),
    ("1 in", LENGTH, Fraction(254, 10_000)),
    ("12.5 cm", LENGTH, Fraction(125, 1000)),
    ("7 mm", LENGTH, Fraction(7, 1000)),
    ("72 in", LENGTH, 72 * Fraction(254, 10_000)),
    ("1 lb", MASS, Fraction(45_359_237, 100_000_000)),
    ("250 g", MASS, Fraction(1, 4)),
    ("212 °F", CELSIUS, Fraction(100)),
    ("77 °F", CELSIUS, Fraction(25)),
    ("-13 °F", CELSIUS, Fraction(-25)),
    ("2.5 h", SECONDS, Fraction(9000)),
    ("1.5 min", SECONDS, Fraction(90)),
    ("125 mV", VOLTS, Fraction(1, 8)),
    ("7 mA", AMPS, Fraction(7, 1000)),
    ("7 mAh", AMP_HOURS, Fraction(7, 1000)),
    ("20 min", HOURS, Fraction(1, 3)),
    ("0.5 mohm", OHMS, Fraction(1, 2000)),
    ("12.5 %", SHARE, Fraction(1, 8)),
    ("1.2 kW", WATTS, Fraction(1200)),
]

SIZES = [
    ("#10", "10 AWG"),
    ("10 ga", "10 AWG"),
    ("10 gauge", "10 AWG"),
    ("10AWG", "10 AWG"),
    ("AWG 10", "10 AWG"),
    ("no. 8", "8 AWG"),
    ("1/0", "1/0 AWG"),
    ("#0", "1/0 AWG"),
    ("0000 AWG", "4/0 AWG"),
    ("6 mm2", "6 mm²"),
    ("6 mm²", "6 mm²"),
    ("6mm²", "6 mm²"),
    ("2,5 mm²", "2.5 mm²"),
    ("2.50 mm2", "2.5 mm²"),
    ("6 sq mm", "6 mm²"),
]


@pytest.mark.parametrize(("text", "kind", "value"), MEANT, ids=lambda one: repr(one)[:30])
def test_what_people_type_is_read_as_they_mean_it(text: str, kind: Kind, value: float) -> None:
    """Decimal commas, glued units, feet with inches and the typographic minus are understood (arithmetic)."""
    assert float(units.read(text, kind)) == pytest.approx(value, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("text", "kind", "what"), REFUSED, ids=lambda one: repr(one)[:30])
def test_what_can_be_misread_is_refused_with_a_remedy(text: str, kind: Kind, what: str) -> None:
    """Split or doubtful thousands, powers, arithmetic, other units and endless text: refused, never guessed at."""
    with pytest.raises(QuantityError) as caught:
        units.read(text, kind)
    assert what in caught.value.what
    assert caught.value.instead
    assert len(str(caught.value)) < 300


def test_radio_watts_for_a_current_are_met_with_the_true_figure() -> None:
    """100 W asked for as a current is refused with what such a set draws, 18 to 23 A (common practice, no source)."""
    with pytest.raises(QuantityError, match="18 to 23 A"):
        units.read("100 W", AMPS)


@pytest.mark.parametrize(("text", "kind", "exact"), EXACT, ids=lambda one: repr(one)[:30])
def test_conversions_are_the_exact_definitions(text: str, kind: Kind, exact: Fraction) -> None:
    """Foot, inch, pound, degree Fahrenheit, hour and the prefixes are exact (NIST SP 811 appendix B, from memory)."""
    assert float(units.read(text, kind)) == pytest.approx(float(exact), rel=1e-12)


def test_conversion_agrees_with_fractions_everywhere() -> None:
    """-100 to 400 °F, and 0 to 40 ft in inches, as exact fractions (NIST SP 811 appendix B, from memory)."""
    for fahrenheit in range(-100, 401, 7):
        exact = float((Fraction(fahrenheit) - 32) * Fraction(5, 9))
        assert float(units.read(f"{fahrenheit} °F", CELSIUS)) == pytest.approx(exact, abs=1e-9)
    for inches in range(1, 480):
        feet, rest = divmod(inches, 12)
        assert float(units.read(f"{feet} ft {rest} in", LENGTH)) == pytest.approx(inches * 0.0254, rel=1e-12)


@pytest.mark.parametrize(("text", "name"), SIZES)
def test_conductor_sizes_have_one_name(text: str, name: str) -> None:
    """The trade's spellings of a size end in one name (ASTM B258 and IEC 60228 names)."""
    assert units.conductor_name(text) == name


@pytest.mark.parametrize("text", ["10", "6 mm", "ten gauge", "", "5/0", "#-3", "12 AWG 14 AWG", "x" * 100_000])
def test_what_is_no_size_is_refused(text: str) -> None:
    """A bare number or a diameter could be either system, so neither is guessed (this house's grammar)."""
    with pytest.raises(QuantityError):
        units.conductor_name(text)


@given(st.sampled_from(KINDS), st.integers(-(10**9), 10**9), st.integers(0, 9))
@example(VOLTS, 138, 1)
@example(VOLTS, 1, 5)
@example(SHARE, 7, 2)
@settings(max_examples=500, deadline=None)
def test_what_is_shown_reads_back_the_same(kind: Kind, digits: int, decimals: int) -> None:
    """read(show(x)) == x for every kind and every value of up to nine digits in its range (round trip)."""
    value = digits / 10**decimals
    if kind.lowest <= value <= kind.highest:
        assert float(units.read(units.show(value, kind), kind)) == value


@given(st.sampled_from(KINDS), st.integers(0, 10**6), st.integers(0, 4))
@settings(max_examples=200, deadline=None)
def test_the_owners_spelling_survives(kind: Kind, digits: int, decimals: int) -> None:
    """What was read is spelled back word for word and reads as the same value (round trip)."""
    value = digits / 10**decimals
    if kind.lowest <= value <= kind.highest:
        text = f"{value:.{decimals}f} {kind.symbol}"
        assert units.spell(units.read(text, kind), kind) == text


NASTY = st.text(st.sampled_from("0123456789.,+-−eE*/'\"′″ #%°±VvAaWCFmfticnkΩ²\u00a0\u200b\x00٣٤"), max_size=60)


@given(st.one_of(st.text(max_size=200), NASTY), st.sampled_from(KINDS))
@example("٥ ft ٦ in", LENGTH)
@example("9" * 17 + " ft " + "9" * 17 + " in", LENGTH)
@settings(max_examples=800, deadline=None)
def test_any_text_reads_or_is_refused(text: str, kind: Kind) -> None:
    """Arbitrary text gives a finite value in range or a QuantityError, never another error (this house's grammar)."""
    try:
        value = units.read(text, kind)
    except QuantityError:
        return
    assert kind.lowest <= value <= kind.highest


@given(st.one_of(st.text(max_size=200), NASTY))
@settings(max_examples=400, deadline=None)
def test_any_text_is_a_size_or_is_refused(text: str) -> None:
    """Arbitrary text gives a size whose name stands for itself, or a QuantityError (this house's grammar)."""
    try:
        name = units.conductor_name(text)
    except QuantityError:
        return
    assert units.conductor_name(name) == name


PAIRS = [(unit, kind) for kind in KINDS for unit in sorted(set(kind.aliases.values()))]


@pytest.mark.parametrize(("unit", "kind"), PAIRS, ids=[f"{unit}-{kind.unit}" for unit, kind in PAIRS])
@settings(max_examples=20)
@given(number=st.decimals(-1000, 100_000, places=6).map(float))
def test_every_unit_is_what_pint_says_it_is(unit: str, kind: Kind, number: float) -> None:
    """Source: the default registry of pint, definitions that are not ours."""
    theirs = PINT.Quantity(number, unit).to(kind.unit).magnitude
    assert units.convert(number, unit, kind.unit) == pytest.approx(theirs, rel=1e-12, abs=1e-11)


@pytest.mark.parametrize("unit", sorted({unit for unit, kind in PAIRS if unit != kind.unit}))
@settings(max_examples=20)
@given(number=st.decimals(-1000, 100_000, places=6).map(float))
def test_a_multiple_is_the_same_to_the_digit_with_pint_and_without(unit: str, number: float) -> None:
    """The short way through ``convert`` gives the very number that our own registry gives."""
    for to in (kind.unit for name, kind in PAIRS if name == unit):
        assert units.convert(number, unit, to) == round(units.registry().Quantity(number, unit).to(to).magnitude, 12)


def test_an_ordinary_file_needs_no_pint() -> None:
    """The catalogue, and a station in volts, amperes, metres and feet, are read without it; Fahrenheit brings it in."""
    code = (
        "import sys\n"
        "from catalog.shelf import built_in\n"
        "from engine.units import CELSIUS, LENGTH, read\n"
        "built_in(), read('5 ft', LENGTH), read('5 ft 6 in', LENGTH)\n"
        "assert 'pint' not in sys.modules\n"
        "assert read('50 °F', CELSIUS) == 10\n"
        "assert 'pint' in sys.modules\n"
    )
    ended = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert ended.returncode == 0, ended.stderr
