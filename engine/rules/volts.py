"""Does every load get volts inside its window at its own terminals, in the worst state of the source?"""

from __future__ import annotations

from engine.case import Draw, Lead
from engine.operating import RESTING, SAGGING, USUAL, Condition, Operating, Point
from engine.rules.rule import LOAD, STATION, Answer, Rule, grade_least, unknown
from engine.verdict import SOUND, THIN, UNSOUND, Figure, Term, work


def _gaps(operating: Operating, draw: Draw) -> str | None:
    """Why the volts at ``draw`` cannot be told, or None."""
    path = operating.case.path(draw.id)
    if "window" in draw.missing:
        return f"the voltage window of {draw.id} is not known"
    if not path:
        return f"no lead to {draw.id} is described"
    feed = operating.case.source_of(draw.id)
    if feed is None or feed.missing:
        return f"the source of {draw.id} is not known"
    for lead in path:
        if lead.missing:
            return f"the {lead.missing[0]} of {lead.id} is not known"
    return None


def _lowest(operating: Operating, draw: Draw, condition: Condition = SAGGING) -> Point:
    points = [operating.point(state, condition) for state in operating.states if state.name != RESTING]
    return min(points, key=lambda point: point.volts.get(draw.id, 0.0) if point.fed else -1.0)


def _losses(operating: Operating, path: tuple[Lead, ...], point: Point) -> tuple[str, dict[str, Term]]:
    """The drops along a path as terms of a formula, one for each stretch and kind."""
    terms: dict[str, Term] = {}
    for lead in path:
        stretch, amps = operating.stretch(lead, point.condition), point.through[lead.id]
        name = lead.id.replace("-", "_")
        factor = amps * (1 + stretch.allowance)
        size = lead.conductor.id if lead.conductor else "no conductor"
        loop = f"{2 * lead.length:.2f} m loop at {stretch.celsius:.0f} °C"
        hot = f"{amps:.1f} A × {stretch.copper * 1000:.1f} mΩ of {size}, {loop}"
        extra = f", + {stretch.allowance * 100:.0f} % as built" if stretch.allowance else ""
        terms[f"{name}_copper"] = Term(factor * stretch.copper, "V", f"{hot}{extra}")
        terms[f"{name}_fuse"] = Term(factor * stretch.fuse, "V", f"{amps:.1f} A × {stretch.fuse * 1000:.1f} mΩ")
        terms[f"{name}_contacts"] = Term(
            factor * stretch.contacts, "V", f"{amps:.1f} A × {stretch.contacts * 1000:.1f} mΩ, four contacts"
        )
    return " + ".join(terms), terms


def fed(operating: Operating, about: str) -> Answer | None:
    """A converter that asks for more than its lead can carry has no working point at all."""
    bad = [point for point in (operating.point(state, SAGGING) for state in operating.states) if not point.fed]
    if bad:
        return Answer(
            UNSOUND,
            f"with {bad[0].state.name} the leads cannot carry what the loads ask for: the voltage collapses",
        )
    return Answer(SOUND, "the leads can carry what the loads ask for in every state")


def floor(operating: Operating, draw: Draw) -> Answer | None:
    """Lowest volts at the load's own terminals against the floor of its window."""
    if draw.feed != "dc":
        return None
    gap = _gaps(operating, draw)
    point = _lowest(operating, draw)
    if not point.fed:
        return None if gap is None else unknown(gap)
    if gap and draw.id not in point.volts:
        return unknown(gap)
    path = operating.case.path(draw.id)
    names, terms = _losses(operating, path, point)
    feed = operating.case.source_of(draw.id)
    if feed is None or "window" in draw.missing:
        return unknown(gap or "")
    terms = {
        "source": Term(
            feed.lowest_volts,
            "V",
            f"{feed.volts:g} V less {feed.tolerance:.1%} tolerance and {feed.regulation:.1%} sag",
        )
    } | terms
    figure = work(f"source - ({names})", "V", **terms)
    margin = operating.case.limits.window_margin
    outcome = grade_least(figure.value, draw.lowest, margin)
    if gap:
        return (
            Answer(UNSOUND, _floor_says(draw, figure, point), figure, Figure(draw.lowest, "V"))
            if outcome == UNSOUND
            else unknown(gap)
        )
    return Answer(outcome, _floor_says(draw, figure, point), figure, Figure(draw.lowest, "V"))


def _floor_says(draw: Draw, figure: Figure, point: Point) -> str:
    gap = figure.value - draw.lowest
    verb = f"{gap:.2f} V above" if gap >= 0 else f"{-gap:.2f} V below"
    return (
        f"{draw.id} sees {figure} at its own terminals with {point.state.name}, {verb} its floor of {draw.lowest:.2f} V"
    )


def ceiling(operating: Operating, draw: Draw) -> Answer | None:
    """Highest volts that can reach the load, with nothing drawn, against the ceiling of its window."""
    feed = operating.case.source_of(draw.id)
    if draw.feed != "dc" or feed is None or feed.missing or "window" in draw.missing:
        return None
    figure = work(
        "set_point * (1 + tolerance)",
        "V",
        set_point=Term(feed.volts, "V", f"set point of {feed.id}"),
        tolerance=Term(feed.tolerance, "%", "how far the set point may be off"),
    )
    outcome = {UNSOUND: UNSOUND, THIN: THIN, SOUND: SOUND}[
        grade_least(draw.highest, figure.value, operating.case.limits.window_margin)
    ]
    says = f"{draw.id} may see {figure} when little is drawn; it accepts up to {draw.highest:.2f} V"
    if outcome == UNSOUND:
        says += "; feed it through a regulator of its own"
    return Answer(outcome, says, figure, Figure(draw.highest, "V"))


def drop(operating: Operating, draw: Draw) -> Answer | None:
    """Volts lost between source and load, as a meter should show them: a target, where the floor is the limit."""
    if draw.feed != "dc" or draw.nominal <= 0:
        return None
    path, point = operating.case.path(draw.id), _lowest(operating, draw, USUAL)
    feed = operating.case.source_of(draw.id)
    if not path or not point.fed or feed is None or draw.id not in point.volts:
        return None
    names, terms = _losses(operating, path, point)
    figure = work(names, "V", **terms)
    limits = operating.case.limits
    target, most = limits.drop_target * draw.nominal, limits.drop_limit * draw.nominal
    outcome = SOUND if figure.value <= target + 1e-9 else THIN if figure.value <= most + 1e-9 else UNSOUND
    if any(lead.missing for lead in path) and outcome == SOUND:
        return None
    says = (
        f"{figure} are lost on the way to {draw.id} with {point.state.name}; aim for {target:.2f} V, never {most:.2f} V"
    )
    return Answer(outcome, says, figure, Figure(target if outcome != UNSOUND else most, "V"))


RULES = (
    Rule("fed", "can the leads carry what the loads ask for?", "circuit law", STATION, fed, solved=True, danger=3),
    Rule(
        "window-floor",
        "does it get enough volts at its own terminals, keyed, in the worst state of the source?",
        "the maker's window; 47 CFR 2.1055(d) tests equipment from 85 % to 115 % of nominal",
        LOAD,
        floor,
        keep=SOUND,
        solved=True,
        danger=2,
    ),
    Rule(
        "window-ceiling",
        "does it never get too many volts?",
        "the maker's window; 47 CFR 2.1055(d) tests equipment from 85 % to 115 % of nominal",
        LOAD,
        ceiling,
        keep=SOUND,
        danger=3,
    ),
    Rule(
        "drop",
        "is the loss on the way small?",
        "common practice: 0.5 V at 13.8 V; ABYC E-11: never above 10 %",
        LOAD,
        drop,
        keep=SOUND,
        solved=True,
    ),
)
