"""Every rule of the book is seen to refuse a station and to accept the one that differs in that point alone."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import pytest

from engine.rules import book

LAMPS = "".join(
    f"""
[[load]]
id = "lamp{n}"
class = "lamp"

[[run]]
id = "lamp{n}-lead"
from = "{{start}}"
to = "lamp{n}"
length = "1 m"
conductor = "16 AWG"
insulation = "105 °C"
fuse = "{{fuse}}"
contacts = ["genderless 15 A", "bare strands under screw"]
"""
    for n in range(1, 6)
)
STRIP = """
[[strip]]
id = "strip"
part = "{part}"

[[run]]
id = "feed"
from = "psu"
to = "strip"
length = "0.5 m"
conductor = "10 AWG"
insulation = "105 °C"
fuse = "10 A"
contacts = ["ring terminal", "ring terminal"]
"""


SECOND = """
[[load]]
id = "vhf"
class = "vhf-50w"
keyed = "{keyed}"
"""


def strip_of_lamps(part: str, fuse: str = "3 A") -> str:
    """A strip of ``part`` with five lamps on it, each behind ``fuse``."""
    return STRIP.format(part=part) + LAMPS.format(start="strip", fuse=fuse)


@dataclass(frozen=True)
class Pair:
    """A rule about a part: the changes that make the desk station fail it, and those with which it is met."""

    rule: str
    about: str
    bad: dict[str, Any]
    outcome: str
    good: dict[str, Any] = field(default_factory=dict)
    bad_more: str = ""
    good_more: str = ""


CARRIER = {"load_mode": "carrier", "load_keyed": "100 %"}
KNOB = {"source_adjustable": True, "source_lowest": "13 V", "source_highest": "15 V"}

VALVE = '\n[[load]]\nid = "valve"\nclass = "amp-valve"\nwall = "3000 W"\n'


def in_wall(size: str) -> dict[str, Any]:
    """The desk on a circuit wired in ``size``."""
    return {"site_circuit_wire": size, "site_circuit_length": "10 m"}


def cord(size: str, length: str = "5 m") -> dict[str, Any]:
    """The desk on an extension lead of ``size``."""
    return {"site_extension": size, "site_extension_length": length}


NOTHING = dict.fromkeys(
    [
        *(
            f"load_{key}"
            for key in ("id", "window", "receive", "transmit", "mode", "keyed", "follows", "fuse", "inlet")
        ),
        *(f"run_{key}" for key in ("id", "from", "to", "length", "conductor", "insulation", "fuse", "contacts")),
    ]
)
"""The desk with its supply and nothing on it."""

HEAVY = {"load_class": "amp-500w", "load_window": None, "load_transmit": None, "load_follows": None}

NOT_MAINS = {
    "source_volts": None, "source_continuous": None, "source_peak": None, "source_limit": None,
    "source_tolerance": None, "source_regulation": None, "source_efficiency": None, "source_power_factor": None,
    "source_over_voltage": None, "source_outlets": ["stud"], "run_fuse_type": "battery post", "run_fuse": "30 A",
}  # fmt: skip
CAR = {
    **NOT_MAINS,
    "source_class": "vehicle",
    "source_part": "car",
    "source_engine": "running",
    "run_engine_space": "0 m",
}
PACK = {
    **NOT_MAINS, "source_class": "battery", "source_chemistry": "lfp", "source_amp_hours": "100 Ah",
    "source_temperature": "20 °C", "source_health": "100 %", "source_continuous": "100 A", "source_peak": "100 A",
    "load_keyed": "10 %",
}  # fmt: skip
LEAD_ACID = {**PACK, "source_chemistry": "agm", "load_window": "13.8 V ± 10 %"}
MAINS = """
[[source]]
id = "mains"
volts = "{volts}"
continuous = "{amps}"
[[run]]
id = "lamp-lead"
from = "mains"
to = "lamp"
length = "1 m"
[[load]]
id = "lamp"
class = "lamp"
"""
KEPT = {**PACK, "source_charged_by": "mains"}
SUN = {**PACK, "source_charged_by": "sun", "source_charger": "solar-20-mppt"}
LIGHT = """
[sun]
hours = "3 h"
days = {days}
operating = "4 h"
panel = "{panel}"
controller = "{controller}"
"""


def light(days: int = 1, panel: str = "panel-200", controller: str = "solar-20-mppt") -> str:
    """Panels on the battery."""
    return LIGHT.format(days=days, panel=panel, controller=controller)


def between(part: str | None, amps: str = "20 A") -> str:
    """The station's source led through a changeover of ``part`` into a set that draws ``amps``."""
    named = f'part = "{part}"' if part else ""
    return f"""
[[changeover]]
id = "change"
{named}
[[run]]
id = "way"
from = "psu"
to = "change"
length = "1 m"
conductor = "10 AWG"
insulation = "105 °C"
fuse = "20 A"
contacts = ["ring terminal", "ring terminal"]
[[load]]
id = "set"
window = "13.8 V ± 15 %"
receive = "1 A"
transmit = "{amps}"
mode = "ssb"
[[run]]
id = "set-lead"
from = "change"
to = "set"
length = "1 m"
"""


PAIRS = [
    Pair("loads", "station", NOTHING, "unknown"),
    Pair("described", "hf", {"load_window": None}, "unknown"),
    Pair("load-current", "hf", {"load_class": "hf-100w", "load_transmit": "2 A", "load_receive": "0.5 A"}, "unknown", {
        "load_class": "hf-100w"}),
    Pair("load-current", "hf", {"load_class": "hf-qrp", "load_transmit": "20 A"}, "thin", {
        "load_class": "hf-qrp", "load_transmit": "2 A", "load_receive": "0.3 A"}),
    Pair("rated", "psu", {"source_continuous": None, "source_peak": None}, "unknown"),
    Pair("wall", "psu", {"site_circuit": "1.4 A"}, "unsound"),
    Pair("wall", "psu", {"site_circuit": "1.6 A"}, "thin"),
    Pair("wall-load", "valve", {"site_circuit": "12 A"}, "unsound", bad_more=VALVE, good_more=VALVE),
    Pair("wall-load", "valve", {"site_circuit": "14 A"}, "thin", bad_more=VALVE, good_more=VALVE),
    Pair("circuit", "station", {"site_circuit": "14 A"}, "unsound", {"site_circuit": "17 A"}, VALVE, VALVE),
    Pair("circuit", "station", {"site_circuit": "15 A"}, "thin", {"site_circuit": "17 A"}, VALVE, VALVE),
    Pair("circuit-wire", "station", in_wall("14 AWG"), "unsound", in_wall("12 AWG")),
    Pair("circuit-wire", "station", in_wall("18 AWG"), "unknown", in_wall("12 AWG")),
    Pair("extension-lead", "station", cord("16 AWG"), "unsound", cord("14 AWG"), VALVE),
    Pair("extension-lead", "station", cord("18 AWG"), "thin", cord("14 AWG")),
    Pair("extension-lead", "station", cord("20 AWG"), "unknown", cord("14 AWG")),
    Pair("mains-drop", "station", cord("18 AWG", "200 m"), "unsound", cord("18 AWG", "10 m")),
    Pair("mains-drop", "station", cord("18 AWG", "100 m"), "thin", in_wall("14 AWG")),
    Pair("generator", "station", {"site_generator": "300 W"}, "unsound", {"site_generator": "500 W"}),
    Pair("generator", "station", {"site_generator": "400 W"}, "thin", {"site_generator": "500 W"}),
    Pair("budget", "station", {"wishes_budget": 1}, "thin", {"wishes_budget": 500}),
    Pair("fed", "station", {"load_follows": "steady power", "run_conductor": "22 AWG", "run_length": "3 m"}, "unsound"),
    Pair("window-floor", "hf", {"run_length": "15 m"}, "unsound"),
    Pair("window-floor", "hf", {"load_window": "13.8 V ± 6 %"}, "thin"),
    Pair("window-ceiling", "hf", {"source_volts": "15.8 V"}, "unsound"),
    Pair("window-ceiling", "hf", {"source_volts": "15.5 V"}, "thin"),
    Pair("drop", "hf", {"run_length": "12 m"}, "unsound"),
    Pair("drop", "hf", {"run_length": "3 m"}, "thin"),
    Pair("supply-peak", "psu", {"load_transmit": "31 A"}, "unsound"),
    Pair("supply-peak", "psu", {"load_transmit": "28 A"}, "thin"),
    Pair("supply-continuous", "psu", {**CARRIER, "source_continuous": "19 A"}, "unsound"),
    Pair("supply-continuous", "psu", {**CARRIER, "source_continuous": "21 A"}, "thin"),
    Pair("supply-headroom", "psu", {"source_peak": "24 A", "source_continuous": "24 A"}, "thin", {
        "source_peak": "25 A", "source_continuous": "20 A"}),
    Pair("supply-headroom", "psu", {**CARRIER, "source_continuous": "24 A"}, "thin", {
        **CARRIER, "source_continuous": "25 A"}),
    Pair("supply-noise", "psu", {"source_class": "switch-mode", "source_filtered": False}, "thin", {
        "source_class": "switch-mode", "source_filtered": True}),
    Pair("supply-knob", "psu", {**KNOB, "source_highest": "17 V"}, "unsound", {**KNOB, "source_locked": True}),
    Pair("supply-knob", "psu", {**KNOB, "source_lowest": "9 V"}, "thin", KNOB),
    Pair("supply-guard", "psu", {"source_over_voltage": False}, "thin"),
    Pair("supply-guard", "psu", {"source_over_voltage": None}, "thin"),
    Pair("supply-parallel", "psu", {"source_parallel": 2}, "unsound", {"source_parallel": 2, "source_shares": True}),
    Pair("supply-setting", "psu", {**KNOB, "source_volts": "12.5 V"}, "unsound", KNOB),
    Pair(
        "supply-posts", "psu", {}, "thin", bad_more=LAMPS.format(start="psu", fuse="3 A"),
        good_more=strip_of_lamps("strip-8"),
    ),
    Pair("ampacity", "lead", {**CARRIER, "run_conductor": "16 AWG", "run_insulation": "60 °C"}, "unsound"),
    Pair("ampacity", "lead", {**CARRIER, "run_conductor": "14 AWG", "run_insulation": "60 °C"}, "thin"),
    Pair(
        "short-circuit", "lead", {"source_limit": "100 A", "run_conductor": "14 AWG", "run_fuse": "80 A"}, "unsound",
        {"source_limit": "300 A"},
    ),
    Pair("fuse-present", "lead", {"run_fuse": "none", "run_conductor": "16 AWG"}, "unsound"),
    Pair("fuse-present", "lead", {"run_fuse": "none"}, "thin"),
    Pair("fuse-present", "lead", {"run_fuse": None}, "unknown"),
    Pair("fuse-guards", "lead", {"run_fuse": "100 A"}, "unsound"),
    Pair("fuse-guards", "lead", {"run_fuse": "80 A"}, "thin"),
    Pair("fuse-carries", "lead", {"run_fuse": "15 A"}, "unsound"),
    Pair("fuse-carries", "lead", {"run_fuse": "20 A"}, "thin"),
    Pair("fuse-snug", "lead", {"run_fuse": "40 A"}, "thin"),
    Pair("fuse-volts", "lead", {"source_volts": "48 V"}, "unsound"),
    Pair("fuse-breaking", "lead", {"source_limit": "1200 A"}, "unsound"),
    Pair("fuse-made", "lead", {"run_fuse": "22 A"}, "unknown"),
    Pair("fuse-place", "lead", {"run_fuse_at": "1.1 m", "source_limit": "300 A"}, "unsound"),
    Pair("fuse-place", "lead", {"run_fuse_at": "0.5 m", "source_limit": "300 A"}, "thin"),
    Pair("fuse-place", "lead", {"run_fuse_at": "0.5 m"}, "thin", {"run_fuse_at": "7 in"}),
    Pair(
        "fuse-order", "lamp1-lead", {}, "thin", bad_more=strip_of_lamps("strip-8", fuse="10 A"),
        good_more=strip_of_lamps("strip-8"),
    ),
    Pair("parallel", "lead", {"run_parallel": 2}, "thin"),
    Pair("parallel", "lead", {**CARRIER, "run_parallel": 2, "run_conductor": "18 AWG"}, "unsound"),
    Pair("fuse-heat", "lead", {**CARRIER, "run_fuse": "15 A"}, "unsound"),
    Pair(
        "fuse-legs", "lead", {"run_negative": "battery post"}, "thin",
        {"run_negative": "battery post", "run_fuse_legs": "both"},
    ),
    Pair("amplifier-lead", "hf", {**HEAVY, "run_length": "2 m"}, "thin", {**HEAVY, "run_length": "4 ft"}),
    Pair("fuse-stays", "lead", {"run_fuse": "40 A"}, "thin", {"run_fuse": "40 A", "run_own_fuse": "25 A"}),
    Pair("wire-strength", "lead", {"run_conductor": "22 AWG"}, "thin", {"run_conductor": "18 AWG"}),
    Pair("fuse-own", "hf", {"load_class": "hf-100w", "load_fuse": "40 A"}, "thin", {"load_class": "hf-100w"}),
    Pair("contact-guarded", "lead", {"run_fuse": "40 A"}, "thin"),
    Pair("contact-known", "lead", {"run_contacts": None}, "unknown"),
    Pair("contact-carries", "lead", {"run_contacts": ["bare strands under screw", "keyed plug"]}, "unsound"),
    Pair("contact-carries", "lead", {"load_transmit": "28 A"}, "thin"),
    Pair("contact-takes", "lead", {"run_conductor": "2 AWG"}, "unsound"),
    Pair("contact-takes", "lead", {"run_conductor": "18 AWG"}, "unsound"),
    Pair("contact-fits", "lead", {"run_contacts": ["accessory plug", "keyed plug"]}, "unsound"),
    Pair("contact-fits", "lead", {"load_inlet": "barrel socket"}, "unsound"),
    Pair("contact-strands", "lead", {"run_contacts": ["bare strands under screw", "keyed plug"]}, "thin"),
    Pair("contact-strands", "lead", {"run_contacts": ["soldered strands under screw", "keyed plug"]}, "unsound"),
    Pair(
        "contact-heat", "lead", {**CARRIER, "load_transmit": "26 A", "run_contacts": ["accessory plug", "keyed plug"]},
        "unsound", CARRIER,
    ),
    Pair(
        "strip-carries", "feed", {}, "unsound", bad_more=strip_of_lamps("strip-4"),
        good_more=strip_of_lamps("strip-8"),
    ),
    Pair("engine-off", "psu", {**CAR, "load_window": "13.8 V ± 10 %"}, "thin", CAR),
    Pair("vehicle-standby", "psu", {**CAR, "load_rest": "0.1 A"}, "thin", {**CAR, "load_rest": "0.01 A"}),
    Pair(
        "vehicle-amplifier", "hf",
        {**CAR, "load_class": "amp-500w", "load_transmit": "60 A", "run_length": "4 m"}, "thin",
        {**CAR, "load_class": "amp-500w", "load_transmit": "60 A", "run_length": "1 m"},
    ),
    Pair("alternator", "psu", {**CAR, **CARRIER, "source_continuous": "15 A"}, "thin", {**CAR, **CARRIER}),
    Pair(
        "vehicle-socket", "lead",
        {**CAR, "source_outlets": ["accessory socket"], "run_contacts": ["accessory plug", "keyed plug"]}, "unsound",
        {**CAR, "source_outlets": ["accessory socket"], "run_contacts": ["accessory plug", "keyed plug"],
         "load_transmit": "5 A"},
    ),
    Pair(
        "vehicle-negative", "lead",
        {**CAR, "run_negative": "battery post", "run_fuse_legs": "both", "source_load_sensor": True}, "thin",
        {**CAR, "run_negative": "body near the battery bond", "source_load_sensor": True},
    ),
    Pair(
        "vehicle-negative", "lead",
        {**CAR, "run_negative": "battery post", "run_fuse_legs": "both", "site_region": "United Kingdom"}, "thin",
        {**CAR, "run_negative": "battery post", "run_fuse_legs": "both", "site_region": "North America"},
    ),
    Pair("battery-ends", "psu", LEAD_ACID, "thin", PACK),
    Pair("battery-hours", "psu", {**PACK, "wishes_hours": "40 h"}, "unsound", {**PACK, "wishes_hours": "4 h"}),
    Pair("battery-board", "psu", {**PACK, "source_continuous": "15 A", "source_peak": "19 A"}, "unsound", PACK),
    Pair(
        "battery-cold", "psu", {**KEPT, "source_temperature": "-5 °C"}, "unsound", KEPT,
        bad_more=MAINS.format(volts="13.8 V", amps="30 A"), good_more=MAINS.format(volts="13.8 V", amps="30 A"),
    ),
    Pair(
        "battery-cold", "psu", {**SUN, "source_temperature": "-5 °C"}, "thin", SUN,
        bad_more=light(), good_more=light(),
    ),
    Pair(
        "battery-kept", "psu", {**KEPT, "source_chemistry": "li-ion-3"}, "unsound", KEPT,
        bad_more=MAINS.format(volts="12.6 V", amps="30 A"), good_more=MAINS.format(volts="13.8 V", amps="30 A"),
    ),
    Pair(
        "battery-kept", "psu", {**KEPT, "source_chemistry": "flooded"}, "thin",
        {**KEPT, "source_chemistry": "flooded", "source_charger": "mains-10-lead"},
        bad_more=MAINS.format(volts="13.8 V", amps="30 A"), good_more=MAINS.format(volts="13.8 V", amps="30 A"),
    ),
    Pair(
        "battery-kept", "psu", {**KEPT, "source_charger": "mains-10-lead"}, "unsound",
        {**KEPT, "source_charger": "mains-10-lithium"},
        bad_more=MAINS.format(volts="13.8 V", amps="30 A"), good_more=MAINS.format(volts="13.8 V", amps="30 A"),
    ),
    Pair(
        "battery-inrush", "psu", {**KEPT, "source_amp_hours": "30 Ah", "source_ohms": "0.02 ohm"}, "thin",
        {**KEPT, "source_ohms": "0.05 ohm"},
        bad_more=MAINS.format(volts="13.8 V", amps="60 A"), good_more=MAINS.format(volts="13.8 V", amps="60 A"),
    ),
    Pair(
        "recharge", "mains", KEPT, "thin", {**KEPT, "source_ohms": "0.05 ohm"},
        bad_more=MAINS.format(volts="13.8 V", amps="5 A"), good_more=MAINS.format(volts="13.8 V", amps="60 A"),
    ),
    Pair(
        "turns", "station", {"load_keyed": "60 %"}, "thin", {"load_keyed": "50 %"},
        bad_more=SECOND.format(keyed="50 %"), good_more=SECOND.format(keyed="50 %"),
    ),
    Pair("sun-panels", "psu", SUN, "thin", SUN, bad_more=light(panel="panel-20"), good_more=light()),
    Pair("sun-dark-days", "psu", SUN, "thin", SUN, bad_more=light(days=9), good_more=light()),
    Pair("sun-controller", "psu", SUN, "unsound", SUN, bad_more=light(controller="solar-10-pwm"), good_more=light(
        controller="solar-20-mppt")),
    Pair("changeover-known", "way", {}, "unknown", bad_more=between(None), good_more=between("electronic-40")),
    Pair("changeover-carries", "way", {}, "unsound", bad_more=between("electronic-25", "26 A"),
         good_more=between("electronic-40")),
    Pair("changeover-gap", "way", {}, "thin", bad_more=between("relay-70"), good_more=between("electronic-40")),
]  # fmt: skip

ONLY_ASKS = {"loads", "turns", "changeover-known", "described", "rated", "contact-known", "fuse-made", "parallel"}
"""Rules that ask for what is missing: where nothing is, the question does not arise and there is no finding."""

ONLY_TELLS = {"contact-holds", "supply-fan"}
"""Rules that remind and never refuse: a contact without a lock is common practice if the cable is tied."""


def found(bench: Any, text: str, rule: str, about: str) -> Any:
    """The finding of a rule about a part, or None."""
    hits = [one for one in bench.check(text).findings if (one.rule, one.about) == (rule, about)]
    assert len(hits) <= 1
    return hits[0] if hits else None


@pytest.mark.parametrize("pair", PAIRS, ids=lambda one: f"{one.rule}-{one.outcome}")
def test_a_rule_refuses_one_station_and_accepts_its_neighbour(bench: Any, desk: Callable[..., str], pair: Pair) -> None:
    """Each rule is not sound in the first station and sound in the second (this house's rules)."""
    bad = found(bench, desk(**pair.bad) + pair.bad_more, pair.rule, pair.about)
    assert bad.outcome == pair.outcome, bad.says
    good = found(bench, desk(**pair.good) + pair.good_more, pair.rule, pair.about)
    if pair.rule in ONLY_ASKS:
        assert good is None
    else:
        assert good.outcome == "sound", good.says


def test_every_rule_of_the_book_is_seen_to_refuse() -> None:
    """A rule added to the book must be added here, with a station that it refuses (this house's completeness)."""
    assert {pair.rule for pair in PAIRS} | ONLY_TELLS == {rule.id for rule in book.RULES}
    assert not {pair.rule for pair in PAIRS} & ONLY_TELLS


def test_a_contact_without_a_lock_is_told_and_not_refused(bench: Any, desk: Callable[..., str]) -> None:
    """The reminder names the loose contact and only it (common practice, no source)."""
    loose = desk(source_outlets=["genderless socket"], run_contacts=["genderless 30 A", "keyed plug"])
    assert "genderless 30 A on lead does not lock" in bench.finding(loose, "contact-holds", "lead").says
    assert "hold against a pull" in bench.finding(desk(), "contact-holds", "lead").says


def test_the_desk_station_itself_is_sound(bench: Any, desk: Callable[..., str]) -> None:
    """The station that the pairs above start from is sound in every point, so each change is the only cause."""
    assert [one.says for one in bench.check(desk()).findings if one.outcome != "sound"] == []


def test_a_station_without_loads_is_not_sound(bench: Any, desk: Callable[..., str]) -> None:
    """Nothing is found sound where nothing is asked: the outcome is unknown, and the one finding says what to add."""
    for text in (desk(**NOTHING), ""):
        verdict = bench.check(text)
        assert verdict.outcome == "unknown"
        assert [one.outcome for one in verdict.findings if one.rule in ("loads", "fed")] == ["unknown"]
        assert "no load is described" in verdict.findings[0].says


NICKEL = {**PACK, "source_chemistry": "nimh", "source_amp_hours": "20 Ah", "load_window": "13.8 V ± 25 %"}


def test_a_nickel_pack_is_not_judged_by_a_board_that_it_lacks(bench: Any, desk: Callable[..., str]) -> None:
    """Lithium has a board that trips at its rating (common practice); nickel has none, and its own rating decides."""
    small = {**NICKEL, "source_continuous": "15 A", "source_peak": "19 A"}
    assert found(bench, desk(**small), "battery-board", "psu") is None
    assert bench.finding(desk(**small), "supply-peak", "psu").outcome == "unsound"
    assert bench.finding(desk(**{**small, "source_chemistry": "lfp"}), "battery-board", "psu").outcome == "unsound"
    verdict = bench.check(desk(**{**NICKEL, "source_continuous": None, "source_peak": None}))
    assert {one.about for one in verdict.assumptions} >= {"psu.continuous", "psu.peak"}
    told = [one.says for one in verdict.findings] + [one.basis for one in verdict.assumptions]
    assert not [one for one in told if "board" in one]


def test_frost_harms_each_kind_in_its_own_way(bench: Any, desk: Callable[..., str]) -> None:
    """Lithium plates metal when it is charged frozen; nickel is refused too, and not for that (from memory)."""
    more = MAINS.format(volts="13.8 V", amps="30 A")
    frozen = {**KEPT, "source_temperature": "-5 °C"}
    lithium = bench.finding(desk(**frozen) + more, "battery-cold", "psu")
    nickel = bench.finding(desk(**{**frozen, "source_chemistry": "nimh"}) + more, "battery-cold", "psu")
    assert lithium.outcome == nickel.outcome == "unsound"
    assert "plates metal" in lithium.says and "plates metal" not in nickel.says


def test_every_refusal_carries_a_sentence_and_every_limit_a_figure(bench: Any, desk: Callable[..., str]) -> None:
    """A finding says what is wrong in words, and wherever it names a limit it names the figure (this house)."""
    for pair in PAIRS:
        for one in bench.check(desk(**pair.bad) + pair.bad_more).findings:
            assert one.says and one.basis
            if one.limit is not None and one.rule != "fuse-present":
                assert one.figure is not None, one


@pytest.mark.parametrize("pair", PAIRS, ids=lambda one: f"{one.rule}-{one.outcome}")
def test_the_working_shown_is_the_working_done(bench: Any, desk: Callable[..., str], pair: Pair) -> None:
    """Evaluating the formula that a working shows gives the figure that was judged, whatever solved it (arithmetic)."""
    for one in bench.check(desk(**pair.bad) + pair.bad_more).findings:
        for figure in (one.figure, one.limit):
            if figure is not None:
                assert figure.worked().value == pytest.approx(figure.value, rel=1e-9, abs=1e-9), one
                assert figure.working()


def test_the_working_of_the_volts_names_every_loss(bench: Any, desk: Callable[..., str]) -> None:
    """The floor's working goes down to length, copper, temperature, fuse and contacts, and ends at the solved volts."""
    verdict = bench.check(desk())
    floor = bench.only(verdict, "window-floor", "hf").figure
    text = "\n".join(floor.working())
    for word in (
        "10 AWG at 20 °C",
        "per kelvin, IEC 60028",
        "one way",
        "25 A",
        "ring terminal and keyed plug",
        "set point",
    ):
        assert word in text
    sagging = next(
        one for one in verdict.operating.points() if one.condition.name == "sagging" and one.state.name == "hf keyed"
    )
    assert sagging.volts["hf"] == pytest.approx(floor.worked().value, abs=1e-9)
