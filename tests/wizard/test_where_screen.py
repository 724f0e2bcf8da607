"""Where can it live, by keyboard: the page follows the radio that is chosen."""

from pathlib import Path

import pytest
from textual.widgets import OptionList

from wizard.screens.app import ShackrailApp
from wizard.screens.door import Door
from wizard.screens.where import Where
from wizard.screens.widgets.drawn import Drawn
from wizard.screens.widgets.plain import Plain

from .test_screens import settle


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_page_follows_the_radio(own_folders: Path, size: tuple[int, int]) -> None:
    """The narrow set misbehaves on lead-acid, the wide one does not; Esc goes back to the doors."""
    app = ShackrailApp(debounce=0)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        app.show(Where("hf-100w"))
        await settle(pilot)
        text = str(app.screen.query_one("#homes", Drawn).content)
        assert "lead-acid, 3 h" in text and "car, engine off" in text
        assert max(map(len, text.splitlines())) <= size[0]
        bar = app.screen.query_one("#verdict", Plain)
        assert "At home yes" in str(bar.content) and "not for an evening on lead-acid" in str(bar.content)
        radios = app.screen.query_one("#radios", OptionList)
        radios.highlighted = radios.get_option_index("vhf-50w")
        await settle(pilot)
        assert "; an evening on lead-acid" in str(bar.content)
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, Door)


async def test_the_door_opens_it(own_folders: Path) -> None:
    """It stands among the doors."""
    app = ShackrailApp(debounce=0)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        doors = app.screen.query_one("#doors", OptionList)
        doors.highlighted = doors.get_option_index("where")
        await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, Where)
