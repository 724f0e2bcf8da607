"""Questions about the station as a whole: is it all described, is it within the budget?"""

from __future__ import annotations

from engine.findings import SOUND, THIN
from engine.model.bill import total
from engine.model.case import BATTERY, Draw, Feed
from engine.model.operating import Operating
from engine.model.turns import station_airtime
from engine.model.waiting import advice
from engine.rules.rule import LOAD, SOURCE, STATION, Answer, Rule, unknown
from engine.terms import PowerInput
from engine.working import Figure


def loads(operating: Operating, about: str) -> Answer | None:
    """A station without loads asks nothing of its parts, so that nothing about them can be judged."""
    if operating.case.draws:
        return None
    return unknown("no load is described: write down what the station feeds, a radio first, with its lead")


def turns(operating: Operating, about: str) -> Answer | None:
    """The shares of the time keyed must fit into the time, for one load transmits after the other."""
    shares = station_airtime(operating.demand)
    whole = sum(shares.values())
    if whole <= 1 + 1e-9:
        return None
    figure, limit = Figure(whole, "%"), Figure(1.0, "%")
    named = ", ".join(f"{' + '.join(sorted(keyed))} {share * 100:.0f} %" for keyed, share in shares.items())
    says = f"the shares of the time keyed add up to {figure} of it ({named}), and one transmits at a time"
    says += ": lower them, or name in keyed_together those that are keyed at once; meanwhile hours, sun and heat count"
    return Answer(THIN, f"{says} every share in full", figure, limit)


def described(operating: Operating, draw: Draw) -> Answer | None:
    """A load must have figures and a lead that reaches a source."""
    if draw.feed != PowerInput.DC:
        return None
    if draw.missing:
        what = " and the ".join(draw.missing)
        return unknown(f"the {what} of {draw.id} not known: give it, or name the class of equipment")
    if operating.case.source_of(draw.id) is None:
        return unknown(f"no lead from a source to {draw.id} is described")
    return None


def rated(operating: Operating, feed: Feed) -> Answer | None:
    """A source without a rating cannot be judged."""
    if feed.missing:
        what = "capacity and kind" if feed.kind == BATTERY else "continuous rating"
        return unknown(f"the {what} of {feed.id} is not known: read it from its plate")
    return None


def budget(operating: Operating, about: str) -> Answer | None:
    """What is still to be bought against the budget."""
    wish = operating.case.budget
    if wish is None:
        return None
    cost = total(operating.case.joint)
    figure, limit = Figure(cost.usual, ""), Figure(wish, "")
    band = f"about {cost.usual:.0f} (from {cost.low:.0f} to {cost.high:.0f})"
    if cost.usual <= wish + 1e-9:
        return Answer(SOUND, f"what is to be bought costs {band}, within {wish:g}", figure, limit)
    over = cost.usual - wish
    says = f"what is to be bought costs {band}, about {over:.0f} above the budget of {wish:g}"
    says = f"{says}; {advice(operating.case.joint, over)}; safety is not trimmed to fit"
    return Answer(THIN, says, figure, limit)


RULES = (
    Rule("loads", "is there anything to feed?", "nothing can be judged without loads", STATION, loads),
    Rule(
        "turns",
        "do the shares of the time keyed fit into the time?",
        "one transmits at a time unless keyed_together says otherwise",
        STATION,
        turns,
    ),
    Rule("described", "is the load described?", "nothing can be judged without figures", LOAD, described),
    Rule("rated", "is the source's rating known?", "nothing can be judged without figures", SOURCE, rated),
    Rule("budget", "is it within the budget?", "the owner's wish; prices are illustrative", STATION, budget, danger=0),
)
