"""What the old parts would do for a new amplifier: each one judged in its place by the same rules, with figures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from engine.findings import Finding
from engine.model.case import Case, Draw, Feed, Hub, Lead
from engine.planning.problem import put
from engine.planning.reasons import DECIDES
from engine.planning.search import Search
from engine.planning.slots.run import copper_text, with_contacts, with_copper, with_fuse
from engine.rules import book
from engine.terms import Group

Own = Mapping[str, Feed | Hub | Lead]


def would_not_do(search: Search, found: Case, own: Own, new: list[str]) -> list[str]:
    """Why the supply and lead that stand there today cannot serve the amplifiers among ``new``, part by part."""
    amplifiers = [one for one in found.draws if one.id in new and one.group == Group.AMPLIFIER and one.id in found.into]
    return [line for one in amplifiers for line in _lines(search, found, own, one)]


def _lines(search: Search, found: Case, own: Own, draw: Draw) -> Iterator[str]:
    for key, what, part in _old_in_place(found, own, draw):
        refused = _refusal(search, put(found, part), key)
        if refused is not None:
            yield f"for {draw.id} {what} will not do ({refused.rule}): {refused.says}"


def _refusal(search: Search, case: Case, key: str) -> Finding | None:
    """What a plan may not hold of ``case``: a rule that decides such a part first, else the gravest."""
    refused = [
        one for one in book.judge(search.judge.operating(case)) if search.judge.refuses(one) or not book.kept(one)
    ]
    return next((one for one in refused if one.rule in DECIDES[key]), refused[0] if refused else None)


def _old_in_place(found: Case, own: Own, draw: Draw) -> Iterator[tuple[str, str, Feed | Lead]]:
    """The strongest old supply in the place of the new one; then the thickest old lead's cable, fuse and contacts."""
    feed, lead = found.source_of(draw.id), found.into[draw.id]
    feeds = [one for one in own.values() if isinstance(one, Feed)]
    if feeds and feed is not None and feed.id not in own:
        old = max(feeds, key=lambda one: one.continuous)
        yield "part", f"the old {old.id}", replace(old, id=feed.id, mains=feed.mains, circuit=feed.circuit)
    leads = [one for one in own.values() if isinstance(one, Lead) and one.conductor and one.id != lead.id]
    if not leads:
        return
    thick = max(leads, key=lambda one: one.conductor.area if one.conductor else 0.0)
    yield "conductor", f"cable as in {thick.id} ({copper_text(thick)})", with_copper(lead, thick)
    if thick.fuse_rating:
        yield "fuse", f"the fuse of {thick.id} ({thick.fuse_rating:g} A)", with_fuse(lead, thick)
    if thick.contacts:
        ends = " and ".join(one.id for one in thick.contacts)
        yield "contacts", f"contacts as on {thick.id} ({ends})", with_contacts(lead, thick)
