"""Does the battery last, is it charged as its kind wants, and can what charges it do so?"""

from __future__ import annotations

import math

from engine.findings import SEVERITY, SOUND, THIN, UNSOUND
from engine.model.case import BATTERY, MAINS, Cell, Feed
from engine.model.endurance import BOARD, CUT_OFF, DEPTH, FLOOR, Endurance, endurance
from engine.model.operating import Operating
from engine.model.steady import charging_amps
from engine.model.turns import heating_amps
from engine.parts import Changeover, Charger
from engine.physics import cells, charge
from engine.physics.charge import Windows
from engine.rules.rule import HOURS, PRACTICE, SOURCE, Answer, Margin, Rule
from engine.terms import SUN
from engine.working import Figure


def ends(operating: Operating, feed: Feed) -> Answer | None:
    """What ends the session: the charge, the radio's own floor, or the battery's protection."""
    made = endurance(operating, feed)
    if made is None:
        return None
    depth, first = made.end(DEPTH), made.first
    limit = Figure(depth.hours, "h") if depth else None
    early = first.name in (FLOOR, BOARD, CUT_OFF)
    says = f"{feed.id} lasts {Figure(first.hours, 'h')}: then {first.says}, with {first.left * 100:.0f} % of it left"
    more = f"; the calculator's answer is {made.ideal:.1f} h" if math.isfinite(made.ideal) else ""
    if early and depth:
        more += f", and {depth.hours:.1f} h until {depth.says}"
    return Answer(THIN if early else SOUND, says + more, Figure(first.hours, "h"), limit)


def lasts(operating: Operating, feed: Feed) -> Answer | None:
    """The session against the hours wished for."""
    wish, made = operating.case.hours, endurance(operating, feed)
    if wish is None or made is None:
        return None
    figure, limit = Figure(made.hours, "h"), Figure(wish, "h")
    if made.hours >= wish - 1e-9:
        return Answer(SOUND, f"{feed.id} lasts {figure}, {limit} wished for: {_three(made)}", figure, limit)
    says = f"{feed.id} lasts {figure}, {limit} wished for: {Figure(wish - made.hours, 'h')} short ({_three(made)})"
    return Answer(UNSOUND, f"{says}; {_enough(made, feed, wish)}", figure, limit)


def _enough(made: Endurance, feed: Feed, wish: float) -> str:
    """What would reach the hours wished for: Peukert's law makes a larger battery last more than in proportion."""
    if made.hours <= 0 or feed.cell is None:
        return "no capacity helps while the volts are too few: shorter or thicker leads, a booster, or less power"
    wanted = feed.cell.amp_hours * wish / made.hours
    return f"about {wanted:.0f} Ah of the same kind would do, or less power, or less time keyed"


def _three(made: Endurance) -> str:
    """The three answers in a line."""
    depth, floor = made.end(DEPTH), made.end(FLOOR)
    said = [f"{made.ideal:.1f} h on the envelope"] if math.isfinite(made.ideal) else []
    said += [f"{depth.hours:.1f} h to the depth accepted"] if depth else []
    return ", ".join([*said, f"{floor.hours:.1f} h until the radio's floor" if floor else "the radio's floor holds"])


def cold(operating: Operating, feed: Feed) -> Answer | None:
    """No charging below the temperature that the chemistry bears."""
    cell = feed.cell
    if cell is None or not cell.charged_by:
        return None
    figure, limit = Figure(cell.celsius, "°C"), Figure(cell.chemistry.charge_from, "°C")
    if cell.celsius >= cell.chemistry.charge_from:
        return Answer(SOUND, f"{feed.id} is charged at {figure} or warmer", figure, limit)
    says = f"{feed.id} may be at {figure}, and {cell.chemistry.title} is never charged below {limit}"
    sunlight = operating.case.sunlight
    charger = cell.charger or (sunlight.controller if sunlight and cell.charged_by == SUN else None)
    if isinstance(charger, Charger) and charger.cold_lockout:
        return Answer(THIN, f"{says}: its charger waits until it is warmer, so it may stay empty", figure, limit)
    harm = "it plates metal inside, and a later short may burn" if cell.chemistry.is_lithium else "it may vent or burst"
    return Answer(UNSOUND, f"{says}: {harm}; warm it first", figure, limit)


def windows(cell: Cell, celsius: float) -> Windows | None:
    """The volts that a battery wants at a temperature [°C]; None where it is not kept on float at all."""
    kind = cell.chemistry
    if kind.float_volts is None:
        return None
    low, high, first, last = (
        charge.compensated(volts, celsius, kind.slope) for volts in (*kind.float_volts, *kind.absorption)
    )
    return Windows(cells.open_circuit(kind, 0.95), low, high, first, last)


def kept(operating: Operating, feed: Feed) -> Answer | None:
    """What the source that charges a battery does to it in the long run."""
    cell, case = feed.cell, operating.case.joint
    if cell is None or cell.charged_by in ("", SUN):
        return None
    if cell.charger is not None:
        return _charger(feed, cell, cell.charger)
    by = case.feed.get(cell.charged_by)
    if by is None:
        return None
    warmest = max(cell.celsius, case.place.hottest)
    answers = [_straight(feed, cell, by, celsius) for celsius in dict.fromkeys((cell.celsius, warmest))]
    return max(answers, key=lambda one: SEVERITY[one.outcome])


def _straight(feed: Feed, cell: Cell, by: Feed, celsius: float) -> Answer:
    """A battery straight on a supply of fixed voltage, at one temperature [°C]: cold wants more volts, heat fewer."""
    at = windows(cell, celsius)
    if at is None:
        figure = Figure(by.volts, "V")
        return Answer(UNSOUND, f"{cell.chemistry.title} is never left on a fixed {figure}: use its own charger", figure)
    found, figure, limit = charge.held(by.volts, at), Figure(by.volts, "V"), Figure(at.float_high, "V")
    finish = f"a charge is finished at {at.absorb_low:.2f} to {at.absorb_high:.2f} V"
    says = f"{feed.id} straight on {by.id} at {figure}: {found} at {celsius:.0f} °C"
    window = f"it floats at {at.float_low:.2f} to {at.float_high:.2f} V and {finish}"
    if found == charge.TOO_HIGH:
        return Answer(UNSOUND, f"{says}; {window}", figure, limit)
    if found == charge.FLOATS:
        full = "" if charge.fills(by.volts, at) else "; it keeps a full battery and never quite fills an empty one"
        return Answer(SOUND, f"{says}; {window}{full}", figure, limit)
    return Answer(THIN, f"{says}; {window}: use a charger made for it, or a changeover that charges", figure, limit)


def _charger(feed: Feed, cell: Cell, charger: Charger | Changeover) -> Answer:
    if isinstance(charger, Changeover):
        if charger.charges:
            return Answer(SOUND, f"{feed.id} is charged by {charger.title}: set it to {cell.chemistry.family}")
        return Answer(UNSOUND, f"{charger.title} does not charge: {feed.id} would stay as it is")
    made_for = f"made for {cell.chemistry.family}"
    if cell.chemistry.family in charger.suits:
        return Answer(SOUND, f"{feed.id} is charged by {charger.title}, which is {made_for}")
    return Answer(UNSOUND, f"{charger.title} is not {made_for}: {feed.id} would be ruined or burn")


def inrush(operating: Operating, feed: Feed) -> Answer | None:
    """An empty battery straight on a supply takes what its resistance lets through."""
    cell, case = feed.cell, operating.case.joint
    by = case.feed.get(cell.charged_by) if cell else None
    if cell is None or by is None or cell.charger is not None:
        return None
    figure = Figure(charging_amps(feed, by), "A")
    limit = Figure(cell.chemistry.charge_share * cell.amp_hours, "A")
    outcome = SOUND if figure.value <= limit.value else THIN
    says = f"emptied to its depth, {feed.id} takes {figure} from {by.id} at first; {limit} is the most for its kind"
    return Answer(outcome, says, figure, limit)


def recharge(operating: Operating, feed: Feed) -> Answer | None:
    """After an outage the supply carries the radios and the recharge."""
    case = operating.case.joint
    if feed.kind != MAINS or feed.missing or not operating.demand.served.get(feed.id):
        return None
    fed = [one for one in case.feeds if one.cell and not one.missing and one.cell.charged_by == feed.id]
    if not fed:
        return None
    radios = heating_amps(operating.demand, feed.id)
    takes = {one.id: charging_amps(one, feed) for one in fed}
    into = sum(takes.values())
    figure = Figure(radios, "A", "radios", "heating current over hours")
    figure += Figure(into, "A", "recharge", "into the empty battery")
    outcome = SOUND if figure.value <= feed.continuous + 1e-9 else THIN
    says = f"after an outage {feed.id} gives {figure} hour after hour, recharge included; it is rated {feed.continuous:g} A"
    hours = ((one.id, refill_hours(one.cell, takes[one.id])) for one in fed if one.cell)
    says += "".join(f"; {id_} is full again after about {Figure(long, 'h')}" for id_, long in hours if long)
    return Answer(outcome, says, figure, Figure(feed.continuous, "A"))


def refill_hours(cell: Cell, amps: float) -> float | None:
    """Hours in which ``amps`` [A] of a charger fill a battery again that was emptied to its depth.

    None where no charger is known, for what a fixed voltage lets in falls all the time, and for nickel, whose charge
    ends in a way of its own.
    """
    kind, holds = cell.chemistry, cell.amp_hours * cell.health
    if cell.charger is None or amps <= 0 or not (kind.is_lead or kind.is_lithium):
        return None
    tail, stays = (charge.LEAD_TAIL, 1 / charge.TEXTBOOK_RETURN) if kind.is_lead else (charge.LITHIUM_TAIL, 1.0)
    return charge.recharge_hours(cell.depth * holds, holds, amps, tail, stays)


def board(operating: Operating, feed: Feed) -> Answer | None:
    """A protection board is no fuse: it trips all at once, and an over outlasts its seconds of grace."""
    if feed.kind != BATTERY or feed.cell is None or feed.missing or not feed.cell.board:
        return None
    top, state = operating.demand.worst_peak(feed.id)
    figure, limit = Figure(top, "A"), Figure(feed.peak, "A")
    over, long = operating.demand.worst_heating(feed.id)
    if top <= feed.peak + 1e-9 and over > feed.continuous + 1e-9:
        figure, limit = Figure(over, "A"), Figure(feed.continuous, "A")
        says = f"an over with {long.name} counts as {figure}; the protection board of {feed.id} is rated {limit}"
        return Answer(UNSOUND, f"{says}, and more for seconds only: it cuts off all at once", figure, limit)
    outcome = SOUND if top <= feed.peak + 1e-9 else UNSOUND
    does = "carries" if outcome == SOUND else "trips at"
    says = f"the protection board of {feed.id} {does} {figure} with {state.name}; it bears {limit} while keyed"
    return Answer(outcome, says, figure, limit)


RULES = (
    Rule("battery-ends", "what ends a session on battery?", "discharge in time", SOURCE, ends, solved=True),
    Rule(
        "battery-hours",
        "does the battery last as long as wished?",
        "the owner's wish; Peukert's law on the rated hours; published cold multipliers",
        SOURCE,
        lasts,
        keep=SOUND,
        margin=Margin(HOURS, step=0.02, of_limit=True),
        wish=True,
        solved=True,
    ),
    Rule(
        "battery-board", "does its protection board bear the key-down?", "the board's rating", SOURCE, board, danger=2
    ),
    Rule(
        "battery-cold",
        "is it never charged too cold?",
        "no charging of lithium below 0 °C, cell makers' general rule",
        SOURCE,
        cold,
        danger=4,
    ),
    Rule("battery-kept", "does what charges it suit its kind?", "float and absorption tables", SOURCE, kept, danger=3),
    Rule("battery-inrush", "does an empty one take too much at first?", PRACTICE, SOURCE, inrush, danger=2),
    Rule("recharge", "does the supply bear radios and recharge after an outage?", "its rating", SOURCE, recharge),
)
