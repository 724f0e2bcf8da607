"""From a station with gaps to a whole Case: the owner's word first, then the class's, then the house's.

Whatever is taken without the owner's word is written down as an assumption.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from engine import units
from engine.findings import Assumption
from engine.model.assumptions import Notebook
from engine.model.case import (
    BOOSTER,
    COPPER,
    MAINS,
    VEHICLE,
    WHOLE,
    Case,
    Draw,
    Feed,
    Hub,
    Lead,
    MainsRun,
    Piece,
    Place,
    Stated,
    Sunlight,
)
from engine.model.layout import feed_of
from engine.model.operator_time import share_out
from engine.model.own_lead import OwnLead, counts_on_lead, fuse_family, own_lead, own_part
from engine.model.sources import HOME_VOLTS, PLATE, Where, feed, input_side, kind
from engine.parts import Contact, Equipment, FuseType, Limits, Mode, Shelf, Span
from engine.physics import sun
from engine.station.model import Changeover, Load, Run, Station, Strip
from engine.station.shapes import NO_FUSE
from engine.terms import Group, LoadModel, Negative, PowerInput
from engine.units import show

LOW_MAINS, BETWEEN_MAINS, LOW_CIRCUIT, HIGH_CIRCUIT = 120.0, 180.0, 15.0, 10.0


def complete(station: Station, shelf: Shelf) -> tuple[Case, tuple[Assumption, ...]]:
    """The station made whole, and every assumption that it took. The station's ids must be known to the shelf."""
    book = Notebook()
    place = _place(station, shelf, book, book if _plugs_in(station, shelf) else Notebook())
    draws = tuple(draw(one, shelf, book, counts_on_lead(one, station)) for one in station.loads)
    told = {one.id for one in station.loads if one.keyed is not None}
    draws = share_out(draws, told, station.keyed_together, shelf.limits.keyed, book)
    where = Where(shelf, place.coldest, place.hottest)
    feeds = tuple(feed(one, where, book) for one in station.sources)
    pairs = zip(station.sources, feeds, strict=True)
    draws += tuple(input_side(one, made, shelf, shelf.modes["carrier"]) for one, made in pairs if made.kind == BOOSTER)
    short = {one.id for one in draws if one.wants_short_lead}
    leads = tuple(_lead(one, station, shelf, place, (feeds, short), book) for one in station.runs)
    hubs = (*(_strip(one, shelf) for one in station.strips), *(_change(one, shelf) for one in station.changeovers))
    allowance = station.site.as_built
    if allowance is None and leads:
        find = "readings at the load, keyed, against the expected ones; or site.as_built"
        text = show(shelf.limits.as_built, units.SHARE)
        book.note("site.as_built", text, "added to every path's resistance: common practice, thin evidence", find)
    radios = [one.id for one in draws if one.is_keyed and one.feed == PowerInput.DC and one.group != Group.AMPLIFIER]
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
        station.wishes.budget, station.keyed_together, station.wishes.hours, _sunlight(station, shelf, book),
    )  # fmt: skip
    return case, tuple(book.found)


def _strip(strip: Strip, shelf: Shelf) -> Hub:
    row = shelf.strips.get(strip.part or "")
    return Hub(strip.id, row.title if row else "strip", row, strip.owned)


def _change(one: Changeover, shelf: Shelf) -> Hub:
    row = shelf.changeovers.get(one.part or "")
    return Hub(one.id, row.title if row else "changeover", None, one.owned, row, changes=True)


def _headroom(draws: tuple[Draw, ...], limits: Limits, book: Notebook) -> None:
    """Write down the headroom that is taken while the owner states none: it goes with the mode that is keyed."""
    voice, steady = (show(one, units.SHARE) for one in (limits.voice_headroom, limits.steady_headroom))
    kinds = {one.mode.steady: steady if one.mode.steady else voice for one in draws if one.is_keyed}
    if not kinds:
        return
    several = len(set(kinds.values())) > 1
    text = f"{voice} while voice or Morse is keyed, {steady} while FM or a digital mode is" if several else None
    basis = "common practice: on the keyed rating over key-down, on the continuous one over what heats it for minutes"
    book.note("wishes.headroom", text or next(iter(kinds.values())), basis, "your own judgement")


def _plugs_in(station: Station, shelf: Shelf) -> bool:
    """Whether anything of the station hangs on a wall circuit."""
    supplies = any(kind(one, shelf) == MAINS for one in station.sources)
    return supplies or any(feed_of(one.equipment, shelf) == PowerInput.MAINS for one in station.loads)


def _place(station: Station, shelf: Shelf, book: Notebook, wall: Notebook) -> Place:
    site = station.site
    coldest, hottest = _air(station, shelf, book)
    mains = wall.take(
        site.mains, LOW_MAINS, units.VOLTS, "site.mains", "the lower mains, which takes more current", PLATE
    )
    small = LOW_CIRCUIT if mains < BETWEEN_MAINS else HIGH_CIRCUIT
    find = "the breaker of the circuit that the outlet is on"
    circuit = wall.take(site.circuit, small, units.AMPS, "site.circuit", "the smallest usual circuit", find)
    wire = site.wire or ("AWG" if site.mains is None or site.mains < BETWEEN_MAINS else "metric")
    in_wall = _mains_run(site.circuit_wire, site.circuit_length, shelf, False)
    cord = _mains_run(site.extension, site.extension_length, shelf, True)
    return Place(mains, circuit, coldest, hottest, wire, in_wall, cord, site.generator, region=site.region or "")


def _air(station: Station, shelf: Shelf, book: Notebook) -> tuple[float, float]:
    """The coldest and hottest air [°C] around the cables: in a room, or in a cabin where a vehicle feeds them."""
    site, limits, where = station.site, shelf.limits, "a thermometer where the cables lie, summer and winter"
    cold, hot = (limits.coldest, "a heated room"), (limits.hottest, "a warm room behind a desk")
    if any(kind(one, shelf) == VEHICLE for one in station.sources):
        cold = (limits.cabin_coldest, "a parked cabin in winter")
        hot = (limits.cabin_hottest, "a closed cabin in the sun; beside the engine it is hotter still")
    coldest = book.take(site.coldest, cold[0], units.CELSIUS, "site.coldest", cold[1], where)
    return coldest, book.take(site.hottest, hot[0], units.CELSIUS, "site.hottest", hot[1], where)


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


def _sunlight(station: Station, shelf: Shelf, book: Notebook) -> Sunlight | None:
    """The sun on the station's battery, whole."""
    given = station.sun
    if given is None:
        return None
    panel, count = shelf.panels.get(given.panel or ""), given.panels or 1
    watts = given.watts if given.watts is not None else panel.watts * count if panel else None
    find = "a table of monthly sun for the place; or give your latitude"
    hours = given.hours
    if hours is None and given.latitude is not None:
        month, hours = sun.worst_month(given.latitude, sun.SKIES["cloudy"], given.tilt or 0.0)
        hours *= 1 - sun.DOUBT
        basis = f"month {month}, a cloudy sky, {sun.DOUBT:.0%} taken off for doubt".replace("%", " %")
        book.note("sun.hours", show(round(hours, 2), units.HOURS), basis, "a table of monthly sun for the place")
    hours = book.take(hours, SHORT_DAY, units.HOURS, "sun.hours", "a grey winter at middle latitudes", find)
    days = given.days if given.days is not None else DARK_DAYS
    if given.days is None:
        book.note("sun.days", f"{days:g}", "common practice: three to five", "how long you can wait for sun")
    operating = given.operating if given.operating is not None else station.wishes.hours
    operating = book.take(operating, EVENING, units.HOURS, "sun.operating", "an evening", "how you operate")
    controller = shelf.chargers.get(given.controller or "")
    return Sunlight(
        max(hours, 0.01), days, operating, watts, panel.open_circuit if panel else 22.0, controller, panel, count
    )


SHORT_DAY, DARK_DAYS, EVENING = 1.5, 3.0, 4.0


def draw(load: Load, shelf: Shelf, book: Notebook, counted: bool = False) -> Draw:
    """One load made whole. ``counted``: the lead that its class usually comes with is counted on."""
    row = shelf.equipment.get(load.equipment or "")
    lowest, highest, window_missing = _window(load, row, book)
    receive = _current(load.receive, row.receive if row else None, f"{load.id}.receive", row, book)
    transmit: Span | None = None
    if load.transmit is not None or (row and row.transmit):
        transmit = _current(load.transmit, row.transmit if row else None, f"{load.id}.transmit", row, book)
    busy = receive
    if transmit is None and (load.busy is not None or (row and row.busy)):
        busy = _current(load.busy, row.busy if row else None, f"{load.id}.busy", row, book)
    own = own_lead(load, row, shelf, book if counted else None)
    nothing = row is None and load.receive is None and load.transmit is None and load.busy is None
    missing = (("current",) if nothing else ()) + window_missing
    return Draw(
        id=load.id,
        title=row.title if row else load.id,
        feed=feed_of(load.equipment, shelf),
        group=row.group if row else Group.RADIO,
        lowest=lowest,
        highest=highest,
        nominal=load.nominal or (row.nominal if row else _nominal(lowest, highest)),
        follows=_follows(load, row, transmit is not None, book),
        rest=load.rest if load.rest is not None else (row.rest if row else 0.0),
        always_on=bool(load.always_on),
        receive=receive,
        transmit=transmit,
        busy=busy if busy.high >= receive.high else receive,
        mode=_mode(load, row, shelf, transmit is not None, book),
        keyed=_keyed(load, shelf, transmit is not None, book),
        fuse=load.fuse if load.fuse is not None else (row.fuse if row else None),
        inlets=(load.inlet or (row.inlet if row else None) or "",),
        lead=own.piece if own else None,
        lead_fuse=own.fuse if own else None,
        own_fuse_given=load.fuse is not None,
        class_fuse=row.fuse if row else None,
        missing=missing,
        low_volts=row.low_volts if row else "",
        equipment=row.id if row else "",
        wall=_from_wall(load, row, book),
        mains=load.mains,
        circuit=load.circuit,
        stated=tuple(_stated(load, row)) if row else (),
        radio_watts=_radio_watts(row, shelf) if row else None,
        find=row.find if row else "",
    )


def _stated(load: Load, row: Equipment) -> Iterator[Stated]:
    """The currents that the owner gave and the class knows as well."""
    pairs = (("receive", load.receive, row.receive), ("transmit", load.transmit, row.transmit))
    for key, amps, usual in (*pairs, ("busy", load.busy, row.busy)):
        if amps is not None and usual is not None:
            yield Stated(key, amps, usual)


def _radio_watts(row: Equipment, shelf: Shelf) -> float | None:
    """The radio power [W] of a class, where its curve tells it."""
    return next((one.points[-1][0] for one in shelf.powers.values() if row.id in one.classes), None)


def _from_wall(load: Load, row: Equipment | None, book: Notebook) -> Span | None:
    """The power [W] that something takes from the wall itself; None where it takes direct current."""
    if row is None or row.feed != PowerInput.MAINS:
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
    if row.feed == PowerInput.DC:
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
    if row.feed == PowerInput.DC and span.high:
        text = f"{show(span.high, units.AMPS)} (typical {span.low:g} to {span.high:g} A)"
        book.note(about, text, f"the high end for a {row.title}; {_practice(row.source)}", row.find)
    return span


def _follows(load: Load, row: Equipment | None, keyed: bool, book: Notebook) -> str:
    if load.follows or row:
        return load.follows or (row.follows if row else "")
    value = LoadModel.STEADY_CURRENT if keyed else LoadModel.STEADY_POWER
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


def _lead(
    run: Run,
    station: Station,
    shelf: Shelf,
    place: Place,
    beside: tuple[tuple[Feed, ...], set[str]],
    book: Notebook,
) -> Lead:
    roots = [one.id for one in station.changeovers] + [one.id for one in station.sources]
    start = run.start or next(iter(roots), "")
    vehicle = any(one.id == start and one.kind == VEHICLE for one in beside[0])
    heavy = run.end in {one.id for one in station.strips} | {one.id for one in station.changeovers}
    usual = _usual_length(shelf.limits, heavy, vehicle, run.end in beside[1])
    length = book.take(run.length, usual[0], units.LENGTH, f"{run.id}.length", usual[1], TAPE)
    insulation = run.insulation
    came = _lead_of(run.end, station, shelf)
    if run.conductor and insulation is None:
        value = came.piece.insulation.id if run.supplied and came else shelf.limits.insulation
        book.note(f"{run.id}.insulation", value, "the least that such cable is sold with", "the print on the cable")
    if run.tail and run.tail_length is None:
        basis, find = "half of the whole way", "a tape along that piece"
        book.note(f"{run.id}.tail_length", show(length / 2, units.LENGTH), basis, find)
    lead = Lead(
        id=run.id,
        start=start,
        end=run.end,
        length=length,
        conductor=shelf.conductors[run.conductor] if run.conductor else None,
        insulation=shelf.insulations[f"{insulation:g} °C" if insulation is not None else shelf.limits.insulation],
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
        negative=_negative(run, vehicle, book),
        engine_space=_engine_space(run, shelf.limits, length, vehicle, book),
        engine_celsius=shelf.limits.engine_celsius,
    )
    return own_part(lead, run, came, shelf)


def _lead_of(id_: str, station: Station, shelf: Shelf) -> OwnLead | None:
    """The lead that came with a load."""
    load = next((one for one in station.loads if one.id == id_), None)
    return own_lead(load, shelf.equipment.get(load.equipment or ""), shelf, Notebook()) if load else None


TAPE = "a tape along the way it will lie"


def _usual_length(limits: Limits, heavy: bool, vehicle: bool, short: bool) -> tuple[float, str]:
    """The one-way length [m] taken for a run that nobody measured, and why."""
    if vehicle:
        return limits.vehicle_lead, "from the battery under the bonnet into the cab"
    if heavy:
        return limits.strip_lead, "from supply to strip on one desk"
    if short:
        return limits.amplifier_lead, "the longest usual for a 12 V-class amplifier at home: stand it by its supply"
    return limits.desk_lead, "across one desk"


def _negative(run: Run, vehicle: bool, book: Notebook) -> str:
    """Where the negative leg lands."""
    if run.negative or not vehicle:
        return run.negative or Negative.SUPPLY
    basis = "common practice: it keeps a battery sensor's count and needs one fuse; the vehicle's maker wins"
    book.note(f"{run.id}.negative", Negative.BODY, basis, "the vehicle's guide for fitting two-way radio")
    return Negative.BODY


def _engine_space(run: Run, limits: Limits, length: float, vehicle: bool, book: Notebook) -> float:
    """How much of a run [m] lies in the heat beside an engine."""
    if not vehicle:
        return run.engine_space or 0.0
    basis = "from the battery to the bulkhead of most cars"
    about, find = f"{run.id}.engine_space", "a tape along the way it will lie; 0 m where the battery is elsewhere"
    return min(book.take(run.engine_space, limits.engine_space, units.LENGTH, about, basis, find), length)


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
