"""Does every load get volts inside its window at its own terminals, in the worst state of the source?"""

from __future__ import annotations

from collections.abc import Iterator

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.case import HIGHEST, Draw, Feed, Lead, Piece
from engine.model.operating import RESTING, SAGGING, USUAL, Condition, Operating, Point, changeover_of, piece_warmth
from engine.parts import Changeover
from engine.physics import charge, copper, supply
from engine.rules.rule import DROP, LOAD, STATION, WINDOW, Answer, Margin, Rule, grade_least, unknown
from engine.terms import PowerInput
from engine.working import Figure, given, label, total


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
            what = lead.missing[0]
            return f"the {what} of {lead.id} {'are' if what.endswith('s') else 'is'} not known"
    return None


def _lowest(operating: Operating, draw: Draw, condition: Condition = SAGGING) -> Point:
    points = [operating.point(state, condition) for state in operating.states if state.name != RESTING]
    return min(points, key=lambda point: point.volts.get(draw.id, 0.0) if point.fed else -1.0)


def _losses(operating: Operating, path: tuple[Lead, ...], point: Point) -> Figure:
    """The sum of the drops along a path: each piece of copper, fuse and set of contacts, each with its working."""
    return total((loss for lead in path for loss in _lost_in(operating, lead, point)), "V")


def _lost_in(operating: Operating, lead: Lead, point: Point) -> Iterator[Figure]:
    name, stretch = label(lead.id), operating.stretch(lead, point.condition)
    amps = Figure(point.through[lead.id], "A", "amps", point.state.name)
    extra = Figure(stretch.allowance, "%", "as built", "as built: common practice, thin evidence")
    for piece in lead.pieces:
        warm = piece_warmth(operating, lead, piece, point.condition)
        where = " tail" if piece is lead.tail else " engine space" if piece.ambient is not None else ""
        copper_drop = _copper_drop(lead, piece, min(warm, 2 * piece.insulation.celsius), amps, extra)
        yield copper_drop.named(f"{name} copper{where}")
    yield _small_drop(stretch.fuse, amps, extra, _fuse_origin(lead, point)).named(f"{name} fuse")
    part = changeover_of(operating.case, lead)
    if part:
        yield _changeover_drop(part, amps, point).named(f"{label(lead.end)} changeover")
    ends = " and ".join(one.id for one in lead.contacts) if lead.contacts else "contacts not known"
    yield _small_drop(stretch.contacts, amps, extra, f"both legs: {ends}").named(f"{name} contacts")


def _copper_drop(lead: Lead, piece: Piece, celsius: float, amps: Figure, extra: Figure) -> Figure:
    loop = copper.loop_metres(Figure(piece.length, "m", "one way")).named("loop", "the current flows out and back")
    per_metre = Figure(piece.conductor.ohms_per_metre, "Ω/m", "ohms per metre", f"{piece.conductor.id} at 20 °C")
    warm = Figure(celsius, "°C", "celsius", "the conductor under its heating current")
    side_by_side = Figure(lead.parallel, "", "side by side", "conductors in each leg")
    return amps * loop * copper.ohms_per_metre(per_metre, warm) / side_by_side * (1 + extra)


def _small_drop(ohms: float, amps: Figure, extra: Figure, origin: str) -> Figure:
    return amps * Figure(ohms, "Ω", "ohms", origin) * (1 + extra)


def _changeover_drop(part: Changeover, amps: Figure, point: Point) -> Figure:
    fixed = Figure(point.condition.draws(part.drop), "V", "fixed", part.title)
    return charge.changeover_drop(amps, fixed, Figure(part.ohms, "Ω", "ohms", part.title))


def _fuse_origin(lead: Lead, point: Point) -> str:
    if lead.fuse_type is None or not lead.fuse_rating:
        return "no fuse, or none known"
    own = f", and {lead.own_fuse.rating:g} A {lead.own_fuse.family.id} in its own lead" if lead.own_fuse else ""
    share = "the most its standard allows" if point.condition.worst else "what a sound one shows"
    return f"{lead.fuse_rating:g} A {lead.fuse_type.id}{own}: {share}"


def floor_working(operating: Operating, draw: Draw, point: Point) -> Figure:
    """The volts at a load's terminals, worked out stretch by stretch."""
    feed = operating.case.source_of(draw.id)
    if feed is None:
        return Figure(0.0, "V")
    return _source(feed, point).named("source") - _losses(operating, operating.case.path(draw.id), point)


def _source(feed: Feed, point: Point) -> Figure:
    """The volts at a source's own terminals, worked out: a supply's set point, or what stands behind a resistance."""
    corner = feed.corner(point.condition.name)
    if feed.corners:
        open_circuit = Figure(corner.volts, "V", "open circuit", corner.says)
        amps = Figure(point.amps[feed.terminals], "A", "amps", point.state.name)
        return open_circuit - amps * Figure(corner.ohms, "Ω", "internal", f"inside {feed.id}")
    sag = Figure(feed.regulation, "%", "sag", "from no load to full load")
    return supply.lowest(_set_point(feed), _tolerance(feed), sag)


def _set_point(feed: Feed) -> Figure:
    return Figure(feed.volts, "V", "set point", f"set point of {feed.id}")


def _tolerance(feed: Feed) -> Figure:
    return Figure(feed.tolerance, "%", "tolerance", "how far the set point may be off")


def highest(feed: Feed) -> Figure:
    """The most that a source shows with nothing drawn."""
    if feed.corners:
        corner = feed.corner(HIGHEST)
        return given(corner.volts, "V", "highest", corner.says)
    return supply.highest(_set_point(feed), _tolerance(feed))


def fed(operating: Operating, about: str) -> Answer | None:
    """A converter that asks for more than its lead can carry has no working point at all."""
    if not operating.case.draws:
        return None
    bad = [point for point in (operating.point(state, SAGGING) for state in operating.states) if not point.fed]
    if bad:
        return Answer(
            UNSOUND,
            f"with {bad[0].state.name} the leads cannot carry what the loads ask for: the voltage collapses",
        )
    return Answer(SOUND, "the leads can carry what the loads ask for in every state")


def floor(operating: Operating, draw: Draw) -> Answer | None:
    """Lowest volts at the load's own terminals against the floor of its window."""
    if draw.feed != PowerInput.DC:
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
    if draw.feed != PowerInput.DC or feed is None or feed.missing or "window" in draw.missing:
        return None
    figure = highest(feed)
    outcome = grade_least(draw.highest, figure.value, operating.case.limits.window_margin)
    says = f"{draw.id} may see {figure} when little is drawn; it accepts up to {draw.highest:.2f} V"
    if outcome == UNSOUND:
        says += "; feed it through a regulator of its own"
    return Answer(outcome, says, figure, Figure(draw.highest, "V"))


def drop(operating: Operating, draw: Draw) -> Answer | None:
    """Volts lost between source and load, as a meter should show them: a target, where the floor is the limit."""
    if draw.feed != PowerInput.DC or draw.nominal <= 0:
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
    return _losses(operating, operating.case.path(draw.id), point)


RULES = (
    Rule("fed", "can the leads carry what the loads ask for?", "circuit law", STATION, fed, solved=True, danger=3),
    Rule(
        "window-floor",
        "does it get enough volts at its own terminals, keyed, in the worst state of the source?",
        "the maker's window; 47 CFR 2.1055(d) tests equipment from 85 % to 115 % of nominal",
        LOAD,
        floor,
        keep=SOUND,
        margin=Margin(WINDOW, step=0.05, room=0.3),
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
        margin=Margin(WINDOW, step=0.05, more=False, room=0.3),
        danger=3,
    ),
    Rule(
        "drop",
        "is the loss on the way small?",
        "common practice: 0.5 V at 13.8 V; ABYC E-11: never above 10 %",
        LOAD,
        drop,
        keep=SOUND,
        margin=Margin(DROP, step=0.1, more=False, of_limit=True),
        solved=True,
    ),
)
