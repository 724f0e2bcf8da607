"""A discharge in time against small steps in time, a general integrator and the laws it rests on."""

import math
import random
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad

from engine.parts import Chemistry, Shelf, Span
from engine.physics import cells
from engine.physics.discharge import Discharge, Draws, Moment, Pack, Phase, run

CASES = 60
LEAD = 0.01
FLOOR = 11.0


def current(kind: str, size: float) -> Draws:
    """A load behind a lead: steady current [A], resistive [Ω] or steady power [W], solved by its own law."""
    if kind == "current":
        return lambda emf, ohms: size
    if kind == "resistive":
        return lambda emf, ohms: emf / (ohms + LEAD + size)

    def power(emf: float, ohms: float) -> float | None:
        under = emf**2 - 4 * size * (ohms + LEAD)
        return (emf - math.sqrt(under)) / (2 * (ohms + LEAD)) if under >= 0 else None

    return power


def duty(dice: random.Random, kinds: tuple[str, ...] = ("current", "resistive", "power")) -> tuple[Phase, ...]:
    """Receive and key-down of random kinds and shares."""
    share = dice.uniform(0.05, 0.95)
    keyed = {"current": dice.uniform(3, 25), "resistive": dice.uniform(0.5, 4), "power": dice.uniform(30, 250)}
    kind = dice.choice(kinds)
    return (
        Phase("receive", 1 - share, current("power", dice.uniform(3, 25))),
        Phase("key-down", share, current(kind, keyed[kind])),
    )


def made(kind: Chemistry, amp_hours: float, celsius: float = 25, health: float = 1, **more: float) -> Pack:
    """A battery with everything of the usual column."""
    ohms = cells.internal_ohms(kind, amp_hours, celsius, health, "usual")
    return Pack(kind, amp_hours, celsius, health, ohms, kind.peukert.usual, **more)


def battery(dice: random.Random, shelf: Shelf) -> Pack:
    """A random battery of 12 V or so, in random state."""
    kind = dice.choice(list(shelf.chemistries.values()))
    pack = made(kind, dice.uniform(10, 120), dice.uniform(-20, 40), dice.uniform(0.5, 1), start=dice.uniform(0.3, 1))
    return replace(pack, which=dice.choice(["low", "usual", "high"]))


def low_volts(at: Moment, pack: Pack) -> bool:
    """Whether the radio behind the lead has less than its floor while keyed."""
    return at.emf - (pack.ohms + LEAD) * at.amps[1] < FLOOR


def line(points: list[tuple[float, float]], at: float) -> float:
    """Straight between points, held beyond: numpy's own interpolation."""
    rising = sorted(points)
    return float(np.interp(at, [one[0] for one in rising], [one[1] for one in rising]))


class Stepped:
    """The same battery in small steps of time (Runge-Kutta of second order), with its laws written anew."""

    def __init__(self, pack: Pack, phases: tuple[Phase, ...]) -> None:
        kind, column = pack.chemistry, {"low": 1, "usual": 2, "high": 3}[pack.which]
        self.phases = phases
        self.curve = [(one[0], one[column]) for one in kind.open_circuit]
        self.capacity = pack.amp_hours * pack.health / line(list(kind.cold), pack.celsius)
        warm = kind.ohm_ah.usual / pack.amp_hours
        self.ohms = warm * line(list(kind.cold_ohms), pack.celsius) / pack.health
        self.k, self.rated = kind.peukert.usual, self.capacity / kind.hours
        self.hours = kind.hours

    def draws(self, charge: float) -> list[tuple[float, float, float]] | None:
        """Share, volts and amperes of each phase, or None when one cannot be fed."""
        emf = line(self.curve, charge)
        amps = [(one.share, one.amps(emf, self.ohms)) for one in self.phases]
        return None if any(one is None for _, one in amps) else [(share, emf, one or 0.0) for share, one in amps]

    def pace(self, draws: list[tuple[float, float, float]]) -> float:
        """Charge gone per hour: I/C up to the rated current, (I·H/C)^k / H above it."""
        return sum(
            share * (amps / self.capacity if amps <= self.rated else (amps / self.rated) ** self.k / self.hours)
            for share, _, amps in draws
        )

    def until(self, start: float, step: float, floor: float) -> tuple[float, float, float, float]:
        """Hours, charge, energy given and delivered, until the floor, an unfed phase or emptiness."""
        hours, charge, given, delivered = 0.0, start, 0.0, 0.0
        while charge > 0 and (draws := self.draws(charge)) is not None:
            if draws[1][1] - (self.ohms + LEAD) * draws[1][2] < floor:
                break
            middle = self.draws(charge - self.pace(draws) * step / 2) or draws
            hours += step
            charge -= self.pace(middle) * step
            given += step * sum(share * emf * amps for share, emf, amps in middle)
            delivered += step * sum(share * (emf - self.ohms * amps) * amps for share, emf, amps in middle)
        return hours, charge, given, delivered


def ends(found: Discharge) -> Moment:
    """The moment at which the floor is reached, or the end of the discharge."""
    return found.first(lambda at: low_volts(at, found.pack)) or found.moments[-1]


@pytest.mark.parametrize("seed", range(CASES))
def test_agrees_with_small_steps_in_time(shelf: Shelf, seed: int) -> None:
    """Hours and charge at the floor within 1 % of 4000 steps in time (the same laws, integrated another way)."""
    dice = random.Random(seed)
    pack, phases = battery(dice, shelf), duty(dice)
    at = ends(run(pack, phases))
    if at.hours == 0:
        assert Stepped(pack, phases).until(pack.start, 1e-3, FLOOR)[0] == 0
        return
    hours, charge, _, _ = Stepped(pack, phases).until(pack.start, at.hours / 4000, FLOOR)
    assert at.hours == pytest.approx(hours, rel=0.01)
    assert at.charge == pytest.approx(charge, abs=0.01)


def energy(found: Discharge) -> tuple[float, float, float]:
    """Watt-hours from the electromotive force, lost inside the battery, and delivered, over the whole discharge."""
    drawn = inside = delivered = 0.0
    for before, after in pairwise(found.moments):
        hours, emf = after.hours - before.hours, (before.emf + after.emf) / 2
        for phase, one, other in zip(found.phases, before.amps, after.amps, strict=True):
            amps = (one + other) / 2
            drawn += emf * amps * phase.share * hours
            inside += amps**2 * found.pack.ohms * phase.share * hours
            delivered += (emf - amps * found.pack.ohms) * amps * phase.share * hours
    return drawn, inside, delivered


@pytest.mark.parametrize("seed", range(CASES))
def test_energy_agrees_with_small_steps_and_is_conserved(shelf: Shelf, seed: int) -> None:
    """What is given is what is lost inside and what leaves, to 0.1 % (conservation of energy); 1 % of small steps."""
    dice = random.Random(seed)
    pack, phases = battery(dice, shelf), duty(dice)
    found = run(pack, phases)
    drawn, inside, delivered = energy(found)
    assert drawn == pytest.approx(inside + delivered, rel=1e-3)
    if found.moments[-1].hours == 0:
        return
    _, _, given, left = Stepped(pack, phases).until(pack.start, found.moments[-1].hours / 4000, -math.inf)
    assert (drawn, delivered) == pytest.approx((given, left), rel=0.01)


def test_the_random_cases_are_of_every_sort(shelf: Shelf) -> None:
    """Among them are batteries that end at the floor, that run empty, and that cannot serve at all (arithmetic)."""
    sorts = set()
    for seed in range(CASES):
        dice = random.Random(seed)
        found = run(battery(dice, shelf), duty(dice))
        at = ends(found)
        sorts.add("never" if at.hours == 0 else "floor" if low_volts(at, found.pack) else "empty")
    assert sorts == {"empty", "never", "floor"}


def test_without_rate_losses_the_energy_is_the_area_under_the_curve(shelf: Shelf) -> None:
    """With k = 1 the energy is capacity times the mean volts of the curve, whatever the duty (E = ∫ V dq)."""
    for kind in shelf.chemistries.values():
        plain = replace(kind, peukert=Span.exactly(1.0))
        area = np.trapezoid([one[2] for one in kind.open_circuit], [one[0] for one in kind.open_circuit])
        for seed in range(5):
            dice = random.Random(seed)
            phases = (Phase("a", 0.3, current("current", dice.uniform(1, 9))), Phase("b", 0.7, current("resistive", 5)))
            pack = made(plain, dice.uniform(5, 50), health=dice.uniform(0.5, 1))
            assert energy(run(pack, phases))[0] == pytest.approx(pack.capacity * area, rel=1e-3), kind.id


def test_a_steady_power_agrees_with_a_general_integrator(shelf: Shelf) -> None:
    """With k = 1 and one converter: hours = C·∫ dq / I(q), to a thousandth (scipy.integrate.quad)."""
    for row in shelf.chemistries.values():
        pack, draw = made(replace(row, peukert=Span.exactly(1.0)), 40), current("power", 80)
        points = [(one[0], one[2]) for one in row.open_circuit]

        def slowness(
            charge: float, points: list[tuple[float, float]] = points, pack: Pack = pack, draw: Draws = draw
        ) -> float:
            return 1 / (draw(line(points, charge), pack.ohms) or math.nan)

        area, _ = quad(slowness, 0, 1, points=[one for one, _ in points[1:-1]], limit=200)
        hours = run(pack, [Phase("all", 1, draw)]).moments[-1].hours
        assert hours == pytest.approx(pack.capacity * area, rel=1e-3), row.id


def test_one_steady_current_is_peukerts_own_law(shelf: Shelf) -> None:
    """One phase of steady current empties the battery in H·(C/(I·H))^k, all of it (Peukert's law)."""
    for kind in shelf.chemistries.values():
        pack = made(kind, 50, celsius=40)
        for times in (0.5, 1, 3, 10):
            amps = times * 50 / kind.hours
            law = kind.hours / (times if times < 1 else times**kind.peukert.usual)
            found = run(pack, [Phase("all", 1, current("current", amps))])
            assert found.moments[-1].hours == pytest.approx(law, rel=1e-9)
            half = found.first(lambda at: at.charge <= 0.5)
            assert half is not None and half.hours == pytest.approx(law / 2, rel=1e-9)


def colder(pack: Pack, phases: tuple[Phase, ...]) -> tuple[Pack, tuple[Phase, ...]]:
    """The same fifteen kelvin colder."""
    ohms = cells.internal_ohms(pack.chemistry, pack.amp_hours, pack.celsius - 15, pack.health, "usual")
    return replace(pack, celsius=pack.celsius - 15, ohms=ohms), phases


def older(pack: Pack, phases: tuple[Phase, ...]) -> tuple[Pack, tuple[Phase, ...]]:
    """The same with a fifth less of its capacity."""
    return replace(pack, health=pack.health * 0.8, ohms=pack.ohms / 0.8), phases


def emptier(pack: Pack, phases: tuple[Phase, ...]) -> tuple[Pack, tuple[Phase, ...]]:
    """The same begun with less charge."""
    return replace(pack, start=pack.start * 0.7), phases


def longer_keyed(pack: Pack, phases: tuple[Phase, ...]) -> tuple[Pack, tuple[Phase, ...]]:
    """The same keyed half of the pauses more."""
    receive, keyed = phases
    return pack, (
        replace(receive, share=receive.share / 2),
        replace(keyed, share=keyed.share + receive.share / 2),
    )


@pytest.mark.parametrize("harder", [colder, older, emptier, longer_keyed], ids=lambda one: one.__name__)
def test_a_harder_life_is_never_longer(shelf: Shelf, harder: Callable[..., tuple[Pack, tuple[Phase, ...]]]) -> None:
    """Colder, older, emptier or more keyed never serves longer, and often shorter (sense of the laws used).

    Of a resistive load it need not be true: it draws less through more resistance inside.
    """
    shorter = 0
    for seed in range(2 * CASES):
        dice = random.Random(seed)
        pack, phases = battery(dice, shelf), duty(dice, ("current", "power"))
        easy, hard = ends(run(pack, phases)).hours, ends(run(*harder(pack, phases))).hours
        assert hard <= easy * (1 + 1e-3), seed
        shorter += hard < easy * 0.99
    assert shorter > CASES / 2


@pytest.mark.parametrize("load", ["current", "power"])
def test_a_careful_reading_promises_least(shelf: Shelf, load: str) -> None:
    """Low, usual and high rested volts promise less, more and most (order of the spread).

    Not so for a resistive load that no floor stops: more volts draw more from it.
    """
    differ = 0
    for seed in range(CASES):
        dice = random.Random(seed)
        pack, size = battery(dice, shelf), dice.uniform(5, 20)
        draw = current(load, size if load == "current" else 12 * size)
        phases = [Phase("receive", 0.5, draw), Phase("key-down", 0.5, draw)]
        low, usual, high = (ends(run(replace(pack, which=one), phases)).hours for one in ("low", "usual", "high"))
        assert low <= usual * (1 + 1e-6) and usual <= high * (1 + 1e-6), seed
        differ += low < 0.99 * high
    assert differ > CASES / 3


def test_a_power_that_cannot_be_fed_any_longer_ends_it(shelf: Shelf) -> None:
    """A converter gives up where E² = 4·P·(R + r), with half the volts left (maximum power transfer)."""
    pack = replace(made(shelf.chemistries["lfp"], 20), ohms=0.2)
    watts = 12.5**2 / (4 * (0.2 + LEAD))
    found = run(pack, [Phase("key-down", 1, current("power", watts))])
    assert found.collapsed
    assert found.moments[-1].emf == pytest.approx(12.5, abs=1e-4)


def test_a_power_that_cannot_be_fed_at_all(shelf: Shelf) -> None:
    """No hours and no fault (E²/4R is the most that can be had)."""
    found = run(made(shelf.chemistries["lfp"], 20), [Phase("key-down", 1, current("power", 9000))])
    assert found.collapsed and found.moments[-1].hours == 0
    assert found.mean_amps == 0 and found.ideal_hours == math.inf


def test_nothing_drawn_lasts_beyond_all_use(shelf: Shelf) -> None:
    """A battery from which nothing flows is not emptied within a lifetime (arithmetic)."""
    found = run(made(shelf.chemistries["lfp"], 20), [Phase("off", 1, current("current", 0))])
    assert found.moments[-1].hours > 1e6 and found.ideal_hours > 1e6
