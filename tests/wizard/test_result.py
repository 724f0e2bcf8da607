"""The result: sections and drawing answer the mouse, and what is sound is folded into one line."""

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from engine.findings import SOUND
from wizard import store
from wizard.interview.opening import from_file
from wizard.interview.session import JUDGE, PLAN
from wizard.screens.app import ShackrailApp
from wizard.screens.result import SECTIONS, Result
from wizard.screens.widgets.drawn import Drawn
from wizard.view.frame import part_at
from wizard.view.span import plain_text, width_of

from .test_screens import settle


async def shown(pilot: Pilot[str], station: str, mode: str) -> Result:
    """The result of a worked station."""
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    app.go_on(from_file(store.worked()[station], app.shelf, mode))
    await settle(pilot)
    assert isinstance(app.screen, Result)
    return app.screen


async def point(pilot: Pilot[str], id_: str, part: str) -> None:
    """Click on a part of a drawing."""
    drawn = pilot.app.screen.query_one(id_, Drawn)
    places = [(x, y) for y, line in enumerate(drawn.lines) for x in range(width_of(line)) if part_at(line, x) == part]
    gutter = drawn.content_region.offset - drawn.region.offset
    await pilot.click(id_, offset=(places[0][0] + gutter.x, places[0][1] + gutter.y))
    await settle(pilot)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_mouse_turns_the_sections_and_the_drawing_is_an_index(size: tuple[int, int]) -> None:
    """A click on a section shows it; one on a lead leads to what is bought for it, which then stands out."""
    app = ShackrailApp(debounce=3600.0)
    async with app.run_test(size=size) as pilot:
        screen = await shown(pilot, "harbour-street", PLAN)
        sections = screen.query_one("#sections", Drawn)
        assert plain_text(sections.lines[0]).startswith("[1 Buy]")
        assert width_of(sections.lines[0]) <= size[0] - 2
        await point(pilot, "#sections", str(SECTIONS.index("Order")))
        assert screen.lines[0].title.startswith("on 1: ")
        await point(pilot, "#drawing", "vhf-lead")
        listed = screen.query_one("#lines", OptionList)
        assert screen.section == 0 and listed.highlighted is not None
        assert screen.lines[listed.highlighted].part == "vhf-lead"
        drawing = screen.query_one("#drawing", Drawn)
        assert any("reverse" in str(span.style) for span in drawing.content.spans)
        await point(pilot, "#drawing", "vhf")
        assert screen.lines[listed.highlighted or 0].part == "vhf"
        assert screen.section == SECTIONS.index("Findings")


@pytest.mark.parametrize(("station", "mode"), [("harbour-street", PLAN), ("quarry-road", JUDGE)])
async def test_sound_findings_are_one_line_that_opens(station: str, mode: str) -> None:
    """What is not sound comes first, one by one; Enter on the last line shows the rest."""
    app = ShackrailApp(debounce=3600.0)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await shown(pilot, station, mode)
        await pilot.press("3")
        await settle(pilot)
        assert screen.made is not None
        findings = screen.made.verdict.findings
        others = [one for one in findings if one.outcome != SOUND]
        assert [line.part for line in screen.lines[:-1]] == [one.about for one in others]
        assert f"{len(findings) - len(others)} " in screen.lines[-1].title
        assert screen.lines[-1].title.endswith("sound. Enter shows them.")
        await pilot.press("end", "enter")
        await settle(pilot)
        assert len(screen.lines) == len(findings)
        assert isinstance(app.screen, Result)
