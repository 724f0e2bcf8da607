"""Why each part was chosen: the rules it answers, and the cheaper neighbours that a rule refused."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from engine import options
from engine.findings import Choice, Finding, Refused
from engine.model.case import CONTACTS, COPPER, FUSE, Case, Feed, Hub, Lead
from engine.options import Cost
from engine.rules import book
from engine.rules.rule import SOURCE
from engine.search import Search, put
from engine.written import KEY, source_keys

LAST = len(book.EASED) - 1
"""The loosest that a plan ever is."""

MOST_LEFT_OUT = 6
"""Loads of which it is tried whether a plan exists without them."""

FEW = 4_000
"""Candidates judged for each change that might help."""

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


def choices(search: Search, found: Case) -> tuple[Choice, ...]:
    """One choice for each gap filled between the search's case and ``found``."""
    findings = book.judged(found)
    made: list[Choice] = []
    for slot in (*search.stages, *search.branches):
        new = _part(found, slot.id)
        if isinstance(new, Lead):
            old = _part(search.case, slot.id)
            if isinstance(old, Lead):
                made += _lead_choices(search, found, findings, old, new)
        elif not new.owned:
            made.append(_feed_choice(search, found, findings, new))
    return tuple(made)


def _part(case: Case, id_: str) -> Feed | Hub | Lead:
    return next(one for one in case.parts if one.id == id_)


def _feed_choice(search: Search, found: Case, findings: tuple[Finding, ...], new: Feed | Hub) -> Choice:
    if isinstance(new, Feed):
        others: list[tuple[Cost, Feed | Hub]] = [(one.cost, one.item) for one in search.feeds(new.id)]
        cost, filled = search.pricing.feed(new), _filled(search, new)
    else:
        others = [(one.cost, one.item) for one in search.hubs(search.case, new.id)]
        cost, filled = search.pricing.hub(new), ("part",)
    cheaper = [item for price, item in others if price < cost]
    decides = "battery" if isinstance(new, Feed) and new.cell else "part"
    refused = _refused(search, found, ((one, _price_title(one)) for one in reversed(cheaper)))
    return Choice(
        f"{new.id}.part", f"{new.title} ({_row_id(new)})", _because(findings, found, new.id, decides), refused, filled
    )


def _row_id(part: Feed | Hub) -> str:
    if isinstance(part, Feed):
        return part.part or ""
    return part.strip.id if part.strip else ""


def _price_title(part: Feed | Hub) -> str:
    return f"yours, {part.title}" if part.owned else part.title


def _filled(search: Search, new: Feed) -> tuple[str, ...]:
    source = next(one for one in search.station.sources if one.id == new.id)
    wrote = (name for name, value in source_keys(new).items() if value is not None)
    return tuple(KEY[name] for name in wrote if getattr(source, name) is None)


def _lead_choices(search: Search, found: Case, findings: tuple[Finding, ...], old: Lead, new: Lead) -> Iterator[Choice]:
    if old.conductor is None and new.conductor is not None and (COPPER not in new.kept or new.supplied):
        given = new.id in search.given_insulation
        text = options.copper_text(new)
        because = _because(findings, found, new.id, "conductor")
        filled: tuple[str, ...] = ("conductor",) if given or new.supplied else ("conductor", "insulation")
        filled += ("supplied",) if new.supplied else ("tail", "tail_length") if new.tail else ()
        yield Choice(f"{new.id}.conductor", text, because, _refused(search, found, _thinner(search, new)), filled)
    if old.fuse_rating is None and new.fuse_type is not None and FUSE not in new.kept:
        text = f"{new.fuse_rating:g} A {new.fuse_type.id}"
        because = _because(findings, found, new.id, "fuse")
        yield Choice(
            f"{new.id}.fuse", text, because, _refused(search, found, _smaller(search, new)), ("fuse", "fuse_type")
        )
    if old.contacts is None and new.contacts is not None and CONTACTS not in new.kept:
        text = " / ".join(one.id for one in new.contacts)
        because = _because(findings, found, new.id, "contacts")
        yield Choice(f"{new.id}.contacts", text, because, _refused(search, found, _plainer(search, new)), ("contacts",))


def _thinner(search: Search, new: Lead) -> Iterator[tuple[Lead, str]]:
    open_ = search.gaps(search.case, new.id).copper
    made = [(options.with_copper(new, one), _mine(one, options.copper_text(one))) for one in open_]
    seen: set[str] = set()
    cheaper = sorted(_cheaper(search, new, made), key=_area, reverse=True)
    for lead, text in cheaper:
        size_id = f"{lead.conductor.id if lead.conductor else ''} {lead.supplied} {lead.tail is None} {len(lead.kept)}"
        if size_id not in seen:
            seen.add(size_id)
            yield lead, text


def _area(pair: tuple[Lead, str]) -> tuple[bool, float]:
    lead = pair[0]
    return COPPER in lead.kept, lead.conductor.area if lead.conductor else 0.0


def _mine(part: Lead, text: str) -> str:
    return f"yours, {text}" if part.kept and not part.supplied else text


def _smaller(search: Search, new: Lead) -> Iterator[tuple[Lead, str]]:
    made = [
        (options.with_fuse(new, one), _mine(one, f"{one.fuse_rating:g} A {one.fuse_type.id}"))
        for one in search.gaps(search.case, new.id).fuses
        if one.fuse_type is not None and (one.fuse_type == new.fuse_type or one.kept)
    ]
    return _cheaper(search, new, made)


def _plainer(search: Search, new: Lead) -> Iterator[tuple[Lead, str]]:
    ends = new.contacts or ()
    made = [
        (options.with_contacts(new, one), _mine(one, " / ".join(end.id for end in one.contacts)))
        for one in search.gaps(search.case, new.id).contacts
        if one.contacts and (one.kept or sum(a != b for a, b in zip(one.contacts, ends, strict=True)) == 1)
    ]
    return _cheaper(search, new, made)


def _cheaper(search: Search, new: Lead, made: list[tuple[Lead, str]]) -> Iterator[tuple[Lead, str]]:
    cost = search.pricing.lead(new)
    priced = sorted(
        ((search.pricing.lead(one), text, one) for one, text in made), key=lambda row: (row[0], row[1]), reverse=True
    )
    return ((one, text) for price, text, one in priced if price < cost)


def _refused(search: Search, found: Case, cheaper: Iterable[tuple[Feed | Hub | Lead, str]]) -> tuple[Refused, ...]:
    shown = []
    for part, text in cheaper:
        finding = search.worst(put(found, part))
        if finding is not None and finding.rule != "contact-fits":
            shown.append(Refused(text, finding.rule, finding.says))
        if len(shown) == SHOWN:
            break
    return tuple(shown)


def _because(findings: tuple[Finding, ...], found: Case, id_: str, key: str) -> str:
    served = {one.id for one in found.served.get(id_, ())}
    said = [
        one.says
        for rule in DECIDES[key]
        for one in findings
        if one.rule == rule and (one.about == id_ or (rule in ("drop", "window-floor") and one.about in served))
    ]
    return "; ".join(said[:2]) or "the cheapest on the shelf, and no rule objects"


def why_not(search: Search) -> list[str]:
    """Why no filling exists: how many supplies each rule refuses, with the cheapest of them; and what would help."""
    if search.gave_up:
        return ["too many combinations to try them all: describe the supply or some of the cables yourself"]
    lines = ["nothing on the shelf fills the gaps without breaking a rule"]
    for slot in search.stages:
        if slot.kind == SOURCE:
            lines += _refusals(search, slot.id)
    lines += [f"without {one} a plan exists: feed it on its own" for one in _obstacles(search)]
    lines += _shorter(search)
    return lines


def _refusals(search: Search, id_: str) -> Iterator[str]:
    offered = search.feeds(id_)
    grouped: dict[tuple[str, str], list[str]] = {}
    for option in offered:
        finding = search.worst(put(search.case, option.item))
        if finding:
            grouped.setdefault((finding.rule, finding.about), []).append(f"{option.item.title}: {finding.says}")
    if not offered:
        yield "no supply on the shelf agrees with what is said of the source"
    for (rule, _), said in grouped.items():
        yield f"{rule} refuses {len(said)} of {len(offered)} supplies, for example {said[0]}"


def _shorter(search: Search) -> Iterator[str]:
    """The first of some shorter lead lengths at which a plan exists."""
    for share in (0.5, 0.25, 0.1):
        leads = tuple(one if one.owned else replace(one, length=one.length * share) for one in search.case.leads)
        other = _loose(search, replace(search.case, leads=leads))
        if other.run() is not None:
            yield f"with every lead at {share * 100:.0f} % of its length a plan exists"
            return


def _loose(search: Search, case: Case) -> Search:
    """A short search on a changed case, as loose as a plan ever is."""
    return Search(search.station, case, search.shelf, ease=LAST, stop=search.stop, most=FEW)


def _obstacles(search: Search) -> list[str]:
    found = []
    for draw in search.case.draws[:MOST_LEFT_OUT]:
        rest = tuple(one for one in search.case.draws if one.id != draw.id)
        leads = tuple(one for one in search.case.leads if one.end != draw.id)
        if not rest:
            continue
        other = _loose(search, replace(search.case, draws=rest, leads=leads))
        if other.run() is not None:
            found.append(draw.id)
    return found
