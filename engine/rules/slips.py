"""Is a current that the owner states of the size that its class draws, or a slip of the keyboard?"""

from __future__ import annotations

from engine.findings import SOUND, THIN, UNKNOWN
from engine.model.case import Draw, Stated
from engine.model.operating import Operating
from engine.rules.rule import LOAD, PRACTICE, Answer, Rule
from engine.working import Figure

FAR = 2.0
"""A current is far from its class below the least over this, or above the most times this (own choice)."""

RADIO_VOLTS = (11.0, 15.0)
"""Radio watts over volts between these are the known mistake: the direct current is two to three times that."""

WORDS = {"transmit": "at key-down", "receive": "at receive", "busy": "at its busiest"}


def current(operating: Operating, draw: Draw) -> Answer | None:
    """The owner's word counts; what is far from the class is asked about, never planned in silence."""
    if draw.feed != "dc":
        return None
    judged = [_judged(draw, one) for one in draw.stated]
    return next((one for one in judged if one.outcome != SOUND), judged[0] if judged else None)


def _judged(draw: Draw, one: Stated) -> Answer:
    figure, span = Figure(one.amps, "A"), one.usual
    says = f"{draw.id} is said to draw {_plain(one.amps)} {WORDS[one.key]}; its class draws {_band(one)}"
    if one.key != "receive" and one.amps < span.low / FAR - 1e-9:
        return Answer(UNKNOWN, f"{says}: {_why(draw, one)}; {_look(draw)}", figure, Figure(span.low, "A"))
    if one.amps > span.high * FAR + 1e-9:
        return Answer(THIN, f"{says}: a slip, or two things in one? {_look(draw)}", figure, Figure(span.high, "A"))
    return Answer(SOUND, says, figure, Figure(span.high, "A"))


def _why(draw: Draw, one: Stated) -> str:
    """What such a figure most likely is."""
    watts = draw.radio_watts
    if watts and watts / RADIO_VOLTS[1] <= one.amps <= watts / RADIO_VOLTS[0]:
        return f"it is {watts:g} W of radio power over the volts, and the direct current is two to three times that"
    return "at full power everything planned for it would be too small"


def _look(draw: Draw) -> str:
    return f"look at {draw.find or 'its manual'}, and name the power that you use if it is less"


def _plain(amps: float) -> str:
    return f"{amps:g} A"


def _band(one: Stated) -> str:
    return f"{one.usual.low:g} to {one.usual.high:g} A"


RULES = (Rule("load-current", "is its current of the size of its class?", PRACTICE, LOAD, current, danger=2),)
