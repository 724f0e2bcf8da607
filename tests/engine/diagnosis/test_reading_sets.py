"""Sets of readings as owners bring them: few, mixed up, in the wrong unit; each has its right, short answer."""

import math
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from engine.diagnosis.report import diagnosis_data
from engine.diagnosis.result import CANNOT_TELL, FOUND, SOUND_READINGS, Cause, Diagnosis
from wizard.papers.bench import diagnosis_lines

sys.path.insert(0, str(Path(__file__).parent))
from bench_stations import CAR, DESK, METER, PACK, judged, reading

BOTH_ENDS = reading("psu", "keyed", "13.8 V") + reading("hf", "keyed", "11.9 V", amps="20 A")
LONGEST_LINE = 120


def only(found: Diagnosis) -> Cause:
    """The one cause of a diagnosis."""
    (cause,) = found.causes
    return cause


def assert_no_question_twice(found: Diagnosis, text: str) -> None:
    """What is asked for next was not read in that state."""
    taken = {(row["at"], row.get("across"), row["state"]) for row in tomllib.loads(text)["reading"]}
    if found.next:
        state = "keyed" if found.next.keyed else found.next.state
        assert (found.next.at, found.next.across, state) not in taken


SETS = {
    "both ends": BOTH_ENDS,
    "supply only": reading("psu", "keyed", "13.8 V", amps="20 A"),
    "radio only": reading("hf", "keyed", "11.9 V"),
    "receive only": reading("psu", "receive", "13.8 V") + reading("hf", "receive", "13.75 V"),
    "no load only": reading("psu", "no load", "13.8 V") + reading("hf", "no load", "13.8 V"),
    "with the fuse": BOTH_ENDS + reading("lead", "keyed", "50 mV", across="fuse"),
    "fuse and contacts": BOTH_ENDS
    + reading("lead", "keyed", "50 mV", across="fuse")
    + reading("lead", "keyed", "1.2 V", across="contacts"),
    "whole lead": BOTH_ENDS + reading("lead", "keyed", "1.85 V", across="run"),
    "nameless": BOTH_ENDS.replace(f'instrument = "{METER}"\n', ""),
}


@pytest.mark.parametrize("name", SETS)
def test_a_reading_already_taken_is_never_asked_for(bench: Any, name: str) -> None:
    """Same place, same state, same sort of meter: once is enough. Every line can be read in one breath."""
    found = judged(bench, DESK + SETS[name])
    assert_no_question_twice(found, SETS[name])
    for cause in found.causes:
        assert all(len(line) <= LONGEST_LINE for line in (cause.says, *cause.because, *cause.do))
    assert all(len(note) <= LONGEST_LINE for note in found.notes)


def test_receive_alone_finds_what_is_large_and_asks_for_key_down_otherwise(bench: Any) -> None:
    """0.2 V at 1.2 A is 167 mohm and 3.3 V at 20 A (Ohm's law); 0.05 V is within a meter's last digits."""
    found = judged(bench, DESK + reading("psu", "receive", "13.8 V") + reading("hf", "receive", "13.6 V"))
    assert (only(found).kind, only(found).about) == ("path", "lead")
    assert any(line.startswith("At key-down, 20 A, it would lose") for line in only(found).because)
    assert "heat" not in only(found).says and "Unkey" not in only(found).whole
    quiet = judged(bench, DESK + SETS["receive only"])
    assert quiet.outcome == CANNOT_TELL and quiet.next is not None
    assert (quiet.next.at, quiet.next.keyed) == ("hf", ("hf",))


def test_both_legs_are_added_and_the_worse_one_named(bench: Any) -> None:
    """1.3 V in one leg and 0.5 V in the other are 1.8 V of the lead (circuit law)."""
    legs = reading("lead", "keyed", "1.3 V", across="run", leg="positive")
    legs += reading("lead", "keyed", "0.5 V", across="run", leg="negative")
    found = judged(bench, DESK + BOTH_ENDS + legs)
    along = next(one for one in found.estimates if one.about == "along lead")
    assert along.volts.value == pytest.approx(1.8)
    assert any("1.3 V of it in the positive leg" in line for line in only(found).because)
    assert found.next is not None and found.next.across == "fuse"


def test_one_leg_of_two_fuses_asks_for_the_other(bench: Any) -> None:
    """50 mV in the plus leg of a lead that loses 1.9 V: the minus leg's fuse may still be it."""
    found = judged(bench, DESK + BOTH_ENDS + reading("lead", "keyed", "50 mV", across="fuse", leg="positive"))
    assert found.next is not None
    assert (found.next.across, found.next.leg) == ("fuse", "negative")
    hot = judged(bench, DESK + reading("lead", "keyed", "0.7 V", across="fuse", leg="positive", amps="20 A"))
    assert (only(hot).kind, only(hot).about) == ("fuse or holder", "lead")


def test_one_leg_is_all_where_only_one_is_fused(bench: Any) -> None:
    """A single fuse in the plus leg: its 60 mV are the fuse's whole loss, and it is asked for no more."""
    text = DESK.replace("contacts =", 'fuse_legs = "positive"\ncontacts =')
    found = judged(bench, text + BOTH_ENDS + reading("lead", "keyed", "60 mV", across="fuse", leg="positive"))
    assert found.next is not None and found.next.across == "contacts"


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        (reading("psu", "keyed", "13.8 mV"), "Was it 13.8 V?"),
        (reading("lead", "keyed", "120 V", across="fuse"), "Was it 120 mV?"),
        (BOTH_ENDS.replace("11.9 V", "13.0 V") + reading("lead", "keyed", "12 V", across="fuse"), "Was it 12 mV?"),
        (reading("hf", "keyed", amps="20 mA"), "Was it 20 A?"),
        (reading("hf", "keyed", amps="200 A"), "Was it 20 A?"),
    ],
)
def test_a_slip_of_the_unit_is_asked_about_and_accuses_nobody(bench: Any, given: str, meant: str) -> None:
    """A thousandth or a tenfold of what can be there: left out, and what was probably meant is said."""
    found = judged(bench, DESK + given)
    assert found.outcome == CANNOT_TELL
    assert only(found).kind == "meter" and only(found).do[0] == meant


def test_a_slip_leaves_the_other_readings_their_say(bench: Any) -> None:
    """20 mA for 20 A beside two good readings: the lead is found by the stated current, the slip is asked about."""
    found = judged(bench, DESK + BOTH_ENDS.replace('"20 A"', '"20 mA"'))
    assert [cause.kind for cause in found.causes] == ["path", "meter"]
    assert any("stated to draw" in note for note in found.notes)


def test_points_that_lay_the_other_way_round(bench: Any) -> None:
    """-1.2 V across a fuse is 1.2 V lost in it; -20 A by a clamp is 20 A."""
    given = BOTH_ENDS.replace('"20 A"', '"-20 A"') + reading("lead", "keyed", "-1.2 V", across="fuse")
    found = judged(bench, DESK + given)
    assert (only(found).kind, only(found).about) == ("fuse or holder", "lead")
    assert only(found).says == "1.2 V is lost across the fuse of lead at 20 A: 24 W of heat"


def test_keyed_without_speech_is_receive(bench: Any) -> None:
    """1.3 A at key-down is what the set draws at receive: counted as that, and a steady carrier is asked for."""
    found = judged(bench, DESK + reading("psu", "keyed", "13.8 V") + reading("hf", "keyed", "13.7 V", amps="1.3 A"))
    assert found.outcome == CANNOT_TELL
    assert found.next is not None and (found.next.at, found.next.keyed) == ("hf", ("hf",))
    assert any("steady carrier" in note for note in found.notes)


def test_two_places_exchanged(bench: Any) -> None:
    """11.9 V at the supply below 13.8 V at the radio cannot be (circuit law): no supply is accused."""
    found = judged(bench, DESK + reading("psu", "keyed", "11.9 V") + reading("hf", "keyed", "13.8 V", amps="20 A"))
    assert (found.outcome, only(found).kind, found.next) == (CANNOT_TELL, "meter", None)
    assert "exchanged" in only(found).whole


@pytest.mark.parametrize("state", ["no load", "receive", "keyed"])
def test_nothing_arrives_at_the_radio(bench: Any, state: str) -> None:
    """13.8 V at the supply, 0 V at the radio: an open way, a blown fuse first; no watts are made up of no current."""
    found = judged(bench, DESK + reading("psu", state, "13.8 V") + reading("hf", state, "0 V"))
    assert only(found).says == "nothing arrives at hf"
    assert "a blown fuse comes first" in only(found).because[0]
    assert found.estimates == ()
    assert found.next is not None and (found.next.across, found.next.keyed) == ("fuse", ())
    assert max(volts.high for _, volts in found.next.faults) < 15
    blown = judged(bench, DESK + reading("lead", "receive", "13.8 V", across="fuse"))
    assert only(blown).says == "13.8 V stands across the fuse of lead: nothing gets through"


def test_a_supply_that_gives_nothing_at_all(bench: Any) -> None:
    """0 V with little drawn is no sag: socket, switch, its own fuse, or a short beyond."""
    found = judged(bench, DESK + reading("psu", "receive", "0 V"))
    assert "wall socket" in only(found).whole and found.next is None
    assert not any("key" in note for note in found.notes)


def test_sag_and_lead_are_both_named_the_source_first(bench: Any) -> None:
    """12.4 V at the supply's own terminals and 1.4 V more on the way, at 20 A: two faults."""
    found = judged(bench, DESK + reading("psu", "keyed", "12.4 V", amps="20 A") + reading("hf", "keyed", "11.0 V"))
    assert [(cause.kind, cause.about) for cause in found.causes] == [("supply", "psu"), ("path", "lead")]


def test_a_supply_s_fall_is_told_in_volts_and_milliohms(bench: Any) -> None:
    """13.8 V at receive and 11.9 V at 20 A: 1.9 / 20 is 95 mohm inside it (Ohm's law)."""
    found = judged(bench, DESK + reading("psu", "receive", "13.8 V") + reading("psu", "keyed", "11.9 V", amps="20 A"))
    assert only(found).because[0] == "It falls from 13.8 V to 11.9 V at key-down: 95 mΩ inside it."
    assert any("wall socket" in step for step in only(found).do)


def test_a_tired_battery(bench: Any) -> None:
    """12.6 V rested and 10.8 V at 20 A: 90 mohm (Ohm's law) where a fresh 50 Ah has some 10 to 20 (common practice)."""
    found = judged(bench, PACK + reading("pack", "receive", "12.6 V") + reading("pack", "keyed", "10.8 V", amps="20 A"))
    assert (only(found).kind, only(found).about) == ("supply", "pack")
    assert "90 mΩ inside it, where a sound one has about" in only(found).because[0]
    assert "worn out" in only(found).whole and "clamp" in only(found).whole


def test_a_flat_battery_is_charged_first(bench: Any) -> None:
    """11.9 V at receive: about empty for lead-acid (0 % is 11.6 to 11.9 V rested): charge, rest, read again."""
    found = judged(bench, PACK + reading("pack", "receive", "11.8 V"))
    assert only(found).do[0].startswith("Charge it fully")


def test_an_alternator_that_does_not_charge(bench: Any) -> None:
    """12.4 V with the engine running, where 13.2 to 14.8 V is usual (common practice, no source)."""
    found = judged(bench, CAR + reading("car", "receive", "12.4 V"))
    assert (only(found).kind, only(found).about) == ("supply", "car")
    assert "the alternator hardly charges" in only(found).because[0]
    assert "headlamps" in only(found).do[0]
    charging = judged(bench, CAR + reading("car", "receive", "14.2 V") + reading("hf", "keyed", "13.3 V", amps="20 A"))
    assert charging.outcome == SOUND_READINGS


def test_a_loss_in_a_lead_that_is_not_described(bench: Any) -> None:
    """1.9 V at 20 A over a cable of unknown size: no clean bill, and no accusation; the size is asked for."""
    text = DESK.replace('conductor = "12 AWG"\n', "")
    found = judged(bench, text + BOTH_ENDS)
    assert (found.outcome, found.causes) == (CANNOT_TELL, ())
    assert "describe lead" in found.says
    assert judged(bench, text + BOTH_ENDS.replace("11.9", "13.5")).outcome == SOUND_READINGS


def test_a_display_is_asked_to_be_read_with_a_better_meter(bench: Any) -> None:
    """A radio's display may be half a volt off: the same place again, with the reason."""
    found = judged(bench, DESK + reading("hf", "keyed", "11.9 V", instrument="radio display"))
    assert found.next is not None
    assert (found.next.at, found.next.again) == ("hf", "radio display")


def test_contacts_named_with_their_heat(bench: Any) -> None:
    """1 V across the contacts at 20 A is 20 W (Ohm's law); sound ones lose some 50 mV."""
    found = judged(bench, DESK + BOTH_ENDS + reading("lead", "keyed", "1 V", across="contacts"))
    assert only(found).kind == "contact"
    assert only(found).says == "1.0 V is lost across the contacts of lead at 20 A: 20 W of heat"
    assert "heat in one small place" in only(found).because[1]
    assert found.outcome == FOUND and found.next is None


def test_what_is_not_described_is_not_foretold(bench: Any) -> None:
    """Over a lead of which nothing is said any loss may be sound: no figure is made up, and no part accused by one."""
    text = DESK[: DESK.index("length =")]
    found = judged(bench, text + reading("psu", "receive", "13.8 V"))
    assert found.next is not None and found.next.at == "hf"
    assert found.next.sound.low == -math.inf and found.next.faults == ()
    assert diagnosis_data("Desk", found)["next"]["sound"][0] is None
    assert any("is not known" in line for line in diagnosis_lines("Desk", found))


def test_a_source_s_reading_is_about_its_own_loads(bench: Any) -> None:
    """Two supplies, each with its set: a reading at the first asks on at the first's set (circuit law)."""
    other = DESK.replace('"hf"', '"vhf"').replace('"psu"', '"second"').replace('"lead"', '"second-lead"')
    found = judged(bench, DESK + other + reading("second", "receive", "13.8 V"))
    assert found.about == ("vhf",)
    assert found.next is not None and found.next.at == "vhf"
