"""What readings prove, what they prove nothing about, and which one would tell most."""

from typing import Any

import pytest

from engine.diagnosis.diagnosis import diagnose
from engine.diagnosis.interval import Interval
from engine.diagnosis.notes import NO_LOAD_NOTE
from engine.diagnosis.result import FOUND, Diagnosis

LOAD = """
[[load]]
id = "{id}"
window = "13.8 V ± 15 %"
receive = "1.2 A"
transmit = "20 A"
mode = "ssb"
follows = "steady current"
"""
SUPPLY = """
[[source]]
id = "psu"
volts = "13.8 V"
tolerance = "2 %"
regulation = "2 %"
continuous = "30 A"
"""
RUN = """
[[run]]
id = "{id}"
from = "{start}"
to = "{end}"
length = "{length}"
conductor = "{size}"
insulation = "105 °C"
fuse = "{fuse}"
contacts = ["ring terminal", "keyed plug"]
"""
METER = "digital multimeter"


def run(id_: str, start: str, end: str, length: str = "3 m", size: str = "12 AWG", fuse: str = "25 A") -> str:
    """One lead."""
    return RUN.format(id=id_, start=start, end=end, length=length, size=size, fuse=fuse)


def reading(at: str, state: str, volts: str = "", **more: str) -> str:
    """One reading as it stands in a file."""
    rows = {"at": at, "state": state, "volts": volts, "instrument": METER, **more}
    lines = [
        f"{key} = {value}" if value.startswith("[") else f'{key} = "{value}"' for key, value in rows.items() if value
    ]
    return "\n".join(["[[reading]]", *lines, ""])


def judged(bench: Any, text: str) -> Diagnosis:
    """The diagnosis of a station file's readings."""
    verdict = bench.check(text)
    return diagnose(verdict.operating, verdict.station.readings, bench.shelf.instruments)


ONE = SUPPLY + LOAD.format(id="hf") + run("lead", "psu", "hf")
TWO = ONE + LOAD.format(id="vhf") + run("vhf-lead", "psu", "vhf")
BOTH_BAD = "".join(
    reading(at, "keyed", volts, keyed=f'["{load}"]', amps="20 A")
    for load, at, volts in (
        ("hf", "psu", "13.8 V"),
        ("hf", "hf", "11.9 V"),
        ("vhf", "psu", "13.8 V"),
        ("vhf", "vhf", "11.9 V"),
    )
)


def test_two_faults_are_each_named_as_narrowly_as_they_were_measured(bench: Any) -> None:
    """1.9 V are lost on each of two leads, 1.3 V of the one across its fuse: that fuse, and the other lead (Ohm's law).

    The reading across the fuse lies inside the reading of the whole lead: the lead is not accused beside its own fuse.
    """
    whole = judged(bench, TWO + BOTH_BAD)
    assert whole.outcome == FOUND
    assert {(one.kind, one.about) for one in whole.causes} == {("path", "lead"), ("path", "vhf-lead")}
    across = reading("lead", "keyed", "1.3 V", across="fuse", keyed='["hf"]')
    narrow = judged(bench, TWO + BOTH_BAD + across)
    assert {(one.kind, one.about) for one in narrow.causes} == {("fuse or holder", "lead"), ("path", "vhf-lead")}


def test_a_poor_fuse_at_receive_does_not_excuse_more_lost_at_key_down_than_it_can_take(bench: Any) -> None:
    """50 mV at 1.2 A is 42 mohm, 0.8 V at 20 A: of 3 V lost at key-down the lead has more to answer for (Ohm's law)."""
    given = reading("lead", "receive", "50 mV", across="fuse", amps="1.2 A", amps_instrument="clamp meter")
    given += reading("psu", "keyed", "13.8 V", amps="20 A") + reading("hf", "keyed", "10.8 V")
    found = judged(bench, ONE + given)
    assert {(one.kind, one.about) for one in found.causes} == {("fuse or holder", "lead"), ("path", "lead")}


NO_LOAD = reading("psu", "no load", "13.8 V")
KEYED = reading("psu", "keyed", "13.7 V", amps="20 A") + reading("hf", "keyed", "13.0 V")
OHMS = reading("lead", "no load", ohms="0.1 ohm", across="fuse")


@pytest.mark.parametrize(
    ("readings", "noted"),
    [
        (NO_LOAD, True),
        (NO_LOAD + KEYED, True),
        (KEYED + NO_LOAD + OHMS, True),
        (KEYED, False),
        (OHMS, False),
        ("", False),
    ],
)
def test_the_note_about_no_load_stands_where_volts_were_read_with_nothing_drawn(
    bench: Any, readings: str, noted: bool
) -> None:
    """Volts without current prove nothing of a joint (Ohm's law); an ohmmeter needs none, and keyed volts have it."""
    assert (NO_LOAD_NOTE in judged(bench, ONE + readings).notes) == noted


CHAIN = (
    SUPPLY
    + LOAD.format(id="hf")
    + '[[strip]]\nid = "strip"\npart = "strip-8"\n'
    + run("feed", "psu", "strip", "1 m", "8 AWG", "40 A")
    + run("lead", "strip", "hf", "2 m", "10 AWG")
)


@pytest.mark.parametrize(("volts", "asked"), [("12.2 V", "psu"), ("11.8 V", "strip")])
def test_the_middle_is_asked_for_only_where_it_would_part_the_halves(bench: Any, volts: str, asked: str) -> None:
    """Where much is lost, the strip halfway tells which half loses it; where little is, the supply tells more.

    By hand: a supply of 13.8 V ± 2 % that may sag by 2 % shows 13.25 V or more, and sound parts lose up to 0.9 V. At
    12.2 V a fault may be as small as 0.2 V, less than the 0.8 V that the supply may itself lie apart, so that the
    figures at the strip mostly overlap; at 11.8 V it is 0.6 V or more, and they hardly do.
    """
    found = judged(bench, CHAIN + reading("hf", "keyed", volts, amps="21 A", amps_instrument="clamp meter"))
    assert found.next is not None and (found.next.at, found.next.across) == (asked, None)


@pytest.mark.parametrize(
    ("one", "other", "shared"),
    [
        (Interval(0, 1), Interval(2, 3), 0.0),
        (Interval(0, 1), Interval(1, 2), 0.0),
        (Interval(0, 1), Interval(0.25, 10), 0.75),
        (Interval(0, 4), Interval(3, 5), 0.5),
        (Interval(0, 4), Interval(1, 2), 1.0),
        (Interval(0, 4), Interval(4, 4), 1.0),
        (Interval(1, 1), Interval(1, 1), 1.0),
        (Interval(0, float("inf")), Interval(1, 2), 1.0),
        (Interval(0, float("inf")), Interval(1, float("inf")), 1.0),
    ],
)
def test_how_much_two_intervals_share(one: Interval, other: Interval, shared: float) -> None:
    """The part of the narrower interval that lies in the wider, either way round (arithmetic)."""
    assert one.shared(other) == other.shared(one) == pytest.approx(shared)
