"""The second door: a station that works today, and what must change when something is added.

What is owned costs nothing and is kept wherever the rules accept it; where they refuse it, it is replaced at the
least cost. It is the planner's own search, with one more candidate for every part: the one that stands there today.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from engine.model import complete
from engine.model.case import BATTERY, CONTACTS, COPPER, FUSE, MAINS, WHOLE, Case, Feed, Hub, Lead
from engine.model.layout import feed_of, free, lay_out
from engine.parts import Shelf
from engine.planning.judge import Stop
from engine.planning.plan import Plan, change, eased, plannable
from engine.planning.problem import Keys, Problem
from engine.planning.reasons import Reasons, why_not
from engine.planning.reuse import would_not_do
from engine.planning.search import Seeking
from engine.planning.slots.run import bare
from engine.planning.written import run_keys, source_keys
from engine.rules import book
from engine.rules.book import LetGo
from engine.rules.check import check
from engine.station.model import Load, Run, Source, Station
from engine.station.table import Problem as Fault
from engine.station.table import Problems, nearest
from engine.terms import PowerInput


def owned(station: Station) -> Station:
    """The station with everything that stands in it marked as its owner's."""
    return replace(
        station,
        sources=tuple(replace(one, owned=True) for one in station.sources),
        strips=tuple(replace(one, owned=True) for one in station.strips),
        changeovers=tuple(replace(one, owned=True) for one in station.changeovers),
        runs=tuple(replace(one, owned=True, kept=None) for one in station.runs),
    )


def with_load(station: Station, equipment: str, shelf: Shelf) -> Station:
    """The station with a load of a class added.

    Raises:
        Problems: no such class.
    """
    if equipment not in shelf.equipment:
        what = f"{equipment[:40]!r} is not in the catalogue"
        raise Problems([Fault("--add", what, f"did you mean {nearest(equipment, shelf.equipment)}")])
    name = free(equipment.partition("-")[0], station)
    return replace(station, loads=(*station.loads, Load(name, equipment=equipment)))


def upgrade(station: Station, shelf: Shelf, stop: Stop | None = None, thin: Keys = frozenset()) -> Plan:
    """The cheapest sound station that keeps what it can of what is owned.

    What is new and not yet led anywhere shares the source that is there or, where that is refused or dearer, has one
    of its own. ``thin`` are findings (rule and part) that may stay thin.

    Raises:
        Problems: the station holds nothing to plan for.
    """
    plannable(station)
    fed = {run.end for run in station.runs}
    new = [one.id for one in station.loads if one.id not in fed and feed_of(one.equipment, shelf) == PowerInput.DC]
    shared = _upgrade(lay_out(station, shelf), shelf, new, stop, thin)
    if (
        not new
        or not station.sources
        or (shared.complete and not any(shared.let_go) and _keeps_sources(station, shared))
    ):
        return shared
    apart = _upgrade(lay_out(_apart(station, new), shelf), shelf, new, stop, thin)
    if not apart.complete and not shared.complete:
        return replace(shared, notes=(*shared.notes, "on a supply of its own:", *apart.notes))
    if not _better(apart, shared):
        return shared
    said = f"{', '.join(new)} has a supply of its own; on the one that is there: {_why_apart(shared)}"
    return replace(apart, notes=(said, *apart.notes))


def _keeps_sources(station: Station, made: Plan) -> bool:
    """Whether every source that is owned stays."""
    mine = {one.id for one in station.sources if one.owned}
    return all(one.owned for one in made.verdict.case.feeds if one.id in mine)


def _why_apart(shared: Plan) -> str:
    """What speaks against sharing the supply that is there."""
    grounds = ("refuses", "is replaced", "no filling")
    return next((one for word in grounds for one in shared.notes if word in one), "it is the better plan")


def _better(one: Plan, other: Plan) -> bool:
    """Whether ``one`` is possible where ``other`` is not, keeps margins that the other lacks, or costs less."""
    return _rank(one) < _rank(other)


def _rank(made: Plan) -> tuple[bool, LetGo, float]:
    return not made.complete, made.let_go, sum(item.low + item.high for item in made.verdict.items)


def _apart(station: Station, new: list[str]) -> Station:
    """The station with one more source, from which the new loads are led."""
    name = free(f"{new[0]}-supply", station)
    runs = tuple(Run(free(f"{one}-lead", station), name, one) for one in new)
    return replace(station, sources=(*station.sources, Source(name)), runs=(*station.runs, *runs))


def _upgrade(laid: Station, shelf: Shelf, new: list[str], stop: Stop | None, thin: Keys) -> Plan:
    case, _ = complete.complete(laid, shelf)
    own = _standing(case)
    opened = replace(
        case,
        feeds=tuple(replace(one, missing=("continuous",), owned=False) if one.id in own else one for one in case.feeds),
        hubs=tuple(replace(one, strip=None, owned=False) if one.id in own else one for one in case.hubs),
        leads=tuple(_opened(one) if one.id in own else one for one in case.leads),
    )
    problem = Problem(laid, opened, shelf, own, thin)
    seeking = Seeking([problem], stop)
    solution = seeking.run()
    if solution is None:
        return Plan(check(laid, shelf), tuple(why_not(seeking)), complete=False)
    reasons = Reasons(solution)
    choices = reasons.choices()
    for part in solution.case.parts:
        if part != own.get(part.id):
            laid = rewritten(laid, part, own.get(part.id))
    verdict = check(laid, shelf, choices)
    fates = (*_fates(reasons, own), *would_not_do(solution.search, solution.case, own, new))
    gone = book.let_go(one for one in verdict.findings if (one.rule, one.about) not in thin)
    return Plan(verdict, (*eased(verdict.findings, thin), *fates), let_go=gone)


def _standing(case: Case) -> dict[str, Feed | Hub | Lead]:
    """What stands there today, is its owner's, and may be replaced, as far as it is known.

    A vehicle and a booster stay. Where a changeover doubles everything, only what is refused is looked at.
    """
    kinds = (MAINS, BATTERY)
    found: dict[str, Feed | Hub | Lead] = {
        one.id: one for one in case.feeds if one.owned and not one.missing and one.kind in kinds
    }
    found |= {one.id: one for one in case.hubs if one.owned and one.strip}
    found |= {one.id: _there(one) for one in case.leads if one.kept}
    if len(case.faces) == 1:
        return found
    refused = _refused(case)
    return {key: part for key, part in found.items() if key in refused}


def _refused(case: Case) -> set[str]:
    """The parts that a rule refuses, and everything on the way to a load that one refuses."""
    about = {one.about for one in book.judged(case) if not book.kept(one)}
    ways = [lead for face in case.faces for one in about for lead in face.path(one)]
    return about | {lead.id for lead in ways}


def _there(lead: Lead) -> Lead:
    """The lead with what is really there: no fuse is nothing to keep, and what is not known cannot be counted on."""
    parts = ((COPPER, lead.conductor), (FUSE, lead.fuse_rating), (CONTACTS, lead.contacts))
    return replace(lead, kept=lead.kept & {name for name, part in parts if part})


def _opened(lead: Lead) -> Lead:
    """The lead with what its owner has taken out; what was given without being owned stays given."""
    return bare(lead) if lead.kept == WHOLE else lead


def rewritten(station: Station, part: Feed | Hub | Lead, own: Feed | Hub | Lead | None) -> Station:
    """The station with one part written anew."""
    if isinstance(part, Feed):
        fresh = next(one for one in station.sources if one.id == part.id).socket
        values: dict[str, Any] = {name: getattr(fresh, name) for name in vars(fresh)} | source_keys(part)
        if own is None:
            values = source_keys(part)
    elif isinstance(part, Hub):
        values = {"part": part.strip.id if part.strip else None, "owned": False}
    else:
        some = tuple(sorted(part.kept)) if part.kept != WHOLE else ()
        values = run_keys(part) | {"owned": part.kept == WHOLE, "kept": some or None}
    return change(station, part.id, values)


def _fates(reasons: Reasons, own: dict[str, Feed | Hub | Lead]) -> list[str]:
    """What becomes of every owned part: it stays, or it is replaced because a rule refuses it."""
    lines = []
    for part in reasons.case.parts:
        before = own.get(part.id)
        if before is None:
            continue
        if part == before:
            lines.append(f"{part.id} stays")
            continue
        lines += _replaced(reasons, part, before)
    return lines


def _replaced(reasons: Reasons, part: Feed | Hub | Lead, before: Feed | Hub | Lead) -> list[str]:
    refused = reasons.objection(before)
    why = f" ({refused.rule}): {refused.says}" if refused else ": the whole is cheaper so"
    if isinstance(before, Feed):
        spare = f"retired: {before.title}, good for up to {before.continuous:g} A continuous elsewhere"
        return [f"{part.id} is replaced{why}", spare]
    if isinstance(before, Lead) and isinstance(part, Lead):
        gone = sorted(before.kept - part.kept)
        kept = f"; kept: {', '.join(sorted(part.kept))}" if part.kept else ""
        what = f"{' and '.join(gone)} replaced" if gone else "what is missing is added"
        return [f"{part.id}: {what}{kept}{why}"]
    return [f"{part.id} is replaced{why}"]
