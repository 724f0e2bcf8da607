"""The bench sheet: expected readings that a sound station shows, and that the diagnosis takes for sound."""

from typing import Any

import pytest

from engine.diagnosis.diagnosis import diagnose
from engine.diagnosis.result import SOUND_READINGS
from engine.diagnosis.sheet import Line, sheet
from engine.station.model import Reading

METER = "digital multimeter"


def lines(bench: Any, text: str) -> list[Line]:
    """The sheet of a station file."""
    return list(sheet(bench.check(text).operating, bench.shelf.instruments[METER]).lines)


def one(found: list[Line], at: str, across: str | None, state: str) -> Line:
    """The one line about a place."""
    (line,) = (line for line in found if (line.at, line.across, line.state) == (at, across, state))
    return line


def test_the_expected_figures_by_hand(bench: Any, desk: Any) -> None:
    """1.5 m of 10 AWG at 20 A and 22 °C, worked by hand from the tables.

    Copper: 3 m of 0.9989 ohm/1000 ft and 2 % for stranding (NBS Handbook 100), 0.8 % more at 22 °C. Fuse: four fifths
    of 125 mV at 25 A (ISO 8820-3), 20 A: 80 mV. Contacts from the catalogue: 2 x (0.2 + 1.0) mohm: 48 mV.
    Supply: 13.8 V less half of 1 %.
    """
    found = lines(bench, desk())
    copper = 20 * 3 / 304.8 * 0.9989 * 1.02 * (1 + 0.00393 * 2)
    assert one(found, "lead", "copper", "keyed").usual == pytest.approx(copper, rel=0.01)
    assert one(found, "lead", "fuse", "keyed").usual == pytest.approx(0.080, abs=1e-3)
    assert one(found, "lead", "contacts", "keyed").usual == pytest.approx(0.048, abs=1e-3)
    source = 13.8 * (1 - 0.01 / 2)
    assert one(found, "psu", None, "keyed").usual == pytest.approx(source, abs=1e-3)
    assert one(found, "hf", None, "keyed").usual == pytest.approx(source - copper - 0.128, abs=0.01)


def test_every_line_holds_its_own_figure_and_names_a_reading(bench: Any, desk: Any) -> None:
    """What is expected lies between its bounds, and the key-down lines ask for volts at both ends (this house)."""
    found = lines(bench, desk())
    assert {(line.at, line.state) for line in found if line.across is None} == {
        ("psu", "receive"),
        ("hf", "receive"),
        ("psu", "keyed"),
        ("hf", "keyed"),
    }
    for line in found:
        assert line.usual is not None and line.expected is not None
        assert line.expected.low <= line.usual <= line.expected.high


@pytest.mark.parametrize("where", ["usual", "low", "high"])
def test_a_sheet_filled_in_as_expected_is_sound(bench: Any, desk: Any, where: str) -> None:
    """Readings at the expected figures, or at the same end of all bounds of parts, accuse nothing (this house)."""
    verdict = bench.check(desk())
    made = sheet(verdict.operating, bench.shelf.instruments[METER]).lines
    readings = []
    for line in made:
        assert line.usual is not None and line.expected is not None
        part = line.across is not None and where != "usual"
        volts = (line.expected.low if where == "low" else line.expected.high * 0.95) if part else line.usual
        readings.append(Reading(line.at, line.across, line.state, line.keyed or None, volts=volts, instrument=METER))
    found = diagnose(verdict.operating, readings, bench.shelf.instruments)
    assert [one.kind for one in found.causes if one.kind != "meter"] == []
    if where == "usual":
        assert found.outcome == SOUND_READINGS


def test_what_is_not_described_has_no_expectation(bench: Any, desk: Any) -> None:
    """Without a conductor nothing is foretold at the radio, and the supply's own line stays (this house)."""
    found = lines(bench, desk(run_conductor=None))
    assert one(found, "hf", None, "keyed").usual is None
    assert one(found, "psu", None, "keyed").usual is not None


def test_a_sheet_never_calls_sound_what_the_radio_does_not_accept(bench: Any, desk: Any) -> None:
    """The lower bound at a radio is never below its own floor (the maker's window)."""
    found = lines(bench, desk(run_conductor="14 AWG", run_length="5 m"))
    line = one(found, "hf", None, "keyed")
    assert line.expected is not None and line.expected.low >= 13.8 * 0.85 - 1e-9
