"""Is the supply quiet, on the bands and in the ear?"""

from __future__ import annotations

from engine.findings import SOUND, THIN
from engine.model.case import Feed
from engine.model.operating import Operating
from engine.model.quiet import HUM, TRY
from engine.rules.rule import PRACTICE, SOURCE, SUPPLY, Answer, Margin, Rule


def bands(operating: Operating, feed: Feed) -> Answer | None:
    """A switching converter can be heard in the receiver beside it, unless it was made for radio use."""
    if not feed.from_mains or feed.missing:
        return None
    if feed.rf_noise == "none" or feed.technology == "linear":
        return Answer(SOUND, f"{feed.id} is linear and makes no switching noise; its transformer hums: {HUM}")
    if feed.rf_noise == "filtered":
        return Answer(SOUND, f"{feed.id} is filtered for radio use, which is quiet, not silent: {TRY}")
    if feed.rf_noise == "ask":
        says = f"{feed.id} is an open-frame or computer supply, made for other things: the receiver may hear it"
        return Answer(THIN, f"{says}; {TRY} before you rely on it")
    return None


FANS = {
    "none": "has no fan: leave air around it",
    "with load": "has a fan that rests while little is drawn and is heard through overs",
    "always": "has a fan that always runs: it is heard in the room, so stand it away from the operator",
}


def fan(operating: Operating, feed: Feed) -> Answer | None:
    """Told, never refused: whether its fan rests."""
    says = FANS.get(feed.fan)
    return Answer(SOUND, f"{feed.id} {says}") if says and not feed.missing else None


RULES = (
    Rule(
        "supply-noise",
        "is it quiet on the bands?",
        PRACTICE,
        SOURCE,
        bands,
        keep=SOUND,
        danger=0,
        margin=Margin(SUPPLY),
    ),
    Rule("supply-fan", "is it quiet in the ear?", PRACTICE, SOURCE, fan, danger=0),
)
