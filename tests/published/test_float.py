"""What a fixed voltage does to a battery, hot and cold, and when nothing may charge it: station files and rules."""

from collections.abc import Callable
from typing import Any

import pytest

CHARGED = """
[[source]]
id = "mains"
volts = "{volts}"
continuous = "30 A"
[[run]]
id = "lamp-lead"
from = "mains"
to = "lamp"
length = "1 m"
[[load]]
id = "lamp"
class = "lamp"
"""


@pytest.fixture
def kept(bench: Any, packed: Callable[..., str]) -> Callable[..., Any]:
    """The finding about a battery of a chemistry straight on a supply, at one temperature."""

    def find(chemistry: str, celsius: float, volts: str = "13.8 V", rule: str = "battery-kept", **more: Any) -> Any:
        degrees = f"{celsius} °C"
        text = packed(
            source_chemistry=chemistry, source_temperature=degrees, site_hottest=degrees, source_charged_by="mains",
            **more,
        )  # fmt: skip
        return bench.finding(text + CHARGED.format(volts=volts), rule, "pack")

    return find


@pytest.mark.parametrize(
    ("chemistry", "celsius", "outcome", "word"),
    [
        ("flooded", 25, "thin", "too high to float for ever"),
        ("flooded", 40, "thin", "too high to float for ever"),
        ("agm", 0, "thin", "too low to finish a charge"),
        ("agm", 25, "sound", "never quite fills"),
        ("agm", 40, "thin", "too high to float for ever"),
        ("gel", 0, "thin", "too low to finish a charge"),
        ("gel", 40, "thin", "too high to float for ever"),
        ("lfp", 25, "sound", "within float"),
        ("lfp", 40, "sound", "within float"),
        ("li-ion-3", 25, "unsound", "never left on a fixed"),
        ("li-ion-4", 25, "unsound", "never left on a fixed"),
        ("nimh", 25, "unsound", "never left on a fixed"),
    ],
)
def test_a_fixed_13_8_v(kept: Callable[..., Any], chemistry: str, celsius: float, outcome: str, word: str) -> None:
    """What 13.8 V comes to, by float at 25 °C and -3 to -5 mV a cell and kelvin (public tables, secondary).

    Flooded 13.4 V at 25 °C: 13.8 V is 0.4 V too many. AGM 13.6 V, 13.8 V at most at 25 °C: 13.53 V at most at 40 °C
    by the least slope, and 13.4 + 0.45 V = 13.85 V at least at 0 °C. Layered lithium-ion and nickel are never held at
    a fixed voltage (their cell makers' general rule, from memory).
    """
    found = kept(chemistry, celsius)
    assert found.outcome == outcome and word in found.says


def test_13_8_v_is_too_high_for_ever_and_too_low_to_finish(kept: Callable[..., Any]) -> None:
    """Both halves of the trade's saying about lead-acid, in one sentence (common practice, no source).

    A flooded battery floats at 13.2 to 13.5 V (2.2 to 2.25 V a cell, secondary) and finishes at 14.4 to 14.8 V
    (common practice).
    """
    says = kept("flooded", 25).says
    assert "too high to float for ever" in says and "floats at 13.20 to 13.50 V" in says
    assert "finished at 14.40 to 14.80 V" in says


def test_a_battery_is_judged_in_the_heat_of_its_site_too(bench: Any, packed: Callable[..., str]) -> None:
    """AGM at 10 °C in winter and 40 °C in summer: 13.8 V is too high in summer (float falls with warmth, secondary)."""
    text = packed(source_chemistry="agm", source_temperature="20 °C", site_hottest="40 °C", source_charged_by="mains")
    found = bench.finding(text + CHARGED.format(volts="13.8 V"), "battery-kept", "pack")
    assert found.outcome == "thin" and "too high to float for ever at 40 °C" in found.says


def test_a_charging_voltage_is_no_float(kept: Callable[..., Any]) -> None:
    """14.4 V finishes a lead-acid charge and is no float; 15.5 V is more than any absorption (secondary copies)."""
    assert kept("agm", 25, volts="14.4 V").outcome == "thin"
    assert kept("agm", 25, volts="15.5 V").outcome == "unsound"
    assert kept("lfp", 25, volts="15.5 V").outcome == "unsound"


@pytest.mark.parametrize("chemistry", ["lfp", "li-ion-3", "li-ion-4", "nimh"])
@pytest.mark.parametrize(("celsius", "outcome"), [(-5, "unsound"), (0, "sound"), (5, "sound")])
def test_lithium_is_never_charged_below_freezing(
    kept: Callable[..., Any], chemistry: str, celsius: float, outcome: str
) -> None:
    """No charging below 0 °C (lithium: copies that agree; nickel: from memory)."""
    assert kept(chemistry, celsius, rule="battery-cold").outcome == outcome


def test_lead_acid_is_charged_below_freezing(kept: Callable[..., Any]) -> None:
    """A charged lead-acid battery is charged in the cold, with more volts (public tables, secondary)."""
    assert kept("agm", -5, rule="battery-cold").outcome == "sound"


@pytest.mark.parametrize(("celsius", "possible"), [("-5 °C", False), ("5 °C", True)])
def test_no_plan_charges_lithium_below_freezing(
    bench: Any, packed: Callable[..., str], celsius: str, possible: bool
) -> None:
    """With a lithium charger that does not wait there is a plan above 0 °C and none below (copies that agree)."""
    open_ = packed(
        source_amp_hours=None, source_continuous=None, source_temperature=celsius, source_chemistry=None,
        source_depth="80 %",
        source_charged_by="mains", source_charger="mains-10-lithium",
    )  # fmt: skip
    made = bench.plan(open_ + CHARGED.format(volts="13.8 V"))
    assert made.complete is possible
    lithium = [one.cell for one in made.verdict.case.feeds if one.cell and not one.missing]
    assert [one.chemistry.family for one in lithium] == ["lithium iron phosphate"] * possible


def test_a_charger_that_waits_for_warmth_is_told_and_not_refused(kept: Callable[..., Any]) -> None:
    """Cold lockout keeps it from harm, and empty: thin (common practice, no source)."""
    found = kept("lfp", -5, rule="battery-cold", source_charger="mains-20-both")
    assert found.outcome == "thin" and "waits until it is warmer" in found.says


@pytest.mark.parametrize(("controller", "outcome"), [("solar-10-pwm", "unsound"), ("solar-20-mppt", "sound")])
def test_a_panel_wants_a_controller_for_iron_phosphate(
    bench: Any, packed: Callable[..., str], controller: str, outcome: str
) -> None:
    """A controller must prevent damage to the LiFePO4 battery: one without its program is refused (NCVEC G4E11)."""
    sun = f'[sun]\nhours = "4 h"\npanel = "panel-100"\ncontroller = "{controller}"\n'
    text = packed(source_charged_by="sun", source_charger=controller) + "\n" + sun
    found = bench.finding(text, "sun-controller", "pack")
    assert found.outcome == outcome
    if outcome == "unsound":
        assert "not made for lithium iron phosphate" in found.says


def test_a_panel_straight_on_a_battery_is_refused(bench: Any, packed: Callable[..., str]) -> None:
    """Without a controller nothing guards the battery: what is not known is asked for (NCVEC G4E11)."""
    sun = '[sun]\nhours = "4 h"\npanel = "panel-100"\n'
    found = bench.finding(packed(source_charged_by="sun") + "\n" + sun, "sun-controller", "pack")
    assert found.outcome == "unknown" and "controller" in found.says
