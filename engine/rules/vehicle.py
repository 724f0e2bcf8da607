"""A vehicle as a source: the engine off, the parked car, the alternator, the accessory socket and the negative lead."""

from __future__ import annotations

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.case import VEHICLE, Draw, Feed, Lead
from engine.model.operating import RESTING, USUAL, Operating, State, own_condition
from engine.model.steady import charging_amps
from engine.model.turns import mean_amps
from engine.rules.rule import LOAD, PRACTICE, RUN, SOURCE, Answer, Rule
from engine.terms import ConditionName, Negative
from engine.working import Figure, plain

SOCKET = "accessory plug"
SOCKET_AMPS = 8.0
"""The most [A] for an accessory socket: less than a 50 W set draws (common practice)."""

TEXT = "what the vehicle's maker writes for two-way radio wins"


def engine_off(operating: Operating, feed: Feed) -> Answer | None:
    """What every load sees keyed when the engine is off and the battery is rested."""
    if feed.kind != VEHICLE or not operating.demand.fed_by(feed.id):
        return None
    condition = own_condition(feed.corner(ConditionName.ENGINE_OFF))
    worst: tuple[float, str, float] | None = None
    for state in operating.states:
        point = operating.point(state, condition)
        for draw in operating.demand.fed_by(feed.id):
            if state.name != RESTING and point.fed and "window" not in draw.missing and draw.id in point.volts:
                gap = point.volts[draw.id] - draw.lowest
                worst = min(worst or (gap, "", 0.0), (gap, draw.id, draw.lowest))
    if worst is None or not worst[1]:
        return None
    gap, id_, floor = worst
    figure, limit = Figure(floor + gap, "V"), Figure(floor, "V")
    says = f"with the engine off {id_} sees {figure} keyed, its floor is {limit}"
    if gap >= 0:
        return Answer(SOUND, says, figure, limit)
    return Answer(
        THIN, f"{says}: start the engine before transmitting, lower the power, or add a booster", figure, limit
    )


def standby(operating: Operating, feed: Feed) -> Answer | None:
    """What is drawn while parked, and when the car no longer starts."""
    if feed.kind != VEHICLE or feed.vehicle is None:
        return None
    rest = sum(operating.demand.amps(one, State(RESTING), USUAL) for one in operating.demand.fed_by(feed.id))
    if rest <= 0:
        return None
    spare = Figure(feed.vehicle.standby, "Ah", "ampere hours", "may go before it does not start: common practice")
    drawn = Figure(rest, "A", "rest", "drawn while everything is switched off")
    figure = spare / drawn / plain(24, "h/d")
    limit = Figure(operating.case.limits.standby_days, "d")
    outcome = SOUND if figure.value >= limit.value else THIN
    says = f"switched off, the station draws {rest * 1000:.0f} mA: the car may not start after {figure.value:.0f} days"
    return Answer(outcome, says + ("" if outcome == SOUND else "; fit a switch at the fuse"), figure, limit)


def alternator(operating: Operating, feed: Feed) -> Answer | None:
    """What the alternator leaves over at idle, against what the station draws over time."""
    if feed.kind != VEHICLE or not operating.demand.served.get(feed.id):
        return None
    over = mean_amps(operating.demand, feed.id, operating.demand.sustained)
    second = [one for one in operating.case.feeds if one.cell and one.cell.charged_by == feed.id and not one.missing]
    into = sum(charging_amps(one, feed) for one in second)
    figure = Figure(over, "A", "station", "mean over its session, from modes and shares keyed")
    figure += Figure(into, "A", "second battery", "into batteries that it charges")
    limit = Figure(feed.continuous, "A")
    outcome = SOUND if figure.value <= feed.continuous + 1e-9 else THIN
    says = f"the station draws {figure} on average; the alternator leaves about {limit} at idle"
    more = "" if outcome == SOUND else ": the battery gives the rest; a second battery, or more revolutions"
    return Answer(outcome, says + more, figure, limit)


def amplifier(operating: Operating, draw: Draw) -> Answer | None:
    """An amplifier of the 12 V class far from the vehicle's battery wants one of its own beside it."""
    feed = operating.case.source_of(draw.id)
    if feed is None or feed.kind != VEHICLE or not draw.wants_short_lead:
        return None
    metres = sum(lead.length for lead in operating.case.path(draw.id))
    figure, limit = Figure(metres, "m"), Figure(NEAR, "m")
    if metres <= NEAR + 1e-9:
        return Answer(SOUND, f"{draw.id} stands {figure} from the battery of {feed.id}", figure, limit)
    says = f"{draw.id} hangs {figure} from the battery of {feed.id}, where {limit} is usual"
    return Answer(
        THIN, f"{says}: a second battery beside it, charged from the alternator, holds its volts", figure, limit
    )


NEAR = 2.5
"""Farthest [m] that a 12 V-class amplifier usually hangs from a vehicle's battery (common practice)."""


def socket(operating: Operating, lead: Lead) -> Answer | None:
    """The accessory socket is for small things."""
    feed = operating.case.source_of(lead.end)
    if feed is None or feed.kind != VEHICLE or not lead.contacts or lead.contacts[0].id != SOCKET:
        return None
    top, state = operating.demand.worst_peak(lead.id)
    figure, limit = Figure(top, "A"), Figure(SOCKET_AMPS, "A")
    if top <= SOCKET_AMPS:
        return Answer(SOUND, f"{figure} from the accessory socket through {lead.id}", figure, limit)
    says = f"{lead.id} asks {figure} of the accessory socket with {state.name}: neither socket nor wire is made for it"
    return Answer(UNSOUND, f"{says}; go straight to the battery, fused there", figure, limit)


def negative(operating: Operating, lead: Lead) -> Answer | None:
    """Where the negative leg of a vehicle lands."""
    feed = operating.case.feed.get(lead.start)
    if feed is None or feed.kind != VEHICLE:
        return None
    uk = operating.case.place.region == "United Kingdom"
    if lead.negative == Negative.BODY:
        more = "; its sensor counts what the radio takes" if feed.sensor else ""
        return Answer(SOUND, f"the negative of {lead.id} lands on the body near the battery's bond{more}; {TEXT}")
    if lead.negative != Negative.POST:
        says = f"it is not said where the negative of {lead.id} lands: never on a seat bolt without measuring"
        return Answer(THIN, f"{says}; {TEXT}")
    if feed.sensor:
        says = f"the negative of {lead.id} lands on the post, past the sensor in the battery's lead: it counts wrong"
        return Answer(THIN, f"{says} and the car may shed loads; land it on the body near the bond; {TEXT}")
    if uk:
        says = f"the negative of {lead.id} lands on the post; practice in the United Kingdom is the body near the bond"
        return Answer(THIN, f"{says}; {TEXT}")
    return Answer(SOUND, f"the negative of {lead.id} lands on the battery's post, and no sensor is there; {TEXT}")


RULES = (
    Rule("engine-off", "does it work with the engine off?", PRACTICE, SOURCE, engine_off, solved=True),
    Rule("vehicle-standby", "does the parked car still start?", PRACTICE, SOURCE, standby),
    Rule("alternator", "does the alternator keep up?", PRACTICE, SOURCE, alternator),
    Rule("vehicle-amplifier", "is the amplifier near enough to a battery?", PRACTICE, LOAD, amplifier),
    Rule("vehicle-socket", "is the accessory socket spared?", "NCVEC G4E04", RUN, socket, danger=4),
    Rule(
        "vehicle-negative",
        "does the negative lead land where it should?",
        "NCVEC T4A11; makers and codes differ",
        RUN,
        negative,
        danger=2,
    ),
)
