"""What the program advises where a lithium battery would be charged in the frost."""

from typing import Any

import pytest

GARAGE = """
use = "fixed"
[site]
mains = "230 V"
circuit = "16 A"
wire = "metric"
coldest = "{celsius}"
hottest = "25 °C"
[wishes]
hours = "1 h"
[[load]]
id = "set"
window = "13.8 V ± 15 %"
receive = "0.5 A"
transmit = "8 A"
mode = "ssb"
keyed = "20 %"
[[source]]
id = "supply"
[[source]]
id = "battery"
class = "battery"
chemistry = "{kind}"
charged_by = "supply"
[[changeover]]
id = "over"
"""


def test_a_lithium_battery_in_the_frost_is_moved_or_replaced(bench: Any) -> None:
    """Never charged below 0 °C (cell makers' general rule): the advice is a warmer place or lead-acid, not cable."""
    made = bench.plan(GARAGE.format(celsius="-30 °C", kind="lfp"))
    assert not made.complete
    first, second, third = made.notes
    assert "-30 °C" in first and "never charged below 0 °C" in first
    assert second.startswith("move it indoors") and "lithium iron phosphate battery" in second and "Ah" in second
    assert "lead-acid" in third
    assert not any("lead at" in one or "shorter" in one for one in made.notes)


def test_what_is_advised_is_a_plan(bench: Any) -> None:
    """The same station with its battery warm has a complete plan (what the advice claims)."""
    text = GARAGE.format(celsius="-30 °C", kind="lfp")
    warm = bench.plan(text.replace('charged_by = "supply"', 'charged_by = "supply"\ntemperature = "15 °C"'))
    assert warm.complete
    battery = warm.verdict.case.feed["battery"]
    assert any(battery.title in one for one in bench.plan(text).notes)


@pytest.mark.parametrize(("kind", "outcome"), [("lfp", "unsound"), ("agm", "thin"), ("nimh", "unsound")])
def test_lead_acid_bears_what_lithium_does_not(bench: Any, kind: str, outcome: str) -> None:
    """Lithium plates metal when charged frozen; lead-acid takes little charge and must not stay empty (memory)."""
    text = GARAGE.format(celsius="-30 °C", kind=kind).replace("charged_by", 'amp_hours = "50 Ah"\ncharged_by')
    assert bench.finding(text, "battery-cold", "battery").outcome == outcome


def test_a_nickel_pack_has_a_charger(bench: Any) -> None:
    """A charger on the shelf is made for nickel, and one for lead-acid is not (common practice)."""
    text = GARAGE.format(celsius="10 °C", kind="nimh").replace(
        "charged_by", 'amp_hours = "10 Ah"\ncharger = "{}"\ncharged_by'
    )
    assert bench.finding(text.format("mains-2-nickel"), "battery-kept", "battery").outcome == "sound"
    assert bench.finding(text.format("mains-10-lead"), "battery-kept", "battery").outcome == "unsound"
