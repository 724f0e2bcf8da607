"""Headroom goes with the mode that is keyed, so a small FM set does not make a large HF set's supply larger."""

from typing import Any

import pytest

TWO_SETS = """
[[load]]
id = "hf"
class = "hf-100w"
transmit = "{hf} A"
receive = "1 A"
mode = "ssb"
[[load]]
id = "vhf"
class = "vhf-50w"
transmit = "{vhf} A"
receive = "0.6 A"
mode = "fm"
"""


@pytest.mark.parametrize(
    ("hf", "vhf", "needs"),
    [
        (22, 12, (22 + 0.6) * 1.25),
        (12, 12, (12 + 1) * 1.4),
        (20, 18, (18 + 1) * 1.4),
    ],
)
def test_the_state_that_asks_most_decides(bench: Any, shelf: Any, hf: float, vhf: float, needs: float) -> None:
    """25 % over voice, 40 % over FM, each on the sum of its own state (common practice; sums by hand)."""
    made = bench.plan(TWO_SETS.format(hf=hf, vhf=vhf))
    rating = made.verdict.case.feeds[0].continuous
    sold = sorted({one.continuous for one in shelf.supplies.values() if one.volts == 13.8 and not one.adjustable})
    assert rating == next(one for one in sold if one >= needs)
