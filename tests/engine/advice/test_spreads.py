"""How sure the hours on battery are: every spread of the catalogue moved to its ends."""

from collections.abc import Callable
from typing import Any

import pytest

from engine.advice.spreads import Sureness, sureness


def sure(bench: Any, text: str) -> Sureness:
    """How far the spreads move the session of a station on one battery."""
    operating = bench.check(text).operating
    found = sureness(operating, operating.case.feeds[0])
    assert found is not None
    return found


def test_own_figures_leave_only_what_nobody_measured(bench: Any, packed: Callable[..., str]) -> None:
    """A carrier of stated current on measured ohms: neither currents, nor voice, nor resistance are in doubt."""
    names = {one.name for one in sure(bench, packed(source_ohms="25 mohm")).alone}
    assert names == {"the battery's volts", "what it loses at a high rate", "the cable as built"}


def test_the_rate_alone_moves_hours_by_its_exponents(bench: Any, packed: Callable[..., str]) -> None:
    """To the depth alone, 20 A on 4 A rated: k of 1 to 1.08 counts 5.75 A to 1 A x 0.75 + 5 A x 5^0.08 (Peukert)."""
    text = packed(load_window="5 to 16 V", source_depth="80 %", source_continuous="50 A")
    (rate,) = (one for one in sure(bench, text).alone if one.name == "what it loses at a high rate")
    assert rate.hours.high == pytest.approx(0.8 * 20 / 5.75, rel=1e-3)
    assert rate.hours.low == pytest.approx(0.8 * 20 / (0.75 + 5 * 5**0.08), rel=1e-3)


@pytest.mark.parametrize("chemistry", ["lfp", "agm", "li-ion-4"])
def test_likely_lies_between_and_all_together_are_widest(
    bench: Any, packed: Callable[..., str], chemistry: str
) -> None:
    """Low, likely, high in order; no spread alone leaves the range of all; the first matters most (order)."""
    text = packed(source_chemistry=chemistry, source_amp_hours="60 Ah", load_class="hf-100w", load_transmit=None,
                  load_receive=None, load_mode="ssb")  # fmt: skip
    found = sure(bench, text)
    whole = found.together.hours
    assert whole.low <= whole.usual <= whole.high and whole.low < whole.high
    assert found.together.volts.low <= found.together.volts.usual <= found.together.volts.high
    for one in found.alone:
        assert whole.low - 1e-9 <= one.hours.low <= one.hours.usual <= one.hours.high <= whole.high + 1e-9
    assert [one.width for one in found.alone] == sorted((one.width for one in found.alone), reverse=True)
    assert "how you speak" in {one.name for one in found.alone}
