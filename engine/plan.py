"""Planning: the gaps of a station filled at least cost, each choice with its reason and refused neighbours."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from engine import reasons
from engine.findings import THIN, UNKNOWN, UNSOUND, Choice, Refused
from engine.model import complete
from engine.model.case import BATTERY, BOOSTER, Case, Feed, Hub, Lead
from engine.model.layout import lay_out, without_booster
from engine.parts import Booster, Changeover, Shelf
from engine.planning.solar import lit
from engine.rules import book
from engine.rules.check import Verdict, check
from engine.search import Search, Stop, eased, has_gaps, seek
from engine.station.model import Run, Source, Station
from engine.station.table import Problem, Problems
from engine.variants import (
    FLOOR,
    boosters,
    changeovers,
    chosen,
    may_boost,
    open_booster,
    refusal,
    with_filled,
    without,
)
from engine.written import ATTRIBUTE, run_keys, source_keys

INSERTED = ("class", "part")
"""The keys that a plan writes of a booster that it put in; opened again, the booster goes."""


@dataclass(frozen=True)
class Plan:
    """A planned station: its verdict, and in plain words what could not be had."""

    verdict: Verdict
    notes: tuple[str, ...] = ()
    complete: bool = True
    ease: int = 0


def reopen(station: Station, choices: tuple[Choice, ...]) -> Station:
    """The station with everything that an earlier plan chose taken out again."""
    for choice in choices:
        id_ = choice.about.partition(".")[0]
        if choice.filled == INSERTED:
            station = without_booster(station, id_)
            continue
        empty = dict.fromkeys((ATTRIBUTE.get(key, key) for key in choice.filled), None)
        station = change(station, id_, empty)
    return station


def plan(station: Station, shelf: Shelf, kept: tuple[Choice, ...] = (), stop: Stop | None = None) -> Plan:
    """The cheapest sound filling of the station's gaps; ``kept`` are reasons of choices already in it.

    ``stop`` is asked now and then; once it says so the search gives up.

    Raises:
        Problems: the station holds nothing to plan for.

    """
    plannable(station)
    laid = lay_out(station, shelf)
    return _lit(_sourced(laid, shelf, kept, stop), shelf)


def _lit(made: Plan, shelf: Shelf) -> Plan:
    """The plan with panels and controller where the sun charges; as it was where there is nothing to choose of them."""
    station = made.verdict.station
    sunlit, choices = lit(station, shelf, made.verdict.choices) if made.complete else (station, ())
    return made if sunlit == station else replace(made, verdict=check(sunlit, shelf, choices))


def _sourced(laid: Station, shelf: Shelf, kept: tuple[Choice, ...], stop: Stop | None) -> Plan:
    """The plan with what goes over between sources chosen, and a booster where one is needed."""
    if open_booster(laid):
        return _with_booster(None, laid, shelf, kept, stop)
    if any(one.part is None for one in laid.changeovers):
        made = _with_changeover(laid, shelf, kept, stop)
    else:
        made = _plan(laid, shelf, kept, stop)
    floors = {one.outcome for one in made.verdict.findings if one.rule == FLOOR}
    low = not made.complete or floors & {THIN, UNSOUND}
    return _with_booster(made, laid, shelf, kept, stop) if low and may_boost(laid, shelf) else made


def _plan(laid: Station, shelf: Shelf, kept: tuple[Choice, ...], stop: Stop | None) -> Plan:
    """The plan of a station in which everything has its place."""
    case, _ = complete.complete(laid, shelf)
    if len(case.faces) > 1 and has_gaps(case):
        return _by_faces(laid, case, shelf, kept, stop)
    if not has_gaps(case):
        return Plan(check(laid, shelf, kept), tuple(_unmet(Search(laid, case, shelf))))
    search, found = seek(laid, case, shelf, stop=stop)
    if found is None:
        return Plan(check(laid, shelf, kept), tuple(reasons.why_not(search)), complete=False)
    choices = reasons.choices(search, found)
    filled = fill(laid, case, found)
    verdict = check(filled, shelf, (*kept, *choices))
    return Plan(verdict, (*eased(search, verdict.findings), *_unmet(search)), ease=search.ease)


def _by_faces(laid: Station, case: Case, shelf: Shelf, kept: tuple[Choice, ...], stop: Stop | None) -> Plan:
    """The plan of a station with a changeover: on its battery first, where volts are few, then on its supply.

    What lies beyond the changeover is chosen for the battery and stands when the supply is chosen.
    """
    order = sorted((face.only for face in case.faces), key=lambda one: case.feed[one].kind != BATTERY)
    choices, notes, ease = list(kept), list[str](), 0
    for source in order:
        others = set(order) - {source}
        made = _plan(without(laid, others), shelf, (), stop)
        if not made.complete:
            said = [f"on {source}: {one}" for one in made.notes]
            return Plan(check(laid, shelf, kept), tuple(said), complete=False)
        laid = with_filled(laid, made.verdict.station)
        choices += made.verdict.choices
        notes += [f"on {source}: {one}" for one in made.notes]
        ease = max(ease, made.ease)
    return Plan(check(laid, shelf, tuple(choices)), tuple(notes), ease=ease)


def rank(made: Plan) -> tuple[bool, bool, int, int, float]:
    """What makes one plan better than another: possible, nothing unsound, more margins kept, cheaper."""
    cost = sum(item.low + item.high for item in made.verdict.items)
    short = sum(not book.kept(one) for one in made.verdict.findings)
    return not made.complete, made.verdict.outcome == UNSOUND, made.ease, short, cost


def _with_changeover(laid: Station, shelf: Shelf, kept: tuple[Choice, ...], stop: Stop | None) -> Plan:
    """The best plan over the changeovers on the shelf; the first that keeps every margin ends it."""
    best: tuple[Plan, Changeover] | None = None
    refused: list[Refused] = []
    for row, station in changeovers(laid, shelf):
        made = _plan(station, shelf, kept, stop)
        if best is None or rank(made) < rank(best[0]):
            best = made, row
        if made.complete and not made.ease and made.verdict.outcome != UNSOUND:
            break
        why = refusal(row, made.verdict.findings)
        refused += [why] if why else []
    if best is None:
        note = "no changeover on the shelf passes what the station draws: split the loads"
        return Plan(check(laid, shelf, kept), (note,), complete=False)
    made, row = best
    because = f"it passes what is drawn at once and its own loss, {row.ohms * 1000:.0f} mΩ, leaves volts enough"
    about = next(one.id for one in laid.changeovers if one.part is None)
    made = _and(made, chosen(about, row, because, refused, ("part",)))
    for one in made.verdict.station.sources:
        before = next((old for old in laid.sources if old.id == one.id), one)
        if one.charger == row.id and before.charger is None:
            made = _and(made, Choice(f"{one.id}.charger", f"{row.title} ({row.id})", CHARGES, (), ("charger",)))
    return made


CHARGES = "what goes over charges it too, set to its kind; the supply's own voltage would not do it well"


def _with_booster(made: Plan | None, laid: Station, shelf: Shelf, kept: tuple[Choice, ...], stop: Stop | None) -> Plan:
    """The plan behind a booster where that keeps what the plan without one does not; or with the one that is open."""
    tried: list[tuple[Booster, Plan]] = []
    for row, station in boosters(laid, shelf):
        changes = any(one.part is None for one in station.changeovers)
        tried.append((row, (_with_changeover if changes else _plan)(station, shelf, kept, stop)))
    if not tried:
        return made or Plan(check(laid, shelf, kept), ("no booster on the shelf gives that much",), complete=False)
    row, other = min(tried, key=lambda pair: rank(pair[1]))
    if made is not None and rank(other)[:3] >= rank(made)[:3]:
        note = "no booster on the shelf helps: shorter or thicker leads, lower power, or a larger battery"
        return made if made.complete and made.verdict.outcome != UNSOUND else replace(made, notes=(*made.notes, note))
    floors = [one for one in (made.verdict.findings if made else ()) if one.rule == FLOOR and one.outcome != UNKNOWN]
    why = floors[0].says if floors else made.notes[1] if made and len(made.notes) > 1 else "the volts would be too low"
    said = f"a booster holds the volts up; without it: {why}"
    refused = [refusal(one, plan.verdict.findings) for one, plan in tried if one.price.usual < row.price.usual]
    name = next(one.id for one in other.verdict.station.sources if one.technology == BOOSTER)
    filled = ("part",) if made is None else INSERTED
    choice = chosen(name, row, said, [one for one in refused if one], filled)
    return replace(_and(other, choice), notes=(said, *other.notes))


def _and(made: Plan, choice: Choice) -> Plan:
    """The plan with one more choice."""
    return replace(made, verdict=replace(made.verdict, choices=(*made.verdict.choices, choice)))


def _unmet(search: Search) -> list[str]:
    """What is broken by what is fixed already, in words."""
    broken = [one for one in book.judged(search.case) if (one.rule, one.about) in search.hopeless]
    lines = [f"given as it is, and not the plan's to mend: {one.says}" for one in broken]
    return [*lines, "upgrade replaces what the rules refuse"] if lines else []


def plannable(station: Station) -> None:
    """Refuse what cannot be planned.

    Raises:
        Problems: no load, nothing known of one, or a booster alone.
    """
    bare = [one.id for one in station.loads if not (one.equipment or one.receive or one.transmit or one.busy)]
    if bare:
        what = f"nothing is known of what {', '.join(bare)} draws"
        raise Problems([Problem("load", what, "name its class, or give its receive, transmit or busy current")])
    if station.sources and all(one.technology == BOOSTER for one in station.sources):
        what = "is a booster, and nothing feeds it"
        raise Problems([Problem("source[0]", what, "describe the battery, vehicle or supply before it as a source")])
    if not station.loads:
        raise Problems([Problem("load", "there is none", "describe at least one load under [[load]]")])


def fill(station: Station, before: Case, after: Case) -> Station:
    """The station with what ``after`` holds and ``before`` did not written into it."""
    for old, new in zip(before.parts, after.parts, strict=True):
        if old != new:
            station = change(station, new.id, written(station, new))
    return station


def written(station: Station, part: Feed | Hub | Lead) -> dict[str, Any]:
    """The keys that the plan writes for one part."""
    if isinstance(part, Feed):
        source = next(one for one in station.sources if one.id == part.id)
        return _absent(source, source_keys(part))
    if isinstance(part, Hub):
        return {"part": part.strip.id if part.strip else None}
    run = next(one for one in station.runs if one.id == part.id)
    return _absent(run, run_keys(part))


def _absent(record: Source | Run, values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if getattr(record, key) is None}


def change(station: Station, id_: str, values: dict[str, Any]) -> Station:
    """The station with some values of one part replaced, or of its sun."""
    if id_ == "sun" and station.sun is not None:
        return replace(station, sun=replace(station.sun, **values))

    def changed(parts: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(replace(one, **values) if one.id == id_ else one for one in parts)

    return replace(
        station,
        sources=changed(station.sources),
        strips=changed(station.strips),
        changeovers=changed(station.changeovers),
        runs=changed(station.runs),
    )
