"""The catalogue's own tables and the loader that refuses bad ones."""

import itertools
from pathlib import Path

import pytest

from catalog.shelf import PRICED, built_in, load
from engine.parts import Shelf
from engine.station.table import Problems

TABLES = (
    "conductors",
    "insulations",
    "fuses",
    "contacts",
    "supplies",
    "strips",
    "equipment",
    "mains",
    "modes",
    "chemistries",
    "batteries",
    "vehicles",
    "changeovers",
    "boosters",
    "chargers",
    "panels",
    "powers",
    "instruments",
    "symptoms",
)
SOCKETS = {
    "binding post",
    "stud",
    "screw terminal",
    "genderless socket",
    "keyed socket",
    "barrel socket",
    "accessory socket",
}
MODE = '[[mode]]\nid = "test"\ntitle = "a test"\nduty = "30 %"\nsteady = false\nsource = "house"\n'
FUSE = """[[fuse]]
id = "test"
title = "a test"
ratings = [1, 2, 3]
volts = "32 V"
breaking = "1000 A"
drop = "100 mV"
gates = [[1.1, 360000, 360000], [2, 1, 5]]
source = "house"
"""
SIZE = """[[conductor]]
id = "5 mm2"
system = "metric"
area = 5
ohms_per_metre = "4 mohm"
ampacity = { "60" = 30, "75" = 31 }
grams_per_metre = 60
source = "house"
"""
CLASS = """[[equipment]]
id = "test"
title = "a test"
group = "radio"
feed = "dc"
nominal = "13.8 V"
lowest = "11.7 V"
highest = "15.8 V"
follows = "steady current"
receive = ["1 A", "2 A", "3 A"]
rest = "0 A"
mode = "fm"
low_volts = "stops"
find = "the label"
source = "house"
"""


def with_own(folder: Path, **files: str) -> Shelf:
    """The catalogue with the owner's files of these names and texts."""
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return load(folder)


def refusal(folder: Path, **files: str) -> str:
    """What the loader says as it refuses the owner's files."""
    with pytest.raises(Problems) as caught:
        with_own(folder, **files)
    return str(caught.value)


def test_the_catalogue_loads_clean() -> None:
    """Every shipped table reads without a fault and holds rows (this house's schema)."""
    assert all(len(getattr(built_in(), name)) > 2 for name in TABLES)
    assert len(built_in().conductors) == 32
    assert 16 <= len(built_in().supplies) <= 40


def test_every_row_cites_a_source_that_is_listed() -> None:
    """A figure without a source does not ship, and no source is listed twice (the house rule on sources)."""
    shelf = built_in()
    cited = {row.source for name in TABLES for row in getattr(shelf, name).values()} | {shelf.limits.source}
    assert cited <= set(shelf.sources)
    titles = [one.title for one in shelf.sources.values()]
    assert len(titles) == len(set(titles))


def test_what_is_from_memory_says_so() -> None:
    """A source whose title or id says memory is marked as read from memory, and the reverse (the house rule)."""
    for one in built_in().sources.values():
        assert ("memory" in f"{one.id} {one.title}") == (one.read == "memory"), one.id


def test_equipment_classes_are_many_and_consistent() -> None:
    """At least twenty classes; windows hold their nominal, currents rise from receive to key-down (common practice)."""
    rows = built_in().equipment.values()
    assert len(rows) >= 20
    for row in rows:
        assert row.lowest < row.nominal < row.highest or (row.nominal == 12 and row.lowest <= 12 <= row.highest), row.id
        assert row.mode is None or row.mode in built_in().modes, row.id
        assert (row.transmit is not None) == (row.mode is not None), row.id
        assert row.transmit is None or row.busy is None, row.id
        for most in (row.transmit, row.busy):
            if most and row.feed == "dc":
                assert row.receive.high <= most.high and row.receive.usual < most.usual, row.id
                assert row.fuse is None or row.fuse >= most.high, row.id
        assert row.inlet is None or row.inlet in SOCKETS, row.id


def test_a_100_w_transceiver_draws_18_to_23_amperes() -> None:
    """Not the 8 A that 100 W over 12 V suggests: radio watts are not supply watts (a published mistake)."""
    draw = built_in().equipment["hf-100w"].transmit
    assert draw is not None and (draw.low, draw.high) == (18, 23)


def test_a_50_w_mobile_draws_what_the_exam_says() -> None:
    """A 50 W FM mobile wants 13.8 V at 12 A: within our band (NCVEC T4A01)."""
    draw = built_in().equipment["vhf-50w"].transmit
    assert draw is not None and draw.low <= 12 <= draw.high


def test_mobile_windows_are_15_percent_and_home_windows_10() -> None:
    """13.8 V less and plus 15 % for a mobile, 10 % for a home set (47 CFR 2.1055(d); common practice)."""
    mobile, home = built_in().equipment["vhf-50w"], built_in().equipment["hf-100w"]
    assert (mobile.lowest, mobile.highest) == pytest.approx((13.8 * 0.85, 13.8 * 1.15), abs=0.005)
    assert (home.lowest, home.highest) == pytest.approx((13.8 * 0.90, 13.8 * 1.10), abs=0.005)


def test_valve_amplifiers_are_not_planned() -> None:
    """The one class fed from the wall draws no direct current here and warns of its high voltage (common practice)."""
    mains = [row for row in built_in().equipment.values() if row.feed == "mains"]
    assert [row.id for row in mains] == ["amp-valve"]
    assert mains[0].receive.high == 0 and "Lethal" in mains[0].note


def test_supplies_are_consistent() -> None:
    """Ratings rise from continuous to peak to limit, settings hold the set point, prices differ (common practice)."""
    rows = list(built_in().supplies.values())
    for row in rows:
        assert row.continuous < row.peak < row.limit <= 1.16 * row.peak, row.id
        assert row.lowest <= row.volts <= row.highest < 60, row.id
        assert row.adjustable == (row.lowest < row.highest), row.id
        assert 0.4 < row.efficiency < 0.95 and 0.5 < row.power_factor <= 1, row.id
        assert set(row.outlets) <= SOCKETS, row.id
    assert {(20, 25), (25, 30), (30, 35)} <= {(row.continuous, row.peak) for row in rows if row.volts == 13.8}
    assert any(not row.over_voltage for row in rows) and any(row.volts == 12 for row in rows)
    assert len({row.price.usual for row in rows}) == len(rows)


def test_mains_wire_carries_more_the_thicker_it_is() -> None:
    """Breakers and leads rise with the area, and every size is one of the catalogue's (NEC; metric from memory)."""
    shelf = built_in()
    assert set(shelf.mains) <= set(shelf.conductors)
    for system in ("AWG", "metric"):
        ids = [key for key in shelf.mains if shelf.conductors[key].system == system]
        ids.sort(key=lambda key: shelf.conductors[key].area)
        for name in ("breaker", "cord"):
            amps = [value for key in ids if (value := getattr(shelf.mains[key], name)) is not None]
            assert amps == sorted(amps) and len(amps) >= 4


def test_contacts_and_sockets_speak_one_language() -> None:
    """Every post or socket named anywhere is one that some contact fits, big enough for it (common practice)."""
    contacts = built_in().contacts.values()
    assert {place for row in contacts for place in row.fits} == SOCKETS
    assert all(row.thinnest < row.thickest for row in contacts)
    for strip in built_in().strips.values():
        assert {*strip.inlet, *strip.outlets} <= SOCKETS
    for row in built_in().equipment.values():
        if row.inlet and row.feed == "dc":
            most = (row.transmit or row.busy or row.receive).high
            assert any(row.inlet in one.fits and one.amps >= most for one in contacts if one.stranded == "good"), row.id


def test_soldered_strands_under_a_screw_are_bad() -> None:
    """Tinned strands do not belong under a screw clamp; a ferrule or ring does (common practice)."""
    contacts = built_in().contacts
    assert contacts["soldered strands under screw"].stranded == "bad"
    assert contacts["bare strands under screw"].stranded == "poor"
    assert contacts["ferrule under screw"].stranded == contacts["ring terminal"].stranded == "good"


def test_blade_fuses_carry_what_the_standard_says() -> None:
    """Blades are rated 32 V or 58 V and break 1000 A; the large one opens in the published times (ISO 8820-3)."""
    blades = [row for row in built_in().fuses.values() if "blade" in row.id]
    assert {row.volts for row in blades} == {32, 58} and {row.breaking for row in blades} == {1000}
    large = built_in().fuses["large blade"]
    assert {gate.multiple: (gate.fastest, gate.slowest) for gate in large.gates} == {
        1.0: (360000, 360000),
        1.35: (60, 1800),
        2: (2, 60),
        3.5: (0.2, 7),
    }
    assert large.drop == pytest.approx(0.125)


def test_fuse_gates_close_as_the_current_rises() -> None:
    """Both the fastest and the slowest time fall at every higher multiple, and no fastest time is zero (arithmetic)."""
    for row in built_in().fuses.values():
        for low, high in itertools.pairwise(row.gates):
            assert low.multiple < high.multiple and low.fastest > high.fastest > 0 and low.slowest > high.slowest, (
                row.id
            )


def test_a_fuse_exists_for_every_bank_the_boat_standard_names() -> None:
    """Some family breaks 5 kA and one 20 kA at 125 V DC, as the main device of large banks must (ABYC E-11)."""
    rows = built_in().fuses.values()
    assert any(row.breaking >= 5000 for row in rows)
    assert any(row.breaking >= 20000 and row.volts >= 125 for row in rows)


def test_every_priced_row_has_a_price() -> None:
    """No part is free by oversight; only bare strands cost nothing (own prices)."""
    for name in PRICED:
        for row in getattr(built_in(), name).values():
            assert 0 <= row.price.low <= row.price.high, row.id
            assert row.price.usual > 0 or row.id == "bare strands under screw", row.id


def test_thicker_copper_costs_more() -> None:
    """Prices of conductors rise with their area over both families (own prices)."""
    rows = sorted(built_in().conductors.values(), key=lambda row: row.area)
    assert all(thin.price.usual < thick.price.usual for thin, thick in itertools.pairwise(rows))


def test_own_rows_add_and_replace(tmp_path: Path) -> None:
    """An owner's row of a new id is added, one of a known id replaces ours, the rest stay (this house's loader)."""
    own = MODE + MODE.replace('"test"', '"ssb"')
    prices = '[conductor]\n"5 mm²" = [1, 2]\n'
    shelf = with_own(tmp_path, modes=own, conductors=SIZE, prices=prices, limits='[limits]\nas_built = "5 %"\n')
    assert len(shelf.modes) == len(built_in().modes) + 1
    assert shelf.modes["test"].duty == shelf.modes["ssb"].duty == pytest.approx(0.30)
    assert shelf.conductors["5 mm²"].ampacity[60] == 30
    assert shelf.limits.as_built == pytest.approx(0.05)
    assert shelf.limits.window_margin == built_in().limits.window_margin
    assert shelf.modes["cw"] == built_in().modes["cw"]


def test_an_own_part_without_a_price_is_asked_about(tmp_path: Path) -> None:
    """A part that seemed free would be chosen before all others, so its price is asked for (this house's loader)."""
    said = refusal(tmp_path, conductors=SIZE)
    assert "conductors 5 mm²: has no price" in said
    assert "[0, 0] when it is yours" in said


def test_own_prices_replace_ours_and_nothing_else(tmp_path: Path) -> None:
    """An owner's band takes the place of ours for that id alone (this house's loader)."""
    shelf = with_own(tmp_path, prices="[supply]\nswitch-25-fixed = [10, 20]\n")
    assert shelf.supplies["switch-25-fixed"].price.usual == 15
    assert shelf.supplies["switch-30-fixed"] == built_in().supplies["switch-30-fixed"]


def test_own_sources_may_be_cited(tmp_path: Path) -> None:
    """A row may cite a source from the owner's own list (this house's loader)."""
    source = '[[sources]]\nid = "my-manual"\ntitle = "the manual of my set"\nread = "primary"\n'
    shelf = with_own(tmp_path, sources=source, modes=MODE.replace('"house"', '"my-manual"'))
    assert shelf.modes["test"].source == "my-manual"


def test_an_absent_own_folder_changes_nothing(tmp_path: Path) -> None:
    """Without a folder, or with an empty one, the catalogue is the shipped one (this house's loader)."""
    assert load(tmp_path / "none") == load(tmp_path) == built_in()


@pytest.mark.parametrize(
    ("name", "text", "key", "what"),
    [
        ("modes", MODE.replace("steady =", "stedy ="), "mode[0].stedy", "is not a key known here"),
        ("modes", MODE.replace('source = "house"\n', ""), "mode[0].source", "is missing"),
        ("modes", MODE.replace('"30 %"', "30"), "mode[0].duty", "has no unit"),
        ("modes", MODE.replace('"30 %"', '"30 A"'), "mode[0].duty", "asks for a share"),
        ("modes", MODE + MODE, "mode[1].id", "stands twice"),
        ("modes", MODE.replace('"house"', '"hearsay"'), "modes test", "cites 'hearsay'"),
        ("modes", MODE.replace("[[mode]]", "[[modes]]"), "modes", "is not a table known here"),
        ("modes", MODE.replace("[[mode]]", "[mode]"), "mode", "is not a list of tables"),
        ("modes", "mode = [", "modes.toml", "cannot be read"),
        ("modes", "mode = 1" + "0" * 5000, "modes.toml", "cannot be read"),
        ("fuses", FUSE.replace("[1, 2, 3]", "[1, 3, 2]"), "fuse[0].ratings", "not in rising order"),
        ("fuses", FUSE.replace("[1, 2, 3]", "[1, 2, inf]"), "fuse[0].ratings", "is not usable"),
        ("fuses", FUSE.replace("[1, 2, 3]", "[nan]"), "fuse[0].ratings", "is not usable"),
        ("fuses", FUSE.replace("[2, 1, 5]", "[1, 1, 5]"), "fuse[0].gates", "is not in order"),
        ("fuses", FUSE.replace("[2, 1, 5]", "[2, 6, 5]"), "fuse[0].gates", "above its slowest"),
        ("conductors", SIZE.replace("area = 5", "area = inf"), "conductor[0].area", "is not usable"),
        ("conductors", SIZE.replace('"75" = 31', '"75" = 29'), "conductor[0].ampacity", "falls with a hotter"),
        ("conductors", SIZE.replace('"5 mm2"', '"thick"'), "conductor[0].id", "is not a conductor size"),
        ("equipment", CLASS.replace('"2 A", "3 A"', '"3 A", "2 A"'), "equipment[0].receive", "not in rising order"),
        ("equipment", CLASS.replace('"1 A", "2 A"', '"1 A"'), "equipment[0].receive", "has 2 values"),
        ("equipment", CLASS.replace('"1 A", "2 A"', '"1 A", "nan A"'), "equipment[0].receive", "with a number"),
        ("equipment", CLASS.replace('"fm"', '"whistling"'), "equipment test", "names 'whistling'"),
        ("prices", "[supply]\nswitch-25-fixed = [20, 10]\n", "supply.switch-25-fixed", "is not a price band"),
        ("prices", "[supply]\nswitch-25-fxed = [10, 20]\n", "prices supplies", "names 'switch-25-fxed'"),
        ("prices", "supply = 5\n", "prices.toml: supply", "is not a table"),
        ("limits", '[limits]\nas_bilt = "5 %"\n', "limits.as_bilt", "is not a key known here"),
        ("limits", '[limit]\nas_built = "5 %"\n', "limits.toml: limit", "is not a table known here"),
        ("limits", '[limits]\ninsulation = "61 °C"\n', "limits", "names '61 °C'"),
    ],
)
def test_the_loader_refuses_and_names_the_place(tmp_path: Path, name: str, text: str, key: str, what: str) -> None:
    """A bad own table is refused with the place and the fault named, never read in part (this house's loader)."""
    said = refusal(tmp_path, **{name: text})
    assert key in said and what in said


def test_every_fault_is_told_at_once(tmp_path: Path) -> None:
    """Faults of several files come in one report (this house's loader)."""
    said = refusal(tmp_path, modes=MODE.replace('"30 %"', '"x"'), fuses=FUSE.replace('"32 V"', '"32 A"'))
    assert "mode[0].duty" in said and "fuse[0].volts" in said
