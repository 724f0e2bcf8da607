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

FOLDER = Path(__file__).parents[2] / "wizard" / "pictures"
SIZES = {"door": (80, 24), "result": (120, 36), "where": (110, 30)}
_FONT = re.compile(r"@font-face\s*\{.*?\}\s*|<!--.*?-->\s*", re.S)
_TEXT = re.compile(r"<text[^>]*>(.*?)</text>", re.S)

Pressed = Callable[[Pilot[str]], Awaitable[None]]


async def settle(pilot: Pilot[str]) -> None:
    """Wait until nothing is worked out any more."""
    await pilot.pause()
    for _ in range(600):
        if not pilot.app.work.busy:  # type: ignore[attr-defined]
            break
        await pilot.pause(0.05)
    await pilot.pause(0.1)


async def _door(pilot: Pilot[str]) -> None:
    await settle(pilot)


async def _result(pilot: Pilot[str]) -> None:
    from catalog.shelf import STATIONS
    from wizard.interview.opening import from_file
    from wizard.interview.steps import PLAN
    from wizard.screens.app import ShackrailApp

    app = pilot.app
    assert isinstance(app, ShackrailApp)
    await settle(pilot)
    app.go_on(from_file(STATIONS / "harbour-street.toml", app.shelf, PLAN))
    await settle(pilot)
    app.to_step("result")
    await settle(pilot)


async def _where(pilot: Pilot[str]) -> None:
    from wizard.screens.app import ShackrailApp
    from wizard.screens.where import Where

    app = pilot.app
    assert isinstance(app, ShackrailApp)
    await settle(pilot)
    app.show(Where("hf-100w"))
    await settle(pilot)
    radios = app.screen.query_one("#radios", OptionList)
    radios.scroll_home(animate=False)
    await settle(pilot)


SCREENS: dict[str, Pressed] = {"door": _door, "result": _result, "where": _where}
"""Each picture by its name, and what is done to come to it."""


async def drawn(name: str) -> str:
    """One screen as SVG; its fonts are those of whoever looks at it."""
    from wizard.screens.app import ShackrailApp

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
