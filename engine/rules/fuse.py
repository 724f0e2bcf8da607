"""Is every conductor fused at its source, by a fuse that carries the load and guards the wire?"""

from __future__ import annotations

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.case import FUSE, Draw, Feed, Lead, Piece
from engine.model.operating import LIGHT, Operating
from engine.physics import copper, fuses
from engine.rules.rule import FITTING, LOAD, PRACTICE, PROTECTION, RUN, Answer, Margin, Rule, grade_most, unknown
from engine.rules.wire import allowed, allowed_in
from engine.terms import FusedLegs, LoadModel, Negative
from engine.working import Figure, greatest

OWN_FUSE_SPREAD = 1.25
"""Makers' own fuses for one class of equipment lie within this factor of the usual one (common practice)."""

SMALLEST = 3.0
"""A fuse of this rating [A] is small enough for anything on the shelf."""


def present(operating: Operating, lead: Lead) -> Answer | None:
    """A conductor without a fuse is only sound when something else limits what it can carry."""
    if lead.fuse_rating is None:
        return unknown(
            f"whether {lead.id} has a fuse at its source end is not known: look, and write its rating or none"
        )
    if lead.fuse_rating > 0:
        return Answer(SOUND, f"{lead.id} is fused at {lead.fuse_rating:g} A")
    above = [one for one in operating.case.path(lead.end) if one is not lead]
    if lead.conductor is None or any(one.fuse_rating is None for one in above):
        what = "its conductor" if lead.conductor is None else "the fuse before it"
        return unknown(f"{lead.id} has no fuse at its source end, and {what} is not known: nothing may guard it")
    limit = allowed(lead)
    upstream = [one for one in above if one.fuse_rating]
    guard = min(reversed(upstream), key=lambda one: one.fuse_rating or 0.0, default=None)
    if guard and (guard.fuse_rating or 0.0) <= limit.value:
        return Answer(SOUND, f"{lead.id} has no fuse of its own; {guard.id}'s guards it")
    feed = operating.case.source_of(lead.end)
    if feed and not feed.missing and feed.limit <= limit.value:
        bears = f"{feed.id} never gives more than {feed.limit:.0f} A and the cable bears {limit}"
        says = f"exemption: {lead.id} has no fuse, but {bears}"
        return Answer(THIN, says, Figure(feed.limit, "A"), limit)
    return Answer(UNSOUND, f"{lead.id} has no fuse at its source end: a short would burn it", None, limit)


def makers_rating(operating: Operating, lead: Lead) -> float:
    """The fuse [A] that the maker of the only load on a lead puts there, where it carries what that draws; else 0.

    It is the guide at its place: its maker knows how long the load draws how much. The continuous rule decides where
    that is all the time.
    """
    draws = operating.demand.served.get(lead.id, ())
    alone = len(draws) == 1 and draws[0].id == lead.end and draws[0].follows == LoadModel.STEADY_CURRENT
    rating = (draws[0].fuse or 0.0) if alone and 0 < draws[0].keyed < 1 else 0.0
    return rating if operating.demand.worst_peak(lead.id)[0] <= rating + 1e-9 else 0.0


def need(operating: Operating, lead: Lead) -> Figure:
    """The current that the lead's fuse must carry."""
    top, state = operating.demand.worst_peak(lead.id)
    peak = Figure(top, "A", "peak", f"largest draw, {state.name}")
    heating = Figure(operating.demand.worst_heating(lead.id)[0], "A", "heating", "heating current during an over")
    factor = Figure(operating.case.limits.continuous_factor, "", "factor", "continuous rule")
    return peak if makers_rating(operating, lead) else greatest(peak, heating * factor)


def snug(operating: Operating, lead: Lead) -> Answer | None:
    """A fuse far above what its lead carries lets a fault burn longer than it must."""
    if not lead.fuse_rating:
        return None
    makers = makers_rating(operating, lead)
    own = [] if makers else [one.fuse or 0.0 for one in operating.demand.served.get(lead.id, ())]
    wanted = makers or _with_spare(operating, lead)
    made_in = lead.fuse_type.ratings if lead.fuse_type else ()
    enough = next((one for one in made_in if one >= wanted - 1e-9), wanted)
    figure, limit = Figure(lead.fuse_rating, "A"), Figure(max([enough, SMALLEST, *own]), "A")
    outcome = SOUND if figure.value <= limit.value + 1e-9 else THIN
    return Answer(outcome, f"{figure} in {lead.id}, where {limit} is enough{_why_larger(lead, makers)}", figure, limit)


def _with_spare(operating: Operating, lead: Lead) -> float:
    """The rating [A] that carries the load with the spare that is wanted over its peak."""
    top = operating.demand.worst_peak(lead.id)[0]
    return max(need(operating, lead).value, top / (1 - operating.case.limits.fuse_margin))


def _why_larger(lead: Lead, makers: float) -> str:
    """Why the fuse at the source is larger than the radio's own, where it is; and what that one is still for."""
    if not makers or not lead.fuse_type or not lead.fuse_rating or lead.fuse_rating <= makers:
        return ""
    begins = lead.fuse_type.ratings[0]
    why = f"a {lead.fuse_type.id} fuse begins at {begins:g} A" if begins > makers else "it feeds the cable"
    return f": {why} and guards the cable; the radio's own {makers:g} A stays in its lead and guards the radio"


def carries(operating: Operating, lead: Lead) -> Answer | None:
    """The fuse must carry the load: peaks at its rating, hours at its rating over the continuous factor."""
    if not lead.fuse_rating:
        return None
    limits = operating.case.limits
    top, state = operating.demand.worst_peak(lead.id)
    figure = need(operating, lead)
    outcome = grade_most(figure.value, lead.fuse_rating, 0.0)
    if outcome == SOUND and lead.fuse_rating != makers_rating(operating, lead):
        outcome = grade_most(top, lead.fuse_rating, limits.fuse_margin)
    says = f"the fuse of {lead.id} is {lead.fuse_rating:g} A and must be rated {figure} or more with {state.name}"
    return Answer(outcome, says, figure, Figure(lead.fuse_rating, "A"))


def guards(operating: Operating, lead: Lead) -> Answer | None:
    """The fuse guards the wire: no more than the wire may carry, and never above 150 % of it."""
    if not lead.fuse_rating or lead.conductor is None:
        return None
    limits = operating.case.limits
    piece = max(lead.pieces, key=lambda one: lead.guard(one) / max(allowed_in(lead, one).value, 1e-9))
    figure, limit = Figure(lead.guard(piece), "A"), allowed_in(lead, piece)
    most, size = Figure(limit.value * limits.fuse_over_wire, "A"), piece.conductor.id
    if figure.value <= limit.value + 1e-9:
        return Answer(SOUND, f"{figure} guards {size}, which may carry {limit}", figure, limit)
    says = f"{figure} is more than {size} may carry ({limit})"
    if figure.value <= most.value + 1e-9:
        if _makers(lead, piece):
            return Answer(SOUND, f"{figure} and {size} came together from the radio's maker", figure, limit)
        return Answer(
            THIN,
            f"{says}, within the {limits.fuse_over_wire:.0%} that 33 CFR 183.455 permits".replace("%", " %"),
            figure,
            limit,
        )
    return Answer(UNSOUND, f"{says}: the wire would be the fuse", figure, most)


def stays(operating: Operating, lead: Lead) -> Answer | None:
    """A fuse that is larger than the load's own guards the cable: the load's own fuse stays before it."""
    makers = makers_rating(operating, lead)
    if not lead.fuse_rating or not makers:
        return None
    before = min(lead.fuse_rating, lead.own_fuse.rating if lead.own_fuse else lead.fuse_rating)
    figure, limit = Figure(before, "A"), Figure(max(_next_made(makers), SMALLEST), "A")
    if before <= limit.value + 1e-9:
        return Answer(SOUND, f"{figure} before {lead.end}; its maker puts {makers:g} A there", figure, limit)
    says = f"{figure} is the smallest fuse before {lead.end}, where its maker puts {makers:g} A"
    return Answer(THIN, f"{says}: leave the fuse in its own lead, or put one near it", figure, limit)


def _next_made(rating: float) -> float:
    """The next rating [A] that blade fuses are made in."""
    return next((one for one in BLADES if one >= rating - 1e-9), rating)


BLADES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 100, 125, 150)
"""Ratings [A] in which vehicle fuses are made (ISO 8820-3 and 8820-5)."""


def _makers(lead: Lead, piece: Piece) -> bool:
    """Whether a piece came with the load, and the fuse before it too."""
    if piece is not lead.tail and not lead.supplied:
        return False
    rating = lead.guard(piece)
    return FUSE in lead.kept if lead.own_fuse is None else rating >= lead.own_fuse.rating


def rated_volts(operating: Operating, lead: Lead) -> Answer | None:
    """A fuse breaks the arc only up to its rated voltage."""
    feed = operating.case.source_of(lead.end)
    if lead.fuse_type is None or not lead.fuse_rating or feed is None or feed.missing:
        return None
    figure, limit = Figure(feed.highest_volts, "V"), Figure(lead.fuse_type.volts, "V")
    outcome = SOUND if figure.value <= limit.value else UNSOUND
    return Answer(outcome, f"a {lead.fuse_type.id} fuse is rated {limit} on a {figure} line", figure, limit)


def breaking(operating: Operating, lead: Lead) -> Answer | None:
    """The fuse must break the largest current that its source can drive."""
    feed = operating.case.source_of(lead.end)
    if lead.fuse_type is None or not lead.fuse_rating or feed is None or feed.missing:
        return None
    figure, limit = _prospective(operating, lead, feed), Figure(lead.fuse_type.breaking, "A")
    says = f"{feed.id} drives at most {figure} into a short"
    if figure.value <= limit.value:
        return Answer(SOUND, f"{says}; the fuse breaks {limit}", figure, limit)
    own = fuses.ohms(lead.fuse_rating, lead.fuse_type.drop * operating.case.limits.fuse_usual)
    left = 1 / (1 / figure.value + own / feed.highest_volts)
    if feed.fault_ohms and left <= limit.value:
        more = f"{left:.0f} A with its own resistance counted: common practice, but better a fuse for the whole current"
        return Answer(THIN, f"{says}, and the fuse breaks {limit}; {more}", figure, limit)
    return Answer(UNSOUND, f"{says}; the fuse breaks {limit}", figure, limit)


def _prospective(operating: Operating, lead: Lead, feed: Feed) -> Figure:
    """The current [A] into a short just behind the fuse: the source's own, less what the way to the fuse takes."""
    before = [one for one in operating.case.path(lead.end) if one is not lead]
    if not feed.fault_ohms or not before:
        return Figure(feed.limit, "A")
    ohms = sum(operating.stretch(one, LIGHT).ohms for one in before)
    volts = Figure(feed.highest_volts, "V", "volts", f"the most that {feed.id} shows")
    limit = Figure(feed.limit, "A", "limit", f"into a short at the posts of {feed.id}")
    return volts / (volts / limit + Figure(ohms, "Ω", "way", "leads, fuses and contacts before it, cold"))


def made(operating: Operating, lead: Lead) -> Answer | None:
    """A rating that the family does not come in is a slip, or a fuse of another kind."""
    if not lead.fuse_rating or (lead.fuse_type and lead.fuse_rating in lead.fuse_type.ratings):
        return None
    family = f"the {lead.fuse_type.id} family" if lead.fuse_type else "any family on the shelf"
    return unknown(f"{lead.fuse_rating:g} A is not a rating of {family}: read the fuse again, or name its fuse_type")


def place(operating: Operating, lead: Lead) -> Answer | None:
    """The wire between source and fuse is unprotected: keep it short."""
    if not lead.fuse_rating:
        return None
    figure, limit = Figure(lead.fuse_at, "m"), Figure(operating.case.limits.fuse_reach, "m")
    feed = operating.case.source_of(lead.end)
    if figure.value <= limit.value + 1e-9:
        return Answer(SOUND, f"the fuse of {lead.id} sits at its source", figure, limit)
    if feed and not feed.missing and lead.conductor and feed.limit <= allowed(lead).value * copper.BIGGEST_OVERLOAD:
        return Answer(
            THIN, f"the fuse of {lead.id} sits {figure} from {feed.id}, whose own limit the wire bears", figure, limit
        )
    most = Figure(operating.case.limits.fuse_reach_sheathed, "m")
    says = f"{figure} of {lead.id} lie unfused between its source and its fuse"
    if figure.value <= most.value + 1e-9:
        return Answer(THIN, f"{says}: permitted only in a sheath or enclosure of its own, up to {most}", figure, limit)
    return Answer(UNSOUND, says, figure, most)


def heat(operating: Operating, lead: Lead) -> Answer | None:
    """Watts turned into heat in the fuse and its holder."""
    if lead.fuse_type is None or not lead.fuse_rating:
        return None
    amps, state = operating.demand.worst_heating(lead.id)
    heating = Figure(amps, "A", "heating", f"heating current during an over, {state.name}")
    drop = Figure(lead.fuse_type.drop, "V", "drop", f"most that {lead.fuse_type.id} may drop at its rating")
    figure = heating**2 * drop / Figure(lead.fuse_rating, "A", "rating", "its rating")
    limit = Figure(lead.fuse_type.drop * lead.fuse_rating, "W")
    outcome = SOUND if figure.value <= limit.value + 1e-9 else UNSOUND
    return Answer(
        outcome, f"the fuse of {lead.id} turns {figure} into heat; its standard allows {limit}", figure, limit
    )


def legs(operating: Operating, lead: Lead) -> Answer | None:
    """Which legs want a fuse depends on where the negative leg lands."""
    if not lead.fuse_rating:
        return None
    if lead.negative != Negative.POST:
        where = "at the supply" if lead.negative == Negative.SUPPLY else "on the body near the battery's bond"
        extra = "; the second fuse does no harm" if lead.fuse_legs == FusedLegs.BOTH else ""
        return Answer(
            SOUND, f"the negative of {lead.id} lands {where}: one fuse, in the positive leg, is enough{extra}"
        )
    if lead.fuse_legs == FusedLegs.BOTH:
        return Answer(SOUND, f"the negative of {lead.id} lands on the battery's post and both legs are fused")
    says = f"the negative of {lead.id} lands on the battery's post: if the battery's bond fails, starting current flows"
    return Answer(THIN, f"{says} through it; fuse both legs, unless the vehicle's maker says otherwise")


def own(operating: Operating, draw: Draw) -> Answer | None:
    """The fuse in a load's own lead stays what its maker put there."""
    if not draw.own_fuse_given or not draw.fuse or not draw.class_fuse:
        return None
    figure, limit = Figure(draw.fuse, "A"), Figure(draw.class_fuse, "A")
    if draw.fuse <= OWN_FUSE_SPREAD * draw.class_fuse:
        return Answer(SOUND, f"the fuse in the lead of {draw.id} ({figure}) is as usual for its kind", figure, limit)
    says = f"the fuse in the lead of {draw.id} is {figure}; {limit} is usual for its kind: read the maker's value"
    return Answer(THIN, f"{says}, never a bigger fuse", figure, limit)


def order(operating: Operating, lead: Lead) -> Answer | None:
    """A branch fuse should open before the fuse that feeds its strip."""
    upstream = [one.fuse_rating for one in operating.case.path(lead.end) if one is not lead and one.fuse_rating]
    if not lead.fuse_rating or not upstream:
        return None
    figure, limit = Figure(lead.fuse_rating, "A"), Figure(min(upstream), "A")
    outcome = SOUND if figure.value < limit.value else THIN
    return Answer(outcome, f"{figure} in {lead.id} under {limit} upstream", figure, limit)


CFR = "33 CFR 183.455"

RULES = (
    Rule("fuse-present", "is there a fuse where the wire leaves its source?", CFR, RUN, present, danger=4),
    Rule(
        "fuse-guards",
        "does the fuse open before the wire is too hot?",
        CFR,
        RUN,
        guards,
        keep=SOUND,
        margin=Margin(PROTECTION),
        danger=4,
    ),
    Rule(
        "fuse-carries",
        "does the fuse carry the load hour after hour?",
        "ISO 8820-3; continuous rule 125 % (NEC)",
        RUN,
        carries,
        keep=SOUND,
        margin=Margin(PROTECTION),
    ),
    Rule(
        "fuse-snug",
        "is the fuse no larger than the load wants?",
        "NCVEC T0A05: never a bigger fuse",
        RUN,
        snug,
        keep=SOUND,
        margin=Margin(PROTECTION),
    ),
    Rule("fuse-volts", "is the fuse rated for this voltage?", "ISO 8820-3: 32 V and 58 V", RUN, rated_volts, danger=4),
    Rule(
        "fuse-breaking",
        "can the fuse break a short?",
        "ISO 8820-3: 1000 A; ABYC E-11 by cranking current",
        RUN,
        breaking,
        keep=SOUND,
        margin=Margin(PROTECTION),
        danger=4,
    ),
    Rule("fuse-made", "is there such a fuse?", "ISO 8820-3 series", RUN, made),
    Rule("fuse-place", "is the fuse close enough to the source?", CFR, RUN, place, danger=3),
    Rule("fuse-heat", "does the fuse stay within its own heat?", "ISO 8820-3: drop at rating", RUN, heat, danger=2),
    Rule("fuse-legs", "which legs want a fuse?", "common practice; makers and codes differ", RUN, legs, danger=2),
    Rule(
        "fuse-stays",
        "does the load's own fuse stay before it?",
        "NCVEC T0A05: never a bigger fuse",
        RUN,
        stays,
        keep=SOUND,
        margin=Margin(FITTING),
        danger=2,
    ),
    Rule("fuse-own", "is the maker's own fuse respected?", "NCVEC T0A05: never a bigger fuse", LOAD, own, danger=2),
    Rule("fuse-order", "does the branch fuse open first?", PRACTICE, RUN, order),
)
