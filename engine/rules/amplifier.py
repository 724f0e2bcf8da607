"""What 12 V-class amplifiers ask for beyond what every load does."""

from __future__ import annotations

from engine.findings import SOUND, THIN
from engine.model.case import Draw
from engine.model.operating import Operating
from engine.rules.rule import LOAD, PRACTICE, Answer, Rule
from engine.working import Figure, label, total

NEARLY = 1.05
"""A tape is not read closer than this at "about 4 ft"."""


def short_lead(operating: Operating, draw: Draw) -> Answer | None:
    """All of the way from a mains supply to a 12 V-class amplifier, against the longest that the trade uses."""
    path, feed = operating.case.path(draw.id), operating.case.source_of(draw.id)
    if not draw.wants_short_lead or feed is None or not feed.from_mains:
        return None
    figure = total((Figure(one.length, "m", label(one.id), "one way") for one in path), "m")
    limit = Figure(operating.case.limits.amplifier_lead, "m")
    if figure.value <= limit.value * NEARLY:
        return Answer(SOUND, f"{draw.id} stands {figure} of lead from its supply", figure, limit)
    says = f"{draw.id} stands {figure} of lead from its supply, where about {limit} is the most that is usual"
    return Answer(THIN, f"{says}: set the supply beside it", figure, limit)


RULES = (Rule("amplifier-lead", "does the amplifier stand by its supply?", PRACTICE, LOAD, short_lead),)
