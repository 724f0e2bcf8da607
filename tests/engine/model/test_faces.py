"""A station with a changeover is judged on each source, and the worse answer counts."""

from collections.abc import Callable
from typing import Any

import pytest

from engine.rules import book

LAMP = """
[[run]]
id = "lamp-lead"
from = "mains"
to = "lamp"
length = "1 m"
conductor = "14 AWG"
insulation = "105 °C"
fuse = "5 A"
contacts = ["ring terminal", "bare strands under screw"]
[[load]]
id = "lamp"
class = "lamp"
"""


@pytest.fixture
def text(switched: Callable[..., str]) -> Callable[..., str]:
    """Writes a set behind a changeover, and a lamp that hangs on the supply alone."""

    def write(volts: str = "13.8 V", **changes: Any) -> str:
        return switched("electronic-40", volts, **changes) + LAMP

    return write


def test_there_is_a_face_for_each_source(bench: Any, text: Callable[..., str]) -> None:
    """One of the two feeds the set at a time; what hangs on one alone stays on it (the circuit)."""
    case = bench.check(text()).case
    faces = {one.only: one for one in case.faces}
    assert set(faces) == {"mains", "pack"}
    for name, face in faces.items():
        assert face.source_of("lamp").id == "mains"
        assert face.source_of("hf").id == name
        assert f"{'pack' if name == 'mains' else 'mains'}-way" not in {one.id for one in face.leads}


def test_a_station_without_a_changeover_has_one_face(bench: Any, packed: Callable[..., str]) -> None:
    """Nothing is chosen where there is one source (the circuit)."""
    case = bench.check(packed()).case
    assert case.faces == (case,) and not case.only


def test_the_lowest_volts_are_the_batterys_and_the_highest_the_supplys(bench: Any, text: Callable[..., str]) -> None:
    """A fifth-charged battery shows 12.88 V at rest and less keyed; 13.8 V + 1 % are 13.94 V, 14.6 V a full pack."""
    (terminal,) = (one for one in bench.check(text(volts="15 V")).terminals if one.id == "hf")
    assert terminal.lowest < 4 * 3.22
    assert terminal.highest == pytest.approx(15 * 1.01)


@pytest.mark.parametrize(
    ("volts", "window", "rule", "source"),
    [
        ("13.8 V", "13 to 16 V", "window-floor", "pack"),
        ("15.5 V", "11.5 to 15 V", "window-ceiling", "mains"),
    ],
)
def test_the_worse_source_decides_and_is_named(
    bench: Any, text: Callable[..., str], volts: str, window: str, rule: str, source: str
) -> None:
    """A floor above a discharged battery is broken on it, a ceiling below a high supply on that (comparison)."""
    found = bench.finding(text(volts=volts, load_window=window), rule, "hf")
    assert found.outcome == "unsound" and found.says.startswith(f"on {source}:")


def test_the_worst_of_all_faces_is_what_is_judged(bench: Any, text: Callable[..., str]) -> None:
    """Every finding is one of a face's own, and no face has a worse one (maximum over both)."""
    verdict = bench.check(text(load_window="13 to 16 V"))
    worst: dict[tuple[str, str], int] = {}
    for face in verdict.faces:
        for one in book.judge([face]):
            key = (one.rule, one.about)
            worst[key] = max(worst.get(key, 0), one.severity)
    assert {(one.rule, one.about): one.severity for one in verdict.findings} == worst
    assert max(worst.values()) == 3
