"""The cheapest repair: which one change makes an unsound station sound, and the least set where none alone does.

Everything that stands is its owner's and free. One part after another is opened, all others left as they are, and the
planner's own search fills it at least cost under the same rules; settings that cost nothing are tried too. What is
thin today may stay thin; a change that makes something else thin comes after every one that does not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from engine.findings import THIN, UNSOUND, Finding
from engine.model import complete
from engine.model.bill import feed_text, lead_price
from engine.model.case import CONTACTS, COPPER, FUSE, Case, Feed, Hub, Lead
from engine.parts import FREE, Price, Shelf
from engine.planning import adjustments
from engine.planning.cost import ZERO, Cost, Pricing
from engine.planning.judge import Stop
from engine.planning.plan import Plan
from engine.planning.problem import Keys, Problem, put
from engine.planning.search import Seeking
from engine.planning.slots.run import bare, with_contacts, with_copper, with_fuse
from engine.planning.upgrade import owned, rewritten, upgrade
from engine.rules import book
from engine.rules.check import Verdict, check
from engine.station.model import Station
from engine.terms import Technology
from engine.units import LENGTH, show

PART, WHOLE_LEAD = "part", "lead"
FUSE_PRESENT, NO_FUSE_THERE = "fuse-present", "no fuse"
NATURAL = {"fuse": FUSE, "contact": CONTACTS}


@dataclass(frozen=True)
class Repair:
    """One change of a part (``about``): what of it, before and after in words, and the findings it mends.

    ``what`` is ``copper``, ``fuse``, ``contacts``, ``lead`` (several of these), ``part`` (a supply or strip), or a
    setting. ``whole`` says that nothing is unsound after it; ``strict`` that nothing is thin that is not thin today.
    """

    about: str
    what: str
    before: str
    after: str
    says: str
    price: Price
    mends: tuple[tuple[str, str], ...]
    station: Station
    whole: bool
    strict: bool
    cost: Cost

    @property
    def rank(self) -> tuple[bool, bool, Cost]:
        """What is better: margins kept, then one part only, then the lower cost."""
        return not self.strict, self.what == WHOLE_LEAD, self.cost


@dataclass(frozen=True)
class Mending:
    """How an unsound station is mended: by the one change ``single``, or by ``settings`` and the plan ``many``.

    ``each`` gives for every unsound finding the best single change that mends it, whatever else stays broken.
    """

    verdict: Verdict
    single: Repair | None = None
    many: Plan | None = None
    settings: tuple[str, ...] = ()
    each: tuple[tuple[Finding, Repair | None], ...] = ()


def repair(station: Station, shelf: Shelf, stop: Stop | None = None) -> Mending:
    """The cheapest way to make ``station`` sound; nothing is proposed where nothing is unsound.

    Raises:
        Problems: the station holds nothing to plan for.
    """
    mine = owned(station)
    verdict = check(mine, shelf)
    broken = [one for one in verdict.findings if one.outcome == UNSOUND]
    if not broken:
        return Mending(verdict)
    made = sorted(repairs(mine, shelf, stop), key=lambda one: one.rank)
    each = tuple((one, _best(one, made)) for one in broken)
    single = next((one for one in made if one.whole), None)
    if single:
        return Mending(verdict, single, each=each)
    start, said = adjustments.free(mine, shelf)
    return Mending(verdict, None, upgrade(start, shelf, stop, _thin(verdict.findings)), said, each)


def _best(finding: Finding, made: Sequence[Repair]) -> Repair | None:
    """The best change that mends one finding: a fuse where a fuse is wanting, contacts where contacts are."""
    natural = NATURAL.get(finding.rule.partition("-")[0])
    mine = [one for one in made if _key(finding) in one.mends]
    return min(mine, key=lambda one: (natural is not None and one.what != natural, one.rank), default=None)


def repairs(station: Station, shelf: Shelf, stop: Stop | None = None) -> Iterator[Repair]:
    """Every single change that mends something and leaves nothing unsound that is not so today, each the cheapest.

    ``station`` must be its owner's as a whole (``upgrade.owned``).
    """
    case, _ = complete.complete(station, shelf)
    before = book.judged(case)
    for opened, part, what in _openings(case):
        solution = Seeking([Problem(station, opened, shelf, {part.id: part}, _thin(before))], stop).run()
        made = _made(station, before, solution.case, part, what) if solution else None
        if made:
            yield made
    for setting in adjustments.settings(case):
        after = book.judged(put(case, setting.part))
        words = (setting.part.id, setting.what, "", setting.says)
        judged = _judged(before, after, words, FREE, adjustments.written(station, setting), ZERO)
        if judged:
            yield judged


def _openings(case: Case) -> Iterator[tuple[Case, Feed | Hub | Lead, str]]:
    """The case with one part open, that part as it stands, and what of it is open."""
    for feed in case.feeds:
        if not feed.missing and feed.technology in ("", *Technology):
            yield put(case, replace(feed, missing=("continuous",), owned=False)), feed, PART
    for hub in case.hubs:
        if hub.strip:
            yield put(case, replace(hub, strip=None, owned=False)), hub, PART
    for lead in case.leads:
        if not lead.missing:
            for what in (COPPER, FUSE, CONTACTS):
                yield put(case, _without(lead, what)), lead, what
            yield put(case, bare(lead)), lead, WHOLE_LEAD


def _without(lead: Lead, what: str) -> Lead:
    """The lead with one of its parts open."""
    cut = {COPPER: with_copper, FUSE: with_fuse, CONTACTS: with_contacts}[what]
    return replace(cut(lead, bare(lead)), kept=lead.kept - {what})


def _made(
    station: Station, before: Sequence[Finding], found: Case, part: Feed | Hub | Lead, what: str
) -> Repair | None:
    new = next(one for one in found.parts if one.id == part.id)
    if new == part:
        return None
    pricing = Pricing(station.wishes.prefer or "price")
    if isinstance(new, Lead):
        cost, price = pricing.lead(new), lead_price(new)
    elif isinstance(new, Hub):
        cost, price = pricing.hub(new), new.strip.price if new.strip else FREE
    else:
        cost, price = pricing.feed(new), new.price
    words = (part.id, what, *_words(part, new, what))
    after = _with_fuses(before, book.judged(found), new)
    return _judged(before, after, words, price, rewritten(station, new, part), cost)


def _with_fuses(before: Sequence[Finding], after: Sequence[Finding], new: Feed | Hub | Lead) -> list[Finding]:
    """The findings after a change, where a missing fuse stays missing until there is one: no exemption mends it."""
    if not isinstance(new, Lead) or new.fuse_rating != 0:
        return list(after)
    missing = [one for one in before if _key(one) == (FUSE_PRESENT, new.id) and one.outcome == UNSOUND]
    return [*missing, *(one for one in after if _key(one) not in map(_key, missing))]


def _judged(
    before: Sequence[Finding],
    after: Sequence[Finding],
    words: tuple[str, str, str, str],
    price: Price,
    station: Station,
    cost: Cost,
) -> Repair | None:
    """The change as a repair, or None when it mends nothing or breaks something."""
    was, still = _unsound(before), _unsound(after)
    if still - was or not was - still:
        return None
    mends = tuple(key for one in before if (key := _key(one)) in was - still)
    strict = all(book.kept(one) or _key(one) in still | _thin(before) for one in after)
    about, _, old, new = words
    change = new if not old else f"add {new}" if old == NO_FUSE_THERE else f"replace {old} by {new}"
    says = f"{about}: {change}: {_met(after, mends)}"
    return Repair(*words, says, price, mends, station, not still, strict, cost)


def _met(after: Sequence[Finding], mends: tuple[tuple[str, str], ...]) -> str:
    """What the gravest of the mended findings says now."""
    now = {_key(one): one for one in after}
    key = next((one for one in mends if one[0] == "window-floor" and one in now), mends[0])
    found = now.get(key)
    if found is None:
        return f"{key[0]} no longer arises"
    if found.rule == "window-floor" and found.figure and found.limit:
        return f"the floor of {found.about} is met with {found.figure.value - found.limit.value:.2f} V to spare"
    return found.says


def _words(old: Feed | Hub | Lead, new: Feed | Hub | Lead, what: str) -> tuple[str, str]:
    """Before and after in words: only what differs."""
    if isinstance(old, Feed) and isinstance(new, Feed):
        return feed_text(old), feed_text(new)
    if isinstance(old, Lead) and isinstance(new, Lead):
        mine, its = _pieces(old), _pieces(new)
        names = [name for name in (COPPER, FUSE, CONTACTS) if what in (name, WHOLE_LEAD) and mine[name] != its[name]]
        return " with ".join(mine[name] for name in names), " with ".join(its[name] for name in names)
    return getattr(old, "title", ""), getattr(new, "title", "")


def _pieces(lead: Lead) -> dict[str, str]:
    fused = lead.fuse_type and lead.fuse_rating
    size = f"{lead.conductor.id}, {lead.insulation.id}" if lead.conductor else "open"
    copper = f"{show(lead.length, LENGTH, 2)} of {size}"
    return {
        COPPER: f"{copper}, with its tail" if lead.tail else copper,
        FUSE: f"a {lead.fuse_rating:g} A {lead.fuse_type.id} fuse" if fused and lead.fuse_type else NO_FUSE_THERE,
        CONTACTS: " and ".join(one.id for one in lead.contacts or ()),
    }


def _unsound(findings: Sequence[Finding]) -> set[tuple[str, str]]:
    return {_key(one) for one in findings if one.outcome == UNSOUND}


def _thin(findings: Sequence[Finding]) -> Keys:
    return frozenset(_key(one) for one in findings if one.outcome == THIN)


def _key(one: Finding) -> tuple[str, str]:
    return one.rule, one.about
