"""Leads that feed no load: between a battery and what charges it, and from each battery of a bank to their posts.

Each is judged as a small station of its own: its source, the lead, and what it carries as a load at the far end. So the
rules on leads are asked of it like of any other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from engine import units
from engine.model.assumptions import Notebook
from engine.model.banks import one_of
from engine.model.case import EVEN_SHARE, HIGHEST, LOWEST, MIDDLE, Branch, Case, Corner, Draw, Feed, Lead
from engine.model.operating import Operating
from engine.parts import Charger, Mode, Span
from engine.physics import convert
from engine.station.model import Run
from engine.terms import SUN, Group, Limiting, LoadModel, PowerInput, Serves, SourceKind

POSTS = ("stud", "screw terminal")
"""What a charger, a controller and the common posts of a bank offer (common practice)."""

USUAL_LENGTH = {
    Serves.STRING: (0.3, "side by side"),
    Serves.CHARGER: (1.0, "beside the battery"),
    Serves.PANELS: (5.0, "to a roof"),
}
"""The one-way length [m] taken for each where nobody measured it."""

CONVERTER_SHARE = 0.88
"""Output over input power of a charger from direct current (common practice, no source)."""

SHORT_OF_PANEL = 1.25
"""Most that a panel gives in bright sun over its rated current (NEC 690.8, from memory)."""

CARRIER = Mode("carrier", "carrier", 1.0, True, "common-practice")


def placed(run: Run, book: Notebook) -> Run:
    """A run that feeds no load with its beginning and its length; any other as it is."""
    if run.serves is None:
        return run
    start = run.start or (SUN if run.serves == Serves.PANELS else run.end)
    if run.length is not None or start not in (run.end, SUN):
        return replace(run, start=start)
    length, why = USUAL_LENGTH[run.serves]
    taken = book.take(None, length, units.LENGTH, f"{run.id}.length", why, "a tape along the way it will lie")
    return replace(run, start=start, length=taken)


def beside(runs: Sequence[Run], leads: Sequence[Lead]) -> tuple[Branch, ...]:
    """The leads between batteries and what charges them."""
    pairs = zip(runs, leads, strict=True)
    return tuple(Branch(lead, run.serves, run.end) for run, lead in pairs if run.serves and run.serves != Serves.STRING)


def minis(operating: Operating) -> Iterator[Case]:
    """Each such lead of a station as a small station of its own, as far as is known what it carries."""
    for feed in operating.case.feeds:
        if feed.is_bank and feed.string is not None and not feed.missing:
            yield string_case(operating.case, feed, feed.string, operating.demand.worst_peak(feed.id)[0])
    case = operating.case.joint
    for branch in case.branches:
        made = branch_case(case, branch)
        if made is not None:
            yield made


def string_case(case: Case, feed: Feed, lead: Lead, amps: float) -> Case:
    """One battery of a bank on its cable, carrying its share of ``amps`` [A]; a little more, for none share evenly."""
    share = amps / (feed.parallel * EVEN_SHARE)
    return _small(case, one_of(feed), replace(lead, start=feed.id), share, "the posts that the bank shares")


def branch_case(case: Case, branch: Branch) -> Case | None:
    """A lead to a charger or controller; None where what it carries is not known."""
    battery = case.feed.get(branch.battery)
    if battery is None or battery.cell is None or battery.missing:
        return None
    if branch.serves == Serves.PANELS:
        return _panels(case, branch.lead)
    charger = _charger(case, battery)
    if charger is None:
        return None
    feed = case.feed.get(branch.lead.start, battery)
    if feed.id == battery.id:
        return _small(case, feed, branch.lead, charger.amps, charger.title)
    volts = feed.corner(LOWEST).volts
    amps = convert.input_amps(charger.amps * battery.highest_volts, volts, CONVERTER_SHARE)
    return _small(case, feed, branch.lead, amps, f"{charger.title}, its input")


def _charger(case: Case, battery: Feed) -> Charger | None:
    cell = battery.cell
    if cell is None:
        return None
    if cell.charged_by == SUN:
        return case.sunlight.controller if case.sunlight else None
    return cell.charger if isinstance(cell.charger, Charger) else None


def _panels(case: Case, lead: Lead) -> Case | None:
    """The panels as a source that gives little more than its rated current, whatever hangs on it."""
    sun = case.sunlight
    if sun is None or sun.panel is None:
        return None
    amps, open_ = sun.count * sun.panel.amps, sun.open_circuit
    feed = Feed(
        id=SUN, title=sun.panel.title, technology=SUN, volts=sun.panel.volts, tolerance=0.0, regulation=0.0,
        lowest=sun.panel.volts, highest=open_, adjustable=False, locked=True, continuous=amps, peak=amps,
        limit=amps * SHORT_OF_PANEL, limiting=Limiting.CONSTANT_CURRENT, efficiency=1.0, power_factor=1.0,
        over_voltage=None, outlets=POSTS, kind=SourceKind.BOOSTER,
        corners=(Corner(HIGHEST, "nothing drawn", open_), Corner(MIDDLE, "full sun", sun.panel.volts),
                 Corner(LOWEST, "full sun", sun.panel.volts)),
    )  # fmt: skip
    return _small(case, feed, lead, amps * SHORT_OF_PANEL, "the controller, its panel side")


def _small(case: Case, feed: Feed, lead: Lead, amps: float, title: str) -> Case:
    """A station of one source, one lead and one load of ``amps`` [A] for hours.

    What the source itself bears over hours is asked of the whole station, so here it gives whatever is drawn.
    """
    end = f"{lead.id} end"
    nothing = Span.exactly(0.0)
    volts = feed.corner(MIDDLE).volts
    draw = Draw(
        id=end, title=title, feed=PowerInput.DC, group=Group.ACCESSORY, lowest=0.0, highest=1e3, nominal=volts,
        follows=LoadModel.STEADY_CURRENT, rest=0.0, receive=nothing, transmit=None, busy=Span(amps, amps, amps),
        mode=CARRIER, keyed=0.0, fuse=None, inlets=POSTS,
    )  # fmt: skip
    gives = replace(feed, id=lead.start, cell=None, continuous=feed.limit, peak=feed.limit)
    return Case(
        case.name, (draw,), (gives,), (), (replace(lead, end=end),), case.place, case.limits, case.headroom, None
    )
