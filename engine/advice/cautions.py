"""Cautions at the moment they matter, with the signal words of ANSI Z535: DANGER, WARNING, CAUTION, NOTICE."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.findings import UNSOUND, Finding
from engine.model.case import BATTERY, BOOSTER, MAINS, VEHICLE, Case, Feed
from engine.model.quiet import TRY
from engine.terms import SUN, PowerInput

FIRE = (
    "ampacity",
    "short-circuit",
    "fuse-present",
    "fuse-guards",
    "fuse-volts",
    "fuse-breaking",
    "contact-heat",
    "circuit-wire",
    "extension-lead",
)
SHOCK_VOLTS = 60.0
"""Above this direct voltage other rules against shock apply (IEC 61140, from memory)."""


STORED_CHARGE = (
    "lethal voltage stays inside after switching off. Work inside is for qualified people; no procedure is given here."
)
SHORT = (
    "a short circuit of a battery burns skin and melts tools (NCVEC T0A01): take rings off, cover the posts, fuse at "
    "the positive post, and connect the positive first and the negative last."
)
HYDROGEN = (
    "lead-acid gives off hydrogen while it is charged, explosive from about 4 % in air: ventilate, no spark at the "
    "posts, eye protection; acid burns. The maker's instructions and local rules decide."
)
LITHIUM = (
    "lithium: never charge it below freezing, never with a charger for another kind, never when swollen, wet or "
    "damaged; keep it where a fire can be dealt with. Its maker and your fire authority decide."
)
NICKEL = (
    "charge it only with a charger that sees the end of its charge: overcharged or damaged it gets hot and can give "
    "off hydrogen. Its maker decides."
)
ROUTE = (
    "keep cable away from airbags, pedals, fuel and hot or moving parts, use none of the vehicle's own circuits, and "
    "never touch orange cable. The vehicle maker's guide for two-way radio decides; a workshop helps."
)
STARTING = (
    "start the engine first, then switch the radio on: while it cranks the volts fall to half and less, and jump "
    "afterwards. Take the radio's fuse out before a jump start."
)
RETURN = (
    "if the negative lead comes loose, the current finds its way back through chassis, bracket and antenna cable: "
    "check it every year."
)
CONVERTER = (
    "it draws more from the battery the emptier that is, and it can be heard on the bands: listen with it on and off "
    "before you rely on it. Mend thin wire first."
)
PANELS = (
    "panels cannot be switched off in daylight: connect the battery to the controller first and the panel last. A "
    "controller may be heard on the bands."
)
SUPPLY = (
    "leave the inside of the supply closed and its earth pin whole. Changes to outlets and circuits are for a "
    "licensed electrician; your local code decides."
)
POLARITY = (
    "red is positive and black is negative on direct-current leads, which is not house-wiring practice. "
    "Check the polarity of every lead with a meter before the first connection."
)
FUMES = (
    "a generator runs outdoors only, far from windows and doors: its exhaust kills without smell. It is never "
    "connected to house wiring except through a transfer switch put in by a licensed electrician."
)
CORD = (
    "an extension lead is unrolled whole and lies open; one lead, not several in a row; its earth is whole, and its "
    "outlet has a residual-current device (RCD, GFCI) where it is outdoors or damp."
)
LISTEN = (
    "whether it is made for radio use, filtered and quiet on the bands, is not known: open-frame and computer supplies "
    f"are not. {TRY[0].upper()}{TRY[1:]}; then write filtered = true or false."
)
SURGE = (
    "takes a surge for an instant when it is switched on, many times its running current. Switch such things on one "
    "after another; a breaker that trips at that instant is a question for a licensed electrician, not for a bigger "
    "breaker."
)
SURGE_WATTS = 500.0
"""Supplies from this output power on are named for their surge (own choice)."""
BLOWN = "a blown fuse is replaced by one of the same rating, never a larger one, and only after the cause is found."


@dataclass(frozen=True)
class Caution:
    """One caution: its signal word, what it is about, and what to do."""

    word: str
    about: str
    says: str


def cautions(case: Case, findings: tuple[Finding, ...]) -> tuple[Caution, ...]:
    """The cautions that this station calls for, gravest first."""
    order = ("DANGER", "WARNING", "CAUTION", "NOTICE")
    return tuple(sorted(_all(case, findings), key=lambda one: order.index(one.word)))


def _stored(feed: Feed) -> Iterator[Caution]:
    """What a battery can do, on its own or in a vehicle."""
    if feed.kind in (BATTERY, VEHICLE):
        yield Caution("WARNING", feed.id, SHORT)
    if feed.kind == VEHICLE or (feed.cell and feed.cell.chemistry.vents):
        yield Caution("WARNING", feed.id, HYDROGEN)
    if feed.kind == VEHICLE:
        yield Caution("WARNING", feed.id, ROUTE)
        yield Caution("NOTICE", feed.id, STARTING)
        yield Caution("NOTICE", feed.id, RETURN)
    if feed.kind == BOOSTER:
        yield Caution("NOTICE", feed.id, CONVERTER)
    if feed.cell is None:
        return
    if not feed.cell.chemistry.is_lead:
        yield Caution("WARNING", feed.id, LITHIUM if feed.cell.chemistry.is_lithium else NICKEL)
    if feed.cell.charged_by == SUN:
        yield Caution("NOTICE", feed.id, PANELS)


def _wall(case: Case) -> Iterator[Caution]:
    """What the mains side calls for: a generator, an extension lead, things that surge."""
    if case.place.generator is not None:
        yield Caution("DANGER", "generator", FUMES)
    if case.place.extension is not None:
        yield Caution("WARNING", "extension lead", CORD)
    surges = [one.id for one in case.feeds if one.from_mains and one.continuous * one.volts >= SURGE_WATTS]
    surges += [one.id for one in case.draws if one.wall is not None]
    if surges:
        yield Caution("NOTICE", ", ".join(surges), SURGE)


def _all(case: Case, findings: tuple[Finding, ...]) -> Iterator[Caution]:
    for finding in findings:
        if finding.outcome == UNSOUND and finding.rule in FIRE:
            yield Caution(
                "WARNING", finding.about, f"this can start a fire: {finding.says}. Do not use it before it is mended."
            )
    for draw in case.draws:
        if draw.feed == PowerInput.MAINS:
            yield Caution("DANGER", draw.id, STORED_CHARGE)
        elif draw.highest >= SHOCK_VOLTS:
            yield Caution(
                "WARNING",
                draw.id,
                "at 60 V and above the rules against electric shock change: ask a licensed electrician.",
            )
    for feed in [one for one in case.feeds if one.kind == MAINS][:1]:
        yield Caution("WARNING", feed.id, SUPPLY)
    for feed in case.feeds:
        yield from _stored(feed)
        if feed.from_mains and feed.technology == "switch-mode" and not feed.rf_noise and not feed.missing:
            yield Caution("NOTICE", feed.id, LISTEN)
    yield from _wall(case)
    if case.leads:
        yield Caution("CAUTION", "leads", POLARITY)
        yield Caution("CAUTION", "leads", BLOWN)
    loose = [lead.id for lead in case.leads if any(not one.locks for one in lead.contacts or ())]
    if loose:
        yield Caution(
            "NOTICE", ", ".join(loose), "these contacts do not lock: tie the cable so that nothing pulls on them."
        )
