"""Batteries at rest, by rate, in the cold, against published tables and worked examples typed here."""

import pytest

from catalog.shelf import built_in
from engine.parts import Chemistry
from engine.physics import cells, charge

LFP_CELL_VOLTS = {
    0: 2.16, 2: 2.85, 5: 3.04, 10: 3.18, 20: 3.245, 30: 3.280, 40: 3.302, 50: 3.308, 60: 3.317, 70: 3.330, 80: 3.345,
    90: 3.352, 95: 3.366, 98: 3.418, 100: 3.59,
}  # fmt: skip
"""Mean of charge and discharge at C/27 and 25 °C (open measured data of a lithium iron phosphate cell)."""

LEAD_ACID_RESTED = {100: (12.6, 12.7), 75: (12.4, 12.45), 50: (12.2, 12.3), 25: (12.0, 12.15), 0: (11.6, 11.9)}
"""Volts of a rested flooded 12 V battery at 25 °C, the spread of several public tables (secondary)."""

AGM_RESTED = {100: (12.8, 13.2), 75: (12.6, 12.6), 50: (12.3, 12.35), 25: (12.0, 12.1)}
"""Volts of a rested AGM battery by owners' manuals and public threads (secondary)."""

COLD_FAHRENHEIT = {80: 1.00, 70: 1.04, 60: 1.11, 50: 1.19, 40: 1.30, 30: 1.40, 20: 1.59}
"""Multiplier of the ampere-hours needed (lead-acid sizing tables, two copies that agree)."""

LEAD = ("flooded", "agm", "gel")


def of(name: str) -> Chemistry:
    """A chemistry of the shelf."""
    return built_in().chemistries[name]


@pytest.mark.parametrize(("percent", "volts"), LFP_CELL_VOLTS.items())
def test_iron_phosphate_rests_where_it_was_measured(percent: int, volts: float) -> None:
    """The usual curve of four cells is four times the measured cell (open measured data, C/27, 25 °C)."""
    assert cells.open_circuit(of("lfp"), percent / 100) == pytest.approx(4 * volts, abs=1e-6)


def test_a_half_charged_iron_phosphate_cell_is_not_at_3_20_volts() -> None:
    """Hobby charts that put half charge at 3.20 V a cell are wrong: measured 3.308 V (a published mistake)."""
    assert cells.open_circuit(of("lfp"), 0.5, "low") / 4 > 3.28
    assert cells.open_circuit(of("lfp"), 0.2, "low") / 4 > 3.20


def test_hysteresis_of_the_flat_curve_is_carried() -> None:
    """Charge and discharge lie 5 to 25 mV a cell apart on the plateau: all of it is held (a review, secondary)."""
    for percent in (40, 50, 60, 70, 80, 90):
        low, high = (cells.open_circuit(of("lfp"), percent / 100, which) / 4 for which in ("low", "high"))
        assert 0.025 <= high - low <= 0.035, percent
    below, above = cells.open_circuit(of("lfp"), 0.375, "high"), cells.open_circuit(of("lfp"), 0.625, "low")
    assert below > 4 * 3.308 > above, "half charged, rested volts say little: a quarter of the charge lies between"


@pytest.mark.parametrize(("percent", "span"), LEAD_ACID_RESTED.items())
def test_flooded_lead_acid_rests_within_the_published_tables(percent: int, span: tuple[float, float]) -> None:
    """The outer curves are the spread, the usual one lies inside (public lead-acid tables, secondary)."""
    low, usual, high = (cells.open_circuit(of("flooded"), percent / 100, one) for one in ("low", "usual", "high"))
    assert (low, high) == pytest.approx(span, abs=0.005)
    assert span[0] <= usual <= span[1]


@pytest.mark.parametrize(("percent", "span"), AGM_RESTED.items())
def test_agm_rests_higher_and_its_tables_disagree_more(percent: int, span: tuple[float, float]) -> None:
    """Owners' manuals and general lead-acid tables both lie in the spread, the usual near the manuals' (secondary)."""
    low, usual, high = (cells.open_circuit(of("agm"), percent / 100, one) for one in ("low", "usual", "high"))
    assert low <= min(span[0], LEAD_ACID_RESTED[percent][0]) and span[1] <= high
    assert span[0] - 0.03 <= usual <= span[1] + 0.03


@pytest.mark.parametrize(("volts", "low", "high"), [(12.6, 0.90, 1.0), (12.4, 0.667, 0.75), (12.2, 0.333, 0.5)])
def test_charge_of_a_rested_lead_acid_battery(volts: float, low: float, high: float) -> None:
    """What the tables' spread leaves open (public lead-acid tables).

    12.4 V is 75 % by the lowest table and, straight between 12.3 and 12.45 V, 66.7 % by the highest; 12.2 V is 50 %
    or, between 12.15 and 12.3 V, 33.3 %; 12.6 V is full or, between 12.45 and 12.7 V, 90 %.
    """
    rested = {which: cells.open_circuit(of("flooded"), share, which) for which, share in (("high", low), ("low", high))}
    assert rested == pytest.approx({"high": volts, "low": volts}, abs=0.01)
    assert cells.open_circuit(of("flooded"), low) < volts < cells.open_circuit(of("flooded"), high) + 1e-9


@pytest.mark.parametrize("k", [1.0, 1.05, 1.15, 1.2, 1.3])
def test_the_rated_current_gives_the_rated_hours(k: float) -> None:
    """100 Ah at 20 h and 5 A give exactly 20 h whatever the exponent (Peukert's law on the H-hour rating)."""
    assert cells.hours_to_empty(100, 20, 5, k) == 20


def test_peukert_worked_example() -> None:
    """200 Ah at 20 h, exponent 1.2, 20 A: 8.7 h and not the 10 h of plain division (worked example, from memory)."""
    assert cells.hours_to_empty(200, 20, 20, 1.2) == pytest.approx(8.7, abs=0.05)
    assert cells.hours_to_empty(200, 20, 20, 1.0) == pytest.approx(10)


def test_less_than_the_rated_current_earns_nothing() -> None:
    """Below the H-hour current the plain quotient Ah / A counts (NCVEC T4A09)."""
    assert cells.hours_to_empty(100, 20, 1, 1.3) == 100


def test_the_two_conventions_are_told_apart() -> None:
    """Capacity at one ampere agrees after conversion and misleads without it (Peukert's law, both conventions).

    100 Ah at 20 h and k 1.2: Cp = 20·5^1.2 = 138.0 Ah. At 20 A the label's 100 Ah put in its place gives
    100 / 20^1.2 = 2.75 h, against 20·(100 / 400)^1.2 = 3.79 h.
    """
    at_one_ampere = 20 * (100 / 20) ** 1.2
    assert at_one_ampere == pytest.approx(138.0, abs=0.05)
    for amps in (5, 10, 20, 50):
        assert cells.hours_to_empty(100, 20, amps, 1.2) == pytest.approx(at_one_ampere / amps**1.2, rel=1e-12)
    assert cells.hours_to_empty(100, 20, 20, 1.2) == pytest.approx(3.79, abs=0.005)
    assert pytest.approx(2.75, abs=0.005) == 100 / 20**1.2


@pytest.mark.parametrize(
    ("name", "low", "high"), [("flooded", 1.2, 1.3), ("agm", 1.05, 1.15), ("gel", 1.1, 1.2), ("lfp", 1.0, 1.1)]
)
def test_exponents_lie_in_the_published_ranges(name: str, low: float, high: float) -> None:
    """Flooded 1.2 to 1.3, AGM 1.05 to 1.15, gel 1.1 to 1.2, lithium about 1.05 (public tables, secondary)."""
    span = of(name).peukert
    assert low <= span.low <= span.usual <= span.high <= high


@pytest.mark.parametrize(("fahrenheit", "multiplier"), COLD_FAHRENHEIT.items())
@pytest.mark.parametrize("name", LEAD)
def test_cold_asks_for_more_lead_acid(name: str, fahrenheit: int, multiplier: float) -> None:
    """Published at whole tens of °F, within 0.005 there (lead-acid sizing tables)."""
    assert cells.cold_factor(of(name), (fahrenheit - 32) * 5 / 9) == pytest.approx(multiplier, abs=0.005)


def test_cold_is_held_beyond_the_table() -> None:
    """Beyond the published rows the last one stands: nothing is made up (this house's choice)."""
    assert cells.cold_factor(of("flooded"), -40) == 1.59
    assert cells.cold_factor(of("flooded"), 45) == 1


@pytest.mark.parametrize(("name", "volts"), [("flooded", 13.4), ("agm", 13.6)])
def test_float_volts_at_25_degrees(name: str, volts: float) -> None:
    """Float at 25 °C: flooded 13.4 V, AGM 13.6 V, within 2.20 to 2.30 V a cell (public tables, secondary)."""
    low, high = of(name).float_volts or (0, 0)
    assert low <= volts <= high
    assert 2.195 <= low / 6 <= high / 6 <= 2.305


@pytest.mark.parametrize("name", LEAD)
def test_charging_volts_follow_the_temperature(name: str) -> None:
    """-3 to -5 mV a cell and kelvin: at 0 °C 0.45 to 0.75 V more for six cells (public tables, secondary)."""
    low, high = of(name).float_volts or (0, 0)
    for warm in (low, high, *of(name).absorption):
        assert 0.45 <= charge.compensated(warm, 0, of(name).slope) - warm <= 0.75


@pytest.mark.parametrize(("celsius", "volts"), [(24, 14.3), (13, 14.6)])
def test_agm_absorption_volts_follow_the_temperature(celsius: float, volts: float) -> None:
    """14.3 V at 21 to 27 °C, 14.6 V at 10 to 16 °C lie in the window (a maker's table, secondary)."""
    low, high = (charge.compensated(one, celsius, of("agm").slope) for one in of("agm").absorption)
    assert low - 0.1 <= volts <= high


def test_iron_phosphate_charges_from_3_45_volts_and_above_freezing() -> None:
    """3.45 to 3.65 V a cell to charge, 2.5 V as the end, no charging below 0 °C (copies that agree)."""
    one = of("lfp")
    assert one.absorption == pytest.approx((4 * 3.45, 4 * 3.65))
    assert one.cut_off == 4 * 2.5 and one.charge_from == 0 and one.slope == 0


@pytest.mark.parametrize("name", LEAD)
def test_lead_acid_ends_at_10_5_volts(name: str) -> None:
    """A 12 V lead-acid battery is empty at 10.5 V under load: 1.75 V a cell (NCVEC G6A01; US Navy)."""
    assert of(name).cut_off == pytest.approx(10.5) == pytest.approx(6 * 1.75)


def test_resistance_shrinks_with_size_and_grows_with_cold_and_age() -> None:
    """A 100 Ah flooded battery has 5 to 20 mΩ under load, half of it in twice the size (common practice, no source)."""
    one = of("flooded")
    big, bigger = (cells.internal_ohms(one, size, 25, 1, "usual") for size in (100, 200))
    assert 0.005 <= big <= 0.020
    assert bigger == pytest.approx(big / 2)
    assert cells.internal_ohms(one, 100, -10, 1, "usual") > cells.internal_ohms(one, 100, 0, 1, "usual") > big
    assert cells.internal_ohms(one, 100, 25, 0.8, "usual") == pytest.approx(big / 0.8)
