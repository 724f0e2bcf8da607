"""Repairs in words and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from engine.findings import UNSOUND, Finding
from engine.planning.repair import Mending, Repair
from engine.rules.check import Verdict
from wizard.papers.outcome import finding_line, headline
from wizard.papers.words import WIDTH, wrap

NOTHING = "nothing is unsound: nothing needs to be mended"


def repair_lines(one: Mending, width: int = WIDTH) -> Iterator[str]:
    """What mends a station, then what would mend each finding alone."""
    yield headline(one.verdict)
    asked = [found for found in one.verdict.findings if found.turns_on]
    if asked:
        yield "First find out"
        for found in asked:
            yield from wrap(f"  - {found.says}", width, 4)
    if not one.each:
        yield "nothing else is unsound: nothing else needs to be mended" if asked else NOTHING
        return
    yield from _what(one, width)
    yield ""
    yield "Each finding alone"
    for finding, best in one.each:
        yield from wrap(f"  {finding_line(finding)}", width, 6)
        yield from wrap(f"    {best.says}{_price(best)}" if best else "    no single change mends it", width, 6)


def _what(one: Mending, width: int) -> Iterator[str]:
    if one.single:
        yield from wrap(f"One change is enough. {one.single.says}{_price(one.single)}", width, 2)
        if not one.single.strict:
            yield from wrap(
                "  something is thin after it that is not thin today; no single change avoids that", width, 4
            )
        return
    yield "No single change is enough; together:"
    for text in one.settings:
        yield from wrap(f"- {text}", width, 2)
    for text in one.many.notes if one.many else ():
        yield from wrap(f"- {text}", width, 2)
    if one.many:
        items = [item for item in one.many.verdict.items if item.high]
        for item in items:
            yield from wrap(f"- to buy for {item.about}: {item.what}", width, 2)
        low, high = sum(item.low for item in items), sum(item.high for item in items)
        yield f"  about {(low + high) / 2:.0f} ({low:.0f} to {high:.0f}); prices are illustrative"


def _price(one: Repair) -> str:
    if not one.price.high:
        return "  [costs nothing]"
    return f"  [about {one.price.low:.0f} to {one.price.high:.0f}]"


def after(one: Mending) -> Verdict | None:
    """The verdict on the set of changes, where there is one that works."""
    return one.many.verdict if one.many and one.many.complete and one.many.verdict.outcome != UNSOUND else None


def repair_data(one: Mending) -> dict[str, Any]:
    """What mends a station, as plain data."""
    return {
        "name": one.verdict.station.name,
        "outcome": one.verdict.outcome,
        "find_out": [_finding(found) for found in one.verdict.findings if found.turns_on],
        "single": _data(one.single),
        "settings": list(one.settings),
        "many": list(one.many.notes) if one.many else [],
        "each": [{**_finding(finding), "repair": _data(best)} for finding, best in one.each],
    }


def _finding(one: Finding) -> dict[str, str]:
    return {"rule": one.rule, "about": one.about, "says": one.says}


def _data(one: Repair | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "about": one.about,
        "what": one.what,
        "before": one.before,
        "after": one.after,
        "says": one.says,
        "low": round(one.price.low, 2),
        "high": round(one.price.high, 2),
        "mends": [{"rule": rule, "about": about} for rule, about in one.mends],
        "strict": one.strict,
    }
