"""Does the conductor stay cool, whatever happens at its far end?"""

from __future__ import annotations

import math

from engine.case import Feed, Lead, Piece
from engine.findings import SOUND, THIN, UNSOUND
from engine.operating import LIGHT, Operating, State
from engine.parts import FuseType
from engine.physics import copper, fuses
from engine.rules.rule import PRACTICE, RUN, Answer, Rule, grade_most, unknown
from engine.working import Figure, label, least, total

TABLE = "33 CFR 183.425 table 5"


def allowed(lead: Lead) -> Figure:
    """Allowable current of the lead: that of its weakest piece, with ambient and bundle counted.

    Several conductors in parallel earn nothing: any one of them must be able to carry it all.
    """
    return min((_allowed(lead, piece) for piece in lead.pieces), key=lambda one: one.value, default=Figure(0.0, "A"))


def _allowed(lead: Lead, piece: Piece) -> Figure:
    size, together = piece.conductor, lead.together * lead.parallel
    value = copper.ampacity(size.ampacity, piece.insulation.celsius, lead.air(piece), together)

    def behind() -> Figure:
        column = copper.column(size.ampacity, piece.insulation.celsius)
        ambient = copper.ambient_factor(column, lead.air(piece)) if column else 0.0
        bundled = f"{together} loaded conductors together, {TABLE}"
        return (
            Figure(size.ampacity.get(column, 0.0), "A", "table", f"{size.id}, {column} °C column; {size.source}")
            * Figure(ambient, "", "ambient", f"air at {lead.air(piece):.0f} °C, square-root law")
            * Figure(copper.bundle_factor(together), "", "bundle", bundled)
        )

    return Figure(value, "A", behind=behind)


def sum_of(operating: Operating, lead: Lead, state: State, heating: bool) -> Figure:
    """The current of a lead in one state as the sum over its loads; heating or peak."""
    measure = operating.demand.heating if heating else operating.demand.peak

    def behind() -> Figure:
        amps = []
        for one in operating.demand.fed_by(lead.id):
            doing = "keyed" if one.id in state.keyed else "not keyed"
            mode = f", {one.mode.id} at {one.mode.duty * 100:.0f} % duty" if heating and one.is_keyed else ""
            amps.append(Figure(measure(one, state), "A", label(one.id), f"{doing}{mode}"))
        return total(amps, "A")

    return Figure(operating.demand.total(lead.id, state, measure), "A", behind=behind)


def ampacity(operating: Operating, lead: Lead) -> Answer | None:
    """Heating current against the conductor's allowable current."""
    if lead.conductor is None:
        return unknown(f"the conductor of {lead.id} is not known: read its size from the print on the cable")
    heating, state = operating.demand.worst_heating(lead.id)
    figure, limit = sum_of(operating, lead, state, True), allowed(lead)
    outcome = grade_most(heating, limit.value, operating.case.limits.rating_margin)
    thin = min(lead.pieces, key=lambda one: one.conductor.area)
    says = f"{lead.id} counts as a steady {figure} of heating with {state.name}; {thin.conductor.id} may carry {limit}"
    return Answer(outcome, says, figure, limit)


def parallel(operating: Operating, lead: Lead) -> Answer | None:
    """Conductors side by side share unevenly, and a broken one leaves the rest to carry it all."""
    if lead.parallel < 2 or lead.conductor is None:
        return None
    heating, state = operating.demand.worst_heating(lead.id)
    figure, limit = Figure(heating, "A"), allowed(lead)
    alone = "one alone can carry it" if heating <= limit.value else "one alone cannot carry it"
    says = (
        f"{lead.parallel} conductors side by side in {lead.id} ({figure} with {state.name}): {alone}; use one thicker"
    )
    return Answer(THIN if heating <= limit.value else UNSOUND, says, figure, limit)


def short(operating: Operating, lead: Lead) -> Answer | None:
    """A short circuit at the far end: what stops it before the insulation suffers?"""
    feed = operating.case.source_of(lead.end)
    if lead.conductor is None or feed is None or feed.missing:
        return None
    limit, fault = allowed(lead), _fault(operating, lead, feed)
    bears = limit.value * copper.BIGGEST_OVERLOAD
    most = Figure(bears, "A", behind=lambda: _most(limit))
    guard = next((one for one in reversed(operating.case.path(lead.end)) if one.fuse_type and one.fuse_rating), None)
    if guard is None or guard.fuse_type is None or not guard.fuse_rating:
        if fault.value <= bears:
            says = f"a short on {lead.id} draws {fault}; {feed.id} gives no more and the cable bears {most}"
            return Answer(SOUND, says, fault, most)
        if any(one.fuse_rating is None for one in operating.case.path(lead.end)) or lead.fuse_rating:
            return None
        return Answer(UNSOUND, f"a short on {lead.id} draws {fault} and nothing opens", fault, most)
    return _opened(lead, feed, guard.fuse_type, guard.fuse_rating, fault, most, limit)


def _opened(
    lead: Lead, feed: Feed, family: FuseType, rating: float, fault: Figure, most: Figure, limit: Figure
) -> Answer:
    """Whether the fuse opens in time, and what protects the cable where the supply limits below that."""
    doubt = " (its gates from memory)" if family.source.endswith("memory") else ""
    seconds = fuses.slowest_opening(family.gates, fault.value / rating)
    if math.isinf(seconds):
        sure = rating * fuses.SURE_TO_OPEN
        opens = f"{rating:g} A opens only from {sure:.0f} A"
        says = f"a short on {lead.id} draws {fault}, all that {feed.id} gives: {opens}"
        if fault.value <= most.value:
            return Answer(SOUND, f"{says}; the supply's own limit protects the cable, which bears {most}", fault, most)
        return Answer(UNSOUND, f"{says}, and the cable bears no more than {most}", fault, most)
    thin = min(lead.pieces, key=lambda one: one.conductor.area)
    figure = Figure(seconds, "s")
    bears = copper.withstand_seconds(thin.conductor.area, thin.insulation.k, fault.value)
    bound = Figure(bears, "s", behind=lambda: _withstand(thin, fault))
    says = f"a short on {lead.id} draws {fault}; {rating:g} A opens within {figure}{doubt}"
    if seconds <= copper.ADIABATIC_SECONDS:
        outcome = SOUND if seconds <= bound.value else UNSOUND
        return Answer(outcome, f"{says}, the insulation bears {bound}", figure, bound)
    outcome = SOUND if rating <= limit.value else THIN
    late = f"slower than {copper.ADIABATIC_SECONDS:g} s, so the overload rule decides: {rating:g} A against {limit}"
    return Answer(outcome, f"{says}; {late}", Figure(rating, "A"), limit)


def _withstand(thin: Piece, fault: Figure) -> Figure:
    k = Figure(thin.insulation.k, "A√s/mm²", "k", f"insulation of {thin.insulation.id}, IEC 60364-4-43 from memory")
    area = Figure(thin.conductor.area, "mm²", "area", thin.conductor.id)
    return (k * area / fault.named("fault")) ** 2


def _most(limit: Figure) -> Figure:
    return limit.named("allowed") * Figure(copper.BIGGEST_OVERLOAD, "", "overload", "IEC 60364-4-43, from memory")


def _fault(operating: Operating, lead: Lead, feed: Feed) -> Figure:
    """Prospective current [A] of a short at the far end: what the cold loop lets through, up to the supply's limit."""
    ohms = sum(operating.stretch(one, LIGHT).ohms for one in operating.case.path(lead.end))
    volts, inside = feed.highest_volts, feed.fault_ohms
    value = min(feed.limit, volts / (inside + ohms)) if ohms > 0 else feed.limit

    def behind() -> Figure:
        limit = Figure(feed.limit, "A", "limit", f"{feed.id} gives no more ({feed.limiting})")
        if ohms <= 0:
            return total([limit], "A")
        shows = Figure(volts, "V", "volts", "the most it shows")
        own = Figure(inside, "Ω", "inside", f"inside {feed.id}, at its least")
        return least(limit, shows / (own + Figure(ohms, "Ω", "ohms", "cold loop, fuses and contacts")))

    return Figure(value, "A", behind=behind)


RULES = (
    Rule(
        "ampacity",
        "does the conductor stay within its insulation's temperature?",
        f"{TABLE}; square-root law for ambient",
        RUN,
        ampacity,
        danger=4,
    ),
    Rule("parallel", "is each conductor enough alone?", PRACTICE, RUN, parallel, danger=3),
    Rule(
        "short-circuit",
        "what stops a short at the far end?",
        "IEC 60364-4-43 (k and 1.45 from memory); ISO 8820-3 gates, slow edge",
        RUN,
        short,
        danger=4,
    ),
)
