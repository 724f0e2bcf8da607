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
    Card(Use.FIXED, "At home, from the mains", "A supply on the outlet feeds radios on a desk.", "at home"),
    Card(
        Use.MOBILE,
        "In a vehicle",
        "Its battery feeds the radio, engine on or off.",
        "in a vehicle",
    ),
    Card(
        Use.BATTERY,
        "On a battery",
        "Portable or off the grid, with panels or without.",
        "on battery",
    ),
    Card(
        Use.AMPLIFIER,
        "At home, with a power amplifier",
        "As at home, and many amperes more at key-down.",
        "with amplifier",
    ),
)
"""In the order of the cards."""


CHOOSE, DESCRIBE = "choose", "describe"
FOLDS = {
    "supply": (
        Card(CHOOSE, "Let the plan choose", "Nothing to answer: it finds the cheapest that fits.", ""),
        Card(DESCRIBE, "I have one, or want a certain one", "Describe it; the plan then fits the rest to it.", ""),
    ),
    "battery": (
        Card(CHOOSE, "Let the plan choose", "Nothing to answer: kind and size follow from the hours.", ""),
        Card(DESCRIBE, "I have one, or want a certain one", "Describe it; the plan says how long it lasts.", ""),
    ),
    "sun": (
        Card(CHOOSE, "No panels", "The battery is charged at home, before it goes out.", ""),
        Card(DESCRIBE, "Panels charge it", "Say where and how large; the plan says if the sun suffices.", ""),
    ),
}
"""Steps that need no answer, each with what happens then and the way to its questions."""


def short_use(use: str) -> str:
    """A use in two words; empty where it is none.

    >>> short_use("mobile"), short_use("boat")
    ('in a vehicle', '')
    """
    return next((card.short for card in USES if card.key == use), "")
