"""Does every load get volts inside its window at its own terminals, in the worst state of the source?"""

from __future__ import annotations

from engine.case import HIGHEST, Draw, Feed, Lead, Piece
from engine.operating import RESTING, SAGGING, USUAL, Condition, Operating, Point, changeover_of, piece_warmth
from engine.parts import Changeover
from engine.physics import copper
from engine.rules.rule import LOAD, STATION, Answer, Rule, grade_least, unknown
from engine.verdict import SOUND, THIN, UNSOUND, Figure, Term, symbol, work


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


def _losses(operating: Operating, path: tuple[Lead, ...], point: Point) -> dict[str, Term]:
    """The drops along a path, one term for each piece of copper, fuse and set of contacts, each with its working."""
    terms: dict[str, Term] = {}
    names: set[str] = set()
    for lead in path:
        name, stretch = symbol(lead.id, names), operating.stretch(lead, point.condition)
        names.add(name)
        amps = Term(point.through[lead.id], "A", point.state.name)
        extra = Term(stretch.allowance, "%", "as built: common practice, thin evidence")
        for piece in lead.pieces:
            warm = piece_warmth(operating, lead, piece, point.condition)
            where = "_tail" if piece is lead.tail else "_engine_space" if piece.ambient is not None else ""
            copper_drop = _copper_drop(lead, piece, min(warm, 2 * piece.insulation.celsius), amps, extra)
            terms[f"{name}_copper{where}"] = Term.of(copper_drop)
        terms[f"{name}_fuse"] = Term.of(_small_drop(stretch.fuse, amps, extra, _fuse_origin(lead, point)))
        part = changeover_of(operating.case, lead)
        if part:
            terms[f"{lead.end.replace('-', '_')}_changeover"] = Term.of(_changeover_drop(part, amps, point))
        ends = " and ".join(one.id for one in lead.contacts) if lead.contacts else "contacts not known"
        terms[f"{name}_contacts"] = Term.of(_small_drop(stretch.contacts, amps, extra, f"both legs: {ends}"))
    return terms


def _copper_drop(lead: Lead, piece: Piece, celsius: float, amps: Term, extra: Term) -> Figure:
    return work(
        "amps * loop * ohms_per_metre * (1 + rise * (celsius - 20)) / side_by_side * (1 + as_built)",
        "V",
        amps=amps,
        loop=Term.of(work("2 * one_way", "m", one_way=Term(piece.length, "m")), "the current flows out and back"),
        ohms_per_metre=Term(piece.conductor.ohms_per_metre, "Ω", f"{piece.conductor.id} at 20 °C"),
        rise=Term(copper.COEFFICIENT, "", "per kelvin, IEC 60028"),
        celsius=Term(celsius, "°C", "the conductor under its heating current"),
        side_by_side=Term(lead.parallel, "", "conductors in each leg"),
        as_built=extra,
    )


def _small_drop(ohms: float, amps: Term, extra: Term, origin: str) -> Figure:
    return work("amps * ohms * (1 + as_built)", "V", amps=amps, ohms=Term(ohms, "Ω", origin), as_built=extra)


def _changeover_drop(part: Changeover, amps: Term, point: Point) -> Figure:
    fixed = Term(point.condition.draws(part.drop), "V", part.title)
    return work("fixed + amps * ohms", "V", fixed=fixed, amps=amps, ohms=Term(part.ohms, "Ω", part.title))


def _fuse_origin(lead: Lead, point: Point) -> str:
    if lead.fuse_type is None or not lead.fuse_rating:
        return "no fuse, or none known"
    share = "the most its standard allows" if point.condition.worst else "what a sound one shows"
    return f"{lead.fuse_rating:g} A {lead.fuse_type.id}: {share}"


def floor_working(operating: Operating, draw: Draw, point: Point) -> Figure:
    """The volts at a load's terminals, worked out stretch by stretch."""
    feed = operating.case.source_of(draw.id)
    terms = _losses(operating, operating.case.path(draw.id), point)
    if feed is None:
        return Figure(0.0, "V")
    return work(f"source - ({' + '.join(terms)})", "V", source=Term.of(_source(feed, point)), **terms)


def _source(feed: Feed, point: Point) -> Figure:
    """The volts at a source's own terminals, worked out: a supply's set point, or what stands behind a resistance."""
    corner = feed.corner(point.condition.name)
    if feed.corners:
        return work(
            "open_circuit - amps * internal",
            "V",
            open_circuit=Term(corner.volts, "V", corner.says),
            amps=Term(point.amps[feed.terminals], "A", point.state.name),
            internal=Term(corner.ohms, "Ω", f"inside {feed.id}"),
        )
    return work(
        "set_point * (1 - tolerance) * (1 - sag)",
        "V",
        set_point=Term(feed.volts, "V", f"set point of {feed.id}"),
        tolerance=Term(feed.tolerance, "%", "how far the set point may be off"),
        sag=Term(feed.regulation, "%", "from no load to full load"),
    )


def highest(feed: Feed) -> Figure:
    """The most that a source shows with nothing drawn."""
    if feed.corners:
        corner = feed.corner(HIGHEST)
        return work("highest", "V", highest=Term(corner.volts, "V", corner.says))
    return work(
        "set_point * (1 + tolerance)",
        "V",
        set_point=Term(feed.volts, "V", f"set point of {feed.id}"),
        tolerance=Term(feed.tolerance, "%", "how far the set point may be off"),
    )


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
    feed = operating.case.source_of(draw.id)
    if gap and (draw.id not in point.volts or feed is None or feed.missing):
        return unknown(gap)
    if "window" in draw.missing:
        return unknown(gap or "")
    figure = Figure(point.volts[draw.id], "V", behind=lambda: floor_working(operating, draw, point))
    margin = operating.case.limits.window_margin
    outcome = grade_least(figure.value, draw.lowest, margin)
    if gap and outcome != UNSOUND:
        return unknown(gap)
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
    figure = highest(feed)
    outcome = grade_least(draw.highest, figure.value, operating.case.limits.window_margin)
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
    if not path or not point.fed or feed is None or feed.missing or draw.id not in point.volts:
        return None
    lost = sum(point.drop[lead.id] for lead in path)
    figure = Figure(lost, "V", behind=lambda: drop_working(operating, draw, point))
    limits = operating.case.limits
    target, most = limits.drop_target * draw.nominal, limits.drop_limit * draw.nominal
    outcome = SOUND if figure.value <= target + 1e-9 else THIN if figure.value <= most + 1e-9 else UNSOUND
    if any(lead.missing for lead in path) and outcome == SOUND:
        return None
    aim = f"aim for {target:.2f} V or less, never above {most:.2f} V"
    says = f"a meter should show {figure} lost on the way to {draw.id} with {point.state.name}; {aim}"
    return Answer(outcome, says, figure, Figure(target if outcome != UNSOUND else most, "V"))


def drop_working(operating: Operating, draw: Draw, point: Point) -> Figure:
    """The volts lost on the way to a load, worked out stretch by stretch."""
    terms = _losses(operating, operating.case.path(draw.id), point)
    return work(" + ".join(terms), "V", **terms)


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
