"""The drawings: volts over hours on battery, and every condition of a vehicle."""

import pytest

from catalog.shelf import built_in
from engine.model.endurance import End, Endurance, Hour
from engine.model.operating import RECEIVE, State
from engine.planning.plan import Plan
from engine.rules import check as checking
from engine.station import profile
from wizard.papers.words import plan_lines
from wizard.view.over_hours import over_hours
from wizard.view.volts import drawings, vehicle_loads, vehicle_of

STATION = """
format = 1
name = "Ridge"
use = "{use}"
[[load]]
id = "hf"
class = "hf-100w"
window = "11.7 to 15.9 V"
receive = "1 A"
transmit = "20 A"
[[source]]
id = "source"
{source}
[[run]]
id = "hf-lead"
to = "hf"
length = "2 m"
conductor = "10 AWG"
fuse = "30 A"
contacts = ["ring terminal", "keyed plug"]
"""
BATTERY = 'class = "battery"\nchemistry = "{kind}"\namp_hours = "40 Ah"'


def judged(use: str, source: str) -> checking.Verdict:
    """The verdict on one radio on one source."""
    shelf = built_in()
    return checking.check(profile.read(STATION.format(use=use, source=source), shelf).station, shelf)


def session(volts: list[float], floor: float, hours: float, ends: float) -> Endurance:
    """A session whose keyed volts are given at even distances, a volt less than those of receive."""
    step = hours / (len(volts) - 1)
    trace = tuple(Hour(n * step, 1 - n / len(volts), one, one + 1) for n, one in enumerate(volts))
    end = End("floor", ends, 0.5, "the floor")
    return Endurance("battery", "hf", floor, State(RECEIVE), hours, (end,), trace, 0.5, 4.0)


@pytest.mark.parametrize("width", [40, 60, 76])
@pytest.mark.parametrize("hours", [0.03, 0.7, 3.48, 26.0, 900.0])
def test_it_fits_and_its_hours_only_rise(width: int, hours: float) -> None:
    """No line is wider than the paper, there are twelve, and the hours named along the axis rise from nought."""
    lines = over_hours(session([13, 12.5, 12, 11], 11.7, hours, hours / 2), (11.7, 15.9), width)
    assert len(lines) <= 12
    assert max(map(len, lines)) <= width
    named = [float(one) for one in lines[-2].split()[1:]]
    assert named == sorted(set(named))
    assert named[0] == 0
    assert named[-1] <= hours


def test_keyed_volts_turn_into_a_warning_where_they_cross_the_floor() -> None:
    """Straight from 13 V to 11 V with a floor of 12 V: the first half is k, the second half !."""
    lines = over_hours(session([13, 12, 11], 12.0, 4, 2), (12, 15), 76, 24)
    marks = ["".join({line[c] for line in lines[1:-3]} & set("k!")) for c in range(9, 76)]
    assert set(marks[:32]) == {"k"}
    assert set(marks[36:]) == {"!"}


def test_the_floor_is_marked_and_labelled_and_the_end_stands_in_its_hour() -> None:
    """The floor's row carries its volts; the bar stands above the hour in which the session ends."""
    lines = over_hours(session([13, 12.9, 12.8], 11.7, 4, 1), (11.7, 15.9), 77)
    floor = next(line for line in lines[1:-3] if "11.70 V" in line)
    assert set(floor[9:]) <= set("-|")
    assert floor.index("|") == 9 + 17
    assert lines[-2].index("1") == 9 + 17


def test_nothing_is_drawn_where_no_time_passes() -> None:
    """A session of no length, or of a single point, has no drawing."""
    assert over_hours(session([13, 12], 11, 0, 0), (11, 15)) == []


@pytest.mark.parametrize("kind", ["lfp", "agm", "flooded", "li-ion-3"])
def test_receive_never_lies_below_keyed(kind: str) -> None:
    """On real batteries: column by column the receive line stands at or above the keyed one."""
    ((title, text),) = drawings(judged("battery", BATTERY.format(kind=kind)))
    assert "lasts about" in title
    rows = text.split("\n")[1:-3]
    for column in range(9, max(map(len, rows))):
        found = {line[column]: n for n, line in enumerate(rows) if column < len(line) and line[column] in "rk!"}
        keyed = found.get("k", found.get("!"))
        if keyed is not None and "r" in found:
            assert found["r"] < keyed


def test_a_vehicle_shows_more_volts_from_condition_to_condition() -> None:
    """Starting, engine off, running, charging: each stands higher than the one before, keyed as at rest."""
    operating = judged("mobile", 'class = "vehicle"\npart = "car"').operating
    feed = vehicle_of(operating)
    assert feed is not None
    ((draw, found),) = vehicle_loads(operating, feed)
    assert [one.id for one in found] == ["starting", "engine off", "running", "charging"]
    assert [one.lowest for one in found] == sorted(one.lowest or 0 for one in found)
    assert [one.highest for one in found] == sorted(one.highest or 0 for one in found)
    assert found[-1].highest == pytest.approx(15.2, abs=0.01)
    assert all(one.window == (draw.lowest, draw.highest) for one in found)


def test_the_plan_in_words_holds_the_drawings_within_its_width() -> None:
    """The command line prints them too."""
    for use, source in (("battery", BATTERY.format(kind="lfp")), ("mobile", 'class = "vehicle"')):
        lines = [line for line in plan_lines(Plan(judged(use, source)), 80) if isinstance(line, str)]
        start = next(n for n, line in enumerate(lines) if line.startswith("Volts over hours"))
        drawn = [line for line in lines[start + 2 : start + 16] if "---" in line]
        assert drawn
        assert max(map(len, drawn)) <= 80
