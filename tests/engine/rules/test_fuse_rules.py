"""What a fuse further up guards, what a fuse can break, and how soon it opens."""

from collections.abc import Callable
from typing import Any

import pytest

WAY = """
[[strip]]
id = "{end}"
part = "strip-8"
[[run]]
id = "{end}-lead"
from = "{start}"
to = "{end}"
length = "0.5 m"
conductor = "8 AWG"
insulation = "105 °C"
fuse = {fuse}
contacts = ["ring terminal", "ring terminal"]
"""
BEARS = 20.0
"""What 18 AWG in insulation for 105 °C bears at 30 °C [A] (33 CFR 183.425)."""

Desk = Callable[..., str]


def below(desk: Desk, *fuses: str | None, **changes: Any) -> str:
    """The desk's radio on an unfused lead of 18 AWG below a chain of strips, each behind a fuse of its own."""
    own = {"run_conductor": "18 AWG", "run_fuse": "none", "source_limit": "200 A", "run_fuse_type": None}
    text, start = "", "psu"
    for number, fuse in enumerate(fuses):
        end = f"strip{number}"
        text += WAY.format(start=start, end=end, fuse=f'"{fuse}"' if fuse else '"none"')
        start = end
    return desk(**(own | changes | {"run_from": start})) + text


@pytest.mark.parametrize(
    ("fuses", "outcome", "guard"),
    [
        (("20 A",), "sound", "strip0-lead"),
        (("25 A",), "unsound", None),
        (("100 A",), "unsound", None),
        (("40 A", "15 A"), "sound", "strip1-lead"),
        (("15 A", "40 A"), "sound", "strip0-lead"),
        (("40 A", "30 A"), "unsound", None),
        (("none", "15 A"), "sound", "strip1-lead"),
        (("none", "none"), "unsound", None),
    ],
)
def test_an_unfused_lead_is_guarded_by_a_fuse_above_that_is_small_enough(
    bench: Any, desk: Desk, fuses: tuple[str, ...], outcome: str, guard: str | None
) -> None:
    """18 AWG bears 20 A (33 CFR 183.425): a fuse above guards it up to that, whichever of several it is."""
    found = bench.finding(below(desk, *fuses), "fuse-present", "lead")
    assert found.outcome == outcome, found.says
    assert guard is None or f"{guard}'s guards it" in found.says
    assert found.limit is None or found.limit.value == pytest.approx(BEARS)


def test_a_fuse_above_that_nobody_has_looked_at_guards_nothing_yet(bench: Any, desk: Desk) -> None:
    """Whether a lead without a fuse is guarded is unknown while the fuse before it, or its wire, is."""
    hidden = below(desk, "15 A").replace('fuse = "15 A"\n', "")
    assert bench.finding(hidden, "fuse-present", "lead").outcome == "unknown"
    bare = below(desk, "15 A", run_conductor=None)
    assert bench.finding(bare, "fuse-present", "lead").outcome == "unknown"


@pytest.mark.parametrize(("limit", "outcome"), [("20 A", "thin"), ("21 A", "unsound")])
def test_a_supply_that_gives_no_more_than_the_wire_bears_needs_no_fuse(
    bench: Any, desk: Desk, limit: str, outcome: str
) -> None:
    """The exemption holds up to the 20 A that 18 AWG bears, and not above (33 CFR 183.425)."""
    small = {"source_limit": limit, "source_continuous": "15 A", "source_peak": "15 A", "load_transmit": "10 A"}
    assert bench.finding(below(desk, **small), "fuse-present", "lead").outcome == outcome


@pytest.mark.parametrize("fuses", [("15 A", "40 A"), ("40 A", "15 A")])
def test_of_two_fuses_above_the_one_that_opens_first_ends_a_short(
    bench: Any, desk: Desk, fuses: tuple[str, ...]
) -> None:
    """A short through both opens the 15 A and not the 40 A, wherever it stands (ISO 8820-3: time by multiple)."""
    found = bench.finding(below(desk, *fuses), "short-circuit", "lead")
    where = f"strip{fuses.index('15 A')}-lead"
    assert f"the 15 A of {where} opens within" in found.says
    assert found.outcome == "sound"


def test_the_smaller_of_two_fuses_above_is_the_one_to_stay_below(bench: Any, desk: Desk) -> None:
    """A branch of 20 A below 30 A and 15 A: the 15 A may open first, however large the other is (this house)."""
    for fuses in (("30 A", "15 A"), ("15 A", "30 A")):
        found = bench.finding(below(desk, *fuses, run_fuse="20 A"), "fuse-order", "lead")
        assert found.outcome == "thin"
        assert found.limit.value == 15
    assert bench.finding(below(desk, "40 A", "30 A", run_fuse="20 A"), "fuse-order", "lead").outcome == "sound"


FULL = 4 * 3.65
"""The most that four cells of iron phosphate show, fresh from the charger [V] (common practice)."""


@pytest.mark.parametrize(("ohms", "outcome"), [(0.016, "sound"), (0.0125, "thin"), (0.004, "unsound")])
def test_what_a_fuse_can_break(bench: Any, packed: Desk, ohms: float, outcome: str) -> None:
    """A blade fuse of 30 A breaks 1000 A (ISO 8820-3), on a battery of so much resistance (Ohm's law).

    Its own resistance in a short is common practice to count, but no more than thin: four fifths of 125 mV at 30 A are
    3.3 mohm.
    """
    text = packed(source_ohms=f"{ohms} ohm", source_amp_hours="200 Ah", run_fuse_type="medium blade")
    found = bench.finding(text, "fuse-breaking", "lead")
    assert found.outcome == outcome, found.says
    volts = found.figure.value * ohms
    assert 0.97 * FULL <= volts <= FULL + 1e-9
    left = volts / (ohms + 0.8 * 0.125 / 30)
    assert (found.figure.value <= 1000, left <= 1000) == (outcome == "sound", outcome != "unsound")
    assert outcome != "thin" or f"{left:.0f} A with its own resistance counted" in found.says


def test_a_supply_that_limits_its_current_is_not_spared_by_the_resistance_of_a_fuse(bench: Any, desk: Desk) -> None:
    """1100 A is what a regulated supply gives into anything: no resistance of a fuse makes it less (its limit)."""
    assert bench.finding(desk(source_limit="1100 A"), "fuse-breaking", "lead").outcome == "unsound"


SLOW = {"load_transmit": "10 A", "run_fuse": "15 A", "run_fuse_type": "medium blade"}
"""A fuse of 15 A that opens within 5 s at twice its rating (ISO 8820-3, from memory): a short of 30 A."""


@pytest.mark.parametrize(("amps", "unit"), [(30.1, "s"), (31, "s"), (29.9, "A"), (29.5, "A")])
def test_five_seconds_part_a_short_from_an_overload(bench: Any, desk: Desk, amps: float, unit: str) -> None:
    """Within 5 s the insulation's heat decides, in seconds; beyond, the current does (IEC 60364-4-43, from memory).

    The fuse takes 5 s at 2.00 times its rating, the more the less it carries: by 600 s at 1.35 times, 4 to 6 s lie
    between 1.97 and 2.11 times.
    """
    found = bench.finding(desk(**SLOW, source_limit=f"{amps} A"), "short-circuit", "lead")
    assert (found.figure.unit, found.outcome) == (unit, "sound")


@pytest.mark.parametrize(("amps", "outcome"), [(31, "unsound"), (29.5, "thin")])
def test_a_wire_that_does_not_bear_it_is_found_either_way(bench: Any, desk: Desk, amps: float, outcome: str) -> None:
    """22 AWG, 0.3255 mm², k 115: (115 x 0.3255 / 31)² = 1.5 s, less than the fuse takes (IEC 60364-4-43).

    As an overload the same 15 A is more than the 10 A at most that the wire bears (33 CFR 183.425).
    """
    assert (115 * 0.3255 / amps) ** 2 < 2
    text = desk(**SLOW, source_limit=f"{amps} A", run_conductor="22 AWG", load_window="13.8 V ± 60 %")
    assert bench.finding(text, "short-circuit", "lead").outcome == outcome


BRANCH = """
[[load]]
id = "vhf"
class = "vhf-50w"
[[source]]
id = "battery"
part = "lfp-100ah"
[[strip]]
id = "strip"
part = "strip-8"
[[run]]
id = "feed"
from = "battery"
to = "strip"
length = "0.5 m"
conductor = "10 AWG"
insulation = "90 °C"
fuse = "30 A"
fuse_type = "{main}"
contacts = ["ring terminal", "ring terminal"]
[[run]]
id = "lead"
from = "strip"
to = "vhf"
length = "1.5 m"
conductor = "12 AWG"
fuse = "15 A"
fuse_type = "mini blade"
contacts = ["genderless 45 A", "keyed plug"]
"""


@pytest.mark.parametrize(("main", "outcome"), [("battery post", "sound"), ("mini blade", "thin")])
def test_a_branch_fuse_relies_on_a_main_fuse_that_breaks_the_whole_current(bench: Any, main: str, outcome: str) -> None:
    """A lithium battery drives more than a blade fuse breaks; behind a fuse that breaks it, the branch is protected
    (ABYC E-11 asks the breaking capacity at the battery of the main device; a branch device may be lower: from memory).
    """
    finding = bench.finding(BRANCH.format(main=main), "fuse-breaking", "lead")
    assert finding.outcome == outcome
    assert finding.figure.value > finding.limit.value
