"""A verdict in words, for a terminal or a printer: plain lines, nothing that needs colour or a screen."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence

from engine.advice.cautions import cautions
from engine.advice.compare import CHANGES, STAYS, Change
from engine.advice.fitting import fitting
from engine.advice.longest import Longest, reaches
from engine.advice.requirements import musts
from engine.findings import Choice
from engine.model.heat import Heat, heat
from engine.model.terminals import Terminal
from engine.planning.plan import Plan
from engine.rules.check import Verdict
from wizard.papers.outcome import finding_line, headline
from wizard.view.purchases import table
from wizard.view.scene import Scene
from wizard.view.span import Line
from wizard.view.station import draw
from wizard.view.summary import cost, summary
from wizard.view.volts import drawing_lines

WIDTH = 100

KINDS = {
    "part": "Parts",
    "volts": "Volts at each load's own terminals",
    "current": "Current",
    "finding": "Findings that are not sound",
    "cost": "Cost",
}

_UNIT = re.compile(r"(?<=\d) (?=(?:V|A|W|Ω|mΩ|m|mm²|°C|%|s|AWG)\b|%|°C|mm²)")
"""The space between a number and its unit, where no line may break."""


def wrap(text: str, width: int, hang: int = 0) -> list[str]:
    """``text`` in lines of at most ``width``, the later ones indented by ``hang``."""
    tied = _UNIT.sub("\u00a0", text)
    lines = textwrap.wrap(tied, width, subsequent_indent=" " * hang, break_long_words=False) or [""]
    return [line.replace("\u00a0", " ") for line in lines]


def compare_lines(before: Verdict, after: Verdict, changes: Sequence[Change]) -> Iterator[str]:
    """What changes between two stations, what stays in a single line."""
    yield f"{before.station.name} ({before.outcome}) -> {after.station.name} ({after.outcome})"
    for kind, title in KINDS.items():
        mine = [one for one in changes if one.kind == kind]
        moved = [one for one in mine if one.how != STAYS]
        kept = [one.about for one in mine if one.how == STAYS]
        yield from _section(title, (line for one in moved for line in _change(one)))
        if kept and kind == "part":
            yield from wrap(f"  stays: {', '.join(kept)}", WIDTH, 4)


def _change(one: Change) -> Iterator[str]:
    if one.how == CHANGES:
        yield from wrap(f"{one.about}: {one.before}", WIDTH - 4, 4)
        yield from (f"  {line}" for line in wrap(f"-> {one.after}", WIDTH - 6, 5))
    else:
        yield from wrap(f"{one.about} {one.how}: {one.after or one.before}", WIDTH - 4, 4)


def terminal_line(one: Terminal) -> str:
    """One load's volts against its window."""
    window = f"window {one.window[0]:.2f} to {one.window[1]:.2f} V" if one.window else "window not known"
    if one.lowest is None or one.highest is None or one.expected is None:
        return f"{one.id:<12} {one.state or 'volts not known yet'}; {window}"
    worst = f"{one.lowest:.2f} V at worst ({one.state})"
    return f"{one.id:<12} {worst}, {one.expected:.2f} V expected, up to {one.highest:.2f} V at rest; {window}"


def reach_line(one: Longest) -> str:
    """One lead's length against the longest that keeps the margins."""
    if not one.longest:
        return f"{one.id}: {one.length:.2f} m; no length of this cable keeps the margins"
    return f"{one.id}: {one.length:.2f} m; up to {one.longest:.2f} m of the same cable keeps the margins"


def heat_line(one: Heat) -> str:
    """The mean heat of supplies and leads, the largest parts named."""
    most = ", ".join(f"{name} {figure.value:.0f} W" for name, figure in one.parts[:3] if figure.value >= 0.5)
    lost = f"up to {one.total.value:.0f} W over hours are lost in supplies and leads ({most})"
    return f"{lost}; what the equipment itself turns into heat comes on top"


def plan_lines(plan: Plan, width: int = WIDTH, drawn: Iterable[str | Line] | None = None) -> Iterator[str | Line]:
    """The plan on a page: what it comes to, the drawing, what to buy, in which order to switch, what was assumed.

    ``drawn`` stands in the place of the drawing where lines cannot be seen.
    """
    verdict = plan.verdict
    yield headline(verdict)
    for note in plan.notes:
        yield from wrap(f"* {note}", width, 2)
    yield from opening(verdict, width, drawn)
    yield from _section("Volts over hours, or in every condition of the vehicle", drawing_lines(verdict, width - 2))
    yield from _section("What is not sound", _open(verdict, width))
    have = [f"{must.what}: {must.why}" for must in musts(verdict.case)]
    yield from _section("What is bought must have", _bullets(have, width))
    yield from _section("What to do with it", _bullets(fitting(verdict.operating), width))
    yield from _section(
        "Switching on", _numbered([f"{step.do}; go on when {step.verify}" for step in verdict.on], width)
    )
    yield from _section("Switching off", _numbered([f"{step.do}; {step.verify}" for step in verdict.off], width))
    yield from _section("Taken without your word", _bullets(_assumed(verdict), width))
    care = [f"{caution.word} ({caution.about}): {caution.says}" for caution in cautions(verdict.case, verdict.findings)]
    yield from _section("Take care", _bullets(care, width))


def reason_lines(plan: Plan, width: int = WIDTH) -> Iterator[str | Line]:
    """What stands behind a plan: why each part, the volts everywhere, how far the cable carries, heat."""
    verdict = plan.verdict
    yield from _section("What to buy, and why", _bought(verdict, width))
    yield from _section("Linear or switch-mode", _bullets([rival.says for rival in verdict.rivals], width))
    yield from _section("Volts at each load's own terminals", map(terminal_line, verdict.terminals))
    yield from _section("How far the same cable carries", map(reach_line, reaches(verdict.operating)))
    warm = heat(verdict.operating)
    is_warm = warm is not None and warm.total.value >= 0.5
    yield from _section("Heat in the room", iter(wrap(heat_line(warm), width - 2, 2) if warm and is_warm else ()))


def draw_lines(plan: Plan, width: int = WIDTH) -> Iterator[str | Line]:
    """The station drawn, and nothing else."""
    yield from draw(Scene(plan.verdict), width)


def _assumed(verdict: Verdict) -> list[str]:
    return [f"{taken.about} = {taken.value}: {taken.basis}; see {taken.find}" for taken in verdict.assumptions]


def opening(verdict: Verdict, width: int, drawn: Iterable[str | Line] | None = None) -> Iterator[str | Line]:
    """The verdict in a sentence, the station ``drawn``, and a table of what to buy."""
    said = ". ".join(filter(None, (summary(verdict), cost(verdict))))
    yield from ("", *wrap(f"{said}.", width), "")
    yield from draw(Scene(verdict), width) if drawn is None else drawn
    if any(item.high for item in verdict.items):
        yield from ("", *(text.rstrip() for _, text in table(verdict, width)))


def _section(title: str, lines: Iterator[str]) -> Iterator[str]:
    body = list(lines)
    if body:
        yield ""
        yield title
        yield from (f"  {line}" if line else "" for line in body)


def _bought(verdict: Verdict, width: int) -> Iterator[str]:
    if not verdict.choices and not any(one.high for one in verdict.items):
        return
    for item in verdict.items:
        yield from wrap(f"{item.about}: {item.what}  [{item.price}]", width - 2, 4)
        for choice in verdict.choices:
            if choice.about.partition(".")[0] == item.about:
                yield from _reason(choice, width)
    low, high = sum(one.low for one in verdict.items), sum(one.high for one in verdict.items)
    yield f"together about {(low + high) / 2:.0f} ({low:.0f} to {high:.0f}); prices are illustrative, put yours instead"
    yield f"together {sum(one.kilograms for one in verdict.items):.1f} kg, the equipment itself not weighed"


def _reason(choice: Choice, width: int) -> Iterator[str]:
    key = choice.about.partition(".")[2]
    yield from (f"    {line}" for line in wrap(f"{key}: {choice.chosen}, because {choice.because}", width - 6, 2))
    for one in choice.refused[:1]:
        text = f"not {one.candidate} ({one.rule}): {one.says}"
        yield from (f"      {line}" for line in wrap(text, width - 8, 2))
    if choice.better:
        yield from (f"      {line}" for line in wrap(f"better: {choice.better.says}", width - 8, 2))


def _open(verdict: Verdict, width: int) -> Iterator[str]:
    for one in verdict.findings:
        if one.outcome != "sound":
            yield from wrap(finding_line(one), width - 2, 4)


def _numbered(texts: Sequence[str], width: int) -> Iterator[str]:
    for number, text in enumerate(texts, 1):
        yield from wrap(f"{number}. {text}", width - 2, 3)


def _bullets(texts: Sequence[str], width: int) -> Iterator[str]:
    for text in texts:
        yield from wrap(f"- {text}", width - 2, 2)
