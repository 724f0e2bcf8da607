"""Sources made whole: mains supplies, vehicles, batteries and boosters, each with the volts of every condition."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from engine import units
from engine.model.assumptions import Notebook
from engine.model.banks import bank, side_by_side
from engine.model.case import BATTERY, BOOSTER, HIGHEST, LOWEST, MAINS, MIDDLE, VEHICLE, Cell, Corner, Draw, Feed
from engine.parts import FREE, Battery, Booster, Chemistry, Limits, Mode, Shelf, Span, Supply, Vehicle
from engine.physics import cells, charge, numeric
from engine.station.model import Source
from engine.terms import ConditionName, EngineState, Group, Limiting, LoadModel, PowerInput, SourceKind
from engine.units import show

HOME_VOLTS = 13.8
PLATE = "the rating plate or the specification page of its manual"
ROUND_SUPPLY = Supply(
    "", "", "", HOME_VOLTS, 0.02, 0.02, 0, 0, False, 0, 0, 0, "constant current", 0.8, 0.6, 0, "", "", False, (), ""
)
"""What an owner's supply without a catalogue row is taken for."""

ROUND_BOOSTER = Booster(
    "", "booster", 10.5, 15, HOME_VOLTS, 0, 0, 0.88, 0.3, 10.5, False, False, "ask", 0, (), "common-practice"
)
"""What an owner's booster without a catalogue row is taken for."""

RUNNING, OFF = EngineState

BOOSTER_VOLTS = 12.0
"""Volts at which a booster's own draw is stated."""


@dataclass(frozen=True)
class Where:
    """What a source needs to know of the rest: the shelf, and the coldest and hottest air [°C]."""

    shelf: Shelf
    coldest: float
    hottest: float

    @property
    def limits(self) -> Limits:
        """The house's margins."""
        return self.shelf.limits


def kind(source: Source, shelf: Shelf) -> SourceKind:
    """What sort of source it is."""
    return kind_of(source.technology, source.part, shelf)


def kind_of(technology: str | None, part: str | None, shelf: Shelf) -> SourceKind:
    """The sort of a source by its class, or by the table in which its part stands."""
    if technology in (VEHICLE, BATTERY, BOOSTER):
        return SourceKind(technology)
    tables: dict[SourceKind, Mapping[str, object]] = {
        VEHICLE: shelf.vehicles,
        BATTERY: shelf.batteries,
        BOOSTER: shelf.boosters,
    }
    return next((name for name, rows in tables.items() if part in rows), MAINS)


def feed(source: Source, where: Where, book: Notebook) -> Feed:
    """One source made whole, over its catalogue row if it has one; without what decides it stays a gap."""
    shelf, part = where.shelf, source.part or ""
    sort = kind(source, shelf)
    if sort == VEHICLE:
        return _vehicle(source, shelf.vehicles.get(part) or shelf.vehicles[CAR], book, where)
    if sort == BATTERY:
        return _battery(source, shelf.batteries.get(part), where, book)
    if sort == BOOSTER:
        return _booster(source, shelf.boosters.get(part), book)
    return _supply(source, shelf.supplies.get(part), book)


CAR = "car"
"""The class of vehicle taken where its owner names none."""


def _first(*values: float | None) -> float | None:
    return next((one for one in values if one is not None), None)


FILTERED = {True: "filtered", False: "ask"}
"""What an owner's word on a supply's filter says of its noise on the bands."""


def _supply(source: Source, row: Supply | None, book: Notebook) -> Feed:
    base = row or ROUND_SUPPLY
    continuous = source.continuous if source.continuous is not None else base.continuous
    missing = () if continuous > 0 else ("continuous",)
    own = Notebook() if missing else book
    sid = source.id
    volts = _first(source.volts, row.volts if row else None)
    volts = own.take(volts, HOME_VOLTS, units.VOLTS, f"{sid}.volts", "the home supply's usual set point", PLATE)
    peak = _first(source.peak, row.peak if row else None)
    peak = own.take(peak, continuous, units.AMPS, f"{sid}.peak", "no peak rating counted on", PLATE)
    tolerance = _first(source.tolerance, row.tolerance if row else None)
    tolerance = own.take(
        tolerance, base.tolerance, units.SHARE, f"{sid}.tolerance", "common practice", "a meter at its terminals"
    )
    regulation = _first(source.regulation, row.regulation if row else None)
    find = "a meter at its terminals, receive and key-down"
    regulation = own.take(regulation, base.regulation, units.SHARE, f"{sid}.regulation", "common practice", find)
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
        adjustable=source.adjustable if source.adjustable is not None else base.adjustable,
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
        rf_noise=base.rf_noise if source.filtered is None else FILTERED[source.filtered],
        price=base.price,
        owned=source.owned,
        part=row.id if row else None,
        missing=missing,
        mains=source.mains,
        circuit=source.circuit,
    )
    shares = source.shares if source.shares is not None else bool(row and row.shares)
    return side_by_side(made, source.parallel or 1, shares)


def _plain(source: Source, kind_: str, **own: object) -> Feed:
    """A source that neither regulates nor plugs into the wall."""
    base: dict[str, object] = {
        "technology": kind_, "tolerance": 0.0, "regulation": 0.0, "adjustable": False, "locked": True,
        "limiting": Limiting.OWN_RESISTANCE, "efficiency": 1.0, "power_factor": 1.0, "over_voltage": None,
        "kind": kind_, "owned": source.owned,
    }  # fmt: skip
    return Feed(id=source.id, **(base | own))  # type: ignore[arg-type]


# -- vehicles


def _vehicle(source: Source, row: Vehicle, book: Notebook, where: Where) -> Feed:
    if source.part is None:
        basis = "the plainest kind; common practice for its volts, inside ISO 16750-2"
        book.note(f"{source.id}.part", row.id, basis, "a meter at the battery's posts, engine off, running, started")
    running = source.engine != OFF
    if source.engine is None:
        basis = "common practice: start the engine, then switch the radio on"
        book.note(f"{source.id}.engine", RUNNING, basis, 'how you operate; write engine = "off" to be judged by that')
    lowest = row.running.low if running else row.rested.low
    if source.lowest is not None:
        lowest = source.lowest
    ohms = Span.exactly(source.ohms) if source.ohms is not None else row.ohms
    charging = source.highest if source.highest is not None else row.charging
    state = "engine running, at its lowest" if running else "engine off, battery at its lowest"
    middle = row.running.usual if running else row.rested.usual
    cranking = source.cranking or row.cranking
    return _plain(
        source,
        VEHICLE,
        title=row.title,
        volts=middle,
        lowest=lowest,
        highest=charging,
        continuous=source.continuous if source.continuous is not None else left_at_idle(source, row, book),
        peak=max(cranking, source.peak or 0.0),
        limit=fault_level(cranking),
        fault_ohms=row.charging / fault_level(cranking),
        outlets=source.outlets or row.outlets,
        part=row.id if source.part else None,
        owned=True,
        sensor=bool(source.load_sensor),
        vehicle=row,
        engine_off=not running,
        starter=_starter(source, row, where),
        parked_amps=_first(source.parked_amps, row.parked_amps) or 0.0,
        corners=(
            Corner(HIGHEST, "charging hard in the cold", charging),
            Corner(MIDDLE, "engine running" if running else "engine off", middle, ohms.usual),
            Corner(LOWEST, state, lowest, ohms.high),
            Corner(ConditionName.ENGINE_OFF, "engine off, battery rested", row.rested.usual, ohms.usual),
            Corner(ConditionName.ENGINE_RUNNING, "engine running, as usual", row.running.usual, ohms.usual),
            Corner(ConditionName.STARTING, "while the engine is started", row.starting.usual, 0.0),
        ),
    )


def left_at_idle(source: Source, row: Vehicle, book: Notebook) -> float:
    """What an alternator leaves over at idle [A]: a share of its rating, less what the vehicle takes itself."""
    find = "the alternator's plate; its maker's curve at idle; a clamp meter, engine idling and lights on"
    basis = "usual for its class, about a third of it at idle; common practice"
    rating = book.take(source.alternator, row.alternator, units.AMPS, f"{source.id}.alternator", basis, find)
    share, own = _first(source.idle_share, row.idle_share) or 0.0, _first(source.own_amps, row.own_amps) or 0.0
    return max(rating * share - own, 0.0)


def _starter(source: Source, row: Vehicle, where: Where) -> Cell:
    """The vehicle's own battery, as charged as its usual volts at rest say."""
    kind = where.shelf.chemistries[source.chemistry or row.chemistry]
    charge_left = numeric.between([(volts, share) for share, _, volts, _ in kind.open_circuit], row.rested.usual)
    amp_hours = source.amp_hours or row.amp_hours
    depth = source.depth if source.depth is not None else row.standby / row.amp_hours
    celsius = source.temperature if source.temperature is not None else where.coldest
    return Cell(kind, amp_hours, celsius, source.health or 1.0, charge_left, min(depth, charge_left))


def fault_level(cranking: float) -> float:
    """Breaking capacity [A] asked of the main fuse, by the battery's cold cranking current [A] (abyc-e11).

    >>> fault_level(650), fault_level(651), fault_level(1200)
    (1500.0, 3000.0, 5000.0)
    """
    return 1500.0 if cranking <= 650 else 3000.0 if cranking <= 1100 else 5000.0


# -- batteries


def chemistry_of(source: Source, shelf: Shelf) -> Chemistry | None:
    """The chemistry of a battery: its owner's word, else that of its part; None where neither says."""
    row = shelf.batteries.get(source.part or "")
    return shelf.chemistries.get(source.chemistry or (row.chemistry if row else ""))


def _battery(source: Source, row: Battery | None, where: Where, book: Notebook) -> Feed:
    chemistry = chemistry_of(source, where.shelf)
    amp_hours = source.amp_hours or (row.amp_hours if row else 0.0)
    if chemistry is None or not amp_hours:
        return _plain(
            source, BATTERY, title=chemistry.title if chemistry else "battery", volts=12.8, lowest=12.0,
            highest=14.6, continuous=0.0, peak=0.0, limit=0.0, outlets=(), missing=("amp_hours",),
        )  # fmt: skip
    cell = _cell(source, row, chemistry, amp_hours, where, book)
    full = cells.open_circuit(chemistry, 1.0, "high")
    top = source.highest if source.highest is not None else full
    if source.highest is None and source.charged_by:
        top = max(full, charge.compensated(chemistry.absorption[1], cell.celsius, chemistry.slope))
    left, most = cell.start - cell.depth, _resistance(cell, "low", source.ohms)
    continuous, peak = _ratings(source, row, chemistry, amp_hours, book)
    usual = _resistance(cell, "usual", source.ohms)
    made = _plain(
        source,
        BATTERY,
        title=row.title if row else f"{chemistry.title}, {amp_hours:g} Ah",
        volts=cells.open_circuit(chemistry, cell.start, "usual"),
        lowest=cells.open_circuit(chemistry, left, "low"),
        highest=top,
        continuous=continuous,
        peak=max(peak, continuous),
        limit=full / most,
        fault_ohms=most,
        outlets=source.outlets or (row.outlets if row else ("stud",)),
        kilograms=row.kilograms if row else 0.0,
        price=row.price if row else FREE,
        part=row.id if row else None,
        cell=cell,
        corners=(
            Corner(HIGHEST, "charged" if top > full else "fully charged, nothing drawn", top),
            Corner(
                MIDDLE,
                "half of what you accept is drawn",
                cells.open_circuit(chemistry, cell.start - cell.depth / 2, "usual"),
                usual,
            ),
            Corner(
                LOWEST,
                f"discharged to {left * 100:.0f} %, cold and aged",
                cells.open_circuit(chemistry, left, "low"),
                _resistance(cell, "high", source.ohms),
            ),
            Corner(ConditionName.FULL, "fully charged", cells.open_circuit(chemistry, 1.0, "usual"), usual),
            Corner(ConditionName.HALF_CHARGED, "half charged", cells.open_circuit(chemistry, 0.5, "usual"), usual),
        ),
    )
    return bank(made, source.parallel or 1)


def _cell(
    source: Source, row: Battery | None, chemistry: Chemistry, amp_hours: float, where: Where, book: Notebook
) -> Cell:
    sid, limits = source.id, where.limits
    find = "a thermometer on the battery, in the coldest hours that you operate"
    celsius = book.take(
        source.temperature, where.coldest, units.CELSIUS, f"{sid}.temperature", "the coldest of the site", find
    )
    health = book.take(
        source.health, limits.health, units.SHARE, f"{sid}.health",
        "what is left at the end of its life: common practice, replaced at about 80 %", "a discharge test, timed",
    )  # fmt: skip
    basis = f"common practice for long life of {chemistry.title}"
    depth = book.take(source.depth, chemistry.depth, units.SHARE, f"{sid}.depth", basis, "your own judgement")
    start = source.charge if source.charge is not None else 1.0
    board = row.board if row else chemistry.is_lithium
    charger = where.shelf.chargers.get(source.charger or "") or where.shelf.changeovers.get(source.charger or "")
    by = source.charged_by or ""
    return Cell(chemistry, amp_hours, celsius, health, start, min(depth, start), board, by, charger)


def _resistance(cell: Cell, which: str, given: float | None) -> float:
    """Resistance [Ω] inside a battery: least when new and warm, most when cold and aged.

    The owner's own, measured warm on the battery as old as it is, wins; it rises in the cold as that of its kind.
    """
    celsius, health = (25.0, 1.0) if which == "low" else (cell.celsius, cell.health)
    if given is not None:
        return given * cells.cold_ohms_factor(cell.chemistry, celsius)
    return cells.internal_ohms(cell.chemistry, cell.amp_hours, celsius, health, which)


def _ratings(
    source: Source, row: Battery | None, chemistry: Chemistry, amp_hours: float, book: Notebook
) -> tuple[float, float]:
    """What the battery, or the board inside it, gives for hours and while keyed [A]."""
    lead = chemistry.is_lead
    continuous = _first(source.continuous, row.continuous if row else None)
    basis = "a quarter of its capacity in an hour" if lead else "its capacity in an hour"
    basis += ", a usual protection board" if chemistry.is_lithium else ""
    share = 0.25 if lead else 1.0
    about = f"{source.id}.continuous"
    continuous = book.take(continuous, share * amp_hours, units.AMPS, about, f"{basis}; common practice", PLATE)
    peak = _first(source.peak, row.peak if row else None, source.continuous)
    usual = amp_hours if lead else continuous
    return continuous, book.take(peak, usual, units.AMPS, f"{source.id}.peak", f"{basis}; common practice", PLATE)


# -- boosters


def _booster(source: Source, row: Booster | None, book: Notebook) -> Feed:
    base = row or ROUND_BOOSTER
    continuous = source.continuous if source.continuous is not None else base.continuous
    missing = () if continuous > 0 else ("continuous",)
    volts = source.volts if source.volts is not None else base.volts
    peak = max(source.peak or base.peak, continuous)
    return Feed(
        id=source.id,
        title=base.title,
        technology=BOOSTER,
        volts=volts,
        tolerance=source.tolerance if source.tolerance is not None else 0.01,
        regulation=source.regulation if source.regulation is not None else 0.01,
        lowest=volts,
        highest=volts,
        adjustable=False,
        locked=True,
        continuous=continuous,
        peak=peak,
        limit=source.limit or peak * 1.2,
        limiting=Limiting.CONSTANT_CURRENT,
        efficiency=source.efficiency or base.efficiency,
        power_factor=1.0,
        over_voltage=source.over_voltage if source.over_voltage is not None else True,
        outlets=source.outlets or base.outlets,
        kilograms=base.kilograms,
        rf_noise=base.rf_noise,
        price=base.price,
        owned=source.owned,
        part=row.id if row else None,
        missing=missing,
        kind=BOOSTER,
    )


def input_side(source: Source, made: Feed, shelf: Shelf, mode: Mode) -> Draw:
    """A booster as the load that it is to its own source: it draws what its loads do, and its losses."""
    row = shelf.boosters.get(source.part or "") or ROUND_BOOSTER
    cut = source.cut_off if source.cut_off is not None else row.cut_off
    lowest = max(source.lowest if source.lowest is not None else row.lowest, cut)
    nothing = Span.exactly(0.0)
    return Draw(
        id=source.id,
        title=f"{made.title}, its input",
        feed=PowerInput.DC,
        group=Group.CONVERTER,
        lowest=lowest,
        highest=source.highest if source.highest is not None else row.highest,
        nominal=BOOSTER_VOLTS,
        follows=LoadModel.STEADY_POWER,
        rest=row.idle,
        receive=nothing,
        transmit=None,
        busy=nothing,
        mode=mode,
        keyed=0.0,
        fuse=None,
        inlets=made.outlets,
        low_volts=f"stops at {show(cut, units.VOLTS)}",
        cut_off=cut,
        converts=source.id,
        output_volts=made.volts,
        efficiency=made.efficiency,
        idle=row.idle * BOOSTER_VOLTS,
    )
