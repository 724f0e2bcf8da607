"""The uses of a station as cards: a title, a sentence that helps to choose, and two words for a line."""

from __future__ import annotations

from dataclasses import dataclass

from engine.terms import Use


@dataclass(frozen=True)
class Card:
    """One choice: its key, its title, when one would choose it, and the words that name it in a line."""

    key: str
    title: str
    says: str
    short: str


USES = (
    Card(Use.FIXED, "At home, from the mains", "A supply on the wall outlet feeds radios on a desk.", "at home"),
    Card(
        Use.MOBILE,
        "In a vehicle",
        "The vehicle's battery feeds the radio, engine running or engine off.",
        "in a vehicle",
    ),
    Card(
        Use.BATTERY,
        "On a battery",
        "Portable or off the grid: a battery alone, with panels or without.",
        "on battery",
    ),
    Card(
        Use.AMPLIFIER,
        "At home, with a power amplifier",
        "As at home, and an amplifier that wants many amperes or a wall circuit.",
        "with amplifier",
    ),
)
"""In the order of the cards."""


def short_use(use: str) -> str:
    """A use in two words; empty where it is none.

    >>> short_use("mobile"), short_use("boat")
    ('in a vehicle', '')
    """
    return next((card.short for card in USES if card.key == use), "")
