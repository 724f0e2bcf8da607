"""Loads that are keyed in turns: one mean of the whole station, for hours, sun, alternator and heat."""

import random
from dataclasses import dataclass, replace
from typing import Any

import pytest

from engine.model.case import Feed
from engine.model.endurance import DEPTH, endurance, mean_amps
from engine.model.operating import Demand, Operating
from engine.model.turns import airtime, heating_amps, station_airtime, turns
from engine.parts import Shelf
from engine.physics import cells
from engine.rules import check as checking
from engine.rules import sun
from engine.station import profile

VHF = {"id": "vhf", "receive": "0.5 A", "transmit": "12 A", "mode": "fm", "keyed": "50 %"}
HF = {"id": "hf", "receive": "1.5 A", "transmit": "22 A", "mode": "carrier", "keyed": "5 %"}
BATTERY = """
[[source]]
id = "pack"
class = "battery"
chemistry = "lfp"
amp_hours = "100 Ah"
continuous = "100 A"
temperature = "25 °C"
health = "100 %"
depth = "100 %"
"""
SUN = """charged_by = "sun"
charger = "solar-20-mppt"
[sun]
hours = "3 h"
operating = "4 h"
controller = "solar-20-mppt"
"""
RUN = """
[[run]]
id = "{id}-lead"
from = "pack"
to = "{id}"
length = "1 m"
conductor = "6 AWG"
insulation = "105 °C"
fuse = "40 A"
contacts = ["ring terminal", "ring terminal"]
"""


def load(window: str = "9 to 16 V", **row: str) -> str:
    """A load with its lead."""
    lines = [f'{key} = "{value}"' for key, value in ({"window": window} | row).items()]
    return "\n".join(["[[load]]", *lines, RUN.format(id=row["id"])])


def station(*loads: dict[str, str], top: str = "", more: str = "") -> str:
    """A station file on one battery."""
    return f"{top}\n{BATTERY}{more}" + "\n".join(load(**one) for one in loads)


def lasts(bench: Any, text: str, name: str = DEPTH) -> float:
    """Hours until one thing would end the session."""
    verdict = bench.check(text)
    session = endurance(verdict.operating, verdict.case.feeds[0])
    assert session is not None
    end = session.end(name)
    assert end is not None
    return end.hours


def test_a_second_radio_shortens_the_session(bench: Any) -> None:
    """By hand: 0.5 A and 12 A in halves are 6.25 A, so 100 Ah are 16 h; with 1.5 A and 5 % of 22 A, 8.775 A and 11.4 h.

    The rating of 5 h is 20 A, so that only the 22 A and the 1.5 A beside the 12 A could meet Peukert's law: 23 A for 5
    % of the time counts (23/20)^0.05 - 1 = 0.7 % of that more. Taking the hungriest as the only one that transmits
    would give 3.025 A and 33 h.
    """
    assert lasts(bench, station(VHF)) == pytest.approx(100 / 6.25, rel=1e-6)
    both = 0.45 * (0.5 + 1.5) + 0.5 * (12 + 1.5) + 0.05 * (22 + 0.5)
    assert both == pytest.approx(8.775)
    assert lasts(bench, station(VHF, HF)) == pytest.approx(100 / both, rel=0.001)


def test_the_sun_must_bring_back_what_both_take(bench: Any) -> None:
    """By hand (SAND87-7023): four hours at the mean of all turns over 0.98 and 0.90."""

    def need(*loads: dict[str, str]) -> float:
        verdict = bench.check(station(*loads, more=SUN))
        (feed,), light = verdict.case.feeds, verdict.case.sunlight
        return sun.need(verdict.operating, feed, light).value

    assert need(VHF) == pytest.approx(4 * 6.25 / 0.98 / 0.9)
    assert need(VHF, HF) == pytest.approx(4 * 8.775 / 0.98 / 0.9)
    assert need(VHF, HF | {"rest": "0.2 A"}) == pytest.approx((4 * 8.775 + 20 * 0.2) / 0.98 / 0.9)


def test_what_stays_on_draws_for_all_of_the_day(bench: Any) -> None:
    """By hand: 0.5 A of a node that stays on for the twenty hours beside the four are 10 Ah more."""
    node = {"id": "node", "receive": "0.5 A", "follows": "steady current"}

    def need(more: str) -> float:
        text = station(VHF, node, more=SUN).replace('id = "node"', f'id = "node"\n{more}', 1)
        verdict = bench.check(text)
        (feed,), light = verdict.case.feeds, verdict.case.sunlight
        return sun.need(verdict.operating, feed, light).value

    assert need("always_on = true") - need("") == pytest.approx(20 * 0.5 / 0.98 / 0.9)


def test_those_keyed_together_share_their_time(bench: Any) -> None:
    """8 % of three sets at once leave 92 % for listening, one after the other 76 % (arithmetic)."""
    sets = [VHF | {"id": name, "keyed": "8 %"} for name in ("r1", "r2", "r3")]

    def listening(top: str) -> float:
        verdict = bench.check(station(*sets, top=top))
        first = turns(verdict.operating.demand, "pack")[0]
        assert not first.state.is_keyed
        return first.share

    assert listening('keyed_together = [["r1", "r2", "r3"]]') == pytest.approx(0.92)
    assert listening("") == pytest.approx(0.76)


def test_a_longer_one_of_a_group_goes_on_alone() -> None:
    """30 % and 20 % at once: both for 20 %, the longer alone for 10 % (arithmetic)."""
    found = airtime({"a": 0.3, "b": 0.2, "c": 0.4}, [frozenset("ab"), frozenset("bc")])
    assert found == pytest.approx({frozenset("ab"): 0.2, frozenset("a"): 0.1, frozenset("c"): 0.4})


def test_one_operator_where_nobody_says_more(bench: Any) -> None:
    """Half the time keyed is that of the set that draws most, and the others listen (this house's convention)."""
    sets = [VHF | {"id": name, "transmit": amps} for name, amps in (("a", "10 A"), ("b", "12 A"), ("c", "5 A"))]
    for one in sets:
        del one["keyed"]
    verdict = bench.check(station(*sets))
    assert station_airtime(verdict.operating.demand) == {frozenset("b"): 0.5}
    assert {one.about: one.value for one in verdict.assumptions if one.about.endswith(".keyed")} == {
        "a.keyed": "0 %", "b.keyed": "50 %", "c.keyed": "0 %",
    }  # fmt: skip
    sets[0]["keyed"] = "70 %"
    rest = bench.check(station(*sets)).operating.demand
    assert station_airtime(rest) == pytest.approx({frozenset("a"): 0.7, frozenset("b"): 0.3})


def test_shares_beyond_the_hour_are_told_and_count_in_full(bench: Any) -> None:
    """70 % and 60 % are more than the whole time: it is said which, and nothing grows better for it."""
    many = [VHF | {"keyed": "70 %"}, HF | {"keyed": "60 %"}]
    (found,) = (one for one in bench.check(station(*many)).findings if one.rule == "turns")
    assert found.outcome == "thin" and "130 %" in found.says and "vhf 70 %" in found.says
    assert lasts(bench, station(*many)) < lasts(bench, station(many[0], HF | {"keyed": "30 %"}))
    grouped = bench.check(station(*many, top='keyed_together = [["vhf", "hf"]]'))
    assert not [one for one in grouped.findings if one.rule == "turns"]


def test_a_narrow_window_counts_though_another_set_draws_more(bench: Any) -> None:
    """The set on the long thin lead falls below its floor though the hungrier one does not (Ohm's law)."""
    narrow = load("12.9 to 15.5 V", **(VHF | {"keyed": "1 %"})).replace("1 m", "4 m").replace("6 AWG", "14 AWG")
    verdict = bench.check(f"{BATTERY}{narrow}\n" + load(**HF))
    session = endurance(verdict.operating, verdict.case.feeds[0])
    assert session is not None
    assert session.first.name == "floor" and session.load == "vhf" and session.state.keyed == {"vhf"}


# -- random stations


@dataclass(frozen=True)
class Trial:
    """A battery and some loads."""

    loads: tuple[dict[str, str], ...]
    battery: str
    top: str = ""

    def operating(self, shelf: Shelf) -> tuple[Operating, Feed]:
        """The station made whole, with its battery."""
        text = f'format = 1\nname = "random"\n{self.top}\n{self.battery}' + "\n".join(load(**one) for one in self.loads)
        verdict = checking.check(profile.read(text, shelf).station, shelf)
        return verdict.operating, verdict.case.feeds[0]


MODES = ("ssb", "ssb processed", "cw", "fm", "digital")


def random_load(dice: random.Random, number: int) -> dict[str, str]:
    """A set that is keyed, or something that only draws."""
    idle = dice.uniform(0.1, 2)
    row = {"id": f"n{number}", "receive": f"{idle:.2f} A", "rest": f"{dice.choice([0, 0.01, 0.2]):g} A",
           "follows": dice.choice(["steady current", "steady power", "resistive"])}  # fmt: skip
    if dice.random() < 0.8:
        row |= {"transmit": f"{idle + dice.uniform(1, 20):.2f} A", "mode": dice.choice(MODES)}
        row["keyed"] = f"{dice.choice([1, 5, 10, 20, 30])} %"
    return row


def random_trial(seed: int) -> Trial:
    """Two to four loads on a battery of any kind, warm or cold, full or not."""
    dice = random.Random(seed)
    loads = tuple(random_load(dice, number) for number in range(dice.choice([2, 3, 4])))
    kind = dice.choice(["lfp", "agm", "flooded", "gel", "li-ion-4"])
    battery = f"""
[[source]]
id = "pack"
class = "battery"
chemistry = "{kind}"
amp_hours = "{dice.choice([40, 75, 120, 200])} Ah"
continuous = "150 A"
temperature = "{dice.choice([-5, 10, 25])} °C"
health = "{dice.choice([80, 100])} %"
charge = "{dice.choice([80, 100])} %"
charged_by = "sun"
charger = "solar-20-mppt"
[sun]
hours = "3 h"
operating = "4 h"
"""
    keyed = [f'"{one["id"]}"' for one in loads if "keyed" in one]
    together = dice.random() < 0.3 and len(keyed) > 1
    return Trial(loads, battery, f"keyed_together = [[{', '.join(keyed[:2])}]]" if together else "")


def raised(row: dict[str, str], key: str, factor: float) -> dict[str, str]:
    """A load with one figure raised."""
    number, unit = row[key].split()
    return row | {key: f"{float(number) * factor:.3f} {unit}"}


def harder(trial: Trial, dice: random.Random) -> list[Trial]:
    """The same station with more to carry: another load, a larger share, a larger draw."""
    (first, *others), more = trial.loads, random_load(dice, 9)
    changed = [(first, *others, more), (raised(first, "receive", 1.05), *others)]
    if "keyed" in first:
        changed += [(raised(first, "keyed", 1.3), *others), (raised(first, "transmit", 1.2), *others)]
    return [replace(trial, loads=loads) for loads in changed]


@pytest.mark.heavy(usual=40, full=300)
def test_more_to_carry_never_lasts_longer_nor_wants_less_sun(seed: int, shelf: Shelf) -> None:
    """Another load, a larger share or draw: no more hours, no smaller need, no less heating (common sense)."""
    trial = random_trial(seed)
    operating, feed = trial.operating(shelf)
    for other in harder(trial, random.Random(seed + 1)):
        heavier, same = other.operating(shelf)
        before, after = endurance(operating, feed), endurance(heavier, same)
        assert before is not None and after is not None
        assert after.hours <= before.hours * (1 + 1e-9) + 1e-9
        assert mean_amps(heavier, same) >= mean_amps(operating, feed) * (1 - 1e-9)
        assert heating_amps(heavier.demand, "pack") >= heating_amps(operating.demand, "pack") * (1 - 1e-9)
        light = operating.case.sunlight
        assert light is not None
        assert sun.need(heavier, same, light).value >= sun.need(operating, feed, light).value * (1 - 1e-9)


STEPS = 400
"""Rounds of turns in a session that draws 20 A."""


def simulated(demand: Demand, feed: Feed) -> float:
    """Hours until the depth, in small steps with the states taken in turn: Ohm's and Peukert's laws, and nothing more.

    Each load hangs on a lead of its own and draws a steady current, so that the battery gives their sum; within an over
    of voice its current stands at the mean of its envelope, within one of Morse it is full or nothing.
    """
    cell = feed.cell
    assert cell is not None
    capacity = cells.capacity(cell.chemistry, cell.amp_hours, cell.celsius, cell.health)
    used, hours = 0.0, 0.0
    round_hours = cell.depth * capacity / (STEPS * 20)
    while True:
        for turn in turns(demand, feed.id):
            amps = sum(mean_of(demand, one.id, turn.state.keyed) for one in demand.fed_by(feed.id))
            rate = 1 / cells.hours_to_empty(capacity, cell.chemistry.hours, amps, cell.chemistry.peukert.usual)
            step = turn.share * round_hours
            if used + rate * step >= cell.depth:
                return hours + (cell.depth - used) / rate
            used, hours = used + rate * step, hours + step


def mean_of(demand: Demand, name: str, keyed: frozenset[str]) -> float:
    """The mean current [A] of one load in a turn, from its own figures."""
    (draw,) = (one for one in demand.draws if one.id == name)
    if name not in keyed or draw.transmit is None:
        return draw.receive.usual
    mode = draw.mode
    mean = mode.duty if mode.on_off or mode.duty == 1 else mode.duty**0.5
    return draw.receive.usual + mean * (draw.transmit.usual - draw.receive.usual)


@pytest.mark.heavy(usual=60, full=500)
def test_states_taken_in_turn_give_the_same_hours(seed: int, shelf: Shelf) -> None:
    """Within 1 % of a simulation in small steps of time (Peukert's law on each current while it flows)."""
    trial = random_trial(seed)
    steady = tuple(one | {"follows": "steady current"} for one in trial.loads)
    operating, feed = replace(trial, loads=steady).operating(shelf)
    session = endurance(operating, feed)
    assert session is not None
    depth = session.end(DEPTH)
    assert depth is not None
    assert depth.hours == pytest.approx(simulated(operating.demand, feed), rel=0.01)
