"""The tasks that people come with, from the doors to a saved plan, in counted keys beyond what is typed."""

import tomllib
from pathlib import Path

import pytest
from textual.pilot import Pilot

from wizard.screens.app import ShackrailApp

from .test_screens import settle, type_in

NEVER = 3600.0
"""A pause before the tally that no test waits for."""

TASKS = {
    "newcomer": (12, "enter :Attic_desk enter enter enter :50_w_v enter f9 f10 enter"),
    "two radios and a budget": (
        25,
        "enter :Two_radios enter enter enter :100_w_hf enter f4 f7 :2m enter f5 6 :250 f9 f10 enter",
    ),
    "car and its negative": (
        20,
        "enter :Blue_van enter 2 enter :50_w_v enter f4 f4 :4_m enter enter down enter f9 f10 enter",
    ),
    "hill-top": (25, "enter :Hill_top enter 3 enter :20_w_hf enter f5 7 :4_h f9 f10 enter"),
}
"""What is typed begins with a colon, a blank in it is an underscore; everything else is one key."""


async def played(pilot: Pilot[str], keys: list[str]) -> int:
    """Play the keys; how many there are beyond what is typed."""
    await settle(pilot)
    for key in keys:
        if key.startswith(":"):
            await type_in(pilot, key[1:].replace("_", " "))
        else:
            await pilot.press(key)
        await settle(pilot)
    return sum(not key.startswith(":") for key in keys)


@pytest.mark.parametrize("task", TASKS)
async def test_a_task_in_counted_keys(task: str, own_folders: Path) -> None:
    """The plan is saved, with what was answered in it, and no more keys were needed than promised."""
    most, keys = TASKS[task]
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        assert await played(pilot, keys.split()) <= most
    (saved,) = own_folders.glob("*.toml")
    held = tomllib.loads(saved.read_text(encoding="utf-8"))
    told = {
        "newcomer": lambda: held["load"][0]["class"] == "vhf-50w",
        "two radios and a budget": lambda: (len(held["load"]), held["wishes"]["budget"]) == (2, 250),
        "car and its negative": lambda: held["use"] == "mobile" and held["run"][0]["negative"],
        "hill-top": lambda: (held["use"], held["wishes"]["hours"]) == ("battery", "4 h"),
    }
    assert told[task]()
