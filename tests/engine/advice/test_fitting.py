"""What to do with the leads and knobs of a plan: which end gets what, where the negative of a vehicle goes and why.

All of it is common practice, no source, but for NCVEC T4A11 (where the negative of a vehicle's radio goes).
"""

from typing import Any

import pytest

from engine.advice.fitting import fitting

DESK = """
use = "fixed"
[site]
mains = "120 V"
wire = "AWG"
[[load]]
id = "hf"
class = "hf-100w"
"""
CAR = """
use = "mobile"
[site]
wire = "AWG"
[[load]]
id = "vhf"
class = "vhf-50w"
[[source]]
id = "car"
class = "vehicle"
part = "car"
engine = "running"
{more}
"""
LED = '[[run]]\nid = "lead"\nfrom = "car"\nto = "vhf"\nnegative = "{negative}"\n'


def said(made: Any) -> str:
    """What to do, as one text."""
    return "\n".join(fitting(made.verdict.operating))


def test_a_supplied_lead_is_shortened_crimped_and_keeps_its_fuse(bench: Any) -> None:
    """3 m in the box and 1.5 m of way; left long it loses 20 A x 3 m x 5.315 mohm/m = 0.32 V more (Ohm's law)."""
    text = said(bench.plan(DESK))
    assert "shorten it to 1.50 m" in text and "loses 0.3 V more" in text
    assert "never solder strands under a screw" in text
    assert "25 A fuse sits within 0.18 m of supply" in text


def test_a_knob_that_the_plan_counts_on_is_to_be_locked(bench: Any) -> None:
    """A supply with a knob is bought on the condition that it is locked: it stands beside it and in what to do."""
    source = '[[source]]\nid = "supply"\npart = "switch-60-adjustable"\nlocked = true\n'
    made = bench.plan(DESK + source)
    (feed,) = made.verdict.case.feeds
    assert feed.locked
    assert "lock or cover its knob" in said(made)
    assert "its knob locked or covered" in next(one.what for one in made.verdict.items if one.about == "supply")


@pytest.mark.parametrize(
    ("negative", "does", "why"),
    [
        ("body near the battery bond", "bare metal of the body", "no starting current"),
        ("battery post", "fuse", "bond fails"),
    ],
)
def test_the_negative_of_a_vehicle_is_a_thing_to_do(bench: Any, negative: str, does: str, why: str) -> None:
    """Where it goes, and why, stands in the plan."""
    text = said(bench.plan(CAR.format(more=LED.format(negative=negative))))
    assert "negative" in text and does in text and why in text and "maker" in text


def test_a_vehicle_has_a_cabin_and_a_bonnet(bench: Any) -> None:
    """Nobody said how hot it is: a closed cabin in the sun and an engine, not a heated room."""
    made = bench.plan(CAR.format(more=""))
    assumed = {one.about: one for one in made.verdict.assumptions}
    assert "cabin" in assumed["site.hottest"].basis and "cabin" in assumed["site.coldest"].basis
    assert made.verdict.case.place.hottest == 60 and made.verdict.case.into["vhf"].engine_celsius == 85


def test_no_note_about_walls_in_a_car(bench: Any) -> None:
    """An electrician has nothing to say of a car."""
    from wizard.papers.note import note_lines

    text = "\n".join(note_lines(bench.plan(CAR.format(more="")).verdict, bench.shelf))
    assert "nothing to ask" in text
    assert "outlet" not in text and "breaker" not in text
