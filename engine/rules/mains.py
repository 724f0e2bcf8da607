"""Does the wall bear it: circuit, its wire, extension lead, generator? Local code and an electrician decide."""

from __future__ import annotations

from engine.findings import SOUND, THIN, UNSOUND
from engine.model import wall
from engine.model.case import Draw, Feed, MainsRun
from engine.model.operating import Operating
from engine.model.wall import Circuit, Plugged
from engine.physics import copper
from engine.rules.rule import LOAD, PRACTICE, SOURCE, STATION, Answer, Rule, grade_most, unknown
from engine.terms import PowerInput
from engine.working import Figure, total

BRANCH, TOTAL = 0.03, 0.05
"""Loss on a branch circuit, and on everything before the outlet (NEC 210.19(A) and 215.2(A), informational notes)."""

LOW_MAINS = 180.0
"""Below this mains voltage [V] a house commonly has twice that as well (split phase, common practice)."""

WARM = 75.0
"""Temperature of loaded building wire [°C] (NEC chapter 9, table 8)."""

GENERATOR_SPARE = 0.2
"""A generator is run at no more than four fifths of its running watts for long (common practice, no source)."""


def source(operating: Operating, feed: Feed) -> Answer | None:
    """Current of one supply from its wall circuit."""
    return _alone(operating, feed) if feed in wall.plugged(operating) else None


def load(operating: Operating, draw: Draw) -> Answer | None:
    """Current of something that plugs into the wall itself."""
    if draw.feed != PowerInput.MAINS:
        return None
    return (
        _alone(operating, draw) if draw.wall is not None else unknown(f"what {draw.id} takes is not known: its plate")
    )


def _alone(operating: Operating, part: Plugged) -> Answer:
    circuit = Circuit(part.id, wall.mains(operating, part), wall.rating(operating, part), (part,))
    figure, state = wall.worst(operating, circuit)
    limit = Figure(circuit.rating, "A")
    outcome = grade_most(figure.value, limit.value, operating.case.limits.rating_margin)
    when = "at key-down" if isinstance(part, Draw) else f"with {state.name}"
    asks = f"{part.id} asks {figure} of the wall {when}, the continuous rule counted"
    says = f"{asks}; the circuit gives {limit}"
    if outcome == UNSOUND and circuit.mains < LOW_MAINS:
        says += f"; at {2 * circuit.mains:g} V it would be {Figure(figure.value / 2, 'A')}: ask a licensed electrician"
    return Answer(outcome, says, figure, limit)


def together(operating: Operating, about: str) -> Answer | None:
    """All that hangs on one circuit at once, where nothing on it is too much by itself."""
    circuit = _site(operating)
    if circuit is None or len(circuit.parts) < 2:
        return None
    alone = [wall.worst(operating, Circuit(one.id, circuit.mains, circuit.rating, (one,))) for one in circuit.parts]
    if any(figure.value > circuit.rating for figure, _ in alone):
        return None
    figure, state = wall.worst(operating, circuit)
    limit = Figure(circuit.rating, "A")
    outcome = grade_most(figure.value, limit.value, operating.case.limits.rating_margin)
    what = " and ".join(one.id for one in circuit.parts)
    says = f"{what} ask {figure} of one wall circuit with {state.name}; it gives {limit}"
    return Answer(outcome, f"{says}{'; give one a circuit of its own' if outcome == UNSOUND else ''}", figure, limit)


def _site(operating: Operating) -> Circuit | None:
    return next((one for one in wall.circuits(operating) if one.id == wall.SITE), None)


def guarded(operating: Operating, about: str) -> Answer | None:
    """The breaker of the existing circuit against what commonly guards its wire."""
    wire, place = operating.case.place.wire_in_wall, operating.case.place
    if wire is None:
        return None
    if wire.amps is None:
        return unknown(f"which breaker guards {wire.conductor.id} in a wall is not known here: ask an electrician")
    figure, limit = Figure(place.circuit, "A"), Figure(wire.amps, "A")
    if figure.value <= limit.value + 1e-9:
        return Answer(SOUND, f"a {figure} breaker guards {wire.conductor.id} in the wall", figure, limit)
    says = f"a {figure} breaker on {wire.conductor.id}, which {limit} commonly guards"
    return Answer(UNSOUND, f"{says}: have a licensed electrician look before it is loaded", figure, limit)


def extension(operating: Operating, about: str) -> Answer | None:
    """Current through an extension lead against what a flexible lead of its size may carry."""
    cord, circuit = operating.case.place.extension, _site(operating)
    if cord is None or circuit is None:
        return None
    if cord.amps is None:
        return unknown(f"what an extension lead of {cord.conductor.id} may carry is not known here: read its label")
    figure, state = wall.worst(operating, circuit)
    limit = Figure(cord.amps, "A")
    outcome = grade_most(figure.value, limit.value, operating.case.limits.rating_margin)
    says = (
        f"the extension lead of {cord.conductor.id} carries {figure} with {state.name}; unrolled it may carry {limit}"
    )
    if outcome == SOUND and circuit.rating > limit.value:
        return Answer(
            THIN, f"{says}, but the breaker lets {circuit.rating:g} A pass: nothing else on it", figure, limit
        )
    return Answer(outcome, says, figure, limit)


def drop(operating: Operating, about: str) -> Answer | None:
    """Volts lost on the existing circuit and an extension lead, as a share of the mains."""
    place, circuit = operating.case.place, _site(operating)
    runs = [one for one in (place.wire_in_wall, place.extension) if one is not None]
    if not runs or circuit is None:
        return None
    amps, state = wall.worst(operating, circuit, sized=False)
    figure = _share(amps, runs, circuit)
    outcome = SOUND if figure.value <= BRANCH else THIN if figure.value <= TOTAL else UNSOUND
    where = " and ".join("the extension lead" if one.cord else "the circuit's wire" for one in runs)
    lost = f"{figure.value * circuit.mains:.1f} V of {circuit.mains:g} V"
    says = f"{lost} ({figure.value * 100:.1f} %) are lost on {where} with {state.name}; aim for 3 %, never above 5 %"
    return Answer(outcome, says, figure, Figure(BRANCH if outcome != UNSOUND else TOTAL, "%"))


def _ohms(run: MainsRun) -> float:
    return copper.loop_ohms(copper.ohms_per_metre(run.conductor.ohms_per_metre, WARM), run.length)


def _share(amps: Figure, runs: list[MainsRun], circuit: Circuit) -> Figure:
    ohms = [
        Figure(
            _ohms(one),
            "Ω",
            "extension" if one.cord else "wall wire",
            f"{one.length:.1f} m of {one.conductor.id}, 75 °C",
        )
        for one in runs
    ]
    volts = Figure(circuit.mains, "V", "mains", "at the breaker")
    return (amps.named("amps") * total(ohms, "Ω") / volts).as_("%")


def generator(operating: Operating, about: str) -> Answer | None:
    """What a generator must give for hours against its running watts; a poor power factor counts in full."""
    gives, circuit = operating.case.place.generator, _site(operating)
    if gives is None or circuit is None:
        return None
    amps, state = wall.worst(operating, circuit, sized=False)
    mains = Figure(circuit.mains, "V", "mains", "of the generator")
    figure, limit = (amps.named("amps") * mains).as_("VA"), Figure(gives, "W")
    outcome = grade_most(figure.value, limit.value, GENERATOR_SPARE)
    says = f"the generator must give {figure} with {state.name}; it is rated {limit} running"
    return Answer(outcome, f"{says}, of which four fifths are for long use", figure, limit)


CODE = "NEC 210.19(A) and 215.2(A), informational notes: guidance; local code decides"

RULES = (
    Rule(
        "wall",
        "does the wall circuit bear it?",
        "power law; continuous rule 125 % (NEC); local code decides",
        SOURCE,
        source,
        danger=3,
    ),
    Rule(
        "wall-load",
        "does its wall circuit bear it?",
        "power law; continuous rule 125 % (NEC); local code decides",
        LOAD,
        load,
        danger=3,
    ),
    Rule(
        "circuit",
        "does one wall circuit bear it all at once?",
        "power law; NEC; local code",
        STATION,
        together,
        danger=3,
    ),
    Rule(
        "circuit-wire",
        "does the breaker guard the wire in the wall?",
        "NEC 240.4(D) and 310.16 at 60 °C; metric sizes from memory; local code decides",
        STATION,
        guarded,
        danger=4,
    ),
    Rule(
        "extension-lead",
        "does the extension lead stay cool?",
        "NEC 400.5(A), two loaded conductors; metric sizes from memory",
        STATION,
        extension,
        danger=4,
    ),
    Rule("mains-drop", "is the loss before the supply small?", CODE, STATION, drop, danger=1),
    Rule("generator", "does the generator give it hour after hour?", PRACTICE, STATION, generator, danger=2),
)
