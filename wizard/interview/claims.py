"""Claims as questions: the kinds of claim, the figures that each needs, and the verdict on them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from engine.advice.claims import age, cable, charging, duty, efficiency, gauges, hours, panel, raised
from engine.advice.claims.result import NOMINAL, Judged
from engine.parts import Shelf
from engine.station import profile
from engine.station.model import Station
from engine.station.table import CONDUCTOR, TEXT, Field, Problem, Problems, Reader, nearest, quantity
from engine.units import AMP_HOURS, AMPS, CELSIUS, HOURS, LENGTH, SHARE, VOLTS, WATTS, YEARS
from wizard.interview.session import Session
from wizard.questions.question import Question
from wizard.questions.readings import Listed

HERE = "the station at hand"
VOICE = "ssb"


@dataclass(frozen=True)
class Claimed(Listed):
    """A question about a figure of a claim, which belongs to no station."""

    @property
    def field(self) -> Field:
        """The figure's own declaration."""
        return FIELDS[self.key]


FIELDS = {
    field.key: field
    for field in (
        Field("conductor", CONDUCTOR, "the size of each conductor"),
        Field("amps", quantity(AMPS), "a current"),
        Field("length", quantity(LENGTH), "one way"),
        Field("drop", quantity(VOLTS), "the loss that is claimed"),
        Field("watts", quantity(WATTS), "radio-frequency power"),
        Field("volts", quantity(VOLTS), "the voltage at which the current is drawn"),
        Field("stage", TEXT, "the sort of set"),
        Field("raise", quantity(VOLTS), "the higher setting"),
        Field("for", TEXT, "the class of equipment"),
        Field("amp-hours", quantity(AMP_HOURS), "a battery's capacity"),
        Field("hours", quantity(HOURS), "the hours that are claimed"),
        Field("chemistry", TEXT, "the sort of battery"),
        Field("temperature", quantity(CELSIUS), "of the battery itself"),
        Field("health", quantity(SHARE), "what is left of its capacity"),
        Field("taken", quantity(SHARE), "how much of its charge was drawn"),
        Field("transmit", quantity(AMPS), "the current at key-down"),
        Field("receive", quantity(AMPS), "the current while listening"),
        Field("keyed", quantity(SHARE), "the share of time sending"),
        Field("mode", TEXT, "the mode of operation"),
        Field("mean", quantity(AMPS), "the mean current that is claimed"),
        Field("panel", quantity(WATTS), "a solar panel's label"),
        Field("sun", quantity(HOURS), "peak sun hours of a day"),
        Field("per-day", quantity(AMP_HOURS), "ampere-hours of a day"),
        Field("charger", quantity(AMPS), "a charger's current"),
        Field("years", quantity(YEARS), "the age of a battery"),
    )
}

ABOVE_NOUGHT = ("amps", "length", "watts", "volts", "raise", "amp-hours", "transmit", "panel", "sun", "charger")
SHARES = ("health", "taken", "keyed")

_AS_TOLD = "What you were told; the claim is judged by its own figures."


def _ask(key: str, asks: str, example: str, why: str = _AS_TOLD, where: str = "What was said.") -> Claimed:
    return Claimed("claim", key, asks, why, where, example)


CHEMISTRY = _ask("chemistry", "Which sort of battery?", "agm", "Each sort gives, takes and ages differently.")
TEMPERATURE = _ask("temperature", "How warm is the battery itself?", "10 °C", "Left open: 25 °C, as it is rated.")
RECEIVE = _ask("receive", "Which current while listening?", "1.5 A", "Left open: none.")
MODE = _ask("mode", "In which mode?", "ssb", "Left open: voice, single sideband.")
KEYED = _ask("keyed", "Which share of the time is it sending?", "25 %", "A conversation is 30 to 50 %, listening 10 %.")
TRANSMIT = _ask("transmit", "Which current at key-down?", "22 A")

Given = Mapping[str, Any]


@dataclass(frozen=True)
class Kind:
    """A kind of claim: what is said, the figures that it needs, those that may be left open, and how it is judged."""

    id: str
    title: str
    needs: tuple[Claimed, ...]
    may: tuple[Claimed, ...]
    judge: Callable[[Given, Shelf, Station | None], Judged]

    def fits(self, keys: Iterable[str]) -> bool:
        """Whether these figures make such a claim."""
        given, needed = set(keys), {question.key for question in self.needs}
        return needed <= given <= needed | {question.key for question in self.may}


def _cable(given: Given, shelf: Shelf, _here: Station | None) -> Judged:
    conductor = gauges.size(given["conductor"], shelf.conductors) or _row(
        shelf.conductors, given["conductor"], "conductor"
    )
    length, volts = given["length"], given.get("volts", NOMINAL)
    return cable.drop(conductor, given["amps"], length, given.get("drop"), shelf.limits, volts)


def _current(given: Given, _shelf: Shelf, _here: Station | None) -> Judged:
    stage = _row(efficiency.STAGES, given["stage"], "stage") if "stage" in given else None
    return efficiency.draw(given["watts"], given["amps"], given.get("volts", NOMINAL), stage)


def _raise(given: Given, shelf: Shelf, here: Station | None) -> Judged:
    if given["for"] == HERE and here is not None:
        return raised.raised_in(here, shelf, given["raise"])
    return raised.raised_for(_row(shelf.equipment, given["for"], "for"), given["raise"])


def _hours(given: Given, shelf: Shelf, _here: Station | None) -> Judged:
    return _battery_hours(given, shelf, given["amps"])


def _session_hours(given: Given, shelf: Shelf, _here: Station | None) -> Judged:
    mode = _row(shelf.modes, given.get("mode", VOICE), "mode")
    _, most = duty.mean_span(given["transmit"], given.get("receive", 0.0), given["keyed"], mode)
    if most.value <= 0:
        raise Problems([Problem("keyed", "draws nothing at all", "write a share above 0, or a receive current")])
    return _battery_hours(given, shelf, most.value)


def _battery_hours(given: Given, shelf: Shelf, amps: float) -> Judged:
    known = [_row(shelf.chemistries, given["chemistry"], "chemistry")] if "chemistry" in given else []
    celsius, health = given.get("temperature", hours.USUAL_CELSIUS), given.get("health", 1.0)
    sorts = known or list(shelf.chemistries.values())
    return hours.battery_hours(given["amp-hours"], amps, given["hours"], sorts, celsius, health)


def _mean(given: Given, shelf: Shelf, _here: Station | None) -> Judged:
    mode = _row(shelf.modes, given.get("mode", VOICE), "mode")
    return duty.mean_current(given["transmit"], given.get("receive", 0.0), given["keyed"], mode, given["mean"])


def _panel(given: Given, _shelf: Shelf, _here: Station | None) -> Judged:
    return panel.per_day(given["panel"], given["sun"], given["per-day"])


def _charge(given: Given, shelf: Shelf, _here: Station | None) -> Judged:
    chemistry = _row(shelf.chemistries, given["chemistry"], "chemistry")
    taken = given.get("taken", 1.0)
    return charging.charge_hours(chemistry, given["amp-hours"], given["charger"], given["hours"], taken)


def _age(given: Given, shelf: Shelf, _here: Station | None) -> Judged:
    chemistry = _row(shelf.chemistries, given["chemistry"], "chemistry")
    celsius, claimed = given.get("temperature", hours.USUAL_CELSIUS), given.get("health", age.END_OF_LIFE)
    return age.still_holds(chemistry, given["years"], claimed, celsius)


KINDS = (
    Kind(
        "cable",
        "a cable is enough, or loses only so many volts",
        (
            _ask("conductor", "Which size of cable?", "14 AWG, or 2.5 mm²"),
            _ask("amps", "At which current?", "30 A"),
            _ask("length", "How long, one way?", "3 m, or 10 ft", "Current goes out and back: the loop is twice this."),
        ),
        (
            _ask(
                "drop", "How many volts are lost, as you were told?", "0.5 V", "Left open: is the cable enough at all?"
            ),
            _ask("volts", "At which voltage?", "13.8 V", "Left open: 13.8 V. The aim is a share of it."),
        ),
        _cable,
    ),
    Kind(
        "current",
        "so many amperes are enough for so many watts",
        (
            _ask("watts", "For how many watts of radio output?", "100 W"),
            _ask("amps", "How many amperes are enough, as you were told?", "8 A"),
        ),
        (
            _ask("volts", "At which voltage?", "13.8 V, or 50 V", "Left open: 13.8 V."),
            _ask("stage", "Which sort of set?", "linear", "Left open: the usual one for its power and voltage."),
        ),
        _current,
    ),
    Kind(
        "raise",
        "the supply's voltage should be turned up",
        (
            _ask("raise", "Up to how many volts?", "15 V"),
            _ask("for", "For which equipment?", "hf-100w", "Everything on the supply must bear the higher voltage."),
        ),
        (),
        _raise,
    ),
    Kind(
        "hours",
        "a battery lasts so many hours at so many amperes",
        (
            _ask("amp-hours", "How many ampere-hours, on the label?", "100 Ah"),
            _ask("amps", "At which mean current?", "5 A", "Of receive and key-down, by their time."),
            _ask("hours", "How many hours, as you were told?", "20 h"),
        ),
        (CHEMISTRY, TEMPERATURE, _ask("health", "What is left of its capacity?", "80 %", "Left open: all, as new.")),
        _hours,
    ),
    Kind(
        "session",
        "a battery runs a radio for so many hours",
        (
            _ask("amp-hours", "How many ampere-hours, on the label?", "20 Ah"),
            TRANSMIT,
            KEYED,
            _ask("hours", "How many hours, as you were told?", "6 h"),
        ),
        (RECEIVE, MODE, CHEMISTRY, TEMPERATURE),
        _session_hours,
    ),
    Kind(
        "mean",
        "a radio draws only so many amperes on average",
        (TRANSMIT, KEYED, _ask("mean", "How many amperes on average, as you were told?", "4 A")),
        (RECEIVE, MODE),
        _mean,
    ),
    Kind(
        "panel",
        "a solar panel brings so many ampere-hours a day",
        (
            _ask("panel", "How many watts, on its label?", "100 W"),
            _ask("sun", "How many peak sun hours a day?", "3 h", "An hour of full sun; the worst month decides."),
            _ask("per-day", "How many ampere-hours a day, as you were told?", "20 Ah"),
        ),
        (),
        _panel,
    ),
    Kind(
        "charge",
        "a charger fills a battery in so many hours",
        (
            _ask("amp-hours", "How many ampere-hours, on the battery's label?", "100 Ah"),
            _ask("charger", "Which current does the charger give?", "10 A"),
            _ask("hours", "How many hours, as you were told?", "10 h"),
            CHEMISTRY,
        ),
        (_ask("taken", "How much of its charge was drawn?", "50 %", "Left open: all of it."),),
        _charge,
    ),
    Kind(
        "age",
        "a battery of some age is still good",
        (_ask("years", "How old is it?", "5 years"), CHEMISTRY),
        (
            _ask("health", "How much of its capacity is left, as you were told?", "100 %", "Left open: 80 %."),
            TEMPERATURE,
        ),
        _age,
    ),
)
OPEN = {
    "volts": f"{NOMINAL:g} V",
    "drop": "whether it is enough is judged instead",
    "stage": "the usual sort for such watts and volts",
    "chemistry": "every sort is reckoned with",
    "temperature": f"{hours.USUAL_CELSIUS:g} °C",
    "receive": "nothing while listening",
    "mode": VOICE,
    "taken": "all of it",
}


def judge(kind: Kind, said: Mapping[str, str], session: Session) -> Judged | None:
    """The verdict on a claim as typed; None while a figure that it needs is open.

    Raises:
        Problems: figures that cannot be read.
    """
    asked = [question.key for question in (*kind.needs, *kind.may)]
    given = read({key: said.get(key, "") for key in asked})
    if any(question.key not in given for question in kind.needs):
        return None
    here = given.get("for") == HERE
    station = profile.from_document(session.usable(), session.shelf).station if here else None
    return kind.judge(given, session.shelf, station)


def read(said: Mapping[str, str], prefix: str = "") -> dict[str, Any]:
    """The figures of a claim from their text; those left open are left out.

    Raises:
        Problems: figures that cannot be read, each named after ``prefix``.
    """
    reader = Reader()
    given = {
        key: reader.value(FIELDS[key].shape, text.strip(), f"{prefix}{key}")
        for key, text in said.items()
        if text.strip()
    }
    for key in given:
        if key in ABOVE_NOUGHT and given[key] == 0:
            reader.fault(f"{prefix}{key}", "is nothing", "write a figure above 0")
        if key in SHARES and given[key] is not None and given[key] > 1:
            reader.fault(f"{prefix}{key}", "is more than the whole", "write a share up to 100 %")
    reader.done()
    return given


def kind_of(keys: Iterable[str]) -> Kind | None:
    """The kind of claim that these figures make."""
    given = set(keys)
    return next((kind for kind in KINDS if kind.fits(given)), None)


def _row(rows: Mapping[str, Any], name: str, where: str) -> Any:
    if name not in rows:
        raise Problems([Problem(where, f"{name[:40]!r} is not in the catalogue", f"write {nearest(name, rows)}")])
    return rows[name]


def words_for(question: Question, session: Session) -> tuple[tuple[str, str], ...]:
    """The words to choose from: classes of equipment, the station at hand, sorts of battery, modes, sorts of set."""
    shelf = session.shelf
    titled: dict[str, Mapping[str, Any]] = {
        "chemistry": shelf.chemistries,
        "mode": shelf.modes,
        "stage": efficiency.STAGES,
    }
    if question.key in titled:
        return tuple((key, f"{key}: {row.title}") for key, row in titled[question.key].items())
    if question.key != "for":
        return ()
    here = ((HERE, f"{HERE}: {session.document.get('name', '') or 'without a name'}"),)
    rows = [(key, row.title) for key, row in shelf.equipment.items() if row.feed == "dc"]
    return (*(here if session.rows("source") and session.rows("load") else ()), *rows)
