"""Makes the pictures of the README from worked stations: ``python -m tests.tools.pictures`` writes them anew."""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from collections.abc import Awaitable, Callable
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import OptionList

from catalog.shelf import STATIONS
from wizard.interview.opening import from_file
from wizard.interview.steps import PLAN
from wizard.screens.app import ShackrailApp
from wizard.screens.where import Where

from .waiting import quiet

FOLDER = Path(__file__).parents[2] / "wizard" / "pictures"
SIZES = {"door": (80, 24), "result": (120, 36), "where": (110, 30)}
_FONT = re.compile(r"@font-face\s*\{.*?\}\s*|<!--.*?-->\s*", re.S)
_TEXT = re.compile(r"<text[^>]*>(.*?)</text>", re.S)

Pressed = Callable[[Pilot[str]], Awaitable[None]]


async def _door(pilot: Pilot[str]) -> None:
    await quiet(pilot)


async def _result(pilot: Pilot[str]) -> None:
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    await quiet(pilot)
    app.go_on(from_file(STATIONS / "harbour-street.toml", app.shelf, PLAN))
    await quiet(pilot)
    app.to_step("result")
    await quiet(pilot)


async def _where(pilot: Pilot[str]) -> None:
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    await quiet(pilot)
    app.show(Where("hf-100w"))
    await quiet(pilot)
    radios = app.screen.query_one("#radios", OptionList)
    radios.scroll_home(animate=False)
    await quiet(pilot)


SCREENS: dict[str, Pressed] = {"door": _door, "result": _result, "where": _where}
"""Each picture by its name, and what is done to come to it."""


async def drawn(name: str) -> str:
    """One screen as SVG; its fonts are those of whoever looks at it."""
    app = ShackrailApp(debounce=0)
    async with app.run_test(size=SIZES[name]) as pilot:
        await SCREENS[name](pilot)
        return _FONT.sub("", app.export_screenshot(title="shackrail"))


def text_of(svg: str) -> list[str]:
    """What can be read in a picture, in its order."""
    return [line.replace("&#160;", " ").strip() for line in _TEXT.findall(svg) if line.replace("&#160;", "").strip()]


def main() -> None:
    """Write every picture, with folders of its own so that no draft of the maker's is in it."""
    with tempfile.TemporaryDirectory() as home:
        for name in ("HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME"):
            os.environ[name] = home
        FOLDER.mkdir(exist_ok=True)
        for name in SCREENS:
            (FOLDER / f"{name}.svg").write_text(asyncio.run(drawn(name)), encoding="utf-8")
            print(FOLDER / f"{name}.svg")


if __name__ == "__main__":
    main()
