"""The commands without a screen: each gives lines to print, errors and an exit status."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from engine import plan as planning
from engine.advice import compare as comparing
from engine.advice.report import derived, report
from engine.findings import UNSOUND
from engine.parts import Shelf
from engine.plan import Plan
from engine.planning import upgrade as upgrading
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station import profile
from engine.station.profile import Profile
from engine.station.table import Problems
from wizard import store
from wizard.commands.output import dump, width
from wizard.papers.card import card_lines
from wizard.papers.hours import hours_lines
from wizard.papers.note import note_lines
from wizard.papers.words import brief_line, check_lines, compare_lines, plan_lines

Made = TypeVar("Made")


@dataclass
class Done:
    """What a command has to say."""

    status: int = 0
    out: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def fail(self, lines: Sequence[str], status: int = 2) -> Done:
        """Note errors."""
        self.errors += lines
        self.status = max(self.status, status)
        return self


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
    made = read_station(args.file, shelf, done, make)
    return _show(done, made, args) if made else done


def _show(done: Done, made: Plan, args: argparse.Namespace) -> Done:
    """Print a plan, and write its profile where asked."""
    done.out = [dump(report(made.verdict, made.notes))] if args.json else list(plan_lines(made, width()))
    done.status = 1 if made.verdict.outcome == UNSOUND or not made.complete else 0
    if args.out:
        save(done, Path(args.out), made.verdict, args.json)
    return done


def save(done: Done, path: Path, verdict: Verdict, quiet: bool) -> None:
    """Write the profile of a judged station; what goes wrong is noted in ``done``."""
    try:
        fresh = store.save(path, profile_text(verdict))
    except store.StoreError as error:
        done.fail([str(error)])
        return
    if not quiet:
        done.out += ["", f"saved to {path}" if fresh else f"{path} holds this already; left as it is"]


def profile_text(verdict: Verdict) -> str:
    """The profile of a judged station."""
    return profile.write(verdict.station, derived(verdict))


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


def check(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Judge each station; one that cannot be read does not stop the others."""
    done = Done()
    for name in args.files:
        verdict = judged(name, shelf, done)
        if verdict:
            words = [brief_line(verdict)] if args.brief else list(check_lines(verdict))
            done.out += [dump(report(verdict))] if args.json else words
            done.status = max(done.status, 1 if verdict.outcome == UNSOUND else 0)
    return done


def note(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Print the note for the electrician."""
    return _paper(args, shelf, lambda verdict: note_lines(verdict, shelf))


def card(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Print the switching card."""
    return _paper(args, shelf, card_lines)


def hours(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Print how long the batteries last, and what lower power would buy."""
    return _paper(args, shelf, lambda verdict: hours_lines(verdict, shelf))


def _paper(args: argparse.Namespace, shelf: Shelf, lines: Callable[[Verdict], Iterable[str]]) -> Done:
    """Judge one station and print a paper about it."""
    done = Done()
    verdict = judged(args.file, shelf, done)
    if verdict:
        done.out = list(lines(verdict))
    return done


def judged(name: str, shelf: Shelf, done: Done) -> Verdict | None:
    """The verdict on one station file; its faults are noted in ``done``."""
    return read_station(name, shelf, done, lambda read: checking.check(read.station, shelf, read.choices))


def read_station(name: str, shelf: Shelf, done: Done, make: Callable[[Profile], Made]) -> Made | None:
    """What ``make`` makes of one station file; None, with the faults noted in ``done``, where it cannot."""
    path = store.find(name)
    try:
        return make(profile.read(store.read_text(path), shelf))
    except store.StoreError as error:
        done.fail([str(error)])
    except Problems as error:
        done.fail(store.problems_of(path, error))
    return None


BY_NAME: Mapping[str, Callable[[argparse.Namespace, Shelf], Done]] = {
    "plan": plan,
    "check": check,
    "upgrade": upgrade,
    "compare": compare,
    "card": card,
    "note": note,
    "hours": hours,
}
"""Every command that needs no screen, by the word that it is called with."""
