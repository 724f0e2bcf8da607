"""Where one radio can live, drawn: a line for each source with its volts on one scale, and a sentence below it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from engine.findings import SOUND, THIN, UNSOUND
from engine.model.sources import OFF, RUNNING
from engine.planning.homes import LEAD_ACID, LITHIUM, Home, Living
from wizard.view.span import DIM, MARK, PLAIN, STRONG, Line, Span, clipped

NAME, VOLTS, LEAST = 33, 16, 24
"""The columns of a source's name and of its volts, and the fewest of the gauge."""


def outcome(living: Living) -> str:
    """What it comes to over all homes: sound where all are, unsound where not even the mains is."""
    found = {home.outcome for home in living.homes}
    if living.home("mains").outcome == UNSOUND:
        return UNSOUND
    return SOUND if found == {SOUND} else THIN


def headline(living: Living) -> str:
    """Where it can live, in a sentence."""
    lives = {home.name: home.outcome != UNSOUND for home in living.homes}
    said = ["At home yes" if lives["mains"] else "At home no"]
    if RUNNING in lives:
        said.append("in a car while the engine runs" if lives[RUNNING] else "in a car not on this lead")
    if lives.get(OFF):
        said.append("also with the engine off")
    said += [f"{_evening(lives, kind)} {title}" for kind, title in _BATTERIES if kind in lives]
    return "; ".join(said)


_BATTERIES = ((LEAD_ACID, "on lead-acid"), (LITHIUM, "on lithium iron phosphate"))


def _evening(lives: dict[str, bool], kind: str) -> str:
    return "an evening" if lives[kind] else "not for an evening"


def about(living: Living) -> str:
    """The radio, its window and its lead, in a line."""
    low, high = living.window
    amps = living.load.transmit or living.load.busy
    return (
        f"{living.load.title}: accepts {low:.1f} to {high:.1f} V at its own terminals; "
        f"on {living.lead}, {amps.high:g} A {'keyed' if living.load.transmit else 'at most'}"
    )


def draw(living: Living, width: int) -> Iterator[Line]:
    """Two lines for each home in ``width`` columns, under a scale of volts."""
    columns = max(width - NAME - VOLTS, LEAST)
    least, most = _ends(living)
    yield clipped((Span(" " * NAME), Span(_ruler(least, most, columns), DIM)), width)
    for home in living.homes:
        yield clipped(
            (
                Span(f"{MARK[home.outcome]} ", home.outcome, home.name),
                Span(f"{home.title[: NAME - 4]:<{NAME - 2}}", STRONG, home.name),
                *_gauge(home, living, least, most, columns),
                Span(f"{f'{home.lowest:.1f} to {home.highest:.1f} V':>{VOLTS}}", PLAIN, home.name),
            ),
            width,
        )
        yield clipped((Span(f"  {home.says}", DIM, home.name),), width)


def _ends(living: Living) -> tuple[int, int]:
    """The ends of the scale [V]: whole volts around every window and every source."""
    low = min(living.window[0], *(home.lowest for home in living.homes))
    high = max(living.window[1], *(home.highest for home in living.homes))
    return math.floor(low - 0.2), math.ceil(high + 0.2)


def _place(volts: float, least: int, most: int, columns: int) -> int:
    return min(max(round((volts - least) / (most - least) * (columns - 1)), 0), columns - 1)


def _ruler(least: int, most: int, columns: int) -> str:
    row = [" "] * columns
    step = max(math.ceil((most - least) * 4 / columns), 1)
    for volts in range(least, most + 1, step):
        text = f"{volts}"
        start = min(_place(volts, least, most, columns), columns - len(text))
        row[start : start + len(text)] = text
    return "".join(row) + " V"


def _gauge(home: Home, living: Living, least: int, most: int, columns: int) -> Line:
    """The window between its bars; thick where the volts move, marked as unsound where they leave it."""
    floor, ceiling = (_place(volts, least, most, columns) for volts in living.window)
    low, high = _place(home.lowest, least, most, columns), _place(home.highest, least, most, columns)
    return tuple(_cell(at, floor, ceiling, low, high, home) for at in range(columns))


def _cell(at: int, floor: int, ceiling: int, low: int, high: int, home: Home) -> Span:
    inside, moves = floor <= at <= ceiling, low <= at <= high
    if at in (floor, ceiling):
        return Span("│", STRONG, home.name)
    if moves:
        inner = SOUND if home.outcome == UNSOUND else home.outcome
        return Span("━", inner, home.name) if inside else Span("╍", UNSOUND, home.name)
    return Span("·" if inside else " ", DIM, home.name)
