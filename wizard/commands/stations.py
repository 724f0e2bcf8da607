"""The commands without a screen: each gives lines to print, errors and an exit status."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from engine.advice import compare as comparing
from engine.advice.report import report
from engine.advice.session_report import hours_report
from engine.findings import UNSOUND
from engine.parts import Shelf
from engine.planning import plan as planning
from engine.planning import upgrade as upgrading
from engine.planning.plan import Plan
from engine.rules.check import Verdict
from engine.station.profile import Profile
from wizard import store
from wizard.commands.answer import Done, Saving, held_by, judged, read_station
from wizard.commands.output import dump, width
from wizard.interview import saving
from wizard.interview.saving import Consent, InTheWay, Saved
from wizard.papers.card import card_lines
from wizard.papers.hours import hours_lines
from wizard.papers.note import note_lines
from wizard.papers.words import compare_lines, draw_lines, plan_lines, reason_lines
from wizard.store import Held, StoreError
from wizard.view.span import Line


def plan(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Plan one station, print it, and write the profile where asked."""

    def make(read: Profile) -> Plan:
        if args.again:
            return planning.plan(planning.reopen(read.station, read.choices), shelf)
        return planning.plan(read.station, shelf, read.choices)

    return _planned(args, shelf, make)


def upgrade(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Add equipment to a station that stands, keeping what the rules let stay."""

    def make(read: Profile) -> Plan:
        station = upgrading.owned(read.station)
        for name in args.add:
            station = upgrading.with_load(station, name, shelf)
        return upgrading.upgrade(station, shelf)

    return _planned(args, shelf, make)


def _planned(args: argparse.Namespace, shelf: Shelf, make: Callable[[Profile], Plan]) -> Done:
    """Read one station, make a plan of it, print it, and write its profile where asked."""
    done = Done()
    held = held_by(args.file, done)
    made = read_station(held, shelf, done, make) if held else None
    if held is None or made is None:
        return done
    done.out = _answer(args, made)
    done.status = 1 if made.verdict.outcome == UNSOUND or not made.complete else 0
    done.saving = saving_for(args, made.verdict, shelf, held)
    return done


def _answer(args: argparse.Namespace, made: Plan) -> list[str | Line]:
    """A plan as it was asked for."""
    if args.json:
        return [dump(report(made.verdict, made.notes))]
    if args.draw:
        return list(draw_lines(made, width()))
    if args.why:
        return [*plan_lines(made, width()), *reason_lines(made, width())]
    return [*plan_lines(made, width()), "", "Why each part, what was refused, all volts and lengths: add --why"]


def saving_for(args: argparse.Namespace, verdict: Verdict, shelf: Shelf, held: Held) -> Saving | None:
    """What a command was asked to write."""
    return None if args.out is None else Saving(args.out, verdict, shelf, held, args.force, args.json)


def save(wanted: Saving, ask: Callable[[str], bool] | None) -> Done:
    """Write a profile; ``ask`` asks before something of the owner's is replaced, and is None where nobody can be."""
    done = Done()
    try:
        path = out_path(wanted.name)
        saved = _agreed(wanted, path, ask)
    except StoreError as error:
        return done.fail([str(error)])
    if not wanted.quiet:
        done.out = ["", f"saved to {path}" if saved.fresh else f"{path} holds this already; left as it is"]
    return done


def _agreed(wanted: Saving, path: Path, ask: Callable[[str], bool] | None) -> Saved:
    """Save, once the owner agrees to what it replaces."""
    consent = Consent(wanted.held, force=wanted.force)
    while True:
        try:
            return saving.save(path, wanted.verdict, wanted.shelf, consent)
        except InTheWay as error:
            if ask is None:
                raise StoreError(f"{error}; --force puts this one in its place, or choose another name") from None
            if not ask(f"{error}. Put this one in its place?"):
                raise StoreError(f"{path}: left as it is; nothing is saved") from None
            consent = replace(consent, shown=error.there)


def out_path(name: str) -> Path:
    """Where ``-o`` writes.

    Raises:
        StoreError: no file can be meant by ``name``.
    """
    if not name.strip() or name == store.STANDARD_INPUT:
        raise StoreError(f"-o {name!r}: is no file name; write one, for example my-profile.toml")
    return Path(name)


def compare(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Show what changes between two stations."""
    done, verdicts = Done(), []
    for name in (args.before, args.after):
        verdict = judged(name, shelf, done)
        if verdict:
            verdicts.append(verdict)
    if len(verdicts) < 2:
        return done
    before, after = verdicts
    changes = comparing.compare(before, after)
    if args.json:
        done.out = [
            dump({"before": before.station.name, "after": after.station.name, "changes": [vars(c) for c in changes]})
        ]
    else:
        done.out = list(compare_lines(before, after, changes))
    done.status = 1 if after.outcome == UNSOUND else 0
    return done


def note(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Print the note for the electrician."""
    return _paper(args, shelf, lambda verdict: note_lines(verdict, shelf))


def card(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Print the switching card."""
    return _paper(args, shelf, card_lines)


def hours(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Print how long the batteries last, and what lower power would buy."""
    if args.json:
        return _paper(args, shelf, lambda verdict: [dump(hours_report(verdict, shelf))])
    return _paper(args, shelf, lambda verdict: hours_lines(verdict, shelf))


def _paper(args: argparse.Namespace, shelf: Shelf, lines: Callable[[Verdict], Iterable[str]]) -> Done:
    """Judge one station and print a paper about it."""
    done = Done()
    verdict = judged(args.file, shelf, done)
    if verdict:
        done.out = list(lines(verdict))
    return done


BY_NAME: Mapping[str, Callable[[argparse.Namespace, Shelf], Done]] = {
    "plan": plan,
    "upgrade": upgrade,
    "compare": compare,
    "card": card,
    "note": note,
    "hours": hours,
}
"""The commands of this file, by the word that each is called with."""
