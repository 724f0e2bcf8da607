"""Does the conductor stay cool, whatever happens at its far end?"""

from __future__ import annotations

from engine.case import Lead
from engine.operating import LIGHT, Operating
from engine.physics import copper, fuses
from engine.rules.rule import RUN, Answer, Rule, grade_most, unknown
from engine.verdict import SOUND, THIN, UNSOUND, Figure, Term, work

TABLE = "33 CFR 183.425 table 5"


def allowed(lead: Lead) -> Figure:
    """Allowable current of the lead's conductor, with ambient and bundle counted."""
    if lead.conductor is None:
        return Figure(0.0, "A")
    column = max((one for one in lead.conductor.ampacity if one <= lead.insulation.celsius), default=0)
    return work(
        "table * ambient * bundle",
        "A",
        table=Term(lead.conductor.ampacity.get(column, 0.0), "A", f"{lead.conductor.id}, {column} °C column, {TABLE}"),
        ambient=Term(
            copper.ambient_factor(column, lead.ambient) if column else 0.0,
            "",
            f"air at {lead.ambient:.0f} °C, square-root law",
        ),
        bundle=Term(copper.bundle_factor(lead.together), "", f"{lead.together} loaded conductors together, {TABLE}"),
    )


def ampacity(operating: Operating, lead: Lead) -> Answer | None:
    """Heating current against the conductor's allowable current."""
    if lead.conductor is None:
        return unknown(f"the conductor of {lead.id} is not known: read its size from the print on the cable")
    heating, state = operating.demand.worst_heating(lead.id)
    figure, limit = Figure(heating, "A"), allowed(lead)
    outcome = grade_most(heating, limit.value, operating.case.limits.rating_margin)
    says = f"{lead.id} is heated as by a steady {figure} with {state.name}; {lead.conductor.id} may carry {limit}"
    return Answer(outcome, says, figure, limit)


def short(operating: Operating, lead: Lead) -> Answer | None:
    """A short circuit at the far end: what stops it before the insulation suffers?"""
    feed = operating.case.source_of(lead.end)
    if lead.conductor is None or feed is None or feed.missing:
        return None
    limit = allowed(lead)
    most = Figure(limit.value * copper.BIGGEST_OVERLOAD, "A")
    fault = min(feed.limit, _bolted(operating, lead, feed.lowest_volts))
    if fault <= most.value:
        says = f"a short on {lead.id} draws {fault:.0f} A, where {feed.id} limits itself; the cable bears that"
        return Answer(SOUND, says, Figure(fault, "A"), most)
    guard = next((one for one in reversed(operating.case.path(lead.end)) if one.fuse_type and one.fuse_rating), None)
    if guard is None or guard.fuse_type is None or not guard.fuse_rating:
        return (
            None
            if any(one.fuse_rating is None for one in operating.case.path(lead.end))
            else Answer(
                UNSOUND, f"a short on {lead.id} draws {fault:.0f} A and nothing opens", Figure(fault, "A"), most
            )
        )
    rating = guard.fuse_rating
    seconds = fuses.slowest_opening(guard.fuse_type.gates, fault / rating)
    bears = copper.withstand_seconds(lead.conductor.area, lead.insulation.k, fault)
    if seconds == float("inf"):
        says = (
            f"a short on {lead.id} draws {fault:.0f} A, too little to open {rating:g} A and more than the cable bears"
        )
        return Answer(UNSOUND, says, Figure(fault, "A"), most)
    figure, bound = Figure(seconds, "s"), Figure(bears, "s")
    says = f"a short on {lead.id} draws {fault:.0f} A; {rating:g} A opens within {figure}"
    if seconds <= copper.ADIABATIC_SECONDS:
        outcome = SOUND if seconds <= bears else UNSOUND
        return Answer(outcome, f"{says}, the insulation bears {bound}", figure, bound)
    outcome = SOUND if rating <= limit.value else THIN
    return Answer(
        outcome, f"{says}; slower than {copper.ADIABATIC_SECONDS:g} s, so overload rules decide", figure, bound
    )


def _bolted(operating: Operating, lead: Lead, volts: float) -> float:
    ohms = sum(operating.stretch(one, LIGHT).ohms for one in operating.case.path(lead.end))
    return volts / ohms if ohms > 0 else float("inf")


RULES = (
    Rule(
        "ampacity",
        "does the conductor stay within its insulation's temperature?",
        f"{TABLE}; square-root law for ambient",
        RUN,
        ampacity,
        danger=4,
    ),
    Rule(
        "short-circuit",
        "what stops a short at the far end?",
        "IEC 60364-4-43 (k and 1.45 from memory); ISO 8820-3 gates, slow edge",
        RUN,
        short,
        danger=4,
    ),
)
