"""Does the sun of the worst month bring back what the station takes, and does the battery bridge the dark days?"""

from __future__ import annotations

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.case import Case, Feed, Sunlight
from engine.model.endurance import mean_amps, rest_amps
from engine.model.operating import Operating
from engine.physics import array, cells
from engine.rules.rule import HOURS, SOURCE, Answer, Margin, Rule, unknown
from engine.terms import SUN, ChargeMethod, RfNoise
from engine.working import Figure

METHOD = "SAND87-7023"
DAY = 24.0
"""Hours of a day: what does not operate rests, and may still draw."""


def need(operating: Operating, feed: Feed, sun: Sunlight) -> Figure:
    """What the array must bring in a day [Ah]."""
    hours = Figure(min(sun.operating, DAY), "h", "hours", "of operating in a day")
    amps = Figure(mean_amps(operating, feed), "A", "amps", "mean current from the battery while operating")
    rest = Figure(rest_amps(operating, feed), "A", "rest", "drawn by what stays on, and by what is switched off")
    daily = amps * hours + rest * (Figure(DAY, "h", "day", "day and night") - hours)
    wire, battery = Figure(array.WIRE, "", "wire", METHOD), Figure(array.BATTERY, "", "battery", METHOD)
    return array.corrected(daily.named("taken"), wire, battery)


def _solar(operating: Operating, feed: Feed) -> tuple[Case, Sunlight] | None:
    case = operating.case
    charged = feed.cell is not None and not feed.missing and feed.cell.charged_by == SUN
    return (case, case.sunlight) if charged and case.sunlight else None


def panels(operating: Operating, feed: Feed) -> Answer | None:
    """The panels against the daily need in the worst month."""
    found = _solar(operating, feed)
    if found is None:
        return None
    _, sun = found
    daily = need(operating, feed, sun)
    hours = Figure(sun.hours, "h", "hours", "peak sun hours of the worst month")
    amps = array.array_amps(daily.named("daily"), hours)
    method = sun.controller.method if sun.controller and sun.controller.method else ChargeMethod.PWM
    wanted = Figure(array.array_watts(amps.value, method), "W")
    if sun.watts is None:
        return unknown(f"the panels for {feed.id} are not known: {wanted} or more are wanted ({amps} in full sun)")
    figure = Figure(sun.watts, "W")
    outcome = SOUND if sun.watts >= wanted.value - 1e-9 else THIN
    says = f"{feed.id} takes {daily} a day; in the worst month that wants {wanted} of panels, and there are {figure}"
    return Answer(outcome, says, figure, wanted)


def dark(operating: Operating, feed: Feed) -> Answer | None:
    """The battery against the days without sun."""
    found = _solar(operating, feed)
    if found is None or feed.cell is None:
        return None
    _, sun = found
    cell, daily = feed.cell, need(operating, feed, sun).named("daily")
    depth = Figure(cell.depth, "%", "depth", "depth accepted")
    cold = 1 / cells.cold_factor(cell.chemistry, cell.celsius)
    derate = Figure(cold, "%", "derate", f"left at {cell.celsius:.0f} °C")
    figure = array.battery_amp_hours(daily, Figure(sun.days, "", "days", "days without sun"), depth, derate)
    limit = Figure(cell.amp_hours * cell.health, "Ah")
    outcome = SOUND if figure.value <= limit.value + 1e-9 else THIN
    says = f"{sun.days:g} days without sun want {figure}; {feed.id} has {limit}, its age counted"
    return Answer(outcome, says, figure, limit)


def controller(operating: Operating, feed: Feed) -> Answer | None:
    """The controller: for the chemistry, for the current, for the volts of a cold panel."""
    found = _solar(operating, feed)
    if found is None or feed.cell is None:
        return None
    case, sun = found
    if sun.controller is None:
        return unknown(f"the controller between the panels and {feed.id} is not known: {feed.cell.chemistry.family}")
    one = sun.controller
    if feed.cell.chemistry.family not in one.suits:
        return Answer(UNSOUND, f"{one.title} is not made for {feed.cell.chemistry.family}")
    volts = Figure(array.cold_volts(sun.open_circuit, case.place.coldest), "V")
    if one.highest is not None and volts.value > one.highest:
        says = f"in the cold the panel shows {volts} with nothing drawn; {one.title} bears {one.highest:g} V"
        return Answer(UNSOUND, says, volts, Figure(one.highest, "V"))
    if sun.watts is None:
        return None
    amps = Figure(array.controller_amps(array.charging_amps(sun.watts, one.method or ChargeMethod.PWM)), "A")
    limit = Figure(one.amps, "A")
    outcome = SOUND if amps.value <= one.amps + 1e-9 else THIN
    quiet = one.rf_noise == RfNoise.FILTERED
    noise = "" if quiet else "; ask whether it is quiet on the bands, and try it before relying on it"
    return Answer(
        outcome, f"the panels ask {amps} of the controller, margin counted; it is rated {limit}{noise}", amps, limit
    )


RULES = (
    Rule("sun-panels", "do the panels bring back what is taken?", METHOD, SOURCE, panels, solved=True),
    Rule(
        "sun-dark-days",
        "does the battery bridge the days without sun?",
        METHOD,
        SOURCE,
        dark,
        keep=SOUND,
        margin=Margin(HOURS, step=0.02, more=False, of_limit=True),
        solved=True,
    ),
    Rule("sun-controller", "does the controller suit?", "NCVEC G4E11; common practice", SOURCE, controller, danger=3),
)
