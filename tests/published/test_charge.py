"""Charging, changeovers and converters against published rules and worked figures."""

from dataclasses import replace

import pytest

from catalog.shelf import built_in
from engine.physics import charge, convert

AGM = charge.Windows(full=12.7, float_low=13.4, float_high=13.8, absorb_low=14.3, absorb_high=14.8)
"""12 V at 25 °C: 12.6 to 12.7 V full, float 13.4 to 13.8 V (2.23 to 2.30 V a cell), absorption 14.3 V and over."""

IRON = charge.Windows(full=13.3, float_low=13.4, float_high=13.8, absorb_low=4 * 3.45, absorb_high=4 * 3.65)
"""Four cells: 3.45 to 3.65 V a cell charges, 13.2 to 13.4 V rested (secondary copies; common practice)."""


@pytest.mark.parametrize(
    ("volts", "word"),
    [
        (12.0, charge.NO_CHARGE),
        (13.0, charge.UNFINISHED),
        (13.4, charge.FLOATS),
        (13.6, charge.FLOATS),
        (13.8, charge.FLOATS),
        (14.4, charge.NOT_FOR_EVER),
        (15.5, charge.TOO_HIGH),
    ],
)
def test_a_12_v_battery_on_a_fixed_voltage(volts: float, word: str) -> None:
    """13.4 to 13.8 V floats lead-acid, 14.4 V is absorption and no float, 12 V charges nothing (secondary copies)."""
    assert charge.held(volts, AGM) == word


def test_13_8_v_and_iron_phosphate_is_disputed() -> None:
    """3.45 V a cell fills in the end by one account; common practice asks 14.2 V and calls 13.8 V partial."""
    chargers = replace(IRON, absorb_low=14.2)
    assert charge.fills(13.8, IRON) and not charge.fills(13.8, chargers)
    assert charge.held(13.8, IRON) == charge.held(13.8, chargers) == charge.FLOATS


def test_13_8_v_never_fills_lead_within_hours() -> None:
    """AGM wants 14.3 V at 25 °C to finish within hours (secondary copies)."""
    assert not charge.fills(13.8, AGM) and charge.fills(14.4, AGM)


@pytest.mark.parametrize("millivolts", [-3, -4, -5])
def test_float_falls_with_warmth(millivolts: float) -> None:
    """-3 to -5 mV a cell and kelvin: 13.6 V at 25 °C is 13.87 to 14.05 V at 10 °C (secondary copies)."""
    found = charge.compensated(13.6, 10, 6 * millivolts / 1000)
    assert 13.87 <= round(found, 2) <= 14.05


def test_absorption_table_of_agm() -> None:
    """14.3 V at 21 to 27 °C is 14.6 V at 10 to 16 °C: the middle of -3 to -5 mV joins them (secondary copies)."""
    assert charge.compensated(14.3, 13, -0.024) - charge.compensated(14.3, 24, -0.024) == pytest.approx(0.3, abs=0.05)


def test_a_flat_battery_takes_all_the_supply_has() -> None:
    """(13.8 - 11.8) V over 50 mΩ is 40 A: a 25 A supply is at its limit, with radios on sooner (Ohm's law)."""
    assert charge.recharge_amps(13.8, 11.8, 0.05, 100) == pytest.approx(40)
    assert charge.recharge_amps(13.8, 11.8, 0.05, 25) == 25
    assert charge.recharge_amps(13.8, 11.8, 0.05, 25, standing=22) == pytest.approx(3)
    assert charge.recharge_amps(13.8, 11.8, 0.05, 20, standing=22) == 0
    assert charge.recharge_amps(12.0, 12.6, 0.05, 25) == 0


def test_a_battery_gives_nothing_back_to_a_supply() -> None:
    """Below the battery's own volts, or with the radios taking all, no current flows, without resistance too (by hand).

    Without resistance a supply above it gives all that it has left.
    """
    assert charge.recharge_amps(12.0, 12.6, 0.0, 25) == charge.recharge_amps(12.6, 12.6, 0.0, 25) == 0
    assert charge.recharge_amps(13.8, 12.6, 0.0, 20, standing=22) == 0
    assert charge.recharge_amps(13.8, 12.6, 0.0, 25, standing=22) == pytest.approx(3)


def test_lead_acid_takes_long_to_finish() -> None:
    """220 Ah at 30 A: more than the 7.3 h of plain division, no more than 15.3 h (a published charger manual)."""
    for efficiency in (0.85, 1.0):
        assert 7.3 < charge.recharge_hours(220, 220, 30, charge.LEAD_TAIL, efficiency) <= 15.3


def test_the_last_fifth_takes_as_long_as_the_rest() -> None:
    """A whole charge: the hours of its last fifth equal those of the first four (common practice, no source)."""
    whole = charge.recharge_hours(100, 100, 10, charge.LEAD_TAIL)
    assert charge.recharge_hours(20, 100, 10, charge.LEAD_TAIL) == pytest.approx(whole / 2)


def test_lithium_is_nearly_done_when_absorption_begins() -> None:
    """Above 95 % when absorption begins and about half an hour more (a published charger manual)."""
    assert charge.recharge_hours(5, 100, 20, charge.LITHIUM_TAIL) == pytest.approx(0.5)
    assert charge.recharge_hours(100, 100, 20, charge.LITHIUM_TAIL) < 100 / 20 * 1.1


def test_a_charger_for_a_station_after_an_outage() -> None:
    """143 A standing, 171 Ah back in 8 h at 1.15: 167.6 A (published guide to stationary batteries, worked example).

    Turned round: what 167.6 A leaves over 143 A puts 171 Ah back in 8 h at 1.15 Ah for each, all at full current.
    """
    whole = charge.Tail(0.0, 1.0)
    hours = charge.recharge_hours(171, 1000, 167.6 - 143, whole, 1 / charge.TEXTBOOK_RETURN)
    assert hours == pytest.approx(8, abs=0.02)


@pytest.mark.parametrize("wrong", [(120, 100, 10), (50, 100, 0), (-1, 100, 10)])
def test_a_recharge_that_cannot_be(wrong: tuple[float, float, float]) -> None:
    """More taken than there is, no current, less than nothing: refused (arithmetic)."""
    with pytest.raises(ValueError, match="taken"):
        charge.recharge_hours(*wrong, charge.LEAD_TAIL)


@pytest.mark.parametrize(("id_", "low", "high"), [("diode-silicon-30", 0.7, 1.0), ("diode-schottky-30", 0.3, 0.5)])
def test_diodes_take_their_fixed_drop(id_: str, low: float, high: float) -> None:
    """Silicon 0.7 to 1.0 V, Schottky 0.3 to 0.5 V, whatever the current (common practice; electronics texts agree)."""
    row = built_in().changeovers[id_]
    drops = [charge.changeover_drop(20.0, one, row.ohms) for one in (row.drop.low, row.drop.high)]
    assert drops == pytest.approx([low, high])
    assert row.gap_free


def test_a_switch_takes_a_tenth_of_a_diode() -> None:
    """Milliohms take far less than any diode at a transceiver's 22 A (common practice, no source)."""
    rows = built_in().changeovers.values()
    for row in rows:
        if row.drop.high == 0:
            assert charge.changeover_drop(22, row.drop.high, row.ohms) < 0.3 / 2, row.id


def test_only_a_relay_leaves_a_gap() -> None:
    """A contact must travel; diodes and switches need not (common practice, no source)."""
    assert all(row.gap_free != row.id.startswith("relay") for row in built_in().changeovers.values())


def test_a_booster_draws_more_than_it_gives() -> None:
    """20 A at 13.8 V from 11.5 V at 90 % takes 26.7 A (common practice, worked)."""
    assert convert.input_amps(20 * 13.8, 11.5, 0.9) == pytest.approx(26.7, abs=0.05)


def test_a_booster_keeps_the_balance_of_power() -> None:
    """No loss at 100 %, the idle loss at no load; more cannot come out than went in (conservation of energy)."""
    assert convert.input_watts(100, 1.0) == 100
    assert convert.input_watts(0, 0.9, 2.4) == 2.4
    with pytest.raises(ValueError, match="efficiency"):
        convert.input_watts(100, 1.1)
    with pytest.raises(ValueError, match="volts"):
        convert.input_amps(100, 0, 0.9)


def test_boosters_of_the_shelf() -> None:
    """About 10, 25 and 40 A; cut-off of 10.5 to 11 V saves a lead-acid battery; none is isolated (common practice)."""
    rows = built_in().boosters.values()
    assert sorted(round(one.peak, -1) for one in rows) == [10, 20, 40]
    for row in rows:
        assert 10.5 <= row.cut_off <= 11 and row.lowest <= row.cut_off < row.volts < row.highest, row.id
        assert row.continuous < row.peak and 0.8 <= row.efficiency < 1 and not row.isolated, row.id


def test_chargers_of_the_shelf() -> None:
    """A method is named for solar controllers alone, a highest input for whatever takes direct current (physics)."""
    for row in built_in().chargers.values():
        assert bool(row.method) == (row.kind == "solar controller"), row.id
        assert (row.highest is None) == (row.kind == "mains charger"), row.id


def test_something_charges_each_family() -> None:
    """Lead-acid, iron phosphate, lithium-ion and nickel each have a charger from the mains (common practice)."""
    mains = [one for one in built_in().chargers.values() if one.kind == "mains charger"]
    assert {family for one in mains for family in one.suits} == {
        "lead-acid",
        "lithium iron phosphate",
        "lithium-ion",
        "nickel metal hydride",
    }
