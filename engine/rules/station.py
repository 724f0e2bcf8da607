"""Questions about the station as a whole: is it all described, does the wall bear it, is it within the budget?"""

from __future__ import annotations

from engine.bill import total
from engine.case import BATTERY, MAINS, Draw, Feed
from engine.operating import Operating
from engine.rules.rule import LOAD, SOURCE, STATION, Answer, Rule, grade_most, unknown
from engine.rules.supply import hours
from engine.verdict import SOUND, THIN, Figure, Term, work


def described(operating: Operating, draw: Draw) -> Answer | None:
    """A load must have figures and a lead that reaches a source."""
    if draw.feed != "dc":
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


def wall(operating: Operating, feed: Feed) -> Answer | None:
    """Current from the wall circuit: the largest at once, and the steady part with the continuous rule."""
    place = operating.case.place
    if feed.missing or feed.kind != MAINS or not operating.demand.served.get(feed.id):
        return None
    top, state = operating.demand.worst_peak(feed.id)
    heating = max(hours(operating, feed, one)[0] for one in operating.states)
    terms = {
        "volts": Term(feed.volts, "V", f"set point of {feed.id}"),
        "largest": Term(min(top, feed.limit), "A", state.name),
        "steady": Term(min(heating, feed.limit), "A", "heating current over hours"),
        "factor": Term(operating.case.limits.continuous_factor, "", "continuous rule, NEC 210.19 and 215.2"),
        "efficiency": Term(feed.efficiency, "%", f"{feed.title} at full load"),
        "power_factor": Term(feed.power_factor, "", feed.title),
        "mains": Term(place.mains, "V", "at the wall"),
    }
    figure = work("max(largest, steady * factor) * volts / (efficiency * power_factor * mains)", "A", **terms)
    limit = Figure(place.circuit, "A")
    outcome = grade_most(figure.value, limit.value, operating.case.limits.rating_margin)
    says = (
        f"{feed.id} asks {figure} of the wall with {state.name}, the continuous rule counted; the circuit gives {limit}"
    )
    return Answer(outcome, says, figure, limit)


def budget(operating: Operating, about: str) -> Answer | None:
    """What is still to be bought against the budget."""
    wish = operating.case.budget
    if wish is None:
        return None
    cost = total(operating.case.whole or operating.case)
    figure, limit = Figure(cost.usual, ""), Figure(wish, "")
    band = f"about {cost.usual:.0f} (from {cost.low:.0f} to {cost.high:.0f})"
    if cost.usual <= wish + 1e-9:
        return Answer(SOUND, f"what is to be bought costs {band}, within {wish:g}", figure, limit)
    return Answer(
        THIN,
        f"what is to be bought costs {band}, above the budget of {wish:g}; safety is not trimmed to fit",
        figure,
        limit,
    )


RULES = (
    Rule("described", "is the load described?", "nothing can be judged without figures", LOAD, described),
    Rule("rated", "is the source's rating known?", "nothing can be judged without figures", SOURCE, rated),
    Rule(
        "wall",
        "does the wall circuit bear it?",
        "power law; continuous rule 125 % (NEC); local code decides",
        SOURCE,
        wall,
        danger=3,
    ),
    Rule("budget", "is it within the budget?", "the owner's wish; prices are illustrative", STATION, budget, danger=0),
)
