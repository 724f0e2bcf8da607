"""More lost in a run than sound parts lose: what copper explains, what is left for one place, and what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine import units
from engine.diagnosis.drops import Drop
from engine.diagnosis.evidence import Evidence
from engine.diagnosis.expected import SoundStation
from engine.diagnosis.result import CABLE, CONTACT, FUSE_OR_HOLDER, PATH, Cause, Estimate
from engine.diagnosis.words import spoken
from engine.model.case import Lead
from engine.working import Figure

WARM_WATTS = 2.0
"""From this heat [W] in one place a hand feels it (own estimate)."""

ALMOST_ALL = 10.0
"""A loss [V] that leaves nothing to work with."""

WHAT = {CABLE: "the cable of {run}", FUSE_OR_HOLDER: "the fuse of {run} or its holder", CONTACT: "a contact of {run}"}

DO = {
    CABLE: (
        "Read its print and measure its length.",
        "Switch off and feel along it for a joint, a crushed or a green spot.",
    ),
    FUSE_OR_HOLDER: (
        "Switch off. Fit a fuse of the same rating, never a bigger one.",
        "A holder that is brown, soft or slack goes too.",
    ),
    CONTACT: (
        "Switch off and part both ends.",
        "Crimp new contacts where one is brown, green or slack.",
    ),
    PATH: ("Switch off, and look at fuse holder, contacts and joints for one that is brown, green or slack.",),
}
FEEL = (
    "Unkey first. Then feel along {run} with the back of your hand: fuse holder, plugs, terminals, joints.",
    "The hottest place is the one; it can burn.",
)


def lead_fault(run: str, kind: str, estimates: Sequence[Estimate], sound: SoundStation, most: float) -> Cause:
    """Too much resistance in a run; ``most`` is the largest current that it must carry [A]."""
    mine = [stretch for stretch in estimates if run in stretch.runs and stretch.exceeds]
    shown = min(mine, key=lambda stretch: (len(stretch.runs), stretch.usual), default=None)
    if shown is None:
        return Cause(kind, run, f"too little gets through {WHAT.get(kind, '{run}').format(run=run)}", (), DO[kind])
    return _measured_fault(run, kind, shown, sound, most)


def _measured_fault(run: str, kind: str, shown: Estimate, sound: SoundStation, most: float) -> Cause:
    copper = kind == PATH and not shown.within_run
    origin = "what copper of its size and length has at 20 °C" if copper else "what sound parts usually have"
    explained = Figure(shown.copper if copper else shown.usual, "Ω", "explained", origin)
    rest = shown.resistance.named("resistance") - explained
    amps = Figure(max(most, shown.amps) if shown.in_ohms else shown.amps, "A", "amps")
    heat = amps**2 * rest.named("rest")
    volts = rest.value * amps.value
    because = [_explained(run, explained.value * amps.value, copper, sound), _one_place(volts, heat, kind)]
    if shown.in_ohms:
        because = [f"A sound one has {spoken(shown.usual, 'Ω')}."]
    if most > 1.5 * shown.amps or shown.in_ohms:
        because.append(_at_key_down(most, rest.value))
    hot = heat.value >= WARM_WATTS and kind == PATH
    do = tuple(line.format(run=run) for line in FEEL) if hot else DO[kind]
    figures = (shown.resistance, shown.watts, rest, heat)
    return Cause(kind, run, _lost(run, kind, shown), tuple(because), do, figures, heat.value)


def _lost(run: str, kind: str, shown: Estimate) -> str:
    if shown.in_ohms:
        return f"{spoken(shown.resistance.value, 'Ω')} {shown.about} is too much"
    where = f"in {run}" if kind == PATH and len(shown.runs) == 1 and not shown.within_run else shown.about
    lost = f"{spoken(shown.volts.value, 'V')} is lost {where} at {spoken(shown.amps, 'A')}"
    return f"{lost}: {spoken(shown.watts.value, 'W')} of heat" if shown.watts.value >= WARM_WATTS else lost


def _explained(run: str, volts: float, copper: bool, sound: SoundStation) -> str:
    if not copper:
        return f"Sound, that would be about {spoken(volts, 'V')}."
    return f"Copper explains about {spoken(volts, 'V')}: {_cable(sound.lead(run))}."


def _cable(lead: Lead) -> str:
    size = lead.conductor.id if lead.conductor else "its cable"
    return f"{units.spell(lead.length, units.LENGTH)} of {size}, out and back"


def _one_place(volts: float, heat: Figure, kind: str) -> str:
    share = f"The other {spoken(volts, 'V')}"
    if heat.value >= WARM_WATTS:
        share += f" ({spoken(heat.value, 'W')})"
    return f"{share} goes mostly in one place." if kind in (PATH, CABLE) else f"{share} is heat in one small place."


def _at_key_down(most: float, ohms: float) -> str:
    volts = most * ohms
    at = f"At key-down, {spoken(most, 'A')},"
    return f"{at} it would lose {spoken(volts, 'V')}." if volts < ALMOST_ALL else f"{at} nothing would get through."


def by_leg(run: str, evidence: Evidence) -> Iterator[str]:
    """In which leg of a run the more is lost, where both were read."""
    for situation in evidence.situations:
        for (of, _), legs in situation.legs.items():
            if of == run and len(legs) == 2:
                (worse, more), (better, less) = sorted(legs.items(), key=lambda item: -item[1].value)
                if more.interval.low > less.interval.high:
                    yield (
                        f"{spoken(more.value, 'V')} of it in the {worse} leg, {spoken(less.value, 'V')} in the "
                        f"{better}: look in the {worse} one first."
                    )


def open_way(run: str, drop: Drop) -> Cause:
    """Next to nothing arrives at a load although its source gives volts: the way is open, or nearly."""
    arrives = drop.shown.middle if drop.shown else 0.0
    before = spoken(arrives + drop.value, "V")
    says = f"only {spoken(arrives, 'V')} arrives at {drop.lower}" if arrives > 1 else f"nothing arrives at {drop.lower}"
    because = f"{drop.upper} shows {before}, so {run} is open or nearly: a blown fuse comes first."
    do = (
        "Switch off and look at the fuse, then at plug, terminals and switch.",
        "A new fuse of the same rating goes in once. If it blows again, look for a short or reversed leads.",
    )
    return Cause(PATH, run, says, (because,), do, (Figure(drop.value, "V"),))


def open_part(run: str, kind: str, drop: Drop) -> Cause:
    """All the volts of the source stand across one part: it is open."""
    says = f"{spoken(drop.value, 'V')} stands across the {drop.lower} of {run}: nothing gets through"
    return Cause(kind, run, says, (), DO[kind], (Figure(drop.value, "V"),))
