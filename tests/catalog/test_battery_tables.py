"""The tables of chemistries, batteries and vehicles: consistent in themselves, and bad rows refused by place."""

import itertools
from pathlib import Path

import pytest

from catalog.shelf import built_in, load
from engine.station.table import Problems

SOCKETS = {"binding post", "stud", "screw terminal", "genderless socket", "barrel socket", "accessory socket"}
NOMINAL = {"lead-acid": 2.0, "lithium iron phosphate": 3.2, "lithium-ion": 3.7, "nickel metal hydride": 1.2}
"""Nominal volts of a cell (common practice: what is printed on the label)."""

BATTERY = """[[battery]]
id = "test"
title = "a test"
chemistry = "lfp"
amp_hours = "20 Ah"
continuous = "20 A"
peak = "40 A"
board = true
kilograms = "2.4 kg"
outlets = ["stud"]
source = "house"
"""
KIND = """[[chemistry]]
id = "test"
title = "a test"
family = "lead-acid"
cells = 6
open_circuit = [[0, 11.6, 11.8, 11.9], [1, 12.6, 12.7, 12.8]]
ohm_ah = [0.5, 1.0, 1.5]
peukert = [1.1, 1.2, 1.3]
hours = 20
cold = [[25, 1.0], [0, 1.4]]
cold_ohms = [[25, 1.0], [0, 1.3]]
depth = "50 %"
cut_off = "10.5 V"
absorption = [14.4, 14.7]
float = [13.2, 13.5]
slope = -0.024
charge_from = "-20 °C"
charge_share = 0.2
watt_hours_per_kilogram = 35
vents = true
note = "a test"
source = "house"
"""
VEHICLE = """[[vehicle]]
id = "test"
title = "a test"
rested = ["12.3 V", "12.5 V", "12.7 V"]
running = ["13.2 V", "14.2 V", "14.7 V"]
charging = "15.2 V"
starting = ["6 V", "8.5 V", "10.5 V"]
ohms = ["6 mohm", "8 mohm", "12 mohm"]
cranking = "650 A"
alternator = "120 A"
idle_share = "33 %"
own_amps = "15 A"
parked_amps = "0.03 A"
chemistry = "flooded"
amp_hours = "60 Ah"
standby = "15 Ah"
outlets = ["stud"]
note = "a test"
source = "house"
"""


def test_kinds_of_battery_are_consistent() -> None:
    """Curves hold the nominal volts, the end lies below, charging above, weights in a known range (common practice).

    25 to 200 Wh/kg is what such batteries weigh; only lead-acid wants volts that follow the temperature, and gasses.
    """
    for row in built_in().chemistries.values():
        nominal = NOMINAL[row.family] * row.cells
        assert row.open_circuit[0][2] < nominal < row.open_circuit[-1][2], row.id
        assert row.cut_off < nominal < row.absorption[0] <= row.absorption[1], row.id
        assert row.float_volts is None or row.float_volts[0] <= row.float_volts[1] <= row.absorption[0], row.id
        assert (row.slope != 0) == row.vents == row.is_lead, row.id
        assert 1 <= row.peukert.low <= row.peukert.high <= 1.3 and 25 <= row.watt_hours_per_kilogram <= 200, row.id
        assert 0 < row.depth < 1 and 0 < row.charge_share <= 0.5, row.id
        assert row.cold[0][1] == row.cold_ohms[0][1] == 1 and row.cold[0][0] >= 25, row.id


def test_the_flattest_curve_still_rises_everywhere() -> None:
    """Every column rises from row to row, and no low figure passes a high one (order)."""
    for kind in built_in().chemistries.values():
        for before, after in itertools.pairwise(kind.open_circuit):
            assert all(one < other for one, other in zip(before, after, strict=True)), kind.id


def test_lithium_and_nickel_are_not_charged_in_frost() -> None:
    """No charging below 0 °C except for lead-acid (copies that agree for lithium; nickel from memory)."""
    rows = built_in().chemistries.values()
    assert all((row.charge_from < 0) == row.is_lead for row in rows)
    assert all(row.charge_from >= 0 for row in rows if not row.is_lead)


def test_batteries_that_can_be_bought_are_consistent() -> None:
    """Currents, weights and sizes of their class; every post is one that some contact fits (common practice)."""
    shelf = built_in()
    for row in shelf.batteries.values():
        kind = shelf.chemistries[row.chemistry]
        watt_hours = row.amp_hours * NOMINAL[kind.family] * kind.cells
        assert row.continuous < row.peak, row.id
        assert row.board == kind.family.startswith("lithium"), row.id
        assert watt_hours / row.kilograms == pytest.approx(kind.watt_hours_per_kilogram, rel=0.2), row.id
        assert set(row.outlets) <= SOCKETS, row.id
        fits = [one for one in shelf.contacts.values() if set(row.outlets) & set(one.fits) and one.stranded == "good"]
        assert any(one.amps >= row.continuous for one in fits), row.id


def test_more_ampere_hours_of_one_kind_cost_more_and_weigh_more() -> None:
    """Price and weight rise with the size within a chemistry (own prices)."""
    for kind in built_in().chemistries:
        rows = [row for row in built_in().batteries.values() if row.chemistry == kind]
        for small, big in itertools.pairwise(sorted(rows, key=lambda row: row.amp_hours)):
            assert small.price.usual < big.price.usual and small.kilograms < big.kilograms, big.id


def test_vehicles_are_consistent() -> None:
    """Started below rested below running below charging; a bigger battery has less resistance (order)."""
    rows = sorted(built_in().vehicles.values(), key=lambda one: one.cranking)
    for row in rows:
        assert row.starting.high < row.rested.low <= row.running.low and row.running.high <= row.charging, row.id
        assert row.ohms.low <= row.ohms.usual <= row.ohms.high and row.amp_hours > row.standby > 0, row.id
        assert row.alternator * row.idle_share > row.own_amps > row.parked_amps > 0, row.id
        assert row.chemistry in built_in().chemistries, row.id
    assert all(small.ohms.usual >= big.ohms.usual for small, big in itertools.pairwise(rows))


def test_own_kinds_batteries_and_vehicles_are_taken(tmp_path: Path) -> None:
    """An owner may add a kind of battery, a battery of it and a vehicle (this house's loader)."""
    files = {
        "chemistries": KIND, "batteries": BATTERY.replace('"lfp"', '"test"'), "vehicles": VEHICLE,
        "prices": "[battery]\ntest = [1, 2]\n",
    }  # fmt: skip
    for name, text in files.items():
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    shelf = load(tmp_path)
    assert shelf.batteries["test"].chemistry == "test"
    assert shelf.chemistries["test"].cold == ((25, 1), (0, 1.4))
    assert shelf.chemistries["test"].float_volts == (13.2, 13.5)
    assert shelf.vehicles["test"].cranking == 650


@pytest.mark.parametrize(
    ("name", "text", "place", "what"),
    [
        ("batteries", BATTERY.replace('"lfp"', '"coal"'), "batteries test", "names 'coal'"),
        ("batteries", BATTERY.replace('"20 Ah"', '"20 A"'), "battery[0].amp_hours", "asks for a battery capacity"),
        ("batteries", BATTERY, "batteries test", "has no price"),
        ("chemistries", KIND.replace("[1, 12.6", "[0.9, 12.6"), "chemistry[0].open_circuit", "is not a curve"),
        ("chemistries", KIND.replace("12.6, 12.7", "11.5, 12.7"), "chemistry[0].open_circuit", "does not rise"),
        ("chemistries", KIND.replace("12.6, 12.7", "12.75, 12.7"), "chemistry[0].open_circuit", "is not a curve"),
        ("chemistries", KIND.replace("0.5, 1.0", "1.0, 0.5"), "chemistry[0].ohm_ah", "not in rising order"),
        ("chemistries", KIND.replace("[0, 1.4]", "[30, 1.4]"), "chemistry[0].cold", "is not in order"),
        ("chemistries", KIND.replace("[0, 1.4]", "[0, 0.9]"), "chemistry[0].cold", "is not in order"),
        ("chemistries", KIND.replace("[0, 1.4]", "0, 1.4"), "chemistry[0].cold", "is not a list of pairs"),
        ("chemistries", KIND.replace("[0, 1.4]", '["cold", 1.4]'), "chemistry[0].cold", "is not a list of pairs"),
        ("chemistries", KIND.replace("13.2, 13.5", "13.5, 13.2"), "chemistry[0].float", "not in rising order"),
        ("chemistries", KIND.replace("-0.024", "0.024"), "chemistry[0].slope", "is not a slope"),
        ("chemistries", KIND.replace('"lead-acid"', '"lead"'), "chemistry[0].family", "lead-acid"),
        ("vehicles", VEHICLE.replace('"12.3 V"', '"12.6 V"'), "vehicle[0].rested", "not in rising order"),
        ("vehicles", VEHICLE.replace('"15 Ah"', '"15 A"'), "vehicle[0].standby", "asks for a battery capacity"),
        ("vehicles", VEHICLE.replace('"6 mohm"', '"20 mohm"'), "vehicle[0].ohms", "not in rising order"),
    ],
)
def test_the_loader_refuses_and_names_the_place(tmp_path: Path, name: str, text: str, place: str, what: str) -> None:
    """A bad own table is refused with the place and the fault named (this house's loader)."""
    (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    with pytest.raises(Problems) as caught:
        load(tmp_path)
    assert place in str(caught.value) and what in str(caught.value)
