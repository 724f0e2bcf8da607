"""The allowable currents against the published tables; expected figures are typed here, not read from ours."""

import itertools

import pytest

from catalog.shelf import built_in
from engine.physics import copper

CLASSES = (60, 75, 80, 90, 105, 125, 200)
TABLE_5 = {
    "18": (10, 10, 15, 20, 20, 25, 25),
    "16": (15, 15, 20, 25, 25, 30, 35),
    "14": (20, 20, 25, 30, 35, 40, 45),
    "12": (25, 25, 35, 40, 45, 50, 55),
    "10": (40, 40, 50, 55, 60, 70, 70),
    "8": (55, 65, 70, 70, 80, 90, 100),
    "6": (80, 95, 100, 100, 120, 125, 135),
    "4": (105, 125, 130, 135, 160, 170, 180),
    "3": (120, 145, 150, 155, 180, 195, 210),
    "2": (140, 170, 175, 180, 210, 225, 240),
    "1": (165, 195, 210, 210, 245, 265, 280),
    "1/0": (195, 230, 245, 245, 285, 305, 325),
    "2/0": (225, 265, 285, 285, 330, 355, 370),
    "3/0": (260, 310, 330, 330, 385, 410, 430),
    "4/0": (300, 360, 385, 385, 445, 475, 510),
}
NEC_60_75_90 = {
    "14": (15, 20, 25),
    "12": (20, 25, 30),
    "10": (30, 35, 40),
    "8": (40, 50, 55),
    "6": (55, 65, 75),
    "4": (70, 85, 95),
    "2": (95, 115, 130),
    "1/0": (125, 150, 170),
}
FAA_FUSE = {"18": 10, "16": 10, "14": 15, "12": 20, "10": 30, "8": 50, "6": 70, "4": 70, "2": 100}
NEC_SMALL = {"14": 15, "12": 20, "10": 30}
THREE_TOGETHER = 0.70


@pytest.mark.parametrize(("gauge", "published"), TABLE_5.items())
def test_every_row_is_the_published_one(gauge: str, published: tuple[int, ...]) -> None:
    """AWG 18 to 4/0 carry the boat table word for word, in all seven insulation classes (33 CFR 183.425 table 5)."""
    row = built_in().conductors[f"{gauge} AWG"]
    assert row.ampacity == dict(zip(CLASSES, published, strict=True))
    assert row.source == "cfr-33-183-425"


@pytest.mark.parametrize(("gauge", "published"), NEC_60_75_90.items())
def test_the_building_table_is_lower_and_by_how_much(gauge: str, published: tuple[int, int, int]) -> None:
    """Ours is 1.00 to 1.56 times the building table, 0.70 to 1.10 with three bundled as it supposes (NEC 310.16)."""
    row = built_in().conductors[f"{gauge} AWG"]
    for celsius, amps in zip((60, 75, 90), published, strict=True):
        ratio = row.ampacity[celsius] / amps
        assert 1.0 <= ratio <= 1.56, celsius
        assert 0.70 <= round(ratio * THREE_TOGETHER, 3) <= 1.10, celsius


@pytest.mark.parametrize(("gauge", "fuse"), [*FAA_FUSE.items(), *NEC_SMALL.items()])
def test_fuses_that_others_put_on_a_wire_are_within_ours(gauge: str, fuse: int) -> None:
    """Fuses by FAA AC 43.13-1B table 11-3 and NEC 240.4(D) lie within even our 60 °C figure."""
    assert fuse <= built_in().conductors[f"{gauge} AWG"].ampacity[60]


def test_metric_sizes_lie_between_their_neighbours() -> None:
    """A metric size carries no more than the next larger and no less than the next smaller AWG (33 CFR 183.425)."""
    rows = built_in().conductors.values()
    for row in (one for one in rows if one.system == "metric" and one.area >= 1):
        thinner = max((one for one in rows if one.system == "AWG" and one.area <= row.area), key=lambda one: one.area)
        thicker = min(
            (one for one in rows if one.area >= row.area and one.system == "AWG"),
            key=lambda one: one.area,
            default=thinner,
        )
        for celsius in CLASSES:
            assert thinner.ampacity[celsius] <= row.ampacity[celsius] <= thicker.ampacity[celsius], (row.id, celsius)


def test_metric_sizes_by_hand() -> None:
    """Log-log between neighbours, rounded down: 4 mm² at 60 °C is 25 x (40/25)^0.409 = 30.3 (33 CFR 183.425)."""
    conductors = built_in().conductors
    assert conductors["4 mm²"].ampacity[60] == 30
    assert conductors["1.5 mm²"].ampacity[60] == 16
    assert conductors["10 mm²"].ampacity[105] == 93


def test_sizes_outside_the_table_do_not_pretend_to_be_in_it() -> None:
    """Thinner sizes say they are from memory and stay below 18 AWG; 120 mm² keeps the 4/0 row (33 CFR 183.425)."""
    conductors = built_in().conductors
    for size in ("22 AWG", "20 AWG", "0.5 mm²", "0.75 mm²"):
        assert built_in().sources[conductors[size].source].read == "memory"
        assert max(conductors[size].ampacity.values()) <= 10
    assert conductors["120 mm²"].ampacity == dict(zip(CLASSES, TABLE_5["4/0"], strict=True))


def test_more_copper_never_carries_less() -> None:
    """Over both families, more area never means less current or more resistance within a family (arithmetic)."""
    rows = sorted(built_in().conductors.values(), key=lambda row: row.area)
    for thin, thick in itertools.pairwise(rows):
        assert all(thin.ampacity[celsius] <= thick.ampacity[celsius] for celsius in CLASSES), (thin.id, thick.id)
    for system in ("AWG", "metric"):
        ohms = [row.ohms_per_metre for row in rows if row.system == system]
        assert ohms == sorted(ohms, reverse=True)


@pytest.mark.parametrize(
    ("celsius", "factor", "how"),
    [
        (60, 0.58, "read"),
        (75, 0.75, "read"),
        (80, 0.78, "from memory"),
        (90, 0.82, "secondary"),
        (105, 0.85, "secondary"),
        (125, 0.89, "from memory"),
    ],
)
def test_engine_space_factors_follow_the_square_root_law(celsius: int, factor: float, how: str) -> None:
    """33 CFR 183.425: engine space (50 °C) factors by insulation class, within their rounding of 0.01.

    The 200 °C class is printed as 1.00 (from memory) where the law gives 0.94; ours follows the law, which is lower.
    """
    assert copper.ambient_factor(celsius, 50) == pytest.approx(factor, abs=0.01), how


def test_the_hottest_class_is_not_given_the_tables_full_current_in_an_engine_space() -> None:
    """The 200 °C column keeps 1.00 in the table (from memory); ours is the lower 0.94 of the law."""
    assert copper.ambient_factor(200, 50) == pytest.approx(0.94, abs=0.005)


@pytest.mark.parametrize(
    ("together", "factor"), [(2, 1.0), (3, 0.7), (4, 0.6), (6, 0.6), (7, 0.5), (24, 0.5), (25, 0.4)]
)
def test_bundle_factors(together: int, factor: float) -> None:
    """33 CFR 183.425: 3 conductors 0.70, 4 to 6 0.60, 7 to 24 0.50, 25 and more 0.40."""
    assert copper.bundle_factor(together) == factor


@pytest.mark.parametrize(
    ("insulation", "ambient", "factor"),
    [(60, 40, 0.82), (60, 50, 0.58), (75, 40, 0.88), (75, 50, 0.75), (90, 40, 0.91), (90, 50, 0.82)],
)
def test_ambient_factors_against_the_building_code(insulation: int, ambient: int, factor: float) -> None:
    """NEC table 310.15(B)(1), base 30 °C, at the hot end of each band (from memory): a second opinion, within 0.01."""
    assert copper.ambient_factor(insulation, ambient) == pytest.approx(factor, abs=0.01)
