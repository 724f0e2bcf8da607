"""Over-voltage and reversed polarity, wherever they are read: switch off, unplug, do not key; nothing else first."""

import sys
from pathlib import Path
from typing import Any

import pytest

from engine.diagnosis.report import diagnosis_data
from engine.diagnosis.result import ALARM, CANNOT_TELL, FOUND, Diagnosis
from wizard.papers.bench import diagnosis_lines

sys.path.insert(0, str(Path(__file__).parent))
from bench_stations import CAR, DESK, METER, PACK, judged, reading

ROUTER = """
[[load]]
id = "router"
window = "12 V ± 10 %"
receive = "1 A"
[[run]]
id = "router-lead"
from = "psu"
to = "router"
length = "1 m"
conductor = "18 AWG"
fuse = "2 A"
contacts = ["ring terminal", "keyed plug"]
"""


def assert_alarm(found: Diagnosis) -> None:
    """It leads in words and in JSON, says what to do, and asks for nothing that needs the station switched on."""
    assert found.outcome == ALARM
    assert found.alarm == found.causes and found.says == found.causes[0].says
    first = found.causes[0]
    assert first.says.startswith(("WARNING: ", "DANGER: "))
    assert any("nplug" in step for step in first.do) and any("Do not key." in step for step in first.do)
    assert found.next is None or (found.next.state, found.next.keyed) == ("no load", ())
    lines = list(diagnosis_lines("Desk", found))
    assert lines[0] == "Desk: ALARM" and lines[1].startswith(f"! {first.says[:40]}")
    assert not any("keyed" in line for line in lines if line.startswith(("> ", "* ")))
    data = diagnosis_data("Desk", found)
    assert list(data)[:2] == ["name", "alarm"] and data["alarm"][0].startswith(first.says)


@pytest.mark.parametrize("instrument", [METER, "", "radio display", "needle meter"])
@pytest.mark.parametrize("state", ["no load", "receive", "keyed"])
@pytest.mark.parametrize(("at", "volts"), [("psu", "23 V"), ("psu", "18 V"), ("psu", "17 V"), ("hf", "17 V")])
def test_more_volts_than_the_set_accepts(bench: Any, at: str, volts: str, state: str, instrument: str) -> None:
    """13.8 V + 15 % is 15.87 V (47 CFR 2.1055(d)): 17, 18 and 23 V are beyond it, whatever was keyed meanwhile."""
    found = judged(bench, DESK + reading(at, state, volts, instrument=instrument))
    assert_alarm(found)
    assert found.causes[0].kind == "too many volts"
    assert "15.9 V is the most that hf accepts" in found.says
    idle = at == "psu" and state == "no load"
    assert (found.next is None) is idle
    assert found.next is None or found.next.at == "psu"


def test_the_raw_voltage_of_a_linear_supply_is_named(bench: Any) -> None:
    """18 to 25 V is what stands before a 13.8 V regulator: a knob does not go there (common practice, no source)."""
    assert "regulation has failed" in judged(bench, DESK + reading("psu", "receive", "23 V")).causes[0].because[0]
    assert "knob" in judged(bench, DESK + reading("psu", "receive", "16.5 V")).causes[0].because[0]


def test_nothing_else_is_said_first(bench: Any) -> None:
    """A lossy lead and 25 A through a 15 A fuse wait, though their figures stand below."""
    given = reading("psu", "keyed", "17 V", amps="25 A") + reading("hf", "keyed", "13 V")
    found = judged(bench, DESK.replace('fuse = "25 A"\ncontacts', 'fuse = "15 A"\ncontacts') + given)
    assert_alarm(found)
    assert len(found.causes) == 1
    assert found.estimates[0].volts.value == pytest.approx(4.0)


def test_read_again_with_nothing_connected(bench: Any) -> None:
    """The reading that was asked for is not asked for again: still high is mended, in order is not trusted."""
    high = reading("psu", "receive", "17 V")
    still = judged(bench, DESK + high + reading("psu", "no load", "17.1 V"))
    assert_alarm(still)
    assert still.next is None
    assert any("mended or replaced" in step for step in still.causes[0].do)
    back = judged(bench, DESK + high + reading("psu", "no load", "13.8 V"))
    assert_alarm(back)
    assert back.next is None
    assert "With nothing drawn psu shows 13.8 V." in back.causes[0].because
    assert any("take the old reading out" in step for step in back.causes[0].do)


def test_an_older_visit_does_not_alarm(bench: Any) -> None:
    """17 V in spring and 13.8 V in autumn: the latest day is judged."""
    given = reading("psu", "receive", "17 V", date="2026-03-01") + reading(
        "psu", "receive", "13.8 V", date="2026-10-01"
    )
    assert judged(bench, DESK + given).outcome == CANNOT_TELL


def test_two_meters_that_disagree_still_alarm(bench: Any) -> None:
    """17 V on the display and 13.7 V on a multimeter: one is wrong, and reading again unplugged costs nothing."""
    given = reading("hf", "receive", "17 V", instrument="radio display") + reading("hf", "receive", "13.7 V")
    found = judged(bench, DESK + given)
    assert_alarm(found)
    assert found.causes[0].because == ("The digital multimeter shows 13.7 V at hf: one of the two is wrong.",)


def test_a_vehicle_and_a_battery_say_their_own_first_step(bench: Any) -> None:
    """An alternator's regulator, a charger, 24 V where 12 was meant (common practice, no source)."""
    car = judged(bench, CAR + reading("car", "receive", "16.4 V"))
    assert_alarm(car)
    assert car.causes[0].do[0].startswith("Stop the engine") and "alternator" in car.causes[0].because[0]
    pack = judged(bench, PACK + reading("pack", "no load", "16.2 V"))
    assert_alarm(pack)
    assert "charger" in pack.causes[0].because[0] and any("no sparks" in step for step in pack.causes[0].do)
    double = judged(bench, PACK + reading("pack", "no load", "25.4 V"))
    assert_alarm(double)
    assert "two batteries in series" in double.causes[0].because[0]


def test_a_slip_of_the_point_is_asked_about_and_alarms_all_the_same(bench: Any) -> None:
    """138 V for 13.8 V: above 60 V direct current is dangerous to touch (common practice, no source)."""
    found = judged(bench, DESK + reading("psu", "keyed", "138 V"))
    assert_alarm(found)
    assert found.says.startswith("DANGER: 138") and "Touch no metal of it." in found.causes[0].do
    assert "Was it 13.8 V? Then correct the reading." in found.causes[0].because


def test_a_load_for_fewer_volts_than_the_supply_gives(bench: Any) -> None:
    """12 V + 10 % is 13.2 V (arithmetic): 13.8 V at the router unplugs the router, and blames no supply.

    The supply's own 13.8 V alarms nobody: the check says that the two do not fit.
    """
    found = judged(bench, DESK + ROUTER + reading("router", "receive", "13.8 V"))
    assert_alarm(found)
    assert found.next is None
    assert "psu is as it should be" in found.causes[0].because[0]
    assert judged(bench, DESK + ROUTER + reading("psu", "receive", "13.8 V")).outcome == CANNOT_TELL


def test_an_assumed_limit_is_said_to_be_one(bench: Any) -> None:
    """Of a class without a stated window the usual one is taken: said in the alarm, with where to look."""
    text = DESK.replace('window = "13.8 V ± 15 %"', 'class = "hf-100w"')
    found = judged(bench, text + reading("hf", "receive", "17 V"))
    assert_alarm(found)
    assert "is assumed (usual for its class)" in found.causes[0].because[0]


def test_a_supply_set_too_high_that_its_loads_bear_is_no_alarm(bench: Any) -> None:
    """14.9 V of a supply that should show 14.1 V at most (13.8 V + 2 %), 15.87 V accepted: set it back, lock it."""
    found = judged(bench, DESK + reading("psu", "receive", "14.9 V"))
    assert found.outcome == FOUND
    assert [(cause.kind, cause.about) for cause in found.causes] == [("supply", "psu")]
    assert "lock the knob" in found.causes[0].whole


@pytest.mark.parametrize("at", ["psu", "hf"])
def test_volts_below_nought(bench: Any, at: str) -> None:
    """-13.8 V: the meter's leads or the station's; nothing is plugged in before that is known (common practice)."""
    found = judged(bench, DESK + reading(at, "receive", "-13.8 V"))
    assert_alarm(found)
    assert found.causes[0].kind == "reversed"
    assert found.next is not None and (found.next.at, found.next.state) == (at, "no load")
    assert any("meter's own leads" in step for step in found.causes[0].do)


def test_a_reversed_lead_behind_a_supply_that_reads_right(bench: Any) -> None:
    """13.8 V at the supply and -13.7 V at the radio, by the same meter: the lead (circuit law)."""
    found = judged(bench, DESK + reading("psu", "receive", "13.8 V") + reading("hf", "receive", "-13.7 V"))
    assert_alarm(found)
    assert found.causes[0].because == ("psu reads plus the right way round, so suspect the lead.",)


def test_a_meter_s_zero_is_no_reversed_lead(bench: Any) -> None:
    """-0.02 V at a dead supply is nought."""
    found = judged(bench, DESK + reading("psu", "receive", "-20 mV"))
    assert [(cause.kind, cause.about) for cause in found.causes] == [("supply", "psu")]


def test_the_other_source_of_a_changeover_alarms_too(bench: Any, switched: Any) -> None:
    """17 V at the battery while the station would run from the mains: read is read."""
    text = switched(None, source_continuous="100 A")
    found = judged(bench, text + reading("pack", "no load", "17 V"))
    assert_alarm(found)
    assert found.causes[0].about == "pack"
