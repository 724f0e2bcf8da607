"""From a station with gaps to a whole Case: the owner's word first, then the class's, then the house's.

Whatever is taken without the owner's word is written down as an assumption.
"""

from __future__ import annotations

from dataclasses import replace

from engine import units
from engine.case import COPPER, WHOLE, Case, Draw, Feed, Hub, Lead, MainsRun, Piece, Place
from engine.parts import Contact, Equipment, FuseType, Limits, Mode, Price, Shelf, Span, Supply
from engine.station import NO_FUSE, Load, Run, Source, Station
from engine.units import Kind, show
from engine.verdict import Assumption

HOME_VOLTS = 13.8
LOW_MAINS, BETWEEN_MAINS, LOW_CIRCUIT, HIGH_CIRCUIT = 120.0, 180.0, 15.0, 10.0
PLATE = "the rating plate or the specification page of its manual"
ROUND_SUPPLY = Supply(
    "", "", "", HOME_VOLTS, 0.02, 0.02, 0, 0, False, 0, 0, 0, "constant current", 0.8, 0.6, 0, "", "", False, (), ""
)
"""What an owner's supply without a catalogue row is taken for."""


class Notebook:
    """Collects assumptions while a station is completed."""

    def __init__(self) -> None:
        self.found: list[Assumption] = []

    def note(self, about: str, value: str, basis: str, find: str) -> None:
        """Write one assumption down."""
        self.found.append(Assumption(about, value, basis, find))

    def take(self, given: float | None, otherwise: float, kind: Kind, about: str, basis: str, find: str) -> float:
        """The owner's value, or the assumed one with a note."""
        if given is not None:
            return given
        self.note(about, show(otherwise, kind), basis, find)
        return otherwise


def complete(station: Station, shelf: Shelf) -> tuple[Case, tuple[Assumption, ...]]:
    """The station made whole, and every assumption that it took. The station's ids must be known to the shelf."""
    book = Notebook()
    place = _place(station, shelf, book)
    draws = tuple(draw(one, shelf, book) for one in station.loads)
    feeds = tuple(feed(one, shelf.supplies.get(one.part or ""), book) for one in station.sources)
    shared = {one.id for one in station.strips}
    short = {one.id for one in draws if one.wants_short_lead}
    leads = tuple(_lead(one, station, shelf, place, (shared, short), book) for one in station.runs)
    hubs = tuple(
        Hub(one.id, shelf.strips[one.part].title if one.part else "strip", shelf.strips.get(one.part or ""), one.owned)
        for one in station.strips
    )
    allowance = station.site.as_built
    if allowance is None and leads:
        find = "readings at the load, keyed, against the expected ones; or site.as_built"
        text = show(shelf.limits.as_built, units.SHARE)
        book.note("site.as_built", text, "added to every path's resistance: common practice, thin evidence", find)
    radios = [one.id for one in draws if one.is_keyed and one.feed == "dc" and one.group != "amplifier"]
    if len(radios) > 1 and not station.keyed_together:
        basis = "common practice at a desk with one operator"
        text = f"only one of {', '.join(radios)} transmits at a time"
        book.note("keyed_together", text, basis, "how you operate; name those that are keyed at once")
    limits = shelf.limits if allowance is None else replace(shelf.limits, as_built=allowance)
    given = station.wishes.headroom
    if given is None:
        _headroom(draws, limits, book)
    case = Case(
        station.name, draws, feeds, hubs, leads, place, limits, given,
        station.wishes.budget, station.keyed_together,
    )  # fmt: skip
    return case, tuple(book.found)


def _headroom(draws: tuple[Draw, ...], limits: Limits, book: Notebook) -> None:
    """Write down the headroom that is taken while the owner states none: it goes with the mode that is keyed."""
    kinds = {one.mode.steady for one in draws if one.is_keyed}
    voice = f"{show(limits.voice_headroom, units.SHARE)} while voice or Morse is keyed"
    steady = f"{show(limits.steady_headroom, units.SHARE)} while FM or a digital mode is keyed"
    said = [text for kind, text in ((False, voice), (True, steady)) if kind in kinds]
    if said:
        book.note("wishes.headroom", ", ".join(said), "common practice", "your own judgement")


def _place(station: Station, shelf: Shelf, book: Notebook) -> Place:
    site, limits = station.site, shelf.limits
    where = "a thermometer where the cables lie, summer and winter"
    coldest = book.take(site.coldest, limits.coldest, units.CELSIUS, "site.coldest", "a heated room", where)
    hottest = book.take(site.hottest, limits.hottest, units.CELSIUS, "site.hottest", "a warm room behind a desk", where)
    mains = book.take(
        site.mains, LOW_MAINS, units.VOLTS, "site.mains", "the lower mains, which takes more current", PLATE
    )
    small = LOW_CIRCUIT if mains < BETWEEN_MAINS else HIGH_CIRCUIT
    find = "the breaker of the circuit that the outlet is on"
    circuit = book.take(site.circuit, small, units.AMPS, "site.circuit", "the smallest usual circuit", find)
    wire = site.wire or ("AWG" if site.mains is None or site.mains < BETWEEN_MAINS else "metric")
    in_wall = _mains_run(site.circuit_wire, site.circuit_length, shelf, False)
    cord = _mains_run(site.extension, site.extension_length, shelf, True)
    return Place(mains, circuit, coldest, hottest, wire, in_wall, cord, site.generator)


def _mains_run(size: str | None, length: float | None, shelf: Shelf, cord: bool) -> MainsRun | None:
    """A length of mains wire with what it may carry: that of the thickest known size that is no thicker."""
    if size is None or length is None:
        return None
    wire = shelf.conductors[size]
    thinner = [(shelf.conductors[key], row) for key, row in shelf.mains.items() if key in shelf.conductors]
    rated = [
        (one.area, row.cord if cord else row.breaker)
        for one, row in thinner
        if one.system == wire.system and one.area <= wire.area
    ]
    known = [(area, amps) for area, amps in rated if amps is not None]
    return MainsRun(wire, length, max(known)[1] if known else None, cord)


def draw(load: Load, shelf: Shelf, book: Notebook) -> Draw:
    """One load made whole."""
    row = shelf.equipment.get(load.equipment or "")
    lowest, highest, window_missing = _window(load, row, book)
    receive = _current(load.receive, row.receive if row else None, f"{load.id}.receive", row, book)
    transmit: Span | None = None
    if load.transmit is not None or (row and row.transmit):
        transmit = _current(load.transmit, row.transmit if row else None, f"{load.id}.transmit", row, book)
    busy = receive
    if transmit is None and (load.busy is not None or (row and row.busy)):
        busy = _current(load.busy, row.busy if row else None, f"{load.id}.busy", row, book)
    nothing = row is None and load.receive is None and load.transmit is None and load.busy is None
    missing = (("current",) if nothing else ()) + window_missing
    return Draw(
        id=load.id,
        title=row.title if row else load.id,
        feed=row.feed if row else "dc",
        group=row.group if row else "radio",
        lowest=lowest,
        highest=highest,
        nominal=load.nominal or (row.nominal if row else _nominal(lowest, highest)),
        follows=_follows(load, row, transmit is not None, book),
        rest=load.rest if load.rest is not None else (row.rest if row else 0.0),
        receive=receive,
        transmit=transmit,
        busy=busy if busy.high >= receive.high else receive,
        mode=_mode(load, row, shelf, transmit is not None, book),
        keyed=_keyed(load, shelf, transmit is not None, book),
        fuse=load.fuse if load.fuse is not None else (row.fuse if row else None),
        inlets=(load.inlet or (row.inlet if row else None) or "",),
        lead=_own_lead(load, shelf),
        own_fuse_given=load.fuse is not None,
        class_fuse=row.fuse if row else None,
        missing=missing,
        low_volts=row.low_volts if row else "",
        wall=_from_wall(load, row, book),
        mains=load.mains,
        circuit=load.circuit,
    )


def _own_lead(load: Load, shelf: Shelf) -> Piece | None:
    """The lead that came with a load, if its owner said what it is."""
    if load.lead is None or load.lead_length is None:
        return None
    return Piece(shelf.conductors[load.lead], shelf.insulations[shelf.limits.insulation], load.lead_length)


def _from_wall(load: Load, row: Equipment | None, book: Notebook) -> Span | None:
    """The power [W] that something takes from the wall itself; None where it takes direct current."""
    if row is None or row.feed != "mains":
        return None
    if load.wall is not None:
        return Span.exactly(load.wall)
    if row.wall is not None:
        span = f"{row.wall.low:g} to {row.wall.high:g} W"
        text = f"{show(row.wall.high, units.WATTS)} (typical {span})"
        book.note(f"{load.id}.wall", text, f"the high end for a {row.title}; {_practice(row.source)}", row.find)
    return row.wall


def _nominal(lowest: float, highest: float) -> float:
    return HOME_VOLTS if lowest <= HOME_VOLTS <= highest or highest <= lowest else (lowest + highest) / 2


def _window(load: Load, row: Equipment | None, book: Notebook) -> tuple[float, float, tuple[str, ...]]:
    lowest = load.window.lowest if load.window else load.lowest
    highest = load.window.highest if load.window else load.highest
    if lowest is not None and highest is not None:
        return lowest, highest, ()
    if row is None:
        return lowest or 0.0, highest or 0.0, ("window",)
    if row.feed == "dc":
        text = f"{show(row.lowest, units.VOLTS)} to {show(row.highest, units.VOLTS)}"
        basis = f"the narrow reading for a {row.title}; {_practice(row.source)}"
        book.note(f"{load.id}.window", text, basis, row.find)
    return (
        lowest if lowest is not None else row.lowest,
        highest if highest is not None else row.highest,
        (),
    )


def _practice(source: str) -> str:
    return "common practice, no single source" if source == "common-practice" else f"source: {source}"


def _current(given: float | None, span: Span | None, about: str, row: Equipment | None, book: Notebook) -> Span:
    if given is not None:
        return Span.exactly(given)
    if span is None or row is None:
        return Span.exactly(0.0)
    if row.feed == "dc" and span.high:
        text = f"{show(span.high, units.AMPS)} (typical {span.low:g} to {span.high:g} A)"
        book.note(about, text, f"the high end for a {row.title}; {_practice(row.source)}", row.find)
    return span


def _follows(load: Load, row: Equipment | None, keyed: bool, book: Notebook) -> str:
    if load.follows or row:
        return load.follows or (row.follows if row else "")
    value = "steady current" if keyed else "steady power"
    reason = "most transmitters draw alike over their window" if keyed else "the worse case when volts are low"
    book.note(f"{load.id}.follows", value, reason, "a switching converter inside means steady power")
    return value


def _mode(load: Load, row: Equipment | None, shelf: Shelf, keyed: bool, book: Notebook) -> Mode:
    name = load.mode or (row.mode if row and row.mode else "carrier")
    if keyed and load.mode is None:
        basis = f"the usual mode of a {row.title}" if row and row.mode else "the hottest mode there is"
        book.note(f"{load.id}.mode", name, basis, "how you operate")
    return shelf.modes[name]


def _keyed(load: Load, shelf: Shelf, keyed: bool, book: Notebook) -> float:
    if not keyed:
        return 0.0
    basis, find = "half the time speaking is a long over for most people", "how you operate"
    return min(book.take(load.keyed, shelf.limits.keyed, units.SHARE, f"{load.id}.keyed", basis, find), 1.0)


def feed(source: Source, row: Supply | None, book: Notebook) -> Feed:
    """One source made whole, over a catalogue ``row`` if it has one; without a rating it stays a gap."""
    base = row or ROUND_SUPPLY
    continuous = source.continuous if source.continuous is not None else base.continuous
    missing = () if continuous > 0 else ("continuous",)
    own = Notebook() if missing else book
    sid = source.id
    volts = source.volts if source.volts is not None else row.volts if row else None
    volts = own.take(volts, HOME_VOLTS, units.VOLTS, f"{sid}.volts", "the home supply's usual set point", PLATE)
    peak = source.peak if source.peak is not None else row.peak if row else None
    peak = own.take(peak, continuous, units.AMPS, f"{sid}.peak", "no peak rating counted on", PLATE)
    tolerance = source.tolerance if source.tolerance is not None else row.tolerance if row else None
    tolerance = own.take(
        tolerance, base.tolerance, units.SHARE, f"{sid}.tolerance", "common practice", "a meter at its terminals"
    )
    regulation = source.regulation if source.regulation is not None else row.regulation if row else None
    find = "a meter at its terminals, receive and key-down"
    regulation = own.take(regulation, base.regulation, units.SHARE, f"{sid}.regulation", "common practice", find)
    adjustable = source.adjustable if source.adjustable is not None else base.adjustable
    limit = source.limit if source.limit is not None else (row.limit if row and row.limit >= peak else peak * 1.1)
    made = Feed(
        id=sid,
        title=row.title if row else f"{source.technology or 'mains'} supply",
        technology=source.technology or base.technology,
        volts=volts,
        tolerance=tolerance,
        regulation=regulation,
        lowest=source.lowest if source.lowest is not None else (base.lowest or volts),
        highest=source.highest if source.highest is not None else (base.highest or volts),
        adjustable=adjustable,
        locked=bool(source.locked),
        continuous=continuous,
        peak=max(peak, continuous),
        limit=limit,
        limiting=base.limiting,
        efficiency=source.efficiency or base.efficiency,
        power_factor=source.power_factor or base.power_factor,
        over_voltage=source.over_voltage if source.over_voltage is not None else (row.over_voltage if row else None),
        outlets=source.outlets or base.outlets,
        kilograms=base.kilograms,
        fan=base.fan,
        rf_noise=base.rf_noise,
        price=base.price,
        owned=source.owned,
        part=row.id if row else None,
        missing=missing,
        mains=source.mains,
        circuit=source.circuit,
    )
    shares = source.shares if source.shares is not None else bool(row and row.shares)
    return side_by_side(made, source.parallel or 1, shares)


def side_by_side(one: Feed, count: int, shares: bool) -> Feed:
    """``count`` supplies like ``one`` on the same posts: rated together where they share, priced and limited as all."""
    if count < 2:
        return one
    several = replace(one, parallel=count, shares=shares)
    return replace(
        several,
        title=f"{count} × {one.title}",
        continuous=one.continuous * several.counts,
        peak=one.peak * several.counts,
        limit=one.limit * count,
        kilograms=one.kilograms * count,
        price=Price(one.price.low * count, one.price.high * count),
    )


def fuse_family(rating: float, shelf: Shelf) -> FuseType | None:
    """The cheapest family that makes ``rating``: what a fuse of unstated type is taken for."""
    makes = [one for one in shelf.fuses.values() if rating in one.ratings]
    return min(makes, key=lambda one: (one.price.usual, one.volts, one.id), default=None)


def _usual_length(end: str, strips: set[str], short: set[str], limits: Limits) -> tuple[float, str]:
    """The length [m] taken for a lead that nobody measured, and why."""
    if end in strips:
        return limits.strip_lead, "from supply to strip on one desk"
    if end in short:
        return limits.amplifier_lead, "the longest usual for a 12 V-class amplifier at home: stand it by its supply"
    return limits.desk_lead, "across one desk"


def _lead(
    run: Run, station: Station, shelf: Shelf, place: Place, ends: tuple[set[str], set[str]], book: Notebook
) -> Lead:
    limits = shelf.limits
    heavy = run.end in ends[0]
    usual, basis = _usual_length(run.end, *ends, limits)
    length = book.take(run.length, usual, units.LENGTH, f"{run.id}.length", basis, "a tape along the way it will lie")
    insulation = run.insulation
    if run.conductor and insulation is None:
        basis, find = "the least that such cable is sold with", "the print on the cable"
        book.note(f"{run.id}.insulation", limits.insulation, basis, find)
    return Lead(
        id=run.id,
        start=run.start or (station.sources[0].id if station.sources else ""),
        end=run.end,
        length=length,
        conductor=shelf.conductors[run.conductor] if run.conductor else None,
        insulation=shelf.insulations[f"{insulation:g} °C" if insulation is not None else limits.insulation],
        ambient=run.ambient if run.ambient is not None else place.hottest,
        together=run.together or 2,
        fuse_type=_fuse_type(run, shelf, book),
        fuse_rating=run.fuse,
        fuse_at=run.fuse_at if run.fuse_at is not None else 0.0,
        contacts=_contacts(run, shelf),
        kept=_kept(run),
        shared=heavy,
        supplied=bool(run.supplied),
        tail=_tail(run, shelf, length),
        parallel=run.parallel or 1,
        fuse_legs=run.fuse_legs,
        negative=run.negative or "supply",
    )


def _kept(run: Run) -> frozenset[str]:
    """The parts of a run that cost nothing more."""
    return WHOLE if run.owned else frozenset((*(run.kept or ()), *([COPPER] if run.supplied else [])))


def _tail(run: Run, shelf: Shelf, length: float) -> Piece | None:
    if run.tail is None:
        return None
    tail = min(run.tail_length if run.tail_length is not None else length / 2, length)
    return Piece(shelf.conductors[run.tail], shelf.insulations[shelf.limits.insulation], tail)


def _fuse_type(run: Run, shelf: Shelf, book: Notebook) -> FuseType | None:
    if run.fuse_type:
        return shelf.fuses[run.fuse_type]
    if run.fuse is None or run.fuse == NO_FUSE:
        return None
    family = fuse_family(run.fuse, shelf)
    if family:
        book.note(f"{run.id}.fuse_type", family.id, "the plainest family that makes this rating", "the fuse itself")
    return family


def _contacts(run: Run, shelf: Shelf) -> tuple[Contact, Contact] | None:
    if run.contacts is None:
        return None
    first, second = (shelf.contacts[one] for one in run.contacts)
    return first, second
