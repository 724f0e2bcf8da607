"""Does the changeover carry the station, and does the radio notice it?"""

from __future__ import annotations

from engine.findings import SOUND, THIN
from engine.model.case import Lead
from engine.model.operating import Operating
from engine.parts import Changeover
from engine.rules.rule import PRACTICE, RUN, Answer, Rule, grade_most, unknown
from engine.working import Figure


def _part(operating: Operating, lead: Lead) -> Changeover | None:
    hub = operating.case.hub.get(lead.end)
    return hub.changeover if hub and hub.changes else None


def known(operating: Operating, lead: Lead) -> Answer | None:
    """What the changeover loses decides the volts."""
    hub = operating.case.hub.get(lead.end)
    if hub is None or not hub.changes or hub.changeover is not None:
        return None
    return unknown(f"what sort of changeover {hub.id} is, is not known: diodes, relay or electronic switch")


def carries(operating: Operating, lead: Lead) -> Answer | None:
    """Its rating against the largest current."""
    part = _part(operating, lead)
    if part is None:
        return None
    top, state = operating.demand.worst_peak(lead.id)
    figure, limit = Figure(top, "A"), Figure(part.amps, "A")
    outcome = grade_most(top, part.amps, operating.case.limits.rating_margin)
    return Answer(outcome, f"{part.title} passes {figure} with {state.name}; it is rated {limit}", figure, limit)


def gap(operating: Operating, lead: Lead) -> Answer | None:
    """Whether a radio in operation goes on without a break."""
    part = _part(operating, lead)
    if part is None:
        return None
    if part.gap_free:
        return Answer(SOUND, f"{part.title} goes over without a gap")
    return Answer(THIN, f"{part.title} is open for a moment when it goes over: a radio or computer may restart")


RULES = (
    Rule("changeover-known", "what goes over between the sources?", "nothing can be judged without it", RUN, known),
    Rule("changeover-carries", "does the changeover carry the station?", "its rating", RUN, carries, danger=3),
    Rule("changeover-gap", "does the radio notice an outage?", PRACTICE, RUN, gap, keep=SOUND),
)
