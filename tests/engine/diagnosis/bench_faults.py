"""Random stations with a fault planted in one part, and a meter that errs within its sheet.

The figures of the parts are worked out here from the catalogue's rows, not by the program under test.
"""

import random
from dataclasses import dataclass, field

from engine.diagnosis.next_measurement import Measurement
from engine.model import complete
from engine.model.operating import Operating
from engine.parts import Instrument, Shelf
from engine.station.model import Load, Reading, Run, Source, Station, Strip

METERS = ("digital multimeter", "calibrated multimeter", "cheap multimeter", "panel meter")


@dataclass
class Bench:
    """A station as it really is: the true resistance of every part, the true volts and currents."""

    station: Station
    operating: Operating
    shelf: Shelf
    dice: random.Random
    true_ohms: dict[tuple[str, str], float] = field(default_factory=dict)
    true_amps: dict[tuple[str, bool], float] = field(default_factory=dict)
    gains: dict[str, float] = field(default_factory=dict)
    source_volts: float = 13.8
    sag: float = 0.0
    guilty: tuple[str, str] | None = None

    def amps(self, run: str, keyed: str | None) -> float:
        """What really flows through a run: ``keyed`` transmits and the others listen."""
        served = self.operating.case.served[run]
        return sum(self.true_amps[one.id, one.id == keyed] for one in served)

    def volts(self, at: str, keyed: str | None) -> float:
        """What is really there: the source less what is lost on the way (Ohm's law, steady currents)."""
        path = self.operating.case.path(at)
        lost = sum(
            self.amps(lead.id, keyed) * ohms
            for lead in path
            for (run, _), ohms in self.true_ohms.items()
            if run == lead.id
        )
        return self.source_volts - (self.sag if keyed else 0.0) - lost

    def shows(self, value: float, meter: Instrument) -> float:
        """A reading of ``value`` volts, to its last digit: off in proportion by as much as all of that meter's.

        Beside that each reading is off by itself; together within what the meter's sheet allows.
        """
        small = value < 0.19 and meter.small_volts is not None
        gain = self.gains.setdefault(meter.id, self.dice.uniform(-0.97, 0.97)) * (meter.volts_share or 0)
        most = (meter.small_volts if small else meter.volts or 0) or 0
        own = self.dice.uniform(-0.7, 0.7) * most
        return round(max(value * (1 + gain) + own, 0.0), 4 if small else 2)

    def read(self, at: str, across: str | None, keyed: str | None, name: str, clamp: bool) -> Reading:
        """One reading as an owner would write it down."""
        meter = self.shelf.instruments[name]
        true = self.volts(at, keyed) if across is None else self.amps(at, keyed) * self.true_ohms[at, across]
        if across and meter.small_volts is None:
            meter = self.shelf.instruments["digital multimeter"]
        flow = self._flow(at, keyed)
        amps = max(flow * (1 + self.dice.uniform(-0.028, 0.028)) + self.dice.uniform(-0.25, 0.25), 0.0)
        return Reading(
            at, across, "keyed" if keyed else "receive", (keyed,) if keyed else None, volts=self.shows(true, meter),
            amps=amps if clamp else None, instrument=meter.id, amps_instrument="clamp meter" if clamp else None,
        )  # fmt: skip

    def _flow(self, at: str, keyed: str | None) -> float:
        case = self.operating.case
        if at in case.draw:
            return self.true_amps[at, at == keyed]
        runs = [one.id for one in case.leads if at in (one.id, one.start)]
        return sum(self.amps(one, keyed) for one in runs)

    def follow(self, one: Measurement) -> Reading:
        """The reading that was asked for, made with the instrument it was meant for."""
        keyed = one.keyed[0] if one.keyed else None
        return self.read(one.at, one.across, keyed, "digital multimeter", clamp=False)


def station(dice: random.Random) -> Station:
    """One to three sets, alone or behind a strip, on described cable."""
    count, strip = dice.choice([1, 1, 2, 3]), dice.random() < 0.4
    loads = []
    for number in range(count):
        peak = dice.choice([6.0, 11.0, 20.0, 22.0])
        loads.append(
            Load(
                f"set{number}",
                lowest=11.7,
                highest=15.9,
                receive=dice.choice([0.5, 1.0, 1.5]),
                transmit=peak,
                mode="ssb",
                follows="steady current",
            )
        )
    start = "strip" if strip else "psu"
    size = {6.0: "14 AWG", 11.0: "12 AWG", 20.0: "10 AWG", 22.0: "10 AWG"}
    runs = [
        Run(
            f"{one.id}-lead", start, one.id, length=dice.uniform(0.5, 3.0), conductor=size[one.transmit or 6.0],
            insulation=105.0, fuse=25.0, fuse_type="medium blade", contacts=("ring terminal", "keyed plug"),
        )
        for one in loads
    ]  # fmt: skip
    strips = ()
    if strip:
        strips = (Strip("strip"),)
        runs.append(
            Run(
                "feed",
                "psu",
                "strip",
                length=dice.uniform(0.3, 1.0),
                conductor="8 AWG",
                insulation=105.0,
                fuse=40.0,
                fuse_type="medium blade",
                contacts=("ring terminal", "ring terminal"),
            )
        )
    source = Source("psu", volts=13.8, tolerance=0.01, regulation=0.02, continuous=40.0, peak=40.0)
    return Station("bench", "fixed", loads=tuple(loads), sources=(source,), strips=strips, runs=tuple(runs))


def build(seed: int, shelf: Shelf, fault: bool = True) -> Bench:
    """The bench of a seed: sound parts with their own spread, and one fault that matters."""
    dice = random.Random(seed)
    made = station(dice)
    case, _ = complete.complete(made, shelf)
    bench = Bench(made, Operating(case), shelf, dice)
    for lead in case.leads:
        assert lead.conductor and lead.fuse_type and lead.fuse_rating and lead.contacts
        warm = 1 + 0.00393 * (dice.uniform(5, 45) - 20)
        bench.true_ohms[lead.id, "copper"] = (
            2 * lead.length * lead.conductor.ohms_per_metre * warm * dice.uniform(1, 1.1)
        )
        bench.true_ohms[lead.id, "fuse"] = lead.fuse_type.drop / lead.fuse_rating * dice.uniform(0.6, 1.0)
        bench.true_ohms[lead.id, "contacts"] = sum(2 * one.ohms for one in lead.contacts) * dice.uniform(0.5, 1.8)
    for one in made.loads:
        assert one.transmit and one.receive
        bench.true_amps[one.id, True] = one.transmit * dice.uniform(0.85, 1.1)
        bench.true_amps[one.id, False] = one.receive * dice.uniform(0.85, 1.1)
    bench.source_volts = 13.8 * dice.uniform(0.992, 1.009)
    bench.sag = 13.8 * dice.uniform(0.002, 0.017)
    if fault:
        plant(bench)
    return bench


def plant(bench: Bench) -> None:
    """Put one fault into one part: it costs 0.8 to 5 V at key-down."""
    dice, case = bench.dice, bench.operating.case
    volts = dice.uniform(0.8, 5.0)
    places = [*bench.true_ohms, ("psu", "source")]
    bench.guilty = dice.choice(places)
    if bench.guilty[0] == "psu":
        bench.sag += volts
        return
    served = [one.id for one in case.served[bench.guilty[0]]]
    bench.true_ohms[bench.guilty] += volts / max(bench.amps(bench.guilty[0], one) for one in served)


def first_readings(bench: Bench) -> list[Reading]:
    """What the owner read before asking: the set that gives trouble, and perhaps more."""
    dice, case = bench.dice, bench.operating.case
    run = bench.guilty[0] if bench.guilty else "psu"
    served = [one.id for one in (case.served.get(run) or case.draws)]
    keyed = max(served, key=lambda one: bench.true_amps[one, True])
    meter = dice.choice(METERS)
    clamp = dice.random() < 0.5
    places: list[tuple[str, str | None]] = [(keyed, None), ("psu", None)]
    places += [(one.id, None) for one in case.hubs]
    places += [place for place in bench.true_ohms if dice.random() < 0.2]
    found = []
    for at, across in places:
        if dice.random() < 0.6:
            on = keyed if dice.random() < 0.8 else None
            found.append(bench.read(at, across, on, meter, clamp))
    return found
