"""How quiet a supply is, as the two wishes that it is: in the ear and on the bands.

The numbers only put supplies in order, louder ones higher (own choice).
"""

from __future__ import annotations

from engine.model.case import Feed
from engine.terms import Fan, Preference, RfNoise

FAN: dict[str, int] = {Fan.NONE: 0, Fan.WITH_LOAD: 1, Fan.ALWAYS: 3}
"""A fan that rests while little is drawn is heard through overs alone; one that always runs is heard all evening."""

SWITCHING: dict[str, int] = {RfNoise.NONE: 0, RfNoise.FILTERED: 1, RfNoise.ASK: 3}
"""Filtered is quieter than made for other things, and is not the same as none."""

TRY = "listen with the antenna on and the radio on a battery, the supply switched on and off"
"""How anybody finds out what a supply does to reception (common practice)."""

HUM = "keep it a metre from microphones and audio transformers, and off a board that drums"
"""What a mains transformer asks for (common practice)."""


def in_the_ear(feed: Feed) -> int:
    """How much of it is heard in the room: 0 for nothing. What is not known counts as nothing."""
    return FAN.get(feed.fan, 0)


def on_the_bands(feed: Feed) -> int:
    """How much of it may be heard in the receiver: 0 for nothing. What is not known counts as nothing."""
    return SWITCHING.get(feed.rf_noise, 0)


def noise(feed: Feed, prefer: str) -> float:
    """What decides between two supplies for an owner who prefers the one, the other or both."""
    if prefer == Preference.QUIET_IN_THE_EAR:
        return in_the_ear(feed) + on_the_bands(feed) / 10
    if prefer == Preference.QUIET_ON_THE_BANDS:
        return on_the_bands(feed) + in_the_ear(feed) / 10
    return float(in_the_ear(feed) + on_the_bands(feed))
