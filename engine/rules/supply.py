"""Can the supply give the current, keep the voltage where it was set, and fail without harm?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.case import VEHICLE, Draw, Feed
from engine.model.operating import Operating, State
from engine.model.turns import heating
from engine.rules.rule import PRACTICE, PROTECTION, SOURCE, SUPPLY, Answer, Margin, Rule, grade_most
from engine.working import Figure, label, total


def _sum(operating: Operating, feed: Feed, state: State) -> Figure:
    """The sum of the largest draws in ``state``."""
    draws = []
    for draw in operating.demand.fed_by(feed.id):
        keyed = "key-down" if draw.id in state.keyed else "receive" if draw.is_keyed else "at its busiest"
        draws.append(Figure(operating.demand.peak(draw, state), "A", label(draw.id), keyed))
    return total(draws, "A")


def _ready(operating: Operating, feed: Feed) -> bool:
    return not feed.missing and bool(operating.demand.served.get(feed.id))


def peak(operating: Operating, feed: Feed) -> Answer | None:
    """Largest current at once against the rating for minutes."""
    if not _ready(operating, feed):
        return None
    _, state = operating.demand.worst_peak(feed.id)
    figure = _sum(operating, feed, state)
    outcome = grade_most(figure.value, feed.peak, operating.case.limits.rating_margin)
    says = f"{feed.id} must give {figure} with {state.name}; it is rated {feed.peak:g} A while keyed"
    return Answer(outcome, says, figure, Figure(feed.peak, "A"))


def continuous(operating: Operating, feed: Feed) -> Answer | None:
    """What heats a source against its continuous rating: over minutes for a supply, over hours for a battery."""
    if not _ready(operating, feed) or feed.kind == VEHICLE:
        return None
    return _minutes(operating, feed) if feed.is_regulated else _hours(operating, feed)


def _minutes(operating: Operating, feed: Feed) -> Answer:
    """A supply is warm within minutes, and overs of FM, digital modes and carriers last that long."""
    demand = operating.demand
    state = max(operating.states, key=lambda one: demand.total(feed.id, one, demand.sustained))
    fed = demand.fed_by(feed.id)
    held = [Figure(demand.sustained(one, state), "A", label(one.id), _held(one, state)) for one in fed]
    figure, limit = total(held, "A"), Figure(feed.continuous, "A")
    outcome = grade_most(figure.value, limit.value, operating.case.limits.rating_margin)
    says = f"{feed.id} is rated {feed.continuous:g} A continuous; {state.name} heats it like a steady {figure}"
    return Answer(outcome, says, figure, limit)


def _held(draw: Draw, state: State) -> str:
    """What a load holds over minutes, in words."""
    if draw.id not in state.keyed:
        return "not keyed, at its busiest"
    if draw.mode.steady:
        return f"{draw.mode.id}: the whole key-down, for its overs last minutes"
    share = "the share keyed" if draw.mode.on_off else "the mean of the envelope"
    return f"{draw.mode.id}: {share}, {draw.mode.envelope * 100:.0f} %"


def _hours(operating: Operating, feed: Feed) -> Answer:
    """A battery against its heating current over hours."""
    figure = heating(operating.demand, feed.id)
    outcome = grade_most(figure.value, feed.continuous, operating.case.limits.rating_margin)
    says = f"{feed.id} gives {figure} on average, hour after hour; it is rated {feed.continuous:g} A continuous"
    return Answer(outcome, says, figure, Figure(feed.continuous, "A"))


def headroom(operating: Operating, feed: Feed) -> Answer | None:
    """Spare on both ratings of a supply, where it falls shortest of what is wanted.

    The keyed rating carries key-down, the continuous one what heats the supply over minutes. What is not keyed counts
    with what it usually takes: spare is there for the rest.
    """
    if not _ready(operating, feed) or not feed.is_regulated:
        return None
    asked = [one for state in operating.states for one in _asked(operating, feed, state) if one.amps > 0]
    if not asked:
        return None
    worst = max(asked, key=lambda one: one.amps * (1 + one.wanted) / one.rating)
    rating = Figure(worst.rating, "A", "rating", f"{feed.id}, {worst.name}")
    figure = (rating / Figure(worst.amps, "A", "needed", worst.needed) - 1).as_("%")
    outcome = SOUND if figure.value >= worst.wanted - 1e-9 else THIN
    says = f"{feed.id}: {worst.rating:g} A {worst.name}, {worst.amps:.1f} A needed {worst.needed}"
    spare = f"{figure} to spare" if figure.value >= 0 else f"{-figure.value * 100:.0f} % short"
    return Answer(outcome, f"{says}: {spare} ({worst.wanted * 100:.0f} % wanted)", figure, Figure(worst.wanted, "%"))


@dataclass(frozen=True)
class Asked:
    """One rating of a supply [A], what is asked of it in one state [A], and the spare wanted over that (a share)."""

    name: str
    rating: float
    amps: float
    needed: str
    wanted: float


def _asked(operating: Operating, feed: Feed, state: State) -> tuple[Asked, Asked]:
    demand, wanted = operating.demand, _wanted(operating, state)

    def asked(measure: Callable[[Draw, State], float]) -> float:
        return demand.total(feed.id, state, lambda draw, doing: demand.foreseen(draw, doing, measure))

    at = "at key-down" if state.is_keyed else "at once"
    return (
        Asked("while keyed", feed.peak, asked(demand.peak), f"{at} ({state.name})", wanted),
        Asked("continuous", feed.continuous, asked(demand.sustained), f"over minutes ({state.name})", wanted),
    )


def _wanted(operating: Operating, state: State) -> float:
    """The headroom wished for while ``state`` lasts: the owner's, or the house's for the modes that are keyed."""
    case = operating.case
    if case.headroom is not None:
        return case.headroom
    steady = any(case.draw[one].mode.steady for one in state.keyed)
    return case.limits.steady_headroom if steady else case.limits.voice_headroom


def knob(operating: Operating, feed: Feed) -> Answer | None:
    """An adjustable supply is a risk to every load below its highest setting, unless fixed on purpose."""
    draws = [one for one in operating.demand.fed_by(feed.id) if "window" not in one.missing]
    if not _ready(operating, feed) or not draws or not feed.is_regulated:
        return None
    frail = min(draws, key=lambda one: one.highest)
    if not feed.adjustable:
        return Answer(SOUND, f"{feed.id} has no voltage knob that could be turned by accident")
    figure, limit = Figure(feed.highest, "V"), Figure(frail.highest, "V")
    if feed.locked:
        return Answer(SOUND, f"the knob of {feed.id} is set on purpose and locked", figure, limit)
    if feed.highest <= frail.highest + 1e-9:
        says = f"the knob of {feed.id} reaches {feed.highest:g} V, which every load bears"
        low = max(draws, key=lambda one: one.lowest)
        if feed.lowest < low.lowest:
            return Answer(THIN, f"{says}; turned down it starves {low.id}: lock or cover it", figure, limit)
        return Answer(SOUND, says, figure, limit)
    bears = f"{frail.id} bears {frail.highest:.2f} V: lock it or choose a fixed supply"
    says = f"the knob of {feed.id} reaches {feed.highest:g} V; {bears}"
    return Answer(UNSOUND, says, figure, limit)


def guard(operating: Operating, feed: Feed) -> Answer | None:
    """A supply whose regulator fails must cut off before the radio does."""
    if not _ready(operating, feed) or not feed.is_regulated:
        return None
    if feed.over_voltage:
        return Answer(SOUND, f"{feed.id} cuts off by itself when its regulator fails")
    known = (
        "has no over-voltage cut-off" if feed.over_voltage is False else "is not known to have an over-voltage cut-off"
    )
    return Answer(THIN, f"{feed.id} {known}: a failed regulator can put 18 V and more on every radio at once")


def reach(operating: Operating, feed: Feed) -> Answer | None:
    """The set point must lie in the supply's own range."""
    if feed.missing or not feed.adjustable:
        return None
    outcome = SOUND if feed.lowest - 1e-9 <= feed.volts <= feed.highest + 1e-9 else UNSOUND
    says = f"{feed.id} is set to {feed.volts:g} V; its knob goes from {feed.lowest:g} to {feed.highest:g} V"
    return Answer(outcome, says, Figure(feed.volts, "V"), Figure(feed.highest, "V"))


def posts(operating: Operating, feed: Feed) -> Answer | None:
    """Too many leads under one pair of posts loosen each other."""
    leads = [lead for lead in operating.case.leads if lead.start == feed.id]
    if not leads:
        return None
    most = operating.case.limits.leads_on_posts
    outcome = SOUND if len(leads) <= most else THIN
    count = f"{len(leads)} lead{'s' if len(leads) > 1 else ''}"
    says = f"{count} on the posts of {feed.id}; above {most:.0f} use a fused strip"
    return Answer(outcome, says, Figure(len(leads), ""), Figure(most, ""))


def parallel(operating: Operating, feed: Feed) -> Answer | None:
    """Supplies side by side share their current only where they are made to."""
    if feed.parallel < 2 or feed.missing:
        return None
    figure, limit = Figure(feed.parallel, ""), Figure(feed.parallel if feed.shares else 1, "")
    if feed.shares:
        says = f"{feed.parallel} supplies side by side as {feed.id} share by design: set as their maker says"
        return Answer(SOUND, says, figure, limit)
    says = f"{feed.parallel} supplies side by side as {feed.id} are not made to share: one carries nearly all"
    return Answer(
        UNSOUND, f"{says}, and a failed one draws from the other; split the loads between them", figure, limit
    )


RULES = (
    Rule(
        "supply-peak", "can the supply give the largest current at once?", "the supply's rating", SOURCE, peak, danger=2
    ),
    Rule(
        "supply-continuous",
        "does the supply stay cool through long overs?",
        "the supply's rating; duty factors of FCC OET Bulletin 65 Supplement B, table 2",
        SOURCE,
        continuous,
        danger=2,
    ),
    Rule(
        "supply-headroom",
        "is there current to spare?",
        PRACTICE,
        SOURCE,
        headroom,
        keep=SOUND,
        margin=Margin(SUPPLY, step=0.01),
    ),
    Rule(
        "supply-knob",
        "can the voltage be turned up by accident?",
        PRACTICE,
        SOURCE,
        knob,
        keep=SOUND,
        margin=Margin(PROTECTION),
        danger=3,
    ),
    Rule(
        "supply-guard",
        "what happens when its regulator fails?",
        PRACTICE,
        SOURCE,
        guard,
        keep=SOUND,
        margin=Margin(PROTECTION),
        danger=2,
    ),
    Rule("supply-setting", "is the set point one it can give?", "the supply's range", SOURCE, reach, danger=2),
    Rule("supply-parallel", "do supplies side by side share?", PRACTICE, SOURCE, parallel, danger=3),
    Rule("supply-posts", "do its posts hold the leads?", PRACTICE, SOURCE, posts, keep=SOUND),
)
