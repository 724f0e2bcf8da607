"""What is not known on the way is said, and never passes for sound."""

from collections.abc import Callable
from typing import Any

import pytest

Desk = Callable[..., str]

TRUNK = """
[[strip]]
id = "strip"
part = "strip-8"
[[run]]
id = "trunk"
from = "psu"
to = "strip"
length = "{length}"
conductor = "8 AWG"
insulation = "105 °C"
fuse = "30 A"
contacts = ["ring terminal", "ring terminal"]
"""
NO_LEAD = {f"run_{key}": None for key in ["id", "from", "to", "length", "conductor", "insulation", "fuse", "contacts"]}


def below(desk: Desk, without: str = "", length: str = "0.5 m", **changes: Any) -> str:
    """The desk's radio below a strip, whose own lead lacks one line."""
    lines = TRUNK.format(length=length).splitlines()
    assert not without or any(one.startswith(f"{without} =") for one in lines)
    trunk = "\n".join(one for one in lines if not without or not one.startswith(f"{without} ="))
    return desk(**({"run_from": "strip"} | changes)) + trunk


@pytest.mark.parametrize(
    ("changes", "gap"),
    [
        ({"load_window": None}, "voltage window of hf"),
        ({"source_continuous": None, "source_peak": None}, "source of hf"),
        ({"run_conductor": None}, "conductor of lead"),
        ({"run_fuse": None}, "fuse of lead"),
        ({"run_contacts": None}, "contacts of lead"),
    ],
)
def test_the_volts_are_unknown_while_something_on_the_way_is(bench: Any, desk: Desk, changes: Any, gap: str) -> None:
    """The floor is unknown for each gap alone, and names it; the rest of the station is sound (this house)."""
    verb = "are" if gap.startswith("contacts") else "is"
    found = bench.finding(desk(**changes), "window-floor", "hf")
    assert found.outcome == "unknown"
    assert found.says == f"the {gap} {verb} not known"
    assert bench.finding(desk(), "window-floor", "hf").outcome == "sound"


def test_a_load_without_a_lead_is_not_passed_over(bench: Any, desk: Desk) -> None:
    """No lead described: the volts at the load are unknown, and so is the station (this house)."""
    verdict = bench.check(desk(**NO_LEAD))
    assert bench.only(verdict, "window-floor", "hf").says == "no lead to hf is described"
    assert bench.only(verdict, "described", "hf").outcome == verdict.outcome == "unknown"


@pytest.mark.parametrize("missing", ["conductor", "fuse", "contacts"])
def test_a_gap_before_the_strip_counts_as_much_as_one_behind_it(bench: Any, desk: Desk, missing: str) -> None:
    """The way is as well known as its least known part, wherever that lies (this house)."""
    found = bench.finding(below(desk, without=missing), "window-floor", "hf")
    verb = "are" if missing == "contacts" else "is"
    assert (found.outcome, found.says) == ("unknown", f"the {missing} of trunk {verb} not known")
    behind = bench.finding(below(desk, **{f"run_{missing}": None}), "window-floor", "hf")
    assert (behind.outcome, behind.says) == ("unknown", f"the {missing} of lead {verb} not known")
    assert bench.finding(below(desk), "window-floor", "hf").outcome == "sound"


def test_a_gap_does_not_hide_what_is_too_little_already(bench: Any, desk: Desk) -> None:
    """15 m of 10 AWG starve the radio whatever its contacts add (Ohm's law): unsound, not unknown."""
    found = bench.finding(desk(run_length="15 m", run_contacts=None), "window-floor", "hf")
    assert found.outcome == "unsound" and found.figure.value < found.limit.value


def test_volts_that_collapse_beside_a_gap_are_unknown_and_not_left_out(bench: Any, desk: Desk) -> None:
    """A converter beyond what its lead can carry has no volts; with a gap on its way that is said (circuit law)."""
    weak = {"load_follows": "steady power", "run_conductor": "22 AWG", "run_length": "3 m"}
    assert "window-floor" not in {one.rule for one in bench.check(desk(**weak)).findings}
    verdict = bench.check(desk(**weak, run_contacts=None))
    assert bench.only(verdict, "fed", "station").outcome == "unsound"
    assert bench.only(verdict, "window-floor", "hf").says == "the contacts of lead are not known"


def test_a_window_that_is_not_known_has_no_ceiling(bench: Any, desk: Desk) -> None:
    """What a load accepts is not guessed: without its window there is no finding about its ceiling (this house)."""
    assert "window-ceiling" not in {one.rule for one in bench.check(desk(load_window=None)).findings}


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        (lambda desk: desk(), "sound"),
        (lambda desk: desk(run_conductor=None), None),
        (lambda desk: desk(run_contacts=None), None),
        (lambda desk: below(desk), "sound"),
        (lambda desk: below(desk, without="conductor"), None),
        (lambda desk: below(desk, without="contacts"), None),
        (lambda desk: desk(run_length="4 m", run_contacts=None), "thin"),
        (lambda desk: desk(run_length="12 m", run_contacts=None), "unsound"),
        (lambda desk: below(desk, without="contacts", length="6 m"), "thin"),
    ],
)
def test_a_small_loss_with_gaps_is_no_good_news_and_a_large_one_is_bad_news(
    bench: Any, desk: Desk, text: Callable[[Desk], str], outcome: str | None
) -> None:
    """What is lost so far is the least: too much of it is found, little of it is not called sound (Ohm's law)."""
    drops = [one.outcome for one in bench.check(text(desk)).findings if (one.rule, one.about) == ("drop", "hf")]
    assert drops == ([outcome] if outcome else [])


def test_an_unknown_conductor_is_asked_for(bench: Any, desk: Desk) -> None:
    """How warm a wire of unknown size gets is unknown; the print on the cable tells its size (this house)."""
    for text, lead in ((desk(run_conductor=None), "lead"), (below(desk, without="conductor"), "trunk")):
        found = bench.finding(text, "ampacity", lead)
        assert found.outcome == "unknown" and f"conductor of {lead} is not known" in found.says


def rules_of(bench: Any, text: str, about: str) -> dict[str, str]:
    """The outcomes of what was found about a part."""
    return {one.rule: one.outcome for one in bench.check(text).findings if one.about == about}


def test_a_short_is_not_said_to_burn_what_may_be_fused(bench: Any, desk: Desk) -> None:
    """With a large source, and a fuse that is unknown or of no known family, nothing is said of a short (this house).

    Without any fuse on the way nothing opens: that is unsound.
    """
    strong = {"source_limit": "300 A", "run_conductor": "18 AWG"}
    assert rules_of(bench, desk(**strong, run_fuse="none"), "lead")["short-circuit"] == "unsound"
    unseen = rules_of(bench, desk(**strong, run_fuse=None), "lead")
    assert "short-circuit" not in unseen and unseen["fuse-present"] == "unknown"
    above = rules_of(bench, below(desk, without="fuse", **strong, run_fuse="none"), "lead")
    assert "short-circuit" not in above and above["fuse-present"] == "unknown"
    odd = rules_of(bench, desk(**strong, run_fuse="22 A"), "lead")
    assert "short-circuit" not in odd and odd["fuse-made"] == "unknown"
    unrated = rules_of(bench, desk(source_continuous=None, source_peak=None, source_limit=None), "lead")
    assert "short-circuit" not in unrated
