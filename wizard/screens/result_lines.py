"""The lines of a result's sections, each with what stands behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.advice.cautions import cautions
from engine.advice.fitting import fitting
from engine.advice.requirements import musts
from engine.findings import Choice, Finding
from engine.planning.plan import Plan
from engine.rules.book import BY_ID
from wizard.screens.list_line import Line
from wizard.view.purchases import table
from wizard.view.span import DIM, MARK, STRONG, Span
from wizard.view.span import Line as Spans

BUYING = "Prices are illustrative: put yours in their place in your own catalogue. Each row says why it was chosen."
ILLUSTRATIVE = "The middle of the two counts against the budget. Spare fuses of each rating belong into the drawer."


def tabs(titles: Sequence[str], chosen: int) -> Spans:
    """The sections side by side, the one shown between brackets; each is its own part for the mouse."""
    spans: list[Span] = []
    for place, title in enumerate(titles):
        text = f"[{place + 1} {title}]" if place == chosen else f" {place + 1} {title} "
        spans += [Span(text, STRONG if place == chosen else DIM, str(place)), Span(" ")]
    return tuple(spans)


def bought(made: Plan, width: int) -> Iterator[Line]:
    """What to buy, each row with why, what was refused, what to look for and what to do with it."""
    verdict, first = made.verdict, True
    for row, text in table(verdict, width):
        if row is None:
            yield Line(text, ILLUSTRATIVE if not first else BUYING)
        else:
            mine = [one for one in verdict.choices if one.about == f"{row.about}.{row.key}"]
            behind = [row.what, "", *map(_reason, mine)]
            behind += _look_for(made, row.about) if row.key == "part" else ()
            behind += _to_do(made, row.about) if row.key in ("part", "conductor") else ()
            behind += _handle(made, row.about) if row.key == "contacts" else ()
            yield Line(text, "\n".join(behind if mine else [*behind, "given, not chosen"]), part=row.about)
        first = False


def _look_for(made: Plan, about: str) -> Iterator[str]:
    for one in musts(made.verdict.case):
        if one.about == about:
            yield f"look for: {one.what} ({one.why})."


def _to_do(made: Plan, about: str) -> Iterator[str]:
    """What to do with a part once it is there."""
    yield from (line for line in fitting(made.verdict.operating) if line.startswith(f"{about}: "))


def _handle(made: Plan, about: str) -> Iterator[str]:
    """What to know of the contacts on a lead."""
    for lead in made.verdict.case.leads:
        if lead.id == about:
            yield from dict.fromkeys(f"{one.id}: {one.note}" for one in lead.contacts or ())


def _reason(one: Choice) -> str:
    key = one.about.partition(".")[2]
    lines = [f"{key}: {one.chosen}, because {one.because}."]
    lines += [f"  not {other.candidate}: {other.says} ({other.rule})." for other in one.refused]
    return "\n".join(lines)


def findings(made: Plan) -> Iterator[Line]:
    """Every finding, worst first, with its basis and working."""
    for one in made.verdict.findings:
        yield Line(f"{MARK[one.outcome]} {one.outcome}: {one.says}", _behind(one), _working(one), one.about)


def _behind(one: Finding) -> str:
    pair = f"figure {one.figure}, limit {one.limit}. " if one.figure and one.limit else ""
    return f"{BY_ID[one.rule].asks} ({one.rule}, {one.about}) {pair}Basis: {one.basis}."


def _working(one: Finding) -> str:
    parts = []
    for name, figure in (("figure", one.figure), ("limit", one.limit)):
        if figure is not None:
            parts.append(f"{name}:\n" + "\n".join(f"  {line}" for line in figure.working()))
    return "\n".join(parts)


def switching(made: Plan) -> Iterator[Line]:
    """The order of switching on and off."""
    for number, one in enumerate(made.verdict.on, 1):
        yield Line(f"on {number}: {one.do}", f"Go on when {one.verify}.")
    for number, one in enumerate(made.verdict.off, 1):
        yield Line(f"off {number}: {one.do}", f"See: {one.verify}.")


def assumed(made: Plan) -> Iterator[Line]:
    """What was taken without the owner's word."""
    for one in made.verdict.assumptions:
        yield Line(
            f"{one.about.replace('.', ': ')} = {one.value}", f"Basis: {one.basis}. Find the true value: {one.find}."
        )


def care(made: Plan) -> Iterator[Line]:
    """The cautions."""
    for one in cautions(made.verdict.case, made.verdict.findings):
        yield Line(f"{one.word} ({one.about}): {one.says}", one.says)
