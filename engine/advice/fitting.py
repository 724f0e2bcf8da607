"""What to do with the leads and knobs of a plan: what goes on which end, where fuse and negative go."""

from __future__ import annotations

from collections.abc import Iterator

from engine.model.case import VEHICLE, Case, Lead
from engine.model.operating import USUAL, Operating
from engine.physics import copper
from engine.terms import FusedLegs, Negative
from engine.units import LENGTH, VOLTS, show

ENDS = {
    "ring terminal": "crimp ring terminals on it",
    "heavy lug": "crimp heavy lugs on it",
    "ferrule under screw": "crimp ferrules on it",
}
"""What to do with the stripped end of a lead, for each contact; else the contact is crimped on it."""

WINS = "What the vehicle's maker writes for two-way radio wins"
MATTERS = 0.05
"""Volts below which it is not told what a lead left long loses."""


def fitting(operating: Operating) -> tuple[str, ...]:
    """What to do, one line for each thing, in the order in which it is met from the source on."""
    case = operating.case.joint
    return (*_knobs(case), *(line for lead in case.leads for line in _lead(operating, case, lead)))


def _knobs(case: Case) -> Iterator[str]:
    for feed in case.feeds:
        if feed.adjustable and feed.locked and not feed.owned:
            yield (
                f"{feed.id}: set it to {show(feed.volts, VOLTS)} with nothing connected, then lock or cover its knob; "
                "the plan counts on it"
            )


def _lead(operating: Operating, case: Case, lead: Lead) -> Iterator[str]:
    if lead.owned or lead.contacts is None:
        return
    if lead.supplied:
        yield from _came_with(operating, case, lead)
    elif lead.tail:
        yield from _fed(case, lead)
    feed = case.feed.get(lead.start)
    if feed is not None and feed.kind == VEHICLE:
        yield _negative(lead, feed.sensor)


def _came_with(operating: Operating, case: Case, lead: Lead) -> Iterator[str]:
    """The lead that came with a load, as it is used."""
    own, first = case.draw[lead.end].lead, lead.contacts[0].id if lead.contacts else ""
    if own is not None and own.length > lead.length + 0.1:
        more = _left_long(operating, lead, own.length)
        left = f"; left long it loses {show(round(more, 1), VOLTS)} more at key-down" if more >= MATTERS else ""
        length = show(lead.length, LENGTH, 2)
        yield f"{lead.id}: the lead that came with {lead.end} is too long; shorten it to {length}{left}"
    ends = ENDS.get(first, f"crimp {first} contacts on it")
    yield f"{lead.id}: its stripped end goes to {lead.start}; {ends}, never solder strands under a screw"
    if lead.fuse_rating:
        reach = show(case.limits.fuse_reach, LENGTH, 2)
        rating = f"{lead.fuse_rating:g} A"
        yield f"{lead.id}: its {rating} fuse sits within {reach} of {lead.start}; leave it in when you shorten"


def _left_long(operating: Operating, lead: Lead, metres: float) -> float:
    """What a lead loses more [V] at key-down when it is not shortened."""
    if lead.conductor is None or lead.id not in {one.id for one in operating.case.leads}:
        return 0.0
    ohms = copper.loop_ohms(lead.conductor.ohms_per_metre, metres - lead.length)
    return max(operating.point(state, USUAL).through.get(lead.id, 0.0) for state in operating.states) * ohms


def _fed(case: Case, lead: Lead) -> Iterator[str]:
    """A heavy feed to a terminal block, and the lead that came with the load from there."""
    tail = lead.tail.length if lead.tail else 0.0
    own, size = case.draw[lead.end].lead, lead.conductor.id if lead.conductor else ""
    what = "short" if own and own.length < lead.length else "thin"
    yield (
        f"{lead.id}: the lead that came with {lead.end} is too {what} for the whole way: lay {size} to a covered "
        f"terminal block near {lead.end}, and {show(tail, LENGTH, 2)} of that lead from there"
    )
    if lead.own_fuse:
        own_fuse, at_source = f"{lead.own_fuse.rating:g} A", f"{lead.fuse_rating:g} A"
        yield f"{lead.id}: leave its own {own_fuse} fuse in it; the {at_source} at {lead.start} guards the feed"


def _negative(lead: Lead, sensor: bool) -> str:
    """Where the negative leg of a vehicle's lead goes, and why."""
    if lead.negative == Negative.POST:
        both = "" if lead.fuse_legs == FusedLegs.BOTH else ", and fuse that leg too"
        why = "if the battery's own bond fails, starting current looks for a way through it"
        return f"{lead.id}: its negative goes on the battery's post{both}: {why}. {WINS}"
    if lead.negative == Negative.BODY:
        counts = "the sensor in the battery's lead" if sensor else "a sensor in the battery's lead, if there is one,"
        why = f"{counts} then counts what the radio takes, and no starting current can flow through it"
        return f"{lead.id}: bolt its negative to bare metal of the body where the battery is bonded: {why}. {WINS}"
    return f"{lead.id}: bolt its negative to the body where the battery is bonded, never to a seat bolt. {WINS}"
