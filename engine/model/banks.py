"""Sources of one kind side by side: what they give together; of batteries also the cable and fuse of each of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from engine.model.case import EVEN_SHARE, HIGHEST, LOWEST, Corner, Feed, Lead
from engine.model.operating import ROOM
from engine.parts import Limits, Price
from engine.physics import copper, fuses
from engine.station.model import Run
from engine.terms import Serves


def side_by_side(one: Feed, count: int, shares: bool) -> Feed:
    """``count`` supplies like ``one`` on the same posts: rated together where they share, priced and limited as all."""
    if count < 2:
        return one
    several = replace(one, parallel=count, shares=shares)
    return _together(several, several.counts)


def bank(one: Feed, count: int) -> Feed:
    """``count`` batteries like ``one`` side by side: capacity and weight of all, resistance of one over their number.

    For current they count as a little less than their sum, as no two of them share evenly (``EVEN_SHARE``).
    """
    if count < 2 or one.cell is None:
        return one
    return replace(
        _together(replace(one, parallel=count), count * EVEN_SHARE),
        fault_ohms=one.fault_ohms / count,
        cell=replace(one.cell, amp_hours=one.cell.amp_hours * count),
        corners=tuple(replace(at, ohms=at.ohms / count) for at in one.corners),
    )


def _together(several: Feed, counts: float) -> Feed:
    """What several alike give together, their figures still being those of one; rated ``counts`` times one."""
    count = several.parallel
    return replace(
        several,
        title=f"{count} × {several.title}",
        continuous=several.continuous * counts,
        peak=several.peak * counts,
        limit=several.limit * count,
        kilograms=several.kilograms * count,
        price=Price(several.price.low * count, several.price.high * count),
    )


def string_ohms(lead: Lead, celsius: float) -> float:
    """Resistance [Ω] of one cable of a bank, both legs, with fuse and contacts; nothing while its size is open."""
    if lead.missing or lead.conductor is None:
        return 0.0
    loop = copper.loop_ohms(copper.ohms_per_metre(lead.conductor.ohms_per_metre, celsius), lead.length)
    fuse = fuses.ohms(lead.fuse_rating, lead.fuse_type.drop) if lead.fuse_type and lead.fuse_rating else 0.0
    return loop + fuse + sum(2 * one.ohms for one in lead.contacts or ())


def with_string(feed: Feed, lead: Lead, limits: Limits, shortest: float | None = None) -> Feed:
    """The bank with the cable of each of its batteries: in each condition their resistance adds to that inside."""
    usual = string_ohms(lead, min(ROOM, lead.ambient)) / feed.parallel
    worst = string_ohms(lead, lead.ambient) * (1 + limits.as_built) / feed.parallel

    def joined(at: Corner) -> Corner:
        return at if at.name == HIGHEST else replace(at, ohms=at.ohms + (worst if at.name == LOWEST else usual))

    corners = tuple(map(joined, feed.corners))
    return replace(feed, string=lead, shortest=lead.length if shortest is None else shortest, corners=corners)


def strung(feeds: Sequence[Feed], runs: Sequence[Run], leads: Sequence[Lead], limits: Limits) -> tuple[Feed, ...]:
    """Every bank with the cable that its station describes; a battery alone has none."""
    cables = {run.end: (run, lead) for run, lead in zip(runs, leads, strict=True) if run.serves == Serves.STRING}
    made = []
    for feed in feeds:
        if feed.is_bank and feed.id in cables:
            run, lead = cables[feed.id]
            longest = run.longest or lead.length
            made.append(with_string(feed, replace(lead, length=max(longest, lead.length)), limits, lead.length))
        else:
            made.append(feed)
    return tuple(made)


def one_of(feed: Feed) -> Feed:
    """A bank as one of its batteries meets it: a short behind its fuse is fed by all the others (or by itself alone).

    The cables of the others are left out of the fault, so that it is rather too large.
    """
    others = max(feed.parallel - 1, 1)
    share = others / feed.parallel
    return replace(
        feed, parallel=1, string=None, limit=feed.limit * share, fault_ohms=feed.fault_ohms / share,
        continuous=feed.continuous / feed.parallel, peak=feed.peak / feed.parallel,
    )  # fmt: skip


def largest_share(feed: Feed, inside: float) -> float:
    """What the battery with the shortest cable carries, over an even share; 1 where all cables are alike.

    ``inside`` is the resistance [Ω] of one battery. Branches side by side share by their conductances (circuit law).
    """
    if feed.string is None or feed.string.missing or inside <= 0:
        return 1.0
    near = 1 / (inside + string_ohms(replace(feed.string, length=feed.shortest), ROOM))
    far = 1 / (inside + string_ohms(feed.string, ROOM))
    return near * feed.parallel / (near + (feed.parallel - 1) * far)
