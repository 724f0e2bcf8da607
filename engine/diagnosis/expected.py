"""What the parts of a sound station measure: the resistance of each, the volts of each source, the currents.

The bounds are wide on purpose: only what no sound part can show is held against a part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.diagnosis.interval import NOT_NEGATIVE, Interval
from engine.model.case import CONTACTS, COPPER, FUSE, Case, Feed, Lead
from engine.model.operating import LIGHT, RESISTIVE, SAGGING, STEADY_POWER, USUAL, Operating, State
from engine.physics import copper

SOURCE = "source"
AGED_CONTACT = 2.0
"""A contact in use may have this many times the resistance of a fresh one and still be sound (common practice)."""

HOLDER_OHMS = 0.001
"""Most that the two clips of a sound fuse holder add [Ω] (common practice, no source)."""

UNKNOWN_CONTACTS = 0.01
"""Most that contacts of which nothing is said should have together [Ω] (own estimate)."""

UNMEASURED = Interval(0.75, 1.15)
"""How far a load's own current may be from what is stated of it, where none was measured (own estimate)."""


@dataclass(frozen=True)
class Part:
    """What a reading can accuse: a source in one state of the loads, or the copper, fuse or contacts of a run."""

    of: str
    name: str
    state: str = ""

    @property
    def place(self) -> tuple[str, str]:
        """Which part it is, whatever the loads do."""
        return self.of, self.name


class SoundStation:
    """The figures of one station, were all its parts sound. ``assumed`` names the loads whose window is assumed."""

    def __init__(self, operating: Operating, assumed: frozenset[str] = frozenset()) -> None:
        self.operating = operating
        self.case: Case = operating.case
        self.assumed = assumed

    def parts(self, lead: Lead) -> tuple[Part, ...]:
        """The parts of a run that may be at fault."""
        fused = [Part(lead.id, FUSE)] if lead.fuse_rating != 0 else []
        return (Part(lead.id, COPPER), *fused, Part(lead.id, CONTACTS))

    def ohms(self, part: Part) -> Interval:
        """The resistance that a sound part of a run can have [Ω]; for a source the volts it can lose [V]."""
        if part.name == SOURCE:
            span = self.volts(self.case.feed[part.of], State(part.state))
            return Interval(span.low - span.high, 0.0)
        lead = self.lead(part.of)
        least, most = (self.operating.stretch(lead, condition) for condition in (LIGHT, SAGGING))
        more = 1 + self.operating.case.limits.as_built
        if part.name == COPPER:
            return Interval(least.copper * 0.9, most.copper * more) if lead.conductor else NOT_NEGATIVE
        if part.name == FUSE:
            known = lead.fuse_type and lead.fuse_rating
            return Interval(0.0, most.fuse * more + HOLDER_OHMS) if known else NOT_NEGATIVE
        most_contacts = most.contacts * max(AGED_CONTACT, more) if lead.contacts else UNKNOWN_CONTACTS
        return Interval(0.0, most_contacts)

    def usual(self, part: Part) -> float:
        """The resistance that such a part usually has [Ω]."""
        lead = self.lead(part.of)
        stretch = self.operating.stretch(lead, USUAL)
        return {COPPER: stretch.copper, FUSE: stretch.fuse, CONTACTS: stretch.contacts}[part.name]

    def copper_ohms(self, run: str) -> float:
        """The resistance [Ω] that the cable of a run has at 20 °C, out and back, as its tables state it."""
        lead = self.lead(run)
        ohms = (copper.loop_ohms(piece.conductor.ohms_per_metre, piece.length) for piece in lead.pieces)
        return sum(ohms) / lead.parallel

    def lead(self, run: str) -> Lead:
        """A run by its id."""
        return next(lead for lead in self.case.leads if lead.id == run)

    def volts(self, feed: Feed, state: State) -> Interval:
        """What the terminals of a sound source can show in a state [V]."""
        low, high = feed.lowest_volts, feed.highest_volts
        known = next((other for other in self.operating.states if other.name == state.name), None)
        if known:
            points = [self.operating.point(known, condition) for condition in (SAGGING, LIGHT)]
            shown = [point.volts[feed.terminals] for point in points if point.fed and feed.terminals in point.volts]
            low, high = (min(shown), max(shown)) if len(shown) == len(points) else (low, high)
        return Interval(low, high)

    def amps(self, load: str, state: State, seen: Interval | None) -> Interval:
        """The current of a load in a state [A], none of it measured; ``seen`` are the volts found at its terminals.

        Below its window a load may draw anything down to nothing.
        """
        draw = self.case.draw[load]
        span = draw.transmit if draw.id in state.keyed and draw.transmit else None
        rest = Interval(draw.receive.low, max(draw.receive.high, draw.busy.high))
        stated = Interval(span.low, span.high) if span else rest
        amps = stated * UNMEASURED
        if not seen:
            return amps
        if seen.low > 0 and draw.follows == STEADY_POWER:
            amps = Interval(amps.low, amps.high * min(max(draw.nominal / seen.low, 1.0), 2.0))
        if draw.follows == RESISTIVE and draw.nominal:
            amps = Interval(amps.low * min(seen.low / draw.nominal, 1.0), amps.high)
        return replace(amps, low=0.0) if seen.low < draw.lowest else amps

    def usual_amps(self, load: str, state: State) -> float:
        """The current that a load usually draws in a state [A]."""
        return self.operating.demand.amps(self.case.draw[load], state, USUAL)
