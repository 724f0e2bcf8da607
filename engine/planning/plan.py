"""Planning: the gaps of a station filled, each choice with its reason and refused neighbours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from engine.findings import THIN, UNSOUND, Choice, Finding, Refused
from engine.model import complete
from engine.model.assumptions import Notebook
from engine.model.bill import total
from engine.model.case import BATTERY, BOOSTER, VEHICLE, Case, Feed, Hub, Lead
from engine.model.layout import free, lay_out, without_booster
from engine.model.sources import feed
from engine.parts import Shelf
from engine.planning import cold, offers
from engine.planning.charging import with_charger
from engine.planning.cold import Frozen, too_cold
from engine.planning.judge import MOST_WORK, Judge, Stop
from engine.planning.problem import Keys, Problem
from engine.planning.reasons import Reasons, price_title, why_not
from engine.planning.search import Seeking, Solution
from engine.planning.solar import lit
from engine.planning.variants import CHARGES, Variant, chosen, may_boost, open_booster, variants
from engine.planning.written import ATTRIBUTE, run_keys, source_keys
from engine.rules import book
from engine.rules.book import NOTHING, LetGo
from engine.rules.check import Verdict, check
from engine.rules.doubt import Doubt, windows
from engine.rules.rule import HOURS
from engine.station.model import Run, Source, Station
from engine.station.table import Problem as Fault
from engine.station.table import Problems
from engine.terms import Serves

FLOOR = "window-floor"
INSERTED = ("class", "part")
"""The keys that a plan writes of a booster that it put in; opened again, the booster goes."""

NO_BOOSTER = "no booster on the shelf helps: shorter or thicker leads, lower power, or a larger battery"


@dataclass(frozen=True)
class Plan:
    """A planned station: its verdict, in plain words what could not be had, and the steps of margin let go of."""

    verdict: Verdict
    notes: tuple[str, ...] = ()
    complete: bool = True
    let_go: LetGo = NOTHING


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
    """The station's gaps filled so that most margins are kept, and then at least cost.

    ``kept`` are reasons of choices already in it. ``stop`` is asked now and then; once it says so the search gives up.

    Raises:
        Problems: the station holds nothing to plan for.

    """
    plannable(station)
    laid, chargers = with_charger(lay_out(station, shelf), shelf)
    kept = (*kept, *chargers)
    frozen = too_cold(laid, shelf)
    if frozen and not (made := _plan(laid, shelf, kept, stop, explained=False)).complete:
        return replace(made, notes=tuple(_elsewhere(laid, shelf, frozen, stop)))
    made = _best(laid, shelf, kept, stop)
    if _falls_short(made) and open_battery(laid):
        made = min(made, _best(laid, shelf, kept, stop, banks=True), key=rank)
    return _lit(_offered(_told_dear(made, laid, shelf, stop), laid, shelf, stop), shelf)


def _offered(made: Plan, laid: Station, shelf: Shelf, stop: Stop | None) -> Plan:
    """The plan with what it offers beside itself."""
    case = made.verdict.case
    more = tuple(offers.turned_up(case)) if made.complete else ()
    lead = offers.far(laid, complete.complete(laid, shelf)[0])
    other = _plan(offers.nearer(laid, lead, shelf), shelf, (), stop) if lead else None
    if lead and other and other.complete and (not made.complete or _is_much_less(other, made)):
        more += (offers.beside(lead, _cost(made) if made.complete else None, _cost(other)),)
    return replace(made, notes=(*made.notes, *more)) if more else made


def _told_dear(made: Plan, laid: Station, shelf: Shelf, stop: Stop | None) -> Plan:
    """The plan with the part first that is dear only because a window was assumed, and what to answer."""
    stored = {one.kind for one in made.verdict.case.feeds} & {BATTERY, VEHICLE}
    some = windows(laid, shelf) if stored else []
    if not some:
        return made
    other = _plan(some[-1].station, shelf, (), stop)
    if not other.complete or _starving(other):
        return made
    if made.complete and (rank(other)[:3] > rank(made)[:3] or not _is_much_less(other, made)):
        return made
    told = _without_assumed(made, other, some)
    return replace(made, notes=(told, *made.notes))


WORTH, WORTH_SHARE = 20.0, 0.2
"""The least difference in price, and its share of the whole, for which another plan is told of beside this one."""


def _cost(made: Plan) -> float:
    return total(made.verdict.case).usual


def _is_much_less(other: Plan, made: Plan) -> bool:
    return _cost(made) - _cost(other) >= max(WORTH, WORTH_SHARE * _cost(made))


def _without_assumed(made: Plan, other: Plan, some: Sequence[Doubt]) -> str:
    """What is there only because of assumed windows, its price, and what to answer."""
    taken = " and ".join(f"{one.taken} was assumed for {one.about.partition('.')[0]}" for one in some)
    ask = f"if the manual says {some[0].kinder}, answer it ({some[0].find})"
    if not made.complete:
        return f"there is no plan only because {taken}; {ask}: then one exists for about {_cost(other):.0f}"
    before = {one.about: one.high for one in other.verdict.items}
    dear = max(made.verdict.items, key=lambda one: one.high - before.get(one.about, 0.0))
    what = f"{dear.about} ({dear.low:.0f} to {dear.high:.0f})"
    instead = f"about {_cost(other):.0f} instead of {_cost(made):.0f} in all"
    return f"{what} is so dear only because {taken}; {ask}: {instead}"


def _elsewhere(laid: Station, shelf: Shelf, frozen: Sequence[Frozen], stop: Stop | None) -> Iterator[str]:
    """What to do about a lithium battery that would be charged in the frost: where it would live, or what would."""
    yield from map(cold.says, frozen)
    warm = _plan(cold.indoors(laid, shelf), shelf, (), stop, explained=False)
    yield cold.moved(warm.verdict.case if warm.complete else None)
    lead = _plan(cold.of_lead(laid, shelf), shelf, (), stop, explained=False)
    yield cold.instead(lead.verdict.case if lead.complete else None)


def _best(laid: Station, shelf: Shelf, kept: tuple[Choice, ...], stop: Stop | None, banks: bool = False) -> Plan:
    """The best plan without a booster, or behind one where a load is starved without."""
    made = _plan(laid, shelf, kept, stop, banks=banks)
    if not open_booster(laid) and _starved(made) and may_boost(laid, shelf):
        made = _with_booster(made, laid, shelf, kept, stop, banks)
    return made


def _falls_short(made: Plan) -> bool:
    """Whether one battery is not enough: there is no plan, or one short of hours; never for spare volts alone."""
    return not made.complete or bool(made.let_go[book.RANKS[HOURS]])


def open_battery(station: Station) -> bool:
    """Whether a battery stands there of which neither the size nor the number is said."""
    return any(
        one.technology == BATTERY and one.parallel is None and one.part is None and one.amp_hours is None
        for one in station.sources
    )


def _lit(made: Plan, shelf: Shelf) -> Plan:
    """The plan with panels and controller where the sun charges; as it was where there is nothing to choose of them."""
    station = made.verdict.station
    sunlit, choices = lit(station, shelf, made.verdict.choices) if made.complete else (station, ())
    return made if sunlit == station else replace(made, verdict=check(sunlit, shelf, choices))


def _starved(made: Plan) -> bool:
    """Whether a load gets too few volts: there is no plan, or one in which it does."""
    return not made.complete or bool(_starving(made))


def _starving(made: Plan) -> list[Finding]:
    """The loads that get too few volts, with every assumed value as it was taken."""
    return [one for one in book.judged(made.verdict.case) if one.rule == FLOOR and one.outcome == UNSOUND]


def _plan(
    laid: Station,
    shelf: Shelf,
    kept: tuple[Choice, ...],
    stop: Stop | None,
    boosted: bool = False,
    banks: bool = False,
    explained: bool = True,
) -> Plan:
    """The best plan of a station in which everything has its place, over the changeovers and boosters it may have."""
    case, _ = complete.complete(laid, shelf)
    some = variants(laid, shelf, boosted)
    if not some:
        return Plan(check(laid, shelf, kept), (_none(laid, boosted),), complete=False)
    problems = [one.problem(shelf, banks) for one in some]
    if len(some) == 1 and not problems[0].open:
        as_it_is = check(laid, shelf, kept)
        return Plan(as_it_is, tuple(unmet(Judge(problems[0]), as_it_is.findings)), let_go=_given(case))
    seeking = Seeking(problems, stop, MOST_WORK if explained else cold.WORK)
    solution = seeking.run()
    if solution is None:
        why = tuple(why_not(seeking)) if explained and not banks else ()
        return Plan(check(laid, shelf, kept), why, complete=False)
    variant = some[problems.index(solution.search.problem)]
    reasons = Reasons(solution)
    choices = (*kept, *reasons.choices(), *_variant_choices(laid, variant, some, reasons, boosted))
    verdict = check(fill(variant.station, solution.search.problem.case, solution.case), shelf, choices)
    notes = (*eased(verdict.findings), *unmet(solution.search.judge, verdict.findings))
    return Plan(verdict, notes, let_go=book.let_go(verdict.findings))


def _given(case: Case) -> LetGo:
    return book.let_go(book.judged(case))


def _none(laid: Station, boosted: bool) -> str:
    if any(one.part is None for one in laid.changeovers):
        return "no changeover on the shelf passes what the station draws: split the loads"
    return NO_BOOSTER if boosted else "no booster on the shelf gives that much"


def _variant_choices(
    laid: Station, variant: Variant, some: Sequence[Variant], reasons: Reasons, boosted: bool
) -> Iterable[Choice]:
    """The choices of changeover, charger and booster."""
    row, booster = variant.changeover, variant.booster
    cheaper = some[: some.index(variant)]
    if row is not None:
        about = next(one.id for one in laid.changeovers if one.part is None)
        hub = reasons.case.hub[about]
        others = [one.changeover for one in cheaper if one.changeover and one.booster == booster]
        refused = [
            Refused(other.title, finding.rule, finding.says)
            for other in others
            if (finding := reasons.objection(replace(hub, changeover=other, title=other.title)))
        ]
        because = f"it passes what is drawn at once and its own loss, {row.ohms * 1000:.0f} mΩ, leaves volts enough"
        yield chosen(about, row, because, refused[-3:], ("part",))
        for one, before in zip(variant.station.sources, laid.sources, strict=False):
            if one.charger == row.id and before.charger is None:
                yield Choice(f"{one.id}.charger", f"{row.title} ({row.id})", CHARGES, (), ("charger",))
    if booster is not None and not boosted:
        name = next(one.id for one in laid.sources if one.technology == BOOSTER and one.part is None)
        refused = _boosters_refused(name, cheaper, variant, reasons)
        yield chosen(name, booster, "it gives what is drawn at once", refused, ("part",))


def _boosters_refused(name: str, cheaper: Sequence[Variant], variant: Variant, reasons: Reasons) -> list[Refused]:
    refused = []
    for one in cheaper:
        if one.booster is None or one.changeover != variant.changeover:
            continue
        source = next(source for source in variant.station.sources if source.id == name)
        other = feed(replace(source, part=one.booster.id), reasons.problem.where, Notebook())
        finding = reasons.objection(other)
        if finding is not None:
            refused.append(Refused(price_title(other), finding.rule, finding.says))
    return refused[-3:]


def _with_booster(
    made: Plan, laid: Station, shelf: Shelf, kept: tuple[Choice, ...], stop: Stop | None, banks: bool
) -> Plan:
    """The plan behind a booster where there is none without one, or one in which a load is starved."""
    other = _plan(laid, shelf, kept, stop, boosted=True, banks=banks)
    if rank(other)[:2] >= rank(made)[:2]:
        return made if made.complete else replace(made, notes=(*made.notes, NO_BOOSTER))
    floors = _starving(made)
    refused = [*(one for one in made.notes if FLOOR in one), *made.notes[1:2], "the volts would be too low"]
    why = floors[0].says if floors else refused[0]
    said = f"a booster holds the volts up; without it: {why}"
    there = {one.id for one in laid.sources}
    source = next(one for one in other.verdict.station.sources if one.id not in there)
    row = shelf.boosters[source.part or ""]
    return replace(_and(other, chosen(source.id, row, said, [], INSERTED)), notes=(said, *other.notes))


def rank(made: Plan) -> tuple[bool, int, LetGo, float]:
    """What makes one plan better than another: possible, less unsound, more margins kept, cheaper."""
    cost = sum(item.low + item.high for item in made.verdict.items)
    broken = sum(one.outcome == UNSOUND for one in book.judged(made.verdict.case))
    return not made.complete, broken, made.let_go, cost


def _and(made: Plan, choice: Choice) -> Plan:
    """The plan with one more choice."""
    return replace(made, verdict=replace(made.verdict, choices=(*made.verdict.choices, choice)))


def eased(findings: Iterable[Finding], thin: Keys = frozenset()) -> list[str]:
    """What a plan had to let go of, in words: the rules that are thin and that a plan would keep sound."""
    gone = [
        one.rule for one in findings if one.outcome == THIN and not book.kept(one) and (one.rule, one.about) not in thin
    ]
    if not gone:
        return []
    return [f"no filling keeps every margin; no rule is broken, but this is let go: {', '.join(dict.fromkeys(gone))}"]


def unmet(judge: Judge, findings: Iterable[Finding]) -> list[str]:
    """What is broken by what is fixed already, in words; what an assumed value decides in ``findings`` is not."""
    asked = {(one.rule, one.about) for one in findings if one.turns_on}
    broken = [one for one in book.judged(judge.problem.case) if (one.rule, one.about) in judge.hopeless - asked]
    lines = [f"given as it is, and not the plan's to mend: {one.says}" for one in broken]
    return [*lines, "upgrade replaces what the rules refuse"] if lines else []


def solved(problem: Problem, stop: Stop | None = None) -> tuple[Seeking, Solution | None]:
    """The search over one problem and what it found."""
    seeking = Seeking([problem], stop)
    return seeking, seeking.run()


def plannable(station: Station) -> None:
    """Refuse what cannot be planned.

    Raises:
        Problems: no load, nothing known of one, or a booster alone.
    """
    bare = [one.id for one in station.loads if not (one.equipment or one.receive or one.transmit or one.busy)]
    if bare:
        what = f"nothing is known of what {', '.join(bare)} draws"
        raise Problems([Fault("load", what, "name its class, or give its receive, transmit or busy current")])
    if station.sources and all(one.technology == BOOSTER for one in station.sources):
        what = "is a booster, and nothing feeds it"
        raise Problems([Fault("source[0]", what, "describe the battery, vehicle or supply before it as a source")])
    if not station.loads:
        raise Problems([Fault("load", "there is none", "describe at least one load under [[load]]")])


def fill(station: Station, before: Case, after: Case) -> Station:
    """The station with what ``after`` holds and ``before`` did not written into it."""
    for old, new in zip(before.parts, after.parts, strict=True):
        if old != new:
            station = change(station, new.id, written(station, new))
        if isinstance(new, Feed) and new.string is not None:
            station = _with_string(station, new, new.string)
    return station


def _with_string(station: Station, feed: Feed, string: Lead) -> Station:
    """The station with the cables of a bank written into its run, which is added where there is none."""
    there = next((one for one in station.runs if one.serves == Serves.STRING and one.end == feed.id), None)
    run = there or Run(free(f"{feed.id}-string", station), None, feed.id, serves=Serves.STRING)
    if there is None:
        station = replace(station, runs=(*station.runs, run))
    return change(station, run.id, _absent(run, run_keys(string)))


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
