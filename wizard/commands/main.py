"""The command line: the wizard on a terminal; plan and check without one."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from wizard.commands import completion, grammar, output, streams
from wizard.version import ShowVersion

if TYPE_CHECKING:
    from engine.parts import Shelf
    from wizard.commands.answer import Done

SOUND, UNSOUND, UNREADABLE = 0, 1, 2
NAMED = 40
"""How much of a word that is not known is said again."""

LISTED = (
    "equipment",
    "supplies",
    "batteries",
    "chemistries",
    "vehicles",
    "boosters",
    "changeovers",
    "chargers",
    "panels",
    "contacts",
    "fuses",
    "modes",
    "instruments",
    "symptoms",
    "stations",
)

TEACH = """\
Without arguments, shackrail opens the wizard: guided screens that end in a saved station profile.

A station file is TOML; what you leave out is a gap for the plan to fill:

  format = 1
  name = "My first station"

  [[load]]
  id = "hf"
  class = "hf-100w"
  transmit = "22 A"

  shackrail plan my-station.toml -o my-profile.toml   choose supply, cable, fuses and contacts, with reasons
  shackrail check my-profile.toml                     judge a station as it stands
  shackrail plan harbour-street                       a worked station by its name
  shackrail upgrade my-profile.toml --add amp-300w    what stays, what is replaced and why, and the price of the step
  shackrail compare before.toml after.toml            what changes: parts, volts, currents, findings, cost
  shackrail card my-profile.toml                      the order of switching on and off, on one page
  shackrail note my-profile.toml                      a note for the electrician
  shackrail print my-profile.toml -o papers.html      every paper in one file: plan, drawing, card, bench sheet, labels
  shackrail ask my-profile.toml                       type what a meter showed there, and see which part is at fault
  shackrail list equipment                            the classes that a file may name

Exit status: 0 nothing unsound, 1 something unsound or no plan, 2 a file could not be read or wrong usage.
"""


def parser() -> argparse.ArgumentParser:
    """The command line's grammar."""
    return _grammar()[0]


def words() -> list[str]:
    """Every word that a command is called with."""
    return list(_grammar()[1])


def _grammar() -> tuple[argparse.ArgumentParser, Mapping[str, argparse.ArgumentParser]]:
    """The grammar, and that of each command by its word."""
    top = grammar.Parser(
        prog="shackrail",
        description="Plans, checks and documents the DC power of an amateur-radio station.",
        epilog=TEACH,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action=ShowVersion, nargs=0, help="show which version this is")
    parsers = top.add_subparsers(dest="command", metavar="COMMAND")
    plan = parsers.add_parser("plan", help="choose what a station still needs, with reasons")
    plan.add_argument("file", help="a station file, or the name of a worked station")
    grammar.out(plan, "write the station profile to this file")
    plan.add_argument("--again", action="store_true", help="choose anew what an earlier plan chose")
    _said(plan)
    plan.add_argument("--json", action="store_true", help="print one JSON object instead of words")
    check = parsers.add_parser("check", help="judge stations as they stand")
    check.add_argument("files", nargs="+", metavar="FILE", help="station files, or names of worked stations")
    check.add_argument("--brief", action="store_true", help="a line for each file, its outcome and worst finding")
    check.add_argument("--json", action="store_true", help="print one JSON object a line, one for each station")
    grammar.jobs(check)
    grammar.second_opinion(parsers)
    ask = parsers.add_parser("ask", help="the wizard line by line, for screen readers and plain terminals")
    ask.add_argument("file", nargs="?", metavar="FILE", help="a station that was measured: asks for its meter readings")
    upgrade = parsers.add_parser("upgrade", help="add equipment to a station that stands, keeping what may stay")
    upgrade.add_argument("file", help="the station as it stands today; everything in it counts as owned")
    upgrade.add_argument("--add", metavar="CLASS", action="append", default=[], help="a class of equipment to add")
    grammar.out(upgrade, "write the new station profile to this file")
    _said(upgrade)
    upgrade.add_argument("--json", action="store_true", help="print one JSON object instead of words")
    compare = parsers.add_parser("compare", help="show what changes between two stations")
    compare.add_argument("before", help="a station file, or the name of a worked station")
    compare.add_argument("after", help="the station to compare it with")
    compare.add_argument("--json", action="store_true", help="print one JSON object instead of words")
    note = parsers.add_parser("note", help="print a note for the electrician: what the station asks of the wall")
    note.add_argument("file", help="a station file, or the name of a worked station")
    card = parsers.add_parser("card", help="print the switching card: on, off, and what is never moved while live")
    card.add_argument("file", help="a station file, or the name of a worked station")
    hours = parsers.add_parser("hours", help="how long the battery lasts, what ends it, and what lower power buys")
    hours.add_argument("file", help="a station file, or the name of a worked station")
    hours.add_argument("--json", action="store_true", help=grammar.JSON)
    grammar.print_papers(parsers)
    where = parsers.add_parser("where", help="where a radio can live: at home, in a car, on each kind of battery")
    where.add_argument("radio", metavar="CLASS", help="a class of equipment, or a station file whose radios are meant")
    where.add_argument("--json", action="store_true", help=grammar.JSON)
    listing = parsers.add_parser("list", help="show what the catalogue knows, in columns")
    listing.add_argument("table", choices=LISTED)
    shell = parsers.add_parser("completion", help="print what a shell reads so that it completes this command line")
    shell.add_argument("shell", choices=completion.SHELLS)
    return top, parsers.choices


def _said(command: argparse.ArgumentParser) -> None:
    """Let a command that plans say more, or draw only."""
    command.add_argument(
        "--why", action="store_true", help="why each part, what was refused, all volts and lengths too"
    )
    command.add_argument("--draw", action="store_true", help="the drawing of the station alone")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit status of the design."""
    streams.ready()
    try:
        given = sys.argv[1:] if arguments is None else arguments
        stray = _stray(given)
        if stray:
            return _complain([stray])
        grammar_of_all = parser()
        completion.answer(grammar_of_all)
        return _run(grammar_of_all.parse_args(given))
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        return streams.gone()
    except Exception:  # a fault of the program itself: no traceback reaches its user
        return _complain([_fault()])


def _fault() -> str:
    import traceback

    from wizard import drafts

    where = drafts.note_trouble(traceback.format_exc())
    return f"stopped because of a fault of its own. Details for its makers: {where}"


def _run(args: argparse.Namespace) -> int:
    if args.command is None:
        return _wizard()
    if args.command == "completion":
        return _completion(args.shell)
    from engine.station.table import Problems
    from wizard import store

    try:
        shelf = store.load_shelf()
    except Problems as error:
        return _complain([str(problem) for problem in error.found])
    if args.command == "ask":
        return _ask(shelf, args.file)
    if args.command == "list":
        return _list(args.table, shelf)
    return _command(args, shelf)


def _command(args: argparse.Namespace, shelf: Shelf) -> int:
    """Run a command, print its answer, then write the file that it was asked for."""
    done = _named(args.command)(args, shelf)
    status = _tell(done)
    if done.saving:
        from wizard.commands import stations

        saved = stations.save(done.saving, output.confirmed if output.can_be_asked() else None)
        status = max(status, _tell(saved))
    return status


def _named(word: str) -> Callable[[argparse.Namespace, Shelf], Done]:
    """The command of a word; only what that command needs is loaded."""
    if word == "check":
        from wizard.commands.check import check

        return check
    if word == "where":
        from wizard.commands.where import where

        return where
    if word == "print":
        from wizard.commands.print_papers import print_papers

        return print_papers
    from wizard.commands import second_opinion, stations

    return {**stations.BY_NAME, **second_opinion.COMMANDS}[word]


def _tell(done: Done) -> int:
    try:
        output.say(*done.out)
        sys.stdout.flush()
    except BrokenPipeError:  # the reader has seen enough: what was found out still counts
        streams.gone()
    except OSError as error:
        streams.gone()
        done.fail([f"cannot write the answer: {error.strerror or error}"])
    _complain(done.errors)
    return done.status


def _stray(arguments: Sequence[str]) -> str | None:
    """What to say where the first word is no command: the file that it names, or the nearest command."""
    word = next(iter(arguments), "-")
    if word.startswith("-") or word in words():
        return None
    from wizard import store
    from wizard.nearby import either, near

    named, meant = repr(word[:NAMED]), near(word, words())
    if store.find(word).is_file():
        return f"{named} is a station, not a command; write shackrail check or shackrail plan before it"
    return f"{named} is not a command; " + (
        f"did you mean {either(meant)}?" if meant else f"the commands are: {', '.join(words())}"
    )


def _wizard() -> int:
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        instead = "shackrail plan FILE, shackrail check FILE, or shackrail ask"
        return _complain([f"the wizard needs a terminal; without one use: {instead}"])
    from wizard.screens.app import ShackrailApp

    app = ShackrailApp()
    goodbye = app.run()
    if app.refused:
        return _complain(app.refused)
    if goodbye:
        output.say(goodbye)
    return SOUND if app.return_code in (None, 0) else UNSOUND


def _ask(shelf: Shelf, measured: str | None) -> int:
    from engine.station.table import Problems
    from wizard import store
    from wizard.interview.opening import from_file
    from wizard.interview.session import Session
    from wizard.interview.steps import JUDGE
    from wizard.lines.interview import Interview
    from wizard.lines.readings import BenchInterview
    from wizard.lines.typed_line import read_line

    path = store.find(measured) if measured else None
    try:
        session = from_file(path, shelf, JUDGE) if path else Session(shelf)
    except store.StoreError as error:
        return _complain([str(error)])
    except Problems as error:
        return _complain(store.problems_of(path or Path(), error))
    interview = BenchInterview if path else Interview
    try:
        return interview(session, read_line, output.say).run()
    except (EOFError, KeyboardInterrupt):
        if session.worth_keeping:
            output.say("", session.keep() or "Your answers are kept as a draft; the wizard goes on with it.")
        return 130


def _complain(lines: Sequence[str]) -> int:
    output.complain(lines)
    return UNREADABLE


def _list(table: str, shelf: Shelf) -> int:
    from wizard.commands import listing

    output.say(*listing.lines(table, shelf))
    return SOUND


def _completion(shell: str) -> int:
    print(completion.script(shell))
    return SOUND


if __name__ == "__main__":
    sys.exit(main())
