"""The note for the electrician: what the station asks of the wall, put as questions."""

from __future__ import annotations

from collections.abc import Iterator

from engine.advice.electrician import Request, Side, requests
from engine.model.case import VEHICLE
from engine.model.wall import SITE
from engine.parts import Shelf
from engine.rules.check import Verdict
from engine.units import LENGTH, spell
from wizard.papers.words import wrap

WIDTH = 80

OPENING = (
    "This is a question to a licensed electrician, not an instruction to anyone. The figures are calculated from what "
    "the owner told; the local code and the electrician's own look at the place decide."
)
ON_WHEELS = (
    "Nothing of this station hangs on a wall circuit: there is nothing to ask. In a vehicle its maker's guide for "
    "fitting two-way radio decides, and a workshop helps."
)
OWNER = (
    "opens no panel, outlet or supply, and leaves every cover on",
    "never puts in a larger breaker or fuse because one trips",
    "leaves every earth pin and earth wire as it is",
    "does not use an extension lead as lasting wiring, nor one lead behind another",
    "connects no generator to house wiring",
)


def note_lines(verdict: Verdict, shelf: Shelf) -> Iterator[str]:
    """The whole note, at most 80 columns wide."""
    yield "NOTE FOR A LICENSED ELECTRICIAN"
    yield from wrap(f"Station: {verdict.station.name}", WIDTH, 2)
    yield ""
    yield from wrap(OPENING, WIDTH)
    made = requests(verdict.operating, shelf)
    if not made and verdict.case.feeds and all(one.kind == VEHICLE for one in verdict.case.feeds):
        yield ""
        yield from wrap(ON_WHEELS, WIDTH)
        return
    if not made:
        yield ""
        yield from wrap(
            "Nothing is known here that plugs into the wall: plan or describe the supply first, if there is one.", WIDTH
        )
    for one in made:
        yield ""
        yield from _request(one)
    yield from _list("Questions", _questions(verdict, made))
    yield from _list("What the owner does not do", list(OWNER))


def _request(one: Request) -> Iterator[str]:
    name = "The station's circuit" if one.circuit == SITE else f"The circuit of {one.circuit}"
    yield f"{name}: {one.mains:g} V, breaker {one.rating:g} A as told or taken"
    for part in one.parts:
        power = f"{part.watts:.0f} W, {part.largest:.1f} A at most"
        yield from wrap(f"  {part.id} ({part.title}): {power}, {part.steady:.1f} A over hours", WIDTH, 4)
    for side in one.sides:
        yield from wrap(f"  at {side.mains:g} V: {_side(side, one.length)}", WIDTH, 4)


def _side(side: Side, length: float | None) -> str:
    text = f"{side.largest:.1f} A at most, {side.counted:.1f} A with a continuous load counted at 125 %; "
    text += f"suggested rating {side.rating:g} A" if side.rating else "more than one ordinary circuit gives"
    if side.wire:
        over = f" over {spell(length, LENGTH)}" if length is not None else ", its length not known"
        text += f"; by table {side.wire}{over}: is that right here?"
    return text + (f" On today's wire {side.lost * 100:.1f} % are lost." if side.lost is not None else "")


def _questions(verdict: Verdict, made: tuple[Request, ...]) -> list[str]:
    place = verdict.case.place
    asked = [
        "What else hangs on the circuit, and does it bear this load beside that?",
        "Should the station have a circuit of its own, and at which voltage?",
        "Which wire, breaker, outlet and residual-current protection (RCD, GFCI) does the local code ask for?",
        "Is the earth of the outlet sound, and are all earths of the house bonded together?",
        "Does the breaker bear the surge of a large supply at the instant of switching on?",
    ]
    refused = [one for one in verdict.findings if one.outcome in ("unsound", "thin") and one.rule in WALL]
    asked += [f"What should be done about this: {one.says}?" for one in refused]
    if place.generator is not None:
        asked.append("If a generator is ever to feed the house wiring: which transfer switch?")
    return asked if made else []


WALL = ("wall", "wall-load", "circuit", "circuit-wire", "extension-lead", "mains-drop", "generator")


def _list(title: str, texts: list[str]) -> Iterator[str]:
    if texts:
        yield ""
        yield title
    for text in texts:
        yield from wrap(f"  - {text}", WIDTH, 4)
