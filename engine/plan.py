"""Planning: the gaps of a station filled at least cost, each choice with its reason and refused neighbours."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from engine import assume, keys, reasons
from engine.case import Case, Feed, Hub, Lead
from engine.check import Verdict, check
from engine.fields import Problem, Problems
from engine.layout import lay_out
from engine.operating import Operating
from engine.parts import Shelf
from engine.rules import book
from engine.search import Search, Stop, eased, has_gaps, seek
from engine.station import Run, Source, Station
from engine.units import AMPS, CELSIUS, LENGTH, VOLTS, Kind, Spelled, show
from engine.verdict import Choice

ATTRIBUTE = {one.key: one.name for one in (*keys.SOURCE, *keys.STRIP, *keys.RUN)}
OTHER_USES = ("mobile", "battery")


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
    case, _ = assume.complete(laid, shelf)
    if not has_gaps(case):
        return Plan(check(laid, shelf, kept), tuple(_unmet(Search(laid, case, shelf))))
    search, found = seek(laid, case, shelf, stop=stop)
    if found is None:
        return Plan(check(laid, shelf, kept), tuple(reasons.why_not(search)), complete=False)
    choices = reasons.choices(search, found)
    filled = fill(laid, case, found)
    return Plan(check(filled, shelf, (*kept, *choices)), (*eased(search), *_unmet(search)), ease=search.ease)


def _unmet(search: Search) -> list[str]:
    """What is broken by what is fixed already, in words."""
    broken = [one for one in book.judge(Operating(search.case)) if (one.rule, one.about) in search.hopeless]
    lines = [f"given as it is, and not the plan's to mend: {one.says}" for one in broken]
    return [*lines, "upgrade replaces what the rules refuse"] if lines else []


def plannable(station: Station) -> None:
    """Refuse what cannot be planned.

    Raises:
        Problems: another use than from the mains, or no load.
    """
    if station.use in OTHER_USES and not station.sources:
        what = f"{station.use!r} stations are not planned yet: only supplies fed from the mains are on the shelf"
        raise Problems([Problem("use", what, 'write use = "fixed", or describe the source and use check')])
    bare = [one.id for one in station.loads if not (one.equipment or one.receive or one.transmit or one.busy)]
    if bare:
        what = f"nothing is known of what {', '.join(bare)} draws"
        raise Problems([Problem("load", what, "name its class, or give its receive, transmit or busy current")])
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


def source_keys(feed: Feed) -> dict[str, Any]:
    """What a plan writes of a chosen supply."""
    return {
        "part": feed.part,
        "technology": feed.technology,
        "volts": _spelled(feed.volts, VOLTS),
        "continuous": _spelled(feed.continuous, AMPS),
        "peak": _spelled(feed.peak, AMPS),
    }


def run_keys(lead: Lead) -> dict[str, Any]:
    """What a plan writes of a chosen lead."""
    return {
        "conductor": lead.conductor.id if lead.conductor else None,
        "insulation": _spelled(lead.insulation.celsius, CELSIUS) if not lead.supplied else None,
        "supplied": True if lead.supplied else None,
        "tail": lead.tail.conductor.id if lead.tail else None,
        "tail_length": _spelled(lead.tail.length, LENGTH) if lead.tail else None,
        "fuse": _spelled(lead.fuse_rating, AMPS) if lead.fuse_rating else lead.fuse_rating,
        "fuse_type": lead.fuse_type.id if lead.fuse_type else None,
        "contacts": tuple(one.id for one in lead.contacts) if lead.contacts else None,
    }


def _spelled(value: float, kind: Kind) -> Spelled:
    return Spelled(value, show(value, kind))


def change(station: Station, id_: str, values: dict[str, Any]) -> Station:
    """The station with some values of one part replaced."""

    def changed(parts: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(replace(one, **values) if one.id == id_ else one for one in parts)

    return replace(
        station, sources=changed(station.sources), strips=changed(station.strips), runs=changed(station.runs)
    )
