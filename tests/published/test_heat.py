"""Heat in the room against published formulas, worked by hand."""

from collections.abc import Callable
from typing import Any

import pytest

from engine.model.heat import heat

CARRIER = {"load_mode": "carrier", "load_keyed": "100 %"}


def parts(bench: Any, text: str) -> dict[str, float]:
    """Mean heat [W] by part."""
    found = heat(bench.check(text).operating)
    assert found is not None
    assert found.total.value == pytest.approx(sum(figure.value for _, figure in found.parts))
    return {name: figure.value for name, figure in found.parts}


def test_a_series_regulator_loses_what_the_exam_says(bench: Any, desk: Callable[..., str]) -> None:
    """(Vin - Vout) x I: 22 V in, 13.8 V out, 20 A held make 164 W (NCVEC E7D13); such a supply is 13.8/22 efficient."""
    found = parts(bench, desk(**CARRIER, source_efficiency=f"{13.8 / 22 * 100} %"))
    assert found["psu"] == pytest.approx((22 - 13.8) * 20, rel=1e-6)


def test_a_switching_supply_at_85_percent(bench: Any, desk: Callable[..., str]) -> None:
    """276 W out at 85 % are 324.7 W in: 48.7 W stay (definition of efficiency)."""
    assert parts(bench, desk(**CARRIER))["psu"] == pytest.approx(276 / 0.85 - 276)


def test_a_lead_loses_current_squared_times_resistance(bench: Any, desk: Callable[..., str]) -> None:
    """20 A through 3 m of 10 AWG, a 25 A fuse and four contacts (Joule; NBS Handbook 100: 0.9989 ohm/1000 ft).

    By hand at 20 °C: 3 x 3.277 mohm/m + 5 mohm + 2 x (0.2 + 1) mohm = 17.2 mohm, x 1.2 as built x 400 = 8.3 W; warm
    and stranded copper adds up to a tenth.
    """
    cold = (3 * 0.9989 / 304.8 + 0.125 / 25 + 2 * 0.0012) * 1.2 * 400
    assert cold < parts(bench, desk(**CARRIER))["lead"] < 1.1 * cold


def test_listening_mostly_makes_less_heat(bench: Any, desk: Callable[..., str]) -> None:
    """With FM at 25 % of the time: 1.5 + (20 - 1.5) x 0.25 = 6.125 A on average (arithmetic, full carrier)."""
    text = desk(load_mode="fm", load_keyed="25 %")
    assert parts(bench, text)["psu"] == pytest.approx(6.125 * 13.8 * (1 / 0.85 - 1))


def test_nothing_known_makes_no_figure(bench: Any) -> None:
    """Without a supply and a cable there is no heat to name (this house)."""
    assert heat(bench.check('[[load]]\nid = "hf"\nclass = "hf-100w"\n').operating) is None
