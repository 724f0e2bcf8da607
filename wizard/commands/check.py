"""The command that judges stations as they stand: one file, or many at once."""

from __future__ import annotations

import argparse
import signal
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from engine.findings import UNSOUND
from engine.parts import Shelf
from engine.rules.check import Verdict
from wizard import store
from wizard.commands.answer import Done, judged
from wizard.commands.output import dump
from wizard.papers.outcome import brief_line, check_lines, counted

NAMES = 40
"""The most columns that names of files take in a list; a longer one pushes its own line to the right."""

WORDS, BRIEF, JSON = "words", "brief", "JSON"
"""How a verdict may be printed."""

AT_A_TIME = 8
"""Files that a process is given at once: enough to be worth handing the catalogue over."""


@dataclass(frozen=True)
class Checked:
    """What came of one file; no ``outcome`` where it could not be read."""

    lines: tuple[str, ...]
    outcome: str | None
    errors: tuple[str, ...]
    status: int


def check(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Judge each station; one that cannot be read does not stop the others."""
    done, outcomes = Done(), []
    manner = JSON if args.json else BRIEF if args.brief else WORDS
    one = partial(checked, shelf=shelf, manner=manner, wide=min(max(map(len, args.files)), NAMES))
    for answer in _each(one, args.files, args.jobs):
        done.out += answer.lines
        done.fail(answer.errors, answer.status)
        outcomes += [answer.outcome] if answer.outcome else []
    if manner == BRIEF and len(args.files) > 1:
        done.out += counted(outcomes, len(args.files))
    return done


def checked(name: str, shelf: Shelf, manner: str, wide: int) -> Checked:
    """Judge one station file and say so in one manner; ``wide`` columns are for its name."""
    done = Done()
    verdict = judged(name, shelf, done)
    if verdict is None:
        return Checked((), None, tuple(done.errors), done.status)
    lines = tuple(_said(verdict, manner, name, wide))
    return Checked(lines, verdict.outcome, (), 1 if verdict.outcome == UNSOUND else 0)


def _said(verdict: Verdict, manner: str, name: str, wide: int) -> Sequence[str]:
    if manner == JSON:
        from engine.advice.report import report

        return [dump(report(verdict))]
    return [brief_line(name, wide, verdict)] if manner == BRIEF else list(check_lines(verdict))


def _each(one: partial[Checked], names: Sequence[str], jobs: int) -> Iterator[Checked]:
    """The answers in the order of the names; by several processes where there are files enough for them."""
    jobs = min(jobs, -(-len(names) // AT_A_TIME))
    if jobs < 2 or store.STANDARD_INPUT in names:
        yield from map(one, names)
        return
    from concurrent.futures import ProcessPoolExecutor

    pool = ProcessPoolExecutor(jobs, initializer=_leave_interrupts_to_the_first)
    try:
        yield from pool.map(one, names, chunksize=AT_A_TIME)
    finally:
        pool.shutdown(cancel_futures=True)


def _leave_interrupts_to_the_first() -> None:
    """Ctrl-C ends the process that prints; that one ends the others."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
