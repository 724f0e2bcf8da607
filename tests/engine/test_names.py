"""Any name that a file may give a part can stand in a formula."""

from typing import Any

import pytest

from engine.fields import NAME


@pytest.mark.parametrize("name", ["2m", "70cm-rig", "for", "class", "None", "²x", "ﬁeld", "søn", "max", "hf_1"])
def test_a_part_of_any_name_is_judged_and_shows_its_working(bench: Any, desk: Any, name: str) -> None:
    """A name that a file may hold never breaks the arithmetic: the floor is worked out to the same figure."""
    NAME.read(name)
    plain = bench.check(desk())
    named = bench.check(desk(load_id=name, run_to=name, run_id=f"{name}-x"))
    for rule, about in (("window-floor", (name, "hf")), ("ampacity", (f"{name}-x", "lead")), ("supply-peak", None)):
        mine, its = about or ("psu", "psu")
        found, wanted = bench.only(named, rule, mine), bench.only(plain, rule, its)
        assert found.figure.value == wanted.figure.value
        assert len(found.figure.working()) == len(wanted.figure.working())


def test_two_names_that_differ_only_by_a_hyphen_are_two_terms(bench: Any, desk: Any) -> None:
    """20 A of one and 3 A of the other are 23 A at once, not twice either (arithmetic)."""
    more = '[[load]]\nid = "hf_a"\nwindow = "13.8 V ± 15 %"\nreceive = "3 A"\nfollows = "steady current"\n'
    more += '[[run]]\nid = "other"\nfrom = "psu"\nto = "hf_a"\nlength = "1 m"\n'
    verdict = bench.check(desk(load_id="hf-a", run_to="hf-a") + "\n" + more)
    assert bench.only(verdict, "supply-peak", "psu").figure.value == pytest.approx(23.0)
