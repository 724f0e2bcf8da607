"""What feeds what where the owner has not said: a battery behind a described supply."""

import pytest

from catalog.shelf import built_in
from engine.model.layout import lay_out
from engine.station import profile
from engine.station.model import Station

HEAD = 'format = 1\nname = "Quay"\n{use}[wishes]\nhours = "2 h"\n[[load]]\nid = "hf"\nclass = "hf-20w"\n'
SUPPLY = '[[source]]\nid = "supply"\nclass = "linear"\ncontinuous = "20 A"\n'
BATTERY = '[[source]]\nid = "b"\nclass = "battery"\ncharged_by = "supply"\n[[changeover]]\nid = "over"\n'
RUN = '[[run]]\nid = "hf-lead"\nto = "hf"\n{start}length = "1 m"\n'


def laid(text: str) -> Station:
    """The station of a file with everything in its place."""
    shelf = built_in()
    return lay_out(profile.read(text, shelf).station, shelf)


def ways(station: Station) -> set[tuple[str | None, str]]:
    """From where to where every lead goes."""
    return {(run.start, run.end) for run in station.runs}


@pytest.mark.parametrize("start", ["", 'from = "supply"\n'])
@pytest.mark.parametrize("use", ["", 'use = "fixed"\n'])
def test_hours_without_mains_put_a_battery_behind_the_supply_that_is_described(use: str, start: str) -> None:
    """The radio hangs on the changeover, which both sources feed; the supply charges the battery."""
    station = laid(HEAD.format(use=use) + SUPPLY + RUN.format(start=start))
    assert [(one.id, one.charged_by) for one in station.sources] == [("supply", None), ("battery", "supply")]
    assert ways(station) == {("supply", "changeover"), ("battery", "changeover"), ("changeover", "hf")}


def test_a_lead_that_does_not_say_where_it_begins_begins_at_the_changeover() -> None:
    """Two sources and what goes over between them need no word at the lead."""
    station = laid(HEAD.format(use="") + SUPPLY + BATTERY + RUN.format(start=""))
    assert ways(station) == {("supply", "over"), ("b", "over"), ("over", "hf")}


def test_a_vehicle_gets_no_battery_behind_it() -> None:
    """Hours wished for in a vehicle leave its source alone."""
    vehicle = '[[source]]\nid = "car"\nclass = "vehicle"\n'
    assert [one.id for one in laid(HEAD.format(use='use = "mobile"\n') + vehicle).sources] == ["car"]
