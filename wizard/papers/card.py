"""The switching card: one page to hang beside the station."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.findings import UNSOUND, Step
from engine.model.switching import never
from engine.rules.check import Verdict
from wizard.papers.words import wrap

WIDTH = 80
STOP = "If anything differs from what stands here, stop and switch off in the order above."


def card_lines(verdict: Verdict) -> Iterator[str]:
    """The whole card, at most 80 columns wide."""
    yield from wrap(f"SWITCHING CARD: {verdict.station.name}", WIDTH, 4)
    if not verdict.case.feeds:
        yield from wrap("! no source is described yet: plan the station first, then print its card", WIDTH, 2)
    broken = sum(one.outcome == UNSOUND for one in verdict.findings)
    if broken:
        yield from wrap(f"! {broken} findings are unsound: mend them before switching on (shackrail check)", WIDTH, 2)
    yield from _steps("ON", verdict.on)
    yield from _steps("OFF", verdict.off)
    yield ""
    yield "NEVER WHILE LIVE"
    for text in never(verdict.case):
        yield from wrap(f"  - {text}", WIDTH, 4)
    yield ""
    yield from wrap(STOP, WIDTH)


def _steps(title: str, steps: Sequence[Step]) -> Iterator[str]:
    yield ""
    yield title
    for number, one in enumerate(steps, 1):
        yield from wrap(f"  [ ] {number}. {one.do}", WIDTH, 6)
        yield from wrap(f"      see: {one.verify}", WIDTH, 11)
