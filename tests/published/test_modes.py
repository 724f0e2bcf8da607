"""The modes of operation against the published duty factors; expected figures are typed here, not read from ours."""

import pytest

from catalog.shelf import built_in

FCC = {"ssb": 0.20, "ssb processed": 0.50, "cw": 0.40, "fm": 1.0, "rtty": 1.0, "digital": 1.0, "carrier": 1.0}


@pytest.mark.parametrize(("mode", "duty"), FCC.items())
def test_duty_factors_are_the_published_ones(mode: str, duty: float) -> None:
    """Conversation SSB 20 %, processed 50 %, Morse 40 %, FM, FSK, AFSK and carrier 100 % (FCC OET 65 Supplement B)."""
    row = built_in().modes[mode]
    assert row.duty == pytest.approx(duty)
    assert row.source == "fcc-oet65b"


def test_am_is_not_sold_as_published() -> None:
    """AM at full carrier is what the trade takes, not a row of the published table (common practice)."""
    assert built_in().modes["am"].duty == 1.0
    assert built_in().modes["am"].source == "common-practice"


def test_full_duty_is_steady_and_less_is_not() -> None:
    """Overs at full current for minutes are those of 100 % duty (FCC OET 65 Supplement B, table 2)."""
    assert {row.id for row in built_in().modes.values() if row.steady} == {"fm", "am", "rtty", "digital", "carrier"}
    assert all(row.steady == (row.duty == 1.0) for row in built_in().modes.values())
