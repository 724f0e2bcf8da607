"""Do the contacts take the wire, fit the posts, carry the current and stay cool?"""

from __future__ import annotations

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.case import Lead
from engine.model.operating import Operating
from engine.parts import Contact
from engine.rules.rule import PRACTICE, PROTECTION, RUN, Answer, Margin, Rule, grade_most, unknown
from engine.terms import Stranding
from engine.working import Figure

CHANGEOVER_POSTS = ("stud", "screw terminal")
"""What a changeover offers (common practice)."""

GRADE: dict[str, str] = {Stranding.GOOD: SOUND, Stranding.POOR: THIN, Stranding.BAD: UNSOUND}


def known(operating: Operating, lead: Lead) -> Answer | None:
    """Contacts that are not described cannot be judged."""
    if lead.contacts is not None:
        return None
    return unknown(f"the contacts of {lead.id} are not known: say what is on each end")


def carries(operating: Operating, lead: Lead) -> Answer | None:
    """The weaker contact's rating against the largest current."""
    if lead.contacts is None:
        return None
    weak = min(lead.contacts, key=lambda one: one.amps)
    top, state = operating.demand.worst_peak(lead.id)
    figure, limit = Figure(top, "A"), Figure(weak.amps, "A")
    outcome = grade_most(top, weak.amps, operating.case.limits.rating_margin)
    return Answer(
        outcome, f"{weak.id} on {lead.id} carries {figure} with {state.name}; it is rated {limit}", figure, limit
    )


def guarded(operating: Operating, lead: Lead) -> Answer | None:
    """An overload that the fuse lets pass must not be more than the weaker contact bears."""
    if lead.contacts is None or not lead.fuse_rating:
        return None
    weak = min(lead.contacts, key=lambda one: one.amps)
    figure, limit = Figure(lead.fuse_rating, "A"), Figure(weak.amps, "A")
    outcome = SOUND if lead.fuse_rating <= weak.amps + 1e-9 else THIN
    return Answer(outcome, f"the fuse of {lead.id} lets {figure} pass; {weak.id} is rated {limit}", figure, limit)


def takes(operating: Operating, lead: Lead) -> Answer | None:
    """A contact holds only the wire sizes it was made for."""
    if lead.contacts is None or lead.conductor is None:
        return None
    for one, piece in zip(lead.contacts, (lead.pieces[0], lead.pieces[-1]), strict=True):
        area = piece.conductor.area
        if not one.thinnest - 0.05 <= area <= one.thickest + 0.05:
            limit = one.thickest if area > one.thickest else one.thinnest
            word = "thicker" if area > one.thickest else "thinner"
            sizes = f"{one.thinnest:g} to {one.thickest:g} mm²"
            says = f"{piece.conductor.id} ({area:.2f} mm²) is {word} than {one.id} takes ({sizes})"
            return Answer(UNSOUND, says, Figure(area, "mm²"), Figure(limit, "mm²"))
    return Answer(SOUND, f"both contacts of {lead.id} take {lead.conductor.id}", Figure(lead.conductor.area, "mm²"))


def fits(operating: Operating, lead: Lead) -> Answer | None:
    """Each end must go on the post or socket that is there."""
    if lead.contacts is None:
        return None
    case = operating.case
    start = case.feed[lead.start].outlets if lead.start in case.feed else _strip(operating, lead.start, True)
    end = case.draw[lead.end].inlets if lead.end in case.draw else _strip(operating, lead.end, False)
    for contact, offered, where in ((lead.contacts[0], start, lead.start), (lead.contacts[1], end, lead.end)):
        places = [one for one in offered if one]
        if places and not set(contact.fits) & set(places):
            says = f"{contact.id} does not go on {where}, which has: {', '.join(places)}"
            return Answer(UNSOUND, says)
    return Answer(SOUND, f"{lead.id} fits at both ends")


def _strip(operating: Operating, hub: str, out: bool) -> tuple[str, ...]:
    found = operating.case.hub.get(hub)
    if found is not None and found.changes:
        return CHANGEOVER_POSTS
    strip = found.strip if found else None
    if strip is None:
        return ()
    return strip.outlets if out else strip.inlet


def strands(operating: Operating, lead: Lead) -> Answer | None:
    """Solder flows from under a screw, loose strands creep: both loosen and heat."""
    if lead.contacts is None:
        return None
    bad = max(lead.contacts, key=lambda one: list(GRADE).index(one.stranded))
    outcome = GRADE[bad.stranded]
    if outcome == SOUND:
        return Answer(SOUND, f"the strands of {lead.id} are held properly")
    return Answer(outcome, f"{bad.id} on {lead.id}: {bad.note}")


def holds(operating: Operating, lead: Lead) -> Answer | None:
    """A contact that does not lock can be pulled apart while it carries current."""
    if lead.contacts is None:
        return None
    loose: list[Contact] = [one for one in lead.contacts if not one.locks]
    if not loose:
        return Answer(SOUND, f"both ends of {lead.id} hold against a pull")
    return Answer(SOUND, f"{loose[0].id} on {lead.id} does not lock: tie the cable so that nothing pulls on it")


def heat(operating: Operating, lead: Lead) -> Answer | None:
    """Watts turned into heat in the worse contact."""
    if lead.contacts is None:
        return None
    worse = max(lead.contacts, key=lambda one: one.ohms)
    heating = Figure(operating.demand.worst_heating(lead.id)[0], "A", "heating", "heating current during an over")
    figure = heating**2 * Figure(worse.ohms, "Ω", "ohms", f"{worse.id}, sound, {worse.source}")
    limit = Figure(operating.case.limits.contact_watts, "W")
    outcome = SOUND if figure.value <= limit.value else UNSOUND
    return Answer(outcome, f"{worse.id} on {lead.id} turns {figure} into heat when sound", figure, limit)


def strip_carries(operating: Operating, lead: Lead) -> Answer | None:
    """The strip's own rating, and its number of ways."""
    hub = operating.case.hub.get(lead.end)
    if hub is None or hub.strip is None:
        return None
    ways = sum(1 for one in operating.case.leads if one.start == hub.id)
    if ways > hub.strip.ways:
        return Answer(
            UNSOUND,
            f"{ways} leads on {hub.id}, which has {hub.strip.ways:g} ways",
            Figure(ways, ""),
            Figure(hub.strip.ways, ""),
        )
    top, state = operating.demand.worst_peak(lead.id)
    outcome = grade_most(top, hub.strip.amps, operating.case.limits.rating_margin)
    figure, limit = Figure(top, "A"), Figure(hub.strip.amps, "A")
    return Answer(outcome, f"{hub.id} carries {figure} with {state.name}; it is rated {limit}", figure, limit)


RULES = (
    Rule("contact-known", "what is on the ends of the lead?", PRACTICE, RUN, known),
    Rule(
        "contact-carries",
        "do the contacts carry the current?",
        "the trade's rating of each contact",
        RUN,
        carries,
        keep=SOUND,
        margin=Margin(PROTECTION),
        danger=3,
    ),
    Rule(
        "contact-guarded",
        "does the fuse guard the contacts too?",
        PRACTICE,
        RUN,
        guarded,
        keep=SOUND,
        margin=Margin(PROTECTION),
        danger=2,
    ),
    Rule("contact-takes", "do the contacts take this wire?", "the trade's range of each contact", RUN, takes, danger=2),
    Rule("contact-fits", "do the ends go on the posts that are there?", PRACTICE, RUN, fits),
    Rule(
        "contact-strands",
        "are the strands held properly?",
        PRACTICE,
        RUN,
        strands,
        keep=SOUND,
        margin=Margin(PROTECTION),
        danger=3,
    ),
    Rule("contact-holds", "does the lead hold against a pull?", PRACTICE, RUN, holds),
    Rule(
        "contact-heat",
        "do the contacts stay cool?",
        "Joule's law; resistances are common practice",
        RUN,
        heat,
        danger=3,
    ),
    Rule("strip-carries", "does the strip carry the sum?", "the strip's rating", RUN, strip_carries, danger=3),
)
