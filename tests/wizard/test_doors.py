"""The doors: grouped, with digits, and beside them what each asks and gives."""

import pytest
from textual.widgets import OptionList

from wizard.screens.app import ShackrailApp
from wizard.screens.claim import Told
from wizard.screens.door import DOORS, GROUPS, Door
from wizard.screens.open import Open
from wizard.screens.symptoms import Symptoms
from wizard.screens.where import Where

from .test_screens import picture, settle


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_every_door_is_seen_and_says_what_it_asks_gives_and_takes(size: tuple[int, int]) -> None:
    """All doors without scrolling; the words of the one under the cursor stand in a fixed place, uncut."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        listed = app.screen.query_one("#doors", OptionList)
        assert listed.size.height >= len(DOORS) + len(GROUPS)
        about = app.screen.query_one("#about")
        place = about.region
        for _, _, says, takes in DOORS:
            text = picture(app)
            assert says in text and takes.capitalize() in text
            assert about.region == place
            assert about.get_content_height(about.content_size, app.size, about.content_size.width) <= place.height
            await pilot.press("down")
            await settle(pilot)


@pytest.mark.parametrize(("digit", "screen"), [("5", Symptoms), ("6", Told), ("7", Where), ("8", Open)])
async def test_a_digit_goes_through_its_door(digit: str, screen: type) -> None:
    """At once, wherever the cursor is."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Door)
        await pilot.press(digit)
        await settle(pilot)
        assert isinstance(app.screen, screen)
