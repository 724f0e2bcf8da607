"""What an assumed value decides is unknown, not unsound: it says from which value on it holds, and where to look."""

from typing import Any

import pytest

CAR = """
use = "mobile"
[site]
wire = "AWG"
[[load]]
id = "hf"
class = "hf-100w"
transmit = "20 A"
{window}
[[source]]
id = "car"
class = "vehicle"
part = "car"
engine = "running"
"""


@pytest.mark.parametrize("rule", ["ampacity", "fuse-guards"])
def test_insulation_that_nobody_read_is_looked_up(bench: Any, desk: Any, rule: str) -> None:
    """16 AWG bears 15 A at 60 °C, 25 A at 105 °C (33 CFR 183.425, table 5): 20 A and a 25 A fuse turn on it."""
    thin = {"run_conductor": "16 AWG", "load_mode": "carrier", "run_insulation": None}
    asked = bench.finding(desk(**thin), rule, "lead")
    assert asked.outcome == "unknown" and asked.turns_on == ("lead.insulation",)
    assert "unsound if lead.insulation is for 60 °C" in asked.says and "read the print" in asked.says
    assert bench.finding(desk(**(thin | {"run_insulation": "60 °C"})), rule, "lead").outcome == "unsound"


def test_it_says_from_which_insulation_on_it_holds(bench: Any, desk: Any) -> None:
    """16 AWG bears 15 A at 60 and 75 °C and 20 A at 80 °C in air of 30 °C (33 CFR 183.425, table 5)."""
    thin = {"run_conductor": "16 AWG", "load_mode": "carrier", "run_insulation": None}
    assert "sound from 80 °C" in bench.finding(desk(**thin), "ampacity", "lead").says


def test_what_no_answer_could_mend_stays_unsound(bench: Any, desk: Any) -> None:
    """20 A in 22 AWG burns with any insulation that nobody read; no fuse is no fuse."""
    for changes, rule in (({"run_conductor": "22 AWG"}, "ampacity"), ({"run_fuse": "none"}, "fuse-present")):
        bad = desk(**changes, load_mode="carrier", run_insulation=None, source_limit="100 A")
        assert bench.finding(bad, rule, "lead").outcome == "unsound"


def test_an_assumed_window_accuses_nobody(bench: Any) -> None:
    """A running car charges at up to 15.2 V; a window of 13.8 V ± 10 % ends at 15.18 V, of ± 15 % at 15.87 V."""
    made = bench.plan(CAR.format(window=""))
    asked = bench.only(made.verdict, "window-ceiling", "hf")
    assert asked.outcome == "unknown" and "11.73 to 15.87 V" in asked.says
    stated = bench.plan(CAR.format(window='window = "13.8 V ± 10 %"'))
    assert bench.only(stated.verdict, "window-ceiling", "hf").outcome == "unsound"


def test_several_worst_cases_are_not_stacked_into_an_accusation(bench: Any) -> None:
    """23 A and 13 A at once are each the most of their class; 20 A and 11.5 A are usual: 31.5 A, of 32 A."""
    text = """
    keyed_together = [["hf", "vhf"]]
    [[load]]
    id = "hf"
    class = "hf-100w"
    [[load]]
    id = "vhf"
    class = "vhf-50w"
    [[source]]
    id = "psu"
    volts = "13.8 V"
    continuous = "32 A"
    peak = "32 A"
    [[run]]
    id = "one"
    from = "psu"
    to = "hf"
    [[run]]
    id = "other"
    from = "psu"
    to = "vhf"
    """
    asked = bench.finding(text, "supply-peak", "psu")
    assert asked.outcome == "unknown" and asked.turns_on == ("hf.transmit", "vhf.transmit")
    assert "only if" in asked.says


def test_the_first_line_says_what_is_dear_only_because_of_an_assumption(bench: Any) -> None:
    """Thick cable that only the narrow window asks for: its price, and what to answer."""
    first = bench.plan(CAR.format(window="")).notes[0]
    assert first.startswith("hf-lead (") and "was assumed for hf" in first and "11.73 to 15.87 V" in first
    told = bench.plan(CAR.format(window='window = "13.8 V ± 15 %"')).notes
    assert not [one for one in told if "assumed" in one]


def test_the_unknown_tail_of_a_lengthened_lead_is_measured(bench: Any, desk: Any) -> None:
    """Half of 6 m is taken for a thin last piece whose length nobody gave: with 0.3 m of it all is well (Ohm's law)."""
    long = desk(run_length="6 m", run_conductor="6 AWG", run_tail="18 AWG", run_contacts=["heavy lug", "keyed plug"])
    found = [one for one in bench.check(long).findings if one.turns_on]
    assert any(one.turns_on == ("lead.tail_length",) and "measure that piece" in one.says for one in found)
