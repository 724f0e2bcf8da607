"""What a battery takes from the supply that charges it."""

from collections.abc import Callable
from typing import Any

import pytest

CHARGED = {"source_charger": "electronic-40-charging", "source_charged_by": "mains"}


@pytest.mark.parametrize(("capacity", "takes"), [(20, 10), (60, 30), (100, 40), (400, 40)])
def test_a_changeover_that_charges_gives_what_the_battery_bears_up_to_its_own_rating(
    bench: Any, switched: Callable[..., str], capacity: float, takes: float
) -> None:
    """Half the capacity in an hour is the most for iron phosphate, 40 A the most through the changeover (its rows)."""
    text = switched("electronic-40-charging", source_amp_hours=f"{capacity} Ah", **CHARGED)
    charge = bench.finding(text, "recharge", "mains").figure
    assert bench.term(charge, "recharge").value == pytest.approx(takes)
    assert charge.value == pytest.approx(takes + bench.term(charge, "radios").value)


@pytest.mark.parametrize(
    ("chemistry", "charger", "hours"),
    [
        ("lfp", "mains-10-lithium", 8.5),
        ("agm", "mains-10-lead", 16.1),
        ("lfp", None, None),
        ("nimh", "mains-10-lead", None),
    ],
)
def test_the_owner_is_told_when_the_battery_is_full_again(
    bench: Any, switched: Callable[..., str], chemistry: str, charger: str | None, hours: float | None
) -> None:
    """80 Ah of 100 back at 10 A: 75 h·A at full and 5 at half current; or 60 at full, 20 at a quarter, by 1.15.

    75 / 10 + 5 / 5 = 8.5 h for lithium, (60 / 10 + 20 / 2.5) x 1.15 = 16.1 h for lead-acid (published charger manuals,
    worked by hand); nothing is promised for a fixed voltage, or for nickel.
    """
    own: dict[str, Any] = {"source_charged_by": "mains", "source_charger": charger, "source_chemistry": chemistry}
    says = bench.finding(switched("electronic-40", **own), "recharge", "mains").says
    assert ("full again" in says) == (hours is not None)
    assert hours is None or says.endswith(f"pack is full again after about {hours} h")


def test_a_supply_below_the_battery_charges_nothing(bench: Any, switched: Callable[..., str]) -> None:
    """12.5 V on a pack that rests at 12.88 V or more: no current either way counts (Ohm's law)."""
    text = switched("electronic-40", volts="12.5 V", source_charged_by="mains", source_ohms="1 ohm")
    charge = bench.finding(text, "recharge", "mains").figure
    assert bench.term(charge, "recharge").value == 0
    assert charge.value == bench.term(charge, "radios").value > 0


@pytest.mark.parametrize(("charger", "takes"), [("mains-10-lithium", 10), (None, 0.92)])
def test_a_charger_of_its_own_gives_its_rating_and_a_fixed_voltage_what_resistance_lets_through(
    bench: Any, switched: Callable[..., str], charger: str | None, takes: float
) -> None:
    """A charger of 10 A gives 10 A; 13.8 V straight on a pack at a fifth of its charge push through its resistance.

    Iron phosphate at 20 % rests at 12.88 V at the least (its row): (13.8 - 12.88) / 1 ohm is 0.92 A (Ohm's law).
    """
    own: dict[str, Any] = {"source_charged_by": "mains", "source_charger": charger, "source_ohms": "1 ohm"}
    charge = bench.finding(switched("electronic-40", **own), "recharge", "mains").figure
    assert bench.term(charge, "recharge").value == pytest.approx(takes, rel=0.01)
