"""Does the conductor stay cool, whatever happens at its far end?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.findings import SEVERITY, SOUND, THIN, UNSOUND
from engine.model.case import COPPER, Feed, Lead, Piece
from engine.model.operating import LIGHT, Operating, State
from engine.physics import circuit, copper, fuses
from engine.rules.rule import FITTING, PRACTICE, RUN, Answer, Margin, Rule, grade_most, unknown
from engine.working import Figure, label, total

TABLE = "33 CFR 183.425 table 5"


def allowed(lead: Lead) -> Figure:
    """Allowable current of the lead: that of its weakest piece, with ambient and bundle counted.

    Several conductors in parallel earn nothing: any one of them must be able to carry it all.
    """
    return min((allowed_in(lead, piece) for piece in lead.pieces), key=lambda one: one.value, default=Figure(0.0, "A"))


def weakest(lead: Lead) -> Piece:
    """The piece of a lead that may carry least."""
    return min(lead.pieces, key=lambda piece: allowed_in(lead, piece).value)


def allowed_in(lead: Lead, piece: Piece) -> Figure:
    """Allowable current of one piece of a lead, with ambient and bundle counted."""
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
    thin = weakest(lead)
    says = f"{lead.id} heats like a steady {figure} with {state.name}; {thin.conductor.id} may carry {limit}"
    return Answer(outcome, says, figure, limit)


def strength(operating: Operating, lead: Lead) -> Answer | None:
    """Thin wire breaks where hands pull and where it leaves a crimp, whatever current it may carry."""
    if lead.conductor is None or lead.supplied or COPPER in lead.kept:
        return None
    limits = operating.case.limits
    figure, limit = Figure(lead.conductor.area, "mm²"), Figure(limits.least_wire, "mm²")
    if figure.value >= limit.value - 1e-9:
        return Answer(SOUND, f"{lead.conductor.id} of {lead.id} bears handling", figure, limit)
    says = f"{lead.conductor.id} of {lead.id} breaks easily where it is pulled or bent"
    return Answer(THIN, f"{says}; 18 AWG or 0.75 mm² is the least that bears handling", figure, limit)


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
    """A short circuit at the far end: what stops it before the insulation suffers?

    Where a heavy feed ends in the lead that came with the load, a short at their joint is asked about too.
    """
    answers = [_shorted(operating, lead)]
    if lead.tail and lead.own_fuse:
        answers.append(_at_joint(operating, lead))
    return max((one for one in answers if one), key=lambda one: SEVERITY[one.outcome], default=None)


def _at_joint(operating: Operating, lead: Lead) -> Answer | None:
    """A short where a heavy feed ends, before the fuse of the lead that came with the load."""
    first = replace(lead, tail=None, own_fuse=None, length=lead.bought_length)
    leads = tuple(first if one is lead else one for one in operating.case.leads)
    return _shorted(Operating(replace(operating.case, leads=leads), operating.demand), first)


def _shorted(operating: Operating, lead: Lead) -> Answer | None:
    feed = operating.case.source_of(lead.end)
    if lead.conductor is None or feed is None or feed.missing:
        return None
    limit, fault = allowed(lead), _fault(operating, lead, feed)
    most = _most(limit)
    guard = _first_to_open(operating.case.path(lead.end), fault.value)
    if guard is None:
        if fault.value <= most.value:
            says = f"a short on {lead.id} draws {fault}; {feed.id} gives no more and the cable bears {most}"
            return Answer(SOUND, says, fault, most)
        if any(one.fuse_rating is None for one in operating.case.path(lead.end)) or lead.fuse_rating:
            return None
        return Answer(UNSOUND, f"a short on {lead.id} draws {fault} and nothing opens", fault, most)
    return _opened(lead, feed, guard, fault, most, limit)


@dataclass(frozen=True)
class _Guard:
    """A fuse on the way to a short: whose it is, its rating [A], and how soon it surely opens [s]."""

    of: str
    rating: float
    seconds: float
    doubt: str


def _first_to_open(path: Sequence[Lead], fault: float) -> _Guard | None:
    """Of the fuses that ``fault`` [A] flows through, the one that surely opens first; the smallest where none does."""
    guards = []
    for one in reversed(path):
        if one.fuse_type and one.fuse_rating:
            seconds = fuses.slowest_opening(one.fuse_type.gates, fault / one.fuse_rating)
            doubt = " (its gates from memory)" if one.fuse_type.source.endswith("memory") else ""
            guards.append(_Guard(one.id, one.fuse_rating, seconds, doubt))
        if one.own_fuse and (guards or one.fuse_rating == 0):
            own = one.own_fuse
            seconds = fuses.slowest_opening(own.family.gates, fault / own.rating)
            guards.append(_Guard(one.id, own.rating, seconds, ""))
    return min(guards, key=lambda one: (one.seconds, one.rating), default=None)


def _opened(lead: Lead, feed: Feed, guard: _Guard, fault: Figure, most: Figure, limit: Figure) -> Answer:
    """Whether the fuse opens in time, and what protects the cable where the supply limits below that."""
    rating, seconds = guard.rating, guard.seconds
    fuse = f"{rating:g} A" if guard.of == lead.id else f"the {rating:g} A of {guard.of}"
    if math.isinf(seconds):
        opens = f"{fuse} opens only from {rating * fuses.SURE_TO_OPEN:.0f} A"
        says = f"a short on {lead.id} draws {fault}, all that {feed.id} gives: {opens}"
        if fault.value <= most.value:
            return Answer(SOUND, f"{says}; the supply's own limit protects the cable, which bears {most}", fault, most)
        return Answer(UNSOUND, f"{says}, and the cable bears no more than {most}", fault, most)
    thin = min(lead.pieces, key=lambda one: one.conductor.area)
    figure = Figure(seconds, "s")
    bound = _withstand(thin, fault)
    says = f"a short on {lead.id} draws {fault}; {fuse} opens within {figure}{guard.doubt}"
    if seconds <= copper.ADIABATIC_SECONDS:
        outcome = SOUND if seconds <= bound.value else UNSOUND
        return Answer(outcome, f"{says}, the insulation bears {bound}", figure, bound)
    outcome = SOUND if rating <= limit.value else THIN
    late = f"slower than {copper.ADIABATIC_SECONDS:g} s, so the overload rule decides: {rating:g} A against {limit}"
    return Answer(outcome, f"{says}; {late}", Figure(rating, "A"), limit)


def _withstand(thin: Piece, fault: Figure) -> Figure:
    k = Figure(thin.insulation.k, "A√s/mm²", "k", f"insulation of {thin.insulation.id}, IEC 60364-4-43 from memory")
    area = Figure(thin.conductor.area, "mm²", "area", thin.conductor.id)
    return copper.withstand_seconds(area, k, fault.named("fault"))


def _most(limit: Figure) -> Figure:
    return limit.named("allowed") * Figure(copper.BIGGEST_OVERLOAD, "", "overload", "IEC 60364-4-43, from memory")


def _fault(operating: Operating, lead: Lead, feed: Feed) -> Figure:
    """Prospective current [A] of a short at the far end: what the cold loop lets through, up to the supply's limit."""
    ohms = sum(operating.stretch(one, LIGHT).ohms for one in operating.case.path(lead.end))
    volts, inside = feed.highest_volts, feed.fault_ohms
    value = circuit.into_short(feed.limit, volts, inside, ohms) if ohms > 0 else feed.limit

    def behind() -> Figure:
        limit = Figure(feed.limit, "A", "limit", f"{feed.id} gives no more ({feed.limiting})")
        if ohms <= 0:
            return total([limit], "A")
        shows = Figure(volts, "V", "volts", "the most it shows")
        own = Figure(inside, "Ω", "inside", f"inside {feed.id}, at its least")
        return circuit.into_short(limit, shows, own, Figure(ohms, "Ω", "ohms", "cold loop, fuses and contacts"))

    return Figure(value, "A", behind=behind)


RULES = (
    Rule(
        "wire-strength",
        "does the wire bear handling?",
        PRACTICE,
        RUN,
        strength,
        keep=SOUND,
        margin=Margin(FITTING),
    ),
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
