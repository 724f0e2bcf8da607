"""Reading a working off the page as a stranger would, and evaluating it."""

import math
from collections.abc import Iterator

import pytest

from engine.model.heat import heat
from engine.rules.check import Verdict
from engine.working import Figure, number

SIGNS = {"×": "*", "−": "-", "²": "**2", "√": ""}
FUNCTIONS = {"sqrt": math.sqrt, "max": max, "min": min}


def evaluated(text: str, terms: tuple[Figure, ...]) -> float:
    """The value of a formula as it stands on the page, by Python's own reading of it."""
    values = {}
    for number_, term in enumerate(sorted(terms, key=lambda one: -len(one.label))):
        name = chr(0xE000 + number_)
        values[name] = term.value
        text = text.replace(term.label, f" {name} ")
    for name in values:
        text = text.replace(name, f"values[{name!r}]")
    for sign, python in SIGNS.items():
        text = text.replace(sign, python)
    return float(eval(text.strip(), {**FUNCTIONS, "values": values}))


def figures_of(verdict: Verdict) -> Iterator[Figure]:
    """Every figure that a verdict shows."""
    for finding in verdict.findings:
        yield from (one for one in (finding.figure, finding.limit) if one is not None)
    for face in verdict.faces:
        warm = heat(face)
        if warm is not None:
            yield warm.total
            yield from (part for _, part in warm.parts)


def assert_true(figure: Figure) -> int:
    """The formula on the page gives the value shown, and so does that of every term; how many formulas that were."""
    made = figure.worked()
    assert made.value == pytest.approx(figure.value, rel=1e-9, abs=1e-9)
    assert made.unit == figure.unit
    if not made.operator:
        assert figure.working() == [str(figure)]
        return 0
    words, figures, result, *_ = figure.working()
    terms = made.terms()
    assert len({one.label for one in terms}) == len(terms)
    assert evaluated(words, terms) == pytest.approx(figure.value, rel=1e-9, abs=1e-9), words
    assert result == f"= {figure}"
    for term in sorted(terms, key=lambda one: -len(one.label)):
        assert term.label in words
        assert number(term.value, term.unit) in figures
    return 1 + sum(assert_true(term) for term in terms)
