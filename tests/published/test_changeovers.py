"""Going over from the supply to a battery: what diodes and switches cost at the radio, on both sources."""

from collections.abc import Callable
from typing import Any

import pytest


def lowest(bench: Any, text: str) -> dict[str, float]:
    """The least volts at the radio, keyed, on each source."""
    found = {}
    for face in bench.check(text).faces:
        keyed = next(one for one in face.states if one.is_keyed)
        (sagging,) = (one for one in face.points() if one.state == keyed and one.condition.name == "sagging")
        found[face.case.only] = sagging.volts["hf"]
    return found


@pytest.mark.parametrize(
    ("part", "volts"),
    [("diode-silicon-30", 1.0), ("diode-schottky-30", 0.5), ("electronic-40", 20 * 0.004), ("relay-70", 20 * 0.002)],
)
def test_a_changeover_costs_its_drop_on_both_sources(
    bench: Any, switched: Callable[..., str], part: str, volts: float
) -> None:
    """Silicon up to 1.0 V, Schottky up to 0.5 V, a switch amperes times milliohms (common practice, no source).

    Against a relay of 2 mΩ, so that the difference alone counts; as-built paths add up to a fifth to resistances.
    """
    base, found = (lowest(bench, switched(one)) for one in ("relay-70", part))
    assert set(found) == {"mains", "pack"}
    for source, least in found.items():
        assert base[source] - least == pytest.approx(volts - 20 * 0.002, abs=0.02)


def test_a_diode_starves_the_narrow_set_on_the_battery_and_a_switch_does_not(
    bench: Any, switched: Callable[..., str]
) -> None:
    """12.88 V at a fifth charged, 10 A: what each kind leaves by its own volts against 12.42 and 11.73 V (Ohm's law).

    Inside 9 mΩ and on the way some 20 mΩ take 0.3 V: a switch leaves 12.6 V for either set, Schottky 12.1 V for the
    wide one only, silicon 11.6 V for neither. It is refused on the battery, by name.
    """
    for part, wide in (("electronic-40", True), ("diode-schottky-30", True), ("diode-silicon-30", False)):
        for share, works in ((10, part == "electronic-40"), (15, wide)):
            text = switched(part, load_window=f"13.8 V ± {share} %", load_transmit="10 A")
            found = bench.finding(text, "window-floor", "hf")
            assert (found.outcome != "unsound") is works, (part, share, found.says)
            assert works or found.says.startswith("on pack:")


def test_a_diode_is_charged_for_in_the_drop_too(bench: Any, switched: Callable[..., str]) -> None:
    """A meter shows the diode's volts as lost: more than the 0.5 V of the trade for silicon (common practice)."""
    silicon, switch = (
        bench.finding(switched(one), "drop", "hf").figure.value for one in ("diode-silicon-30", "electronic-40")
    )
    assert 0.7 <= silicon - switch <= 1.0 and silicon > 0.5


def test_only_a_relay_lets_the_radio_notice(bench: Any, switched: Callable[..., str]) -> None:
    """A contact must travel, diodes and switches need not (common practice, no source)."""
    outcomes = {
        part: bench.finding(switched(part), "changeover-gap", "pack-way").outcome
        for part in ("relay-70", "diode-schottky-30", "electronic-40")
    }
    assert outcomes == {"relay-70": "thin", "diode-schottky-30": "sound", "electronic-40": "sound"}


def test_an_unknown_changeover_is_asked_for(bench: Any, switched: Callable[..., str]) -> None:
    """Diodes cost a volt and a switch none: without knowing which, nothing can be said (common practice)."""
    assert bench.finding(switched(None), "changeover-known", "pack-way").outcome == "unknown"


def test_after_an_outage_the_supply_carries_radios_and_recharge(bench: Any, switched: Callable[..., str]) -> None:
    """20 A at a quarter of the time heat like 10 A; with a 20 A charger on top 25 A bear it no more (arithmetic).

    sqrt(0.25·20² + 0.75·1²) = 10.04 A, and 20 A into the battery: 30.04 A over hours.
    """
    text = switched("electronic-40", source_charged_by="mains", source_charger="mains-20-both")
    found = bench.finding(text, "recharge", "mains")
    assert found.figure.value == pytest.approx((0.25 * 400 + 0.75) ** 0.5 + 20, abs=0.01)
    assert found.outcome == "thin"
    small = switched("electronic-40", source_charged_by="mains", source_charger="mains-10-lithium")
    assert bench.finding(small, "recharge", "mains").outcome == "sound"


def test_a_flat_battery_straight_on_the_supply_takes_what_its_resistance_lets(
    bench: Any, switched: Callable[..., str]
) -> None:
    """(13.8 - 12.88) V over 5 mΩ would be 184 A; the supply stops at its own limit, 33 A (Ohm's law).

    12.88 V is the lowest reading at a fifth charged (3.22 V a cell); 0.5 / 100 Ω inside (common practice).
    """
    text = switched("electronic-40", source_charged_by="mains")
    found = bench.finding(text, "battery-inrush", "pack")
    assert (13.8 - 4 * 3.22) / 0.005 > 33
    assert found.figure.value == pytest.approx(33, abs=0.1)
    damped = bench.finding(
        switched("electronic-40", source_charged_by="mains", source_ohms="50 mohm"), "battery-inrush", "pack"
    )
    assert damped.figure.value == pytest.approx((13.8 - 4 * 3.22) / 0.05, rel=0.01)
