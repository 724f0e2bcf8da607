"""Batteries side by side: is each fused at its own post, and do they share the current?"""

from __future__ import annotations

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.banks import largest_share, string_ohms
from engine.model.case import EVEN_SHARE, MIDDLE, Feed
from engine.model.operating import Operating
from engine.rules.rule import PRACTICE, SOURCE, Answer, Rule, unknown
from engine.working import Figure

UNEVEN = 0.1
"""Above this share more than an even part, the cables of a bank are to be made alike (common practice, no source)."""


def strings(operating: Operating, feed: Feed) -> Answer | None:
    """Each battery of a bank wants a fuse of its own: a failed one is fed by all the others."""
    if not feed.is_bank or feed.missing:
        return None
    each = f"each of the {feed.parallel} batteries of {feed.id}"
    if feed.string is None or feed.string.fuse_rating is None:
        return unknown(f'whether {each} has a fuse of its own is not known: describe a run with serves = "string"')
    if feed.string.fuse_rating == 0:
        return Answer(
            UNSOUND, f"a failed battery of {feed.id} is fed by all the others: {each} wants a fuse at its post"
        )
    return Answer(SOUND, f"{each} has a fuse of {feed.string.fuse_rating:g} A at its own post")


def share(operating: Operating, feed: Feed) -> Answer | None:
    """Batteries side by side share by the resistance of their cables: the one with the shortest carries most."""
    if not feed.is_bank or feed.missing or feed.string is None or feed.string.missing:
        return None
    inside = feed.corner(MIDDLE).ohms * feed.parallel - string_ohms(feed.string, 22.0)
    part = largest_share(feed, inside) / feed.parallel
    figure, limit = Figure(part * 100, "%"), Figure(100 * (1 + UNEVEN) / feed.parallel, "%")
    top, state = operating.demand.worst_peak(feed.id)
    says = f"the battery of {feed.id} on the shortest cable carries {figure} of the whole"
    if top * part > feed.peak / (feed.parallel * EVEN_SHARE) + 1e-9:
        rated = f"{top * part:.0f} A with {state.name}, more than it is rated"
        return Answer(UNSOUND, f"{says}: {rated}; make the cables alike", figure, limit)
    if figure.value <= limit.value + 1e-9:
        return Answer(SOUND, f"{says}: their cables are alike enough", figure, limit)
    return Answer(
        THIN, f"{says} and is worn out first: make all cables of the bank as long as the longest", figure, limit
    )


RULES = (
    Rule("bank-fused", "has each battery of a bank a fuse of its own?", PRACTICE, SOURCE, strings, danger=4),
    Rule("bank-share", "do the batteries of a bank share the current?", "circuit law", SOURCE, share, danger=2),
)
