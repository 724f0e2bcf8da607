"""The working that is shown is the working that was done, one operator after the other."""

import math
from typing import Any

import pytest
import workings

from engine.working import Figure, given, greatest, label, least, plain, root, total

AMPS, MORE, OHMS = Figure(3, "A", "amps"), Figure(1, "A", "more"), Figure(0.5, "Ω", "ohms")


@pytest.mark.parametrize(
    ("figure", "words", "value", "unit"),
    [
        (AMPS * OHMS, "amps × ohms", 1.5, "V"),
        ((AMPS - MORE) * OHMS, "(amps − more) × ohms", 1.0, "V"),
        (AMPS - (MORE - AMPS), "amps − (more − amps)", 5.0, "A"),
        (AMPS - MORE + AMPS, "amps − more + amps", 5.0, "A"),
        (AMPS * OHMS / (MORE * OHMS), "amps × ohms / (more × ohms)", 3.0, ""),
        (AMPS * (OHMS / OHMS), "amps × (ohms / ohms)", 3.0, "A"),
        (2 * AMPS**2 * OHMS, "2 × amps² × ohms", 9.0, "W"),
        ((AMPS / MORE) ** 2, "(amps / more)²", 9.0, ""),
        (1 - MORE / AMPS, "1 − more / amps", 2 / 3, ""),
        (1 / (OHMS * AMPS) * AMPS, "1 / (ohms × amps) × amps", 2.0, None),
        (root(AMPS**2 + MORE**2), "sqrt(amps² + more²)", math.sqrt(10), "A"),
        (least(AMPS, greatest(MORE, 2 * MORE)), "min(amps, max(more, 2 × more))", 2.0, "A"),
        (total([AMPS, MORE], "A") * OHMS, "(amps + more) × ohms", 2.0, "V"),
        (total([AMPS], "A") ** 2 * OHMS, "amps² × ohms", 4.5, "W"),
        (total([AMPS + MORE], "A") * OHMS, "(amps + more) × ohms", 2.0, "V"),
        (total([], "A"), "0", 0.0, "A"),
        (given(14.4, "V", "highest", "by hand"), "highest", 14.4, "V"),
        (Figure(48, "h", "hours") / plain(24, "h/d"), "hours / 24", 2.0, "d"),
        (Figure(45, "°C", "warm") - 20, "warm − 20", 25.0, "°C"),
    ],
)
def test_value_unit_and_words_come_from_one_expression(
    figure: Figure, words: str, value: float, unit: str | None
) -> None:
    """Brackets stand where the arithmetic needs them, and nowhere else; units follow it (arithmetic)."""
    assert figure.working()[0] == words
    assert figure.value == pytest.approx(value)
    assert unit is None or figure.unit == unit
    assert workings.evaluated(words, figure.terms()) == pytest.approx(figure.value)


@pytest.mark.parametrize(
    "nonsense",
    [
        lambda: AMPS + OHMS,
        lambda: AMPS - OHMS,
        lambda: greatest(AMPS, OHMS),
        lambda: total([AMPS, OHMS], "A"),
        lambda: total([AMPS], "V"),
        lambda: (AMPS * OHMS).as_("W"),
        lambda: Figure(1, "h").as_("d"),
    ],
)
def test_a_unit_cannot_be_claimed_against_the_arithmetic(nonsense: Any) -> None:
    """Amperes and ohms are not summed or compared, volts are not called watts, hours not days."""
    with pytest.raises(ValueError, match=r"is not|are not"):
        nonsense()


def test_one_unit_may_go_by_two_names() -> None:
    """Volts by amperes are volt-amperes as well as watts, a share may be shown in per cent."""
    apparent = Figure(230, "V", "mains") * AMPS
    assert (apparent.unit, apparent.as_("VA").unit) == ("W", "VA")
    assert str((AMPS / Figure(4, "A", "of")).as_("%")) == "75 %"


def test_a_working_nests_and_names_origins_once() -> None:
    """A term that was itself worked out shows its own working below its origin; what stands twice is told once."""
    loop = (2 * Figure(3, "m", "one way", "by tape")).named("loop", "out and back")
    per_metre = Figure(0.005, "Ω/m", "per metre")
    assert (AMPS * loop * per_metre / (1 + loop / loop)).working() == [
        "amps × loop × per metre / (1 + loop / loop)",
        "= 3.0 A × 6.00 m × 5.0 mΩ/m / (1 + 6.00 m / 6.00 m)",
        "= 0.04 V",
        "loop: out and back",
        "loop:",
        "  2 × one way",
        "  = 2 × 3.00 m",
        "  = 6.00 m",
        "  one way: by tape",
    ]


def test_a_working_is_made_when_it_is_asked_for() -> None:
    """What the search judges carries no formula until somebody looks (this house)."""
    asked = []

    def behind() -> Figure:
        asked.append(1)
        return AMPS * OHMS

    figure = Figure(1.5, "V", behind=behind)
    assert str(figure + Figure(1, "V")) == "2.50 V" and not asked
    assert figure.working()[0] == "amps × ohms" and asked
    assert figure.named("drop").working() == figure.working()


def test_figures_are_equal_by_value_and_unit() -> None:
    """How a figure was come by does not make it another figure."""
    assert AMPS * OHMS == Figure(1.5, "V") != Figure(1.5, "A")


def test_no_two_ids_look_alike() -> None:
    """A hyphen is shown as a space, which no id contains (this house's names)."""
    assert len({label(one) for one in ("hf-a", "hf_a", "hfa", "hf--a", "hf-_a")}) == 5
