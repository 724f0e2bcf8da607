"""Why each part was chosen: the rules it answers, the cheaper neighbours that a rule refused, and the next better."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cached_property

from engine.findings import Better, Choice, Finding, Refused
from engine.model.case import CONTACTS, COPPER, FUSE, Case, Feed, Hub, Lead
from engine.model.operating import Operating
from engine.planning.cost import Cost, Option
from engine.planning.judge import REFUSED, Counts
from engine.planning.problem import Part, Problem, put
from engine.planning.search import Search, Seeking, Solution
from engine.planning.slots import run
from engine.planning.written import KEY, source_keys
from engine.rules import book
from engine.rules.rule import LOAD, RUN, SOURCE, STATION, Rule

MOST_LEFT_OUT = 6
"""Loads of which it is tried whether a plan exists without them."""

FEW = 20_000
"""Times that rules are asked for each change that might help."""

SHOWN = 3
"""Refused neighbours shown for one choice."""

DECIDES = {
    "battery": ("battery-hours", "battery-ends", "battery-board", "window-floor"),
    "part": ("supply-headroom", "supply-peak", "supply-continuous", "window-ceiling", "strip-carries"),
    "conductor": ("drop", "ampacity"),
    "fuse": ("fuse-carries", "fuse-guards"),
    "contacts": ("contact-carries", "contact-takes"),
}
"""The rules whose figures explain the choice of each key."""

GAINS = {"battery": ("battery-hours", "battery-ends"), "part": ("supply-headroom",), "conductor": ("drop",)}
"""The rules whose figures tell what the next better part would give."""


class Reasons:
    """The reasons of one solution."""

    def __init__(self, solution: Solution) -> None:
        self.search, self.case = solution.search, solution.case
        self.problem, self.judge = solution.search.problem, solution.search.judge

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Everything that the rules say of the solution."""
        return book.judge(self.judge.operating(self.case))

    @cached_property
    def counts(self) -> Counts:
        """What the solution lets go of."""
        return {(one.rule, one.about): self.judge.count(one) for one in self.findings}

    def choices(self) -> tuple[Choice, ...]:
        """One choice for each gap filled."""
        made: list[Choice] = []
        for id_ in self.problem.open:
            old, new = _part(self.problem.case, id_), _part(self.case, id_)
            if isinstance(new, Lead) and isinstance(old, Lead):
                made += self._lead_choices(old, new)
            elif not isinstance(new, Lead) and not new.owned:
                made.append(self._feed_choice(new))
        return tuple(made)

    # -- sources and strips

    def _feed_choice(self, new: Feed | Hub) -> Choice:
        others: list[tuple[Cost, Feed | Hub]]
        if isinstance(new, Feed):
            others = [(one.cost, one.item) for one in self.search.feeds[new.id]]
            cost, filled = self.problem.pricing.feed(new), self._filled(new)
        else:
            old = self.problem.case.hub[new.id]
            others = [(one.cost, one.item) for one in self.problem.hubs(old)]
            cost, filled = self.problem.pricing.hub(new), ("part",)
        cheaper = [item for price, item in others if price < cost]
        dearer = [item for price, item in others if price > cost]
        decides = "battery" if isinstance(new, Feed) and new.cell else "part"
        refused = self._refused((one, price_title(one)) for one in reversed(cheaper))
        title = f"{new.title} ({_row_id(new)})"
        better = self._better(new, decides, ((one, price_title(one)) for one in dearer[:MOST_BETTER]))
        return Choice(f"{new.id}.part", title, self._because(new.id, decides), refused, filled, better)

    def _filled(self, new: Feed) -> tuple[str, ...]:
        source = next(one for one in self.problem.station.sources if one.id == new.id)
        wrote = (name for name, value in source_keys(new).items() if value is not None)
        return tuple(KEY[name] for name in wrote if getattr(source, name) is None)

    # -- leads

    def _lead_choices(self, old: Lead, new: Lead) -> Iterator[Choice]:
        if old.conductor is None and new.conductor is not None and (COPPER not in new.kept or new.supplied):
            given = new.id in self.problem.given_insulation
            filled: tuple[str, ...] = ("conductor",) if given or new.supplied else ("conductor", "insulation")
            filled += ("supplied",) if new.supplied else ("tail", "tail_length") if new.tail else ()
            filled += ("own_fuse",) if new.own_fuse else ()
            text, because = run.copper_text(new), self._because(new.id, "conductor")
            refused, better = self._refused(self._thinner(new)), self._better(new, "conductor", self._thicker(new))
            yield Choice(f"{new.id}.conductor", text, because, refused, filled, better)
        brought = run.brings_fuse(new)
        if old.fuse_rating is None and new.fuse_type is not None and (FUSE not in new.kept or brought):
            text = f"{new.fuse_rating:g} A {new.fuse_type.id}"
            because = ("it is in that lead; " if brought else "") + self._because(new.id, "fuse")
            refused = () if brought else self._refused(self._smaller(new))
            yield Choice(f"{new.id}.fuse", text, because, refused, ("fuse", "fuse_type"))
        if old.contacts is None and new.contacts is not None and CONTACTS not in new.kept:
            text = " / ".join(one.id for one in new.contacts)
            because = _ends_text(new) + self._because(new.id, "contacts")
            refused = self._refused(self._plainer(new))
            yield Choice(f"{new.id}.contacts", text, because, refused, ("contacts",))

    def _thinner(self, new: Lead) -> Iterator[tuple[Lead, str]]:
        """Cheaper copper, the thickest first, each size once."""
        copper = self.search.stock(new.id).parts.copper
        cost = self.problem.pricing.copper(new)
        area = new.conductor.area if new.conductor else 0.0
        cheaper = [one.item for one in copper if one.cost < cost and (one.item.supplied or _area(one.item)[1] <= area)]
        seen: set[tuple[object, ...]] = set()
        for one in sorted(cheaper, key=_area, reverse=True):
            size = (one.conductor.id if one.conductor else "", one.supplied, one.tail is None, len(one.kept))
            if size not in seen:
                seen.add(size)
                yield run.with_copper(new, one), _mine(one, run.copper_text(one))

    def _thicker(self, new: Lead) -> Iterator[tuple[Lead, str]]:
        """The next thicker copper in the same insulation; in any, where the lead that came with the load is used."""
        area = new.conductor.area if new.conductor else 0.0
        seen: set[str] = set()
        for one in sorted((option.item for option in self.search.stock(new.id).parts.copper), key=_area):
            alike = new.supplied or one.insulation == new.insulation
            if one.conductor is None or one.conductor.area <= area or not alike or one.kept or one.tail != new.tail:
                continue
            if one.conductor.id not in seen and len(seen) < MOST_BETTER:
                seen.add(one.conductor.id)
                kept = new.kept - {FUSE} if new.supplied else new.kept
                yield run.with_copper(replace(new, kept=kept), one), run.copper_text(one)

    def _smaller(self, new: Lead) -> Iterator[tuple[Lead, str]]:
        """Smaller fuses of the same family, and the owner's own."""
        fuses = self.search.stock(new.id).parts.fuses
        cheaper = _cheaper(fuses, self.problem.pricing.fuse(new))
        for one in cheaper:
            if one.fuse_type is not None and (one.fuse_type == new.fuse_type or one.kept):
                yield run.with_fuse(new, one), _mine(one, f"{one.fuse_rating:g} A {one.fuse_type.id}")

    def _plainer(self, new: Lead) -> Iterator[tuple[Lead, str]]:
        """Contacts that are cheaper at one end, and the owner's own."""
        ends = new.contacts or ()
        for one in _cheaper(self.search.stock(new.id).parts.contacts, self.problem.pricing.contacts(new)):
            if one.contacts is None or (new.came_with and one.contacts[1:] != ends[1:]):
                continue
            if one.kept or sum(a != b for a, b in zip(one.contacts, ends, strict=True)) == 1:
                yield run.with_contacts(new, one), _mine(one, " / ".join(end.id for end in one.contacts))

    # -- what the rules say of a neighbour

    def _refused(self, cheaper: Iterable[tuple[Part, str]]) -> tuple[Refused, ...]:
        shown: list[Refused] = []
        for part, text in cheaper:
            finding = self.objection(part)
            if finding is not None and finding.rule != "contact-fits":
                shown.append(Refused(text, finding.rule, finding.says))
            if len(shown) == SHOWN:
                break
        return tuple(shown)

    def objection(self, part: Part) -> Finding | None:
        """What speaks against ``part`` in the solution: what is refused, else the most important margin lost by it."""
        worst: tuple[tuple[int, int], Finding] | None = None
        for operating, rule, about in self._questions(part):
            finding = rule.find(operating, about)
            if finding is None:
                continue
            rank, steps = self.judge.count(finding)
            _, before = self.counts.get((finding.rule, finding.about), (0, 0))
            if steps == REFUSED:
                return _named(operating, finding)
            if steps > before and (worst is None or (rank, -steps) < worst[0]):
                worst = (rank, -steps), _named(operating, finding)
        return worst[1] if worst else None

    def _questions(self, part: Part) -> Iterator[tuple[Operating, Rule, object]]:
        """The questions whose answers a part may change, the quickest first."""
        views = self.judge.operating(put(self.case, part))
        served = {one.id for one in self.case.served.get(part.id, ())}
        if not isinstance(part, Lead):
            for view in views:
                yield from ((view, rule, one) for rule in self.judge.rules(SOURCE) for one in view.case.feeds)
                yield from ((view, rule, "station") for rule in self.judge.rules(STATION))
                yield from ((view, rule, one) for rule in self.judge.rules(LOAD) for one in view.case.draws)
        for view in views:
            near = [one for one in view.case.leads if one.id == part.id or self._beyond(view.case, one, part)]
            yield from ((view, rule, one) for rule in self.judge.rules(RUN) for one in near)
        for view in views:
            yield from ((view, rule, "station") for rule in self.judge.rules(STATION, True))
            loads = [one for one in view.case.draws if one.id in served]
            yield from ((view, rule, one) for rule in self.judge.rules(LOAD, True) for one in loads)
            yield from ((view, rule, one) for rule in self.judge.rules(SOURCE, True) for one in view.case.feeds)

    @staticmethod
    def _beyond(case: Case, lead: Lead, part: Part) -> bool:
        """Whether a lead hangs on ``part``."""
        return any(one.id == part.id or part.id in (one.start, one.end) for one in case.path(lead.end))

    def _better(self, new: Part, key: str, dearer: Iterable[tuple[Part, str]]) -> Better | None:
        """The next dearer part that nothing speaks against and that gives more, and what it gives."""
        before = self._gain(new, key)
        if before is None or before.figure is None:
            return None
        for part, text in dearer:
            after = self._gain(part, key)
            if after is None or after.figure is None or abs(after.figure.value - before.figure.value) < 1e-9:
                continue
            more = (after.figure.value > before.figure.value) is (
                book.BY_ID[after.rule].margin.more or key == "battery"
            )
            if more and self.objection(part) is None:
                price = self._price(part) - self._price(new)
                return Better(text, price, after.rule, before.figure, after.figure)
        return None

    def _price(self, part: Part) -> float:
        if isinstance(part, Lead):
            return run_price(part)
        if isinstance(part, Feed):
            return part.price.usual
        return part.strip.price.usual if part.strip else 0.0

    def _gain(self, part: Part, key: str) -> Finding | None:
        """The finding that tells what a part gives: of several loads the one that fares worst."""
        served = {one.id for one in self.case.served.get(part.id, ())} | {part.id}
        answers = []
        for view in self.judge.operating(put(self.case, part)):
            for name in GAINS.get(key, ()):
                rule = book.BY_ID[name]
                about = [one for one in book.parts(view, rule.of) if one.id in served]
                answers += [found for one in about if (found := rule.find(view, one)) and found.figure]
            if answers:
                break
        return max(answers, key=lambda one: one.figure.value if one.figure else 0.0, default=None)

    def _because(self, id_: str, key: str) -> str:
        served = {one.id for one in self.case.served.get(id_, ())}
        said = [
            one.says
            for rule in DECIDES[key]
            for one in self.findings
            if one.rule == rule and (one.about == id_ or (rule in ("drop", "window-floor") and one.about in served))
        ]
        return "; ".join(said[:2]) or "the cheapest on the shelf, and no rule objects"


MOST_BETTER = 4
"""Dearer neighbours that are looked at for one that gives more."""


def run_price(lead: Lead) -> float:
    """The middle of a lead's price band."""
    from engine.model.bill import lead_price

    return lead_price(lead).usual


def _named(operating: Operating, finding: Finding) -> Finding:
    only = operating.case.only
    return replace(finding, says=f"on {only}: {finding.says}") if only else finding


def _part(case: Case, id_: str) -> Part:
    return next(one for one in case.parts if one.id == id_)


def _row_id(part: Feed | Hub) -> str:
    if isinstance(part, Feed):
        return part.part or ""
    return part.strip.id if part.strip else ""


def price_title(part: Feed | Hub) -> str:
    """A candidate in words."""
    if part.owned:
        return f"yours, {part.title}"
    locked = isinstance(part, Feed) and part.adjustable and part.locked
    return f"{part.title}, its knob locked or covered" if locked else part.title


def _ends_text(lead: Lead) -> str:
    """What goes on the end of a lead that is bare, where the other has its plug."""
    if lead.contacts is None:
        return ""
    first, second = lead.contacts
    if lead.supplied:
        return f"{first.id} on its stripped end, never soldered strands under a screw; its own {second.id} is on it; "
    return "its plug comes with the last piece; " if lead.tail else ""


def _area(lead: Lead) -> tuple[bool, float]:
    return COPPER in lead.kept, lead.conductor.area if lead.conductor else 0.0


def _mine(part: Lead, text: str) -> str:
    return f"yours, {text}" if part.kept and not part.supplied else text


def _cheaper(options: tuple[Option[Lead], ...], cost: Cost) -> list[Lead]:
    return [one.item for one in reversed(options) if one.cost < cost]


# -- where there is no plan


def why_not(seeking: Seeking) -> list[str]:
    """Why no filling exists: how many supplies each rule refuses, with the cheapest of them; and what would help."""
    if seeking.gave_up:
        return ["too many combinations to try them all: describe the supply or some of the cables yourself"]
    search = seeking.searches[0]
    lines = ["nothing on the shelf fills the gaps without breaking a rule"]
    for feed in search.problem.case.feeds:
        if feed.id in search.problem.open:
            lines += _refusals(search, feed)
    lines += [f"without {one} a plan exists: feed it on its own" for one in _obstacles(seeking)]
    lines += _shorter(seeking)
    return lines


def _refusals(search: Search, feed: Feed) -> Iterator[str]:
    offered = search.feeds[feed.id]
    grouped: dict[tuple[str, str], list[str]] = {}
    for option in offered:
        views = search.judge.operating(put(search.judge.case, option.item))
        finding = next((one for one in book.judge(views) if search.judge.refuses(one)), None)
        if finding:
            grouped.setdefault((finding.rule, finding.about), []).append(f"{option.item.title}: {finding.says}")
    if not offered:
        yield "no supply on the shelf agrees with what is said of the source"
    for (rule, _), said in grouped.items():
        yield f"{rule} refuses {len(said)} of {len(offered)} supplies, for example {said[0]}"


def _exists(seeking: Seeking, case: Case) -> bool:
    """Whether a changed case can be filled."""
    problem = seeking.searches[0].problem
    changed = Problem(problem.station, case, problem.shelf, problem.own, problem.thin)
    return Seeking([changed], seeking.stop, FEW).run() is not None


def _shorter(seeking: Seeking) -> Iterator[str]:
    """The first of some shorter lead lengths at which a plan exists."""
    case = seeking.searches[0].problem.case
    for share in (0.5, 0.25, 0.1):
        leads = tuple(one if one.owned else replace(one, length=one.length * share) for one in case.leads)
        if _exists(seeking, replace(case, leads=leads)):
            yield f"with every lead at {share * 100:.0f} % of its length a plan exists"
            return


def _obstacles(seeking: Seeking) -> list[str]:
    case = seeking.searches[0].problem.case
    obstacles = []
    for draw in case.draws[:MOST_LEFT_OUT]:
        rest = tuple(one for one in case.draws if one.id != draw.id)
        leads = tuple(one for one in case.leads if one.end != draw.id)
        if rest and not draw.converts and _exists(seeking, replace(case, draws=rest, leads=leads)):
            obstacles.append(draw.id)
    return obstacles
