"""How far each choice carries, in words."""

from __future__ import annotations

from collections.abc import Iterator

from engine.advice.tolerances import ROOM, SET_POINT, Limit, Reach
from engine.working import number
from wizard.papers.words import WIDTH, wrap


def reach_lines(name: str, found: tuple[Reach, ...], width: int = WIDTH) -> Iterator[str]:
    """Each quantity with the two places where it must stop."""
    yield f"{name}: how far each choice carries"
    if not found:
        yield "nothing can be said: a lead or a source is not described; plan it, or describe it"
    for one in found:
        now = f", now {number(one.now, one.unit)}" if one.what != ROOM else ""
        yield ""
        yield from wrap(f"{one.about}, {one.what}{now}", width)
        yield from wrap(f"  every margin is kept {limit_words(one, one.keeps)}", width, 4)
        yield from wrap(f"  nothing is unsound {limit_words(one, one.holds)}", width, 4)


def limit_words(one: Reach, limit: Limit | None) -> str:
    """Up or down to which value a quantity may go, and what objects beyond."""
    word = "down to" if one.what == SET_POINT else "up to"
    if limit is None:
        return f"{word} {number(one.end, one.unit)} and beyond"
    beyond = f"beyond, {limit.finding.rule}: {limit.finding.says}"
    passed = limit.value > one.now if one.what == SET_POINT else limit.value < one.now
    already = ", which is passed already" if passed and one.what != ROOM else ""
    return f"{word} {number(limit.value, one.unit)}{already}; {beyond}"
