"""Where one radio can live: its window beside what every kind of source really does, on its own lead.

The lead is the one that a plan from the mains gives it. It is then hung on a vehicle in each of its conditions, on a
battery of each usual kind through an evening, and behind a booster; nothing is chosen anew, so that only the source
differs from line to line.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.case import Draw
from engine.model.endurance import DEPTH, Endurance, Hour, endurance
from engine.model.operating import LIGHT, RESTING, Condition, Operating
from engine.model.sources import OFF, RUNNING
from engine.parts import Battery, Equipment, Shelf
from engine.planning.plan import plan
from engine.rules.check import Verdict, check
from engine.station.model import Load, Run, Source, Station
from engine.station.table import Problem, Problems
from engine.terms import ConditionName, PowerInput, SourceKind, Use

EVENING = 3.0
"""Hours of an evening's session on a battery (common practice, no source)."""

HIGHEST_NOMINAL = 16.0
"""The highest nominal volts of what counts as the 12 V class."""


def is_12_volt(row: Equipment | Draw) -> bool:
    """Whether a class of equipment, or a load, runs on direct current of the 12 V class."""
    return row.feed == PowerInput.DC and row.nominal <= HIGHEST_NOMINAL


LEAD_ACID, LITHIUM = "agm", "lfp"
"""The kinds of battery that most owners choose between."""

BOOSTER_LEAD = 0.5
"""One-way length [m] of the lead between a battery and a booster beside it."""


@dataclass(frozen=True)
class Home:
    """One source under one radio: the lowest volts keyed and the highest at rest [V] at the radio's own terminals."""

    name: str
    title: str
    outcome: str
    lowest: float
    highest: float
    says: str


@dataclass(frozen=True)
class Living:
    """A radio, its lead in words, its window [V], and every home it was tried in."""

    load: Draw
    lead: str
    homes: tuple[Home, ...]

    @property
    def window(self) -> tuple[float, float]:
        """The lowest and highest volts that it accepts."""
        return self.load.lowest, self.load.highest

    def home(self, name: str) -> Home:
        """One home by its name."""
        return next(home for home in self.homes if home.name == name)


def homes(load: Load, shelf: Shelf) -> Living:
    """Every home of ``load``, from the easiest to the hardest.

    Raises:
        Problems: it does not run on the 12 V class, or too little is known of it.
    """
    trial = _Trial(load, shelf)
    found = (trial.mains(), *trial.vehicle(), *trial.batteries(), trial.boosted())
    return Living(trial.load, trial.lead_says(), tuple(home for home in found if home is not None))


class _Trial:
    """One radio on the lead that a plan from the mains gives it."""

    def __init__(self, load: Load, shelf: Shelf) -> None:
        self.shelf = shelf
        desk = Station("where", loads=(load,), use=Use.FIXED)
        self.planned: Verdict = plan(desk, shelf).verdict
        self.load = self.planned.case.draw[load.id]
        leads = [run for run in self.planned.station.runs if run.end == load.id]
        if not is_12_volt(self.load) or not leads or not self.planned.terminals:
            raise Problems([Problem("class", "does not run on the 12 V class", "name one that takes 12 V or 13.8 V")])
        self.lead = next(lead for lead in self.planned.case.leads if lead.end == load.id)
        self.run = replace(leads[-1], start="source", length=self.lead.length, engine_space=0.0)

    def lead_says(self) -> str:
        """The lead that it is tried on."""
        return f"{self.lead.length:g} m of {self.lead.conductor.id if self.lead.conductor else 'open gauge'}"

    def on(self, source: Source, *more: Source, runs: tuple[Run, ...] = ()) -> Verdict:
        """The radio on another source."""
        use = {SourceKind.VEHICLE: Use.MOBILE, SourceKind.BATTERY: Use.BATTERY}.get(
            SourceKind(str(source.technology)), Use.FIXED
        )
        trial = replace(self.planned.station, use=use, sources=(source, *more), strips=(), runs=runs or (self.run,))
        return check(trial, self.shelf)

    def mains(self) -> Home:
        """At a desk, on the supply that the plan gives it."""
        (terminal,) = (one for one in self.planned.terminals if one.id == self.load.id)
        supply = next(feed for feed in self.planned.case.feeds if feed.from_mains)
        keyed = f", {supply.peak:g} A keyed" if supply.peak > supply.continuous else ""
        says = f"{supply.continuous:g} A{keyed}"
        return self.home("mains", f"mains supply, {supply.volts:.1f} V", terminal.lowest, terminal.highest, says)

    def vehicle(self) -> Iterator[Home]:
        """In a car: the engine running, charging hard in the cold, and off."""
        running, off = (self.on(Source("source", SourceKind.VEHICLE, engine=engine)) for engine in (RUNNING, OFF))
        feed = running.case.feed["source"]
        usual = feed.corner(ConditionName.ENGINE_RUNNING).volts
        idle = "too few volts when it idles: a thicker or shorter lead, or lower power"
        yield self.home(RUNNING, "car, engine running", self.lowest(running), usual, "key only while it runs", idle)
        hard = _keyed(running.operating, self.load.id, LIGHT)
        yield self.home("charging", "car, charging hard, cold", hard, feed.highest_volts, "keyed or not")
        rested = feed.corner(ConditionName.ENGINE_OFF).volts
        yield self.home(OFF, "car, engine off", self.lowest(off), rested, "its battery must still start it")

    def batteries(self) -> Iterator[Home]:
        """An evening on a battery of each usual kind, the smallest that carries it."""
        for kind, title in ((LEAD_ACID, "lead-acid"), (LITHIUM, "lithium iron phosphate")):
            session = self.session(kind)
            if session is not None:
                yield self.evening(kind, title, *session)

    def session(self, kind: str) -> tuple[Battery, Endurance] | None:
        """The smallest battery of a kind that carries an evening; where none does, the smallest that holds enough."""
        enough: tuple[Battery, Endurance] | None = None
        for row in sorted(self.shelf.batteries.values(), key=lambda battery: battery.amp_hours):
            made = self.endurance(row) if row.chemistry == kind and row.continuous >= self.load_amps() else None
            if made is None:
                continue
            if made.hours >= EVENING:
                return row, made
            if enough is None or (_holds(made) and not _holds(enough[1])):
                enough = row, made
        return enough

    def endurance(self, row: Battery) -> Endurance | None:
        """The session on one battery."""
        verdict = self.on(_battery(row))
        return endurance(verdict.operating, verdict.case.feed["source"])

    def load_amps(self) -> float:
        """The most that it draws [A]."""
        return self.load.transmit.high if self.load.transmit else self.load.busy.high

    def evening(self, kind: str, title: str, row: Battery, made: Endurance) -> Home:
        """What the radio sees of a battery from the first hour of an evening to the last."""
        seen = [hour for hour in made.trace if hour.hours <= EVENING] or list(made.trace[:1])
        lowest, highest = min(hour.keyed for hour in seen), max(hour.receive for hour in seen)
        says = f"{row.amp_hours:g} Ah; {_evening_says(made, seen, self.load.lowest)}"
        return self.home(kind, f"{title}, {EVENING:g} h", lowest, highest, says, says)

    def boosted(self) -> Home | None:
        """The lead-acid battery again, behind a booster."""
        session = self.session(LEAD_ACID)
        rows = sorted(self.shelf.boosters.values(), key=lambda booster: booster.continuous)
        booster = next((row for row in rows if row.peak >= self.load_amps() * 1.1), None)
        if session is None or booster is None:
            return None
        inward = Run("inward", "source", "booster", length=BOOSTER_LEAD, conductor=self.run.conductor, fuse=0.0)
        beyond = replace(self.run, start="booster")
        verdict = self.on(
            _battery(session[0]), Source("booster", SourceKind.BOOSTER, booster.id), runs=(inward, beyond)
        )
        drawn = verdict.operating.demand.worst_peak("source")[0]
        says = f"steady; the battery side carries {drawn:.0f} A"
        highest = verdict.case.feed["booster"].highest_volts
        return self.home("boosted", "lead-acid with a booster", self.lowest(verdict), highest, says)

    def lowest(self, verdict: Verdict) -> float | None:
        """The least volts that the radio sees keyed, the source at its lowest."""
        return next(terminal.lowest for terminal in verdict.terminals if terminal.id == self.load.id)

    def home(
        self, name: str, title: str, lowest: float | None, highest: float | None, says: str, short: str = ""
    ) -> Home:
        """What a home comes to against the radio's window; ``short`` is what to say where the volts fall short."""
        low, high = lowest or 0.0, highest or 0.0
        spare, over = low - self.load.lowest, high - self.load.highest
        outcome = UNSOUND if spare < -1e-9 or over > 1e-9 else THIN if spare < self.margin else SOUND
        return Home(name, title, outcome, low, high, self.judged(spare, over, says, short))

    @property
    def margin(self) -> float:
        """Volts above the floor from which nothing is thin."""
        return self.shelf.limits.window_margin

    def judged(self, spare: float, over: float, says: str, short: str) -> str:
        """What to know of a home in a line."""
        if spare < -1e-9:
            symptom = f": {self.load.low_volts}" if self.load.low_volts else ""
            return short or f"{-spare:.1f} V below its least when keyed{symptom}"
        if over > 1e-9:
            above = f"{over:.1f} V" if over >= 0.05 else "just"
            return f"{above} above its most: ask its maker whether it bears that"
        if spare < self.margin and "its least" not in says:
            return f"{says}; {spare:.1f} V to spare"
        return says


def _holds(made: Endurance) -> bool:
    """Whether a battery has the charge for an evening, whatever its volts do."""
    depth = made.end(DEPTH)
    return depth is not None and depth.hours >= EVENING


def _battery(row: Battery) -> Source:
    return Source("source", SourceKind.BATTERY, row.id)


def _keyed(operating: Operating, load: str, condition: Condition) -> float | None:
    """The least volts of a load in a condition, whatever is keyed."""
    points = [operating.point(state, condition) for state in operating.states if state.name != RESTING]
    return min((point.volts[load] for point in points if point.fed and load in point.volts), default=None)


def _evening_says(made: Endurance, seen: list[Hour], floor: float) -> str:
    """Until when the radio is content."""
    below = next((hour for hour in seen if hour.keyed < floor), None)
    if below is None:
        spare = seen[-1].keyed - floor
        return f"still {spare:.1f} V above its least at the end" if spare >= 0.05 else "just at its least at the end"
    if below is seen[0]:
        return "too few volts from the first over on: a booster, or a set that accepts less"
    return f"fine for about {below.hours:.1f} h, then too few volts when keyed: a booster, or a set that accepts less"
