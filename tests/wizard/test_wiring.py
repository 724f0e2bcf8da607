"""The wiring drawing: read back from its SVG, everything of the station stands in it and nothing overlaps."""

from dataclasses import replace
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

import pytest

from catalog.shelf import STATIONS, built_in
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station import profile
from tests.tools.random_stations import station
from wizard.papers.wiring import ROWS, box_lines, drop_text, end_texts, fitted, fuse_text, wire_text, wiring_pages
from wizard.view.scene import Scene

SVG = "{http://www.w3.org/2000/svg}"
WORKED = sorted(path.stem for path in STATIONS.glob("*.toml"))
ADVANCE = 0.6
"""Mean width of a character of a sans-serif face over its height: common practice, no source."""

Box = tuple[float, float, float, float]


def judged(text: str) -> Verdict:
    """The verdict on a station's text."""
    shelf = built_in()
    read = profile.read(text, shelf)
    return checking.check(read.station, shelf, read.choices)


def texts(page: str) -> list[tuple[str, Box]]:
    """Every text of a page, with its box: left, top, right, bottom."""
    found = []
    for one in ElementTree.fromstring(page).iter(f"{SVG}text"):
        ((said, down),) = [(span.text or "", float(span.get("dy", "0"))) for span in one.iter(f"{SVG}tspan")]
        size, left, middle = float(one.get("font-size", "0")), float(one.get("x", "0")), float(one.get("y", "0")) + down
        found.append((said, (left, middle - size / 2, left + len(said) * size * ADVANCE, middle + size / 2)))
    return found


def overlap(first: Box, second: Box) -> bool:
    """Whether two boxes share any room."""
    return first[0] < second[2] and second[0] < first[2] and first[1] < second[3] and second[1] < first[3]


@cache
def worked(name: str) -> Verdict:
    """A worked station as its file stands."""
    return judged((STATIONS / f"{name}.toml").read_text(encoding="utf-8"))


def holds_all(verdict: Verdict) -> None:
    """Everything of a station is written on its pages, and no two labels of a page overlap."""
    pages = [texts(page) for page in wiring_pages(verdict)]
    said = {text for page in pages for text, _ in page}
    scene = Scene(verdict)
    for run in verdict.case.leads:
        assert {fitted(run.id, 26), drop_text(scene, run), fuse_text(run), fitted(wire_text(scene, run), 44)} <= said
        assert {fitted(text, 60) for text in end_texts(run)} <= said
    for part in (*verdict.case.feeds, *verdict.case.draws, *verdict.case.hubs):
        assert fitted(part.id, 31) in said
    for terminal in verdict.terminals:
        assert terminal.window is None or f"accepts {terminal.window[0]:.1f} to {terminal.window[1]:.1f} V" in said
        assert terminal.lowest is None or f"{terminal.lowest:.2f} V at worst" in said
    for page in pages:
        clashes = [(a[0], b[0]) for a, b in combinations(page, 2) if overlap(a[1], b[1])]
        assert clashes == []


@pytest.mark.parametrize("name", WORKED)
def test_a_worked_station_is_drawn_whole(name: str) -> None:
    """Every run, fuse, contact, strip, source and load of it."""
    holds_all(worked(name))


@pytest.mark.parametrize("seed", range(20))
def test_a_random_station_is_drawn_whole(seed: int) -> None:
    """Gaps and all: two of every sort of random station."""
    holds_all(judged(station(seed)))


def many(loads: int, name: str = "n") -> str:
    """A station with many loads on one supply."""
    lines = ["format = 1", 'name = "many"']
    for number in range(loads):
        lines += ["[[load]]", f"id = '{name}{number}'", 'class = "lamp"']
    lines += ["[[source]]", 'id = "psu"']
    for number in range(loads):
        lines += ["[[run]]", f"id = 'lead{number}'", "from = 'psu'", f"to = '{name}{number}'", 'length = "2 m"']
    return "\n".join(lines)


@pytest.mark.parametrize(("loads", "pages"), [(10, 1), (ROWS, 1), (30, 2)])
def test_ten_loads_fit_one_page_and_thirty_two(loads: int, pages: int) -> None:
    """The supply is named on both."""
    verdict = judged(many(loads))
    holds_all(verdict)
    drawn = wiring_pages(verdict)
    assert len(drawn) == pages
    assert all("psu" in {text for text, _ in texts(page)} for page in drawn)


def test_a_fuse_symbol_stands_for_each_fuse() -> None:
    """The body of a fuse is the one path that is taken up again for its second wire."""
    verdict = worked("harbour-street")
    fused = sum(bool(run.fuse_rating) * (2 if run.fuse_legs == "both" else 1) for run in verdict.case.leads)
    paths = [one for page in wiring_pages(verdict) for one in ElementTree.fromstring(page).iter(f"{SVG}path")]
    shapes = [one for one in paths if (one.get("d") or "").count("M") == 2]
    assert len(shapes) == fused


@pytest.mark.parametrize(
    "hostile", ["<script>alert(1)</script>", "$x_1$ $y_2$", "a & b &amp; <b>c</b>", "a_1^{2}", "שלום", "x" * 60]
)
def test_hostile_names_stay_text(hostile: str) -> None:
    """No tag, no formula, no room taken from others."""
    verdict = worked("harbour-street")
    draws = tuple(replace(one, title=hostile) for one in verdict.case.draws)
    altered = replace(verdict, case=replace(verdict.case, draws=draws))
    page = wiring_pages(altered)[0]
    assert {*box_lines(("n", hostile))[1:]} <= {said for said, _ in texts(page)}
    assert ElementTree.fromstring(page).find(f".//{SVG}script") is None
    holds_all(altered)
