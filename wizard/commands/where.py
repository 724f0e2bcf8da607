"""The command that asks where one radio can live."""

from __future__ import annotations

import argparse

from engine.parts import Shelf
from engine.planning.homes import Living, homes
from engine.station.model import Load
from engine.station.table import Problems, nearest
from wizard.commands.answer import Done, held_by, read_station
from wizard.commands.output import dump, width
from wizard.view import homes as drawing
from wizard.view.span import MARK, Span


def where(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Draw where a class of radio, or each radio of a station file, can live."""
    done = Done()
    for load in _loads(args.radio, shelf, done):
        try:
            living = homes(load, shelf)
        except Problems as error:
            done.fail([f"{load.id}: {problem.what}; {problem.instead}" for problem in error.found])
            continue
        done.out += [dump(_report(living))] if args.json else _page(living)
    return done


def _loads(radio: str, shelf: Shelf, done: Done) -> tuple[Load, ...]:
    if radio in shelf.equipment:
        return (Load(radio, equipment=radio),)
    held = held_by(radio, done)
    if held is None:
        done.errors = [f"{radio[:40]!r} is neither a class nor a station file; {nearest(radio, shelf.equipment)}"]
        return ()
    return read_station(held, shelf, done, lambda read: read.station.loads) or ()


def _page(living: Living) -> list[str | tuple[Span, ...]]:
    verdict, room = drawing.outcome(living), width()
    head = Span(f"{MARK[verdict]} {drawing.headline(living)}", verdict)
    return ["", drawing.about(living), (head,), "", *drawing.draw(living, room)]


def _report(living: Living) -> dict[str, object]:
    low, high = living.window
    return {
        "load": living.load.id,
        "window": {"lowest": low, "highest": high},
        "lead": living.lead,
        "homes": [vars(home) for home in living.homes],
    }
