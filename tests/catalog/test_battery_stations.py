"""The worked stations on a vehicle, a battery, both sources and the sun: each with its point worked by hand."""

import itertools
import math
from collections.abc import Callable
from typing import Any

import pytest

from catalog.shelf import STATIONS, built_in
from engine.advice.cautions import cautions
from engine.model.endurance import DEPTH, endurance
from engine.planning import plan as planning
from engine.planning.plan import Plan
from engine.rules.wire import allowed_in
from engine.station import profile


class Planned:
    """Worked stations, each planned when first asked for."""

    def __init__(self, worked: Callable[[str], Plan]) -> None:
        self.worked = worked

    def __getitem__(self, name: str) -> Plan:
        return self.worked(name)


@pytest.fixture(scope="session")
def planned(bench: Any) -> Planned:
    """The worked stations, planned."""
    return Planned(bench.worked)


def finding(made: Plan, rule: str, about: str) -> tuple[str, str]:
    """The outcome and the words of one finding."""
    (one,) = (one for one in made.verdict.findings if (one.rule, one.about) == (rule, about))
    return one.outcome, one.says


def test_ferry_lane_lies_in_the_heat_beside_the_engine(planned: Planned) -> None:
    """Beside the engine (85 °C) only insulation well above that is left: 105 °C gives sqrt(20/75) = 0.52 of the table.

    33 CFR 183.425, table 5; nothing of 80 °C or less is chosen there. The lead that came with the set, marked 80 °C,
    begins at a terminal block in the cab (65 °C at most), where its own 15 A fuse guards it.
    """
    (lead,) = planned["ferry-lane"].verdict.case.leads
    assert lead.insulation.celsius > 85
    assert lead.conductor is not None
    hot = lead.pieces[0]
    assert hot.ambient == 85
    table = lead.conductor.ampacity[105]
    assert allowed_in(lead, hot).value == pytest.approx(table * math.sqrt(20 / 75), rel=0.01)
    assert lead.tail is not None and lead.own_fuse is not None and lead.own_fuse.rating == 15


def test_ferry_lane_keeps_the_sensor_counting(planned: Planned) -> None:
    """The negative lands on the body, one fuse is enough; the engine is started first (common practice, no source)."""
    made = planned["ferry-lane"]
    assert finding(made, "vehicle-negative", "mobile-lead")[0] == "sound"
    assert finding(made, "fuse-legs", "mobile-lead")[0] == "sound"
    does = [one.do for one in made.verdict.on]
    assert does.index("start the engine") < does.index("switch on mobile")


def test_ferry_lane_stands_by_for_weeks(planned: Planned) -> None:
    """10 mA out of 15 Ah: 15 / 0.010 / 24 = 62 days (hand calculation)."""
    assert "after 62 days" in finding(planned["ferry-lane"], "vehicle-standby", "car")[1]


def test_heron_tor_hours_by_hand(planned: Planned) -> None:
    """The session on the battery chosen, from Peukert's law on each current, cold and age, agrees within 2 %.

    Keyed mean of voice: 0.6 + 5.4 x sqrt(0.2) = 3.01 A (FCC OET 65 B, 20 %) for a quarter of the time.
    """
    made = planned["heron-tor"]
    (feed,) = made.verdict.case.feeds
    assert feed.cell is not None
    kind = feed.cell.chemistry
    cold = sorted(kind.cold)
    (low, more), (high, less) = next((one, other) for one, other in itertools.pairwise(cold) if one[0] <= 5 <= other[0])
    factor = more + (less - more) * (5 - low) / (high - low)
    capacity = feed.cell.amp_hours * 0.8 / factor
    rated, keyed = capacity / kind.hours, 0.6 + 5.4 * math.sqrt(0.2)
    each = [kind.hours * (rated / amps) ** (kind.peukert.usual if amps > rated else 1) for amps in (0.6, keyed)]
    expected = feed.cell.depth / (0.75 / each[0] + 0.25 / each[1])
    session = endurance(made.verdict.operating, feed)
    assert session is not None
    end = session.end(DEPTH)
    assert end is not None
    assert end.hours == pytest.approx(expected, rel=0.02)
    assert session.ideal == pytest.approx(feed.cell.amp_hours / (0.75 * 0.6 + 0.25 * keyed), rel=0.02)


def test_heron_tor_carries_the_lightest_that_lasts(planned: Planned) -> None:
    """With light preferred, no lighter battery on the shelf lasts four hours within the window (exhaustive)."""
    made = planned["heron-tor"]
    (feed,) = made.verdict.case.feeds
    refused = {one.candidate for one in next(c for c in made.verdict.choices if c.about == "battery.part").refused}
    lighter = [row for row in built_in().batteries.values() if row.kilograms < feed.kilograms]
    assert lighter
    assert refused <= {row.title for row in lighter}
    for row in lighter:
        text = (STATIONS / "heron-tor.toml").read_text(encoding="utf-8")
        given = text.replace('class = "battery"\n', f'class = "battery"\npart = "{row.id}"\n')
        other = planning.plan(profile.read(given, built_in()).station, built_in())
        assert not other.complete or [one for one in other.verdict.findings if one.outcome in ("unsound", "thin")]


def test_cooper_row_is_judged_on_both_sources(planned: Planned) -> None:
    """On the supply and on the battery the set stays in its window; what goes over also charges (common practice)."""
    made = planned["cooper-row"]
    assert [face.case.only for face in made.verdict.faces] == ["supply", "battery"]
    assert made.complete
    assert finding(made, "window-floor", "vhf")[0] == "sound"
    assert finding(made, "battery-kept", "battery")[0] == "sound"
    (battery,) = (one for one in made.verdict.case.feeds if one.id == "battery")
    session = endurance(made.verdict.faces[1], battery)
    assert session is not None
    assert session.hours >= 2


def test_gravel_pit_narrow_set_needs_a_booster(planned: Planned) -> None:
    """A ±10 % set (12.42 V) on lead-acid at half charge (12.2 V rested): too low before anything is drawn.

    Common practice, no source: such a set misbehaves in the evening on solar batteries, and a booster cures it.
    """
    made = planned["gravel-pit"]
    (booster,) = (one for one in made.verdict.case.feeds if one.kind == "booster")
    assert any(note.startswith("a booster holds the volts up") for note in made.notes)
    assert finding(made, "window-floor", "hf")[0] == "sound"
    feed = next(one for one in made.verdict.case.leads if one.end == booster.id)
    into, _ = made.verdict.operating.demand.worst_peak(feed.id)
    assert into == pytest.approx((20 * 13.8 / 0.92 + 0.3 * 12) / 10.5, rel=0.02)


def test_gravel_pit_sun_by_hand(planned: Planned) -> None:
    """The array of SAND87-7023: a day's ampere-hours over 0.98 x 0.90, over the peak sun hours of the worst month.

    3.16 A at 13.8 V on average (1.5 A, and 9.8 A for a fifth) is 43.5 W; over 91 % and 2.4 W idle 50.2 W, from
    a battery at about 12.2 V 4.1 A; four hours are 16.5 Ah. For the other twenty the booster's 2.4 W are about 0.19 A,
    3.8 Ah: 20.3 Ah, and 23 Ah with the losses.
    """
    made = planned["gravel-pit"]
    says = finding(made, "sun-panels", "battery")[1]
    daily = float(says.split(" takes ")[1].split(" Ah")[0])
    assert daily == pytest.approx(23, rel=0.05)
    sun = made.verdict.case.sunlight
    assert sun is not None
    assert sun.watts is not None
    assert sun.controller is not None
    assert "lead-acid" in sun.controller.suits


def test_mill_brow_amplifier_hangs_on_a_battery_of_its_own(planned: Planned) -> None:
    """A second battery beside the amplifier in a vehicle, charged from the alternator (common practice, no source).

    The charger's 40 A, and of the set 2 A and for a fifth of the time 44.7 % of the 18 A more: 43.6 A of the 50 A that
    a heavy alternator leaves over.
    """
    made = planned["mill-brow"]
    source = made.verdict.case.source_of("amp")
    assert source is not None
    assert source.id == "second"
    assert finding(made, "window-floor", "amp")[0] == "sound"
    assert finding(made, "battery-kept", "second")[0] == "sound"
    outcome, says = finding(made, "alternator", "van")
    assert outcome == "sound"
    counted = float(says.split(" draws ")[1].split(" A")[0])
    assert counted == pytest.approx(40 + 2 + 0.2 * math.sqrt(0.2) * 18, abs=0.5)
    assert not [one for one in made.verdict.findings if one.rule == "vehicle-amplifier"]


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("ferry-lane", ("airbags", "start the engine first", "antenna cable", "rings off")),
        ("heron-tor", ("below freezing", "rings off")),
        ("cooper-row", ("below freezing", "earth pin")),
        ("gravel-pit", ("hydrogen", "panel last", "heard on the bands")),
    ],
)
def test_cautions_stand_where_they_matter(planned: Planned, name: str, words: tuple[str, ...]) -> None:
    """Each station carries the cautions of its own parts, and the hill-top day none of the mains (common practice)."""
    verdict = planned[name].verdict
    said = " ".join(one.says for one in cautions(verdict.case, verdict.findings))
    for word in words:
        assert word in said
    if name == "heron-tor":
        assert "earth pin" not in said
        assert "airbag" not in said
