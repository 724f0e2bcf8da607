"""The loader on the tables between sun, mains, battery and radio: bad rows are refused with their place."""

from pathlib import Path

import pytest

from catalog.shelf import built_in, load
from engine.station.table import Problems

POWER = """[[power]]
id = "test"
title = "a test"
classes = ["hf-qrp"]
points = [[0, 1], [10, 3]]
spread = "20 %"
note = "none"
source = "house"
"""
CHANGEOVER = """[[changeover]]
id = "test"
title = "a test"
drop = ["0.3 V", "0.4 V", "0.5 V"]
ohms = "0 ohm"
amps = "30 A"
gap_free = true
charges = false
idle = "0 A"
kilograms = "0.3 kg"
note = "none"
source = "house"
"""
PANEL = """[[panel]]
id = "test"
title = "a test"
watts = "100 W"
volts = "18 V"
amps = "5.6 A"
open_circuit = "22 V"
kilograms = "7 kg"
source = "house"
"""
CHARGER = """[[charger]]
id = "test"
title = "a test"
kind = "mains charger"
suits = ["lead-acid"]
amps = "5 A"
absorbs = true
cold_lockout = false
rf_noise = "ask"
source = "house"
"""


@pytest.mark.parametrize(
    ("name", "text", "place", "what"),
    [
        ("powers", POWER.replace("[10, 3]", "[10, 0.5]"), "power[0].points", "not in rising order"),
        ("powers", POWER.replace("[0, 1]", "[12, 1]"), "power[0].points", "not in rising order"),
        ("powers", POWER.replace(", [10, 3]", ""), "power[0].points", "has 1 values"),
        ("powers", POWER.replace("hf-qrp", "hf-qpr"), "powers test", "names 'hf-qpr'"),
        ("changeovers", CHANGEOVER.replace('"0.3 V"', '"0.6 V"'), "changeover[0].drop", "not in rising order"),
        ("changeovers", CHANGEOVER.replace('"0.3 V"', "0.3"), "changeover[0].drop", "has no unit"),
        ("changeovers", CHANGEOVER, "changeovers test", "has no price"),
        ("panels", PANEL.replace('"100 W"', '"100 A"'), "panel[0].watts", "asks for a power"),
        ("panels", PANEL, "panels test", "has no price"),
        ("chargers", CHARGER.replace('"lead-acid"', '"lead"'), "charger[0].suits", "lead-acid"),
        ("chargers", CHARGER.replace('"mains charger"', '"wind mill"'), "charger[0].kind", "solar controller"),
        ("boosters", '[[booster]]\nid = "test"\n', "booster[0].cut_off", "is missing"),
    ],
)
def test_the_loader_refuses_and_names_the_place(tmp_path: Path, name: str, text: str, place: str, what: str) -> None:
    """A bad own table is refused with the place and the fault named (this house's loader)."""
    (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    with pytest.raises(Problems) as caught:
        load(tmp_path)
    assert place in str(caught.value) and what in str(caught.value)


def test_an_own_curve_is_read(tmp_path: Path) -> None:
    """An owner's measured curve joins ours; it is bought by nobody and needs no price (this house's loader)."""
    (tmp_path / "powers.toml").write_text(POWER, encoding="utf-8")
    shelf = load(tmp_path)
    assert shelf.powers["test"].points == ((0, 1), (10, 3))
    assert set(shelf.powers) == {*built_in().powers, "test"}
