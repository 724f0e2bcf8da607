"""The sections of a judged station that are worked out after the verdict: how to mend it, and how far it carries."""

from __future__ import annotations

from collections.abc import Iterator

from engine.advice.tolerances import ROOM, Reach
from engine.parts import Price
from engine.planning.repair import Mending, Repair
from engine.working import number
from wizard.papers.outcome import finding_line
from wizard.papers.reach import limit_words
from wizard.screens.list_line import Line

METER_HINT = Line(
    "trouble all the same? F8: type what a meter showed",
    "Two readings, at the supply and at the radio, both keyed, tell which part is at fault: F8.",
)


def mended(one: Mending | None) -> Iterator[Line]:
    """How to mend: the one change that is enough; else the set, then what would mend each finding alone."""
    if one is None or not one.each:
        yield Line("nothing is unsound: nothing needs mending", "Look at the thin findings under 3.")
        yield METER_HINT
        return
    yield from _single(one.single) if one.single else _together(one)
    for finding, best in one.each:
        if best and best != one.single:
            yield Line(f"alone: {_cost(best)}{best.says}", f"mends only this: {finding_line(finding)}")
        elif best is None:
            yield Line(f"no single change mends {finding.rule} of {finding.about}", finding.says)
    yield METER_HINT


def _single(best: Repair) -> Iterator[Line]:
    after = "Nothing is unsound after it, judged by the same rules."
    if not best.strict:
        after += " Something is thin after it that is not thin today; no single change avoids that."
    mends = ", ".join(f"{rule} of {about}" for rule, about in best.mends)
    yield Line(f"one change is enough: {_cost(best)}{best.says}", f"{after} It mends: {mends}.")


def _together(one: Mending) -> Iterator[Line]:
    why = "What stands counts as owned; only what the rules refuse is replaced."
    yield Line("no single change is enough; these together are:", why)
    for text in (*one.settings, *(one.many.notes if one.many else ())):
        yield Line(f"- {text}", why)
    if one.many is None:
        return
    items = [item for item in one.many.verdict.items if item.high]
    for item in items:
        yield Line(f"- to buy for {item.about}: {item.what}  ({item.price})", why)
    low, high = sum(item.low for item in items), sum(item.high for item in items)
    yield Line(f"together about {(low + high) / 2:.0f} ({low:.0f} to {high:.0f})", "Prices are illustrative.")


def _cost(one: Repair) -> str:
    return "free, " if not one.price.high else f"{_span(one.price)}, "


def _span(price: Price) -> str:
    return f"about {price.low:.0f} to {price.high:.0f}"


def carried(found: tuple[Reach, ...], unsound: bool) -> Iterator[Line]:
    """Each quantity with the place where a margin first breaks, and behind it where something is unsound."""
    if unsound and found:
        yield Line(
            "! unsound as it stands: what is broken already is left aside here",
            "A quantity that does not mend what is broken is judged by everything else. Mend the findings first.",
        )
    for one in found:
        now = "" if one.what == ROOM else f", now {number(one.now, one.unit)}"
        title = f"{one.about}, {one.what}{now}: margins kept {_short(one)}"
        yield Line(
            title,
            f"Every margin is kept {limit_words(one, one.keeps)}.\nNothing is unsound {limit_words(one, one.holds)}.",
        )
    if not found:
        yield Line("nothing can be said yet", "A lead or a source is not described; plan it, or describe it.")


def _short(one: Reach) -> str:
    return limit_words(one, one.keeps).partition(";")[0]
