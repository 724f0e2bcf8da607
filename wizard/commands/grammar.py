"""The grammar of the commands of a second opinion."""

from __future__ import annotations

import argparse
from typing import Any, NoReturn

from engine.characters import escaped

FILE = "a station file, or the name of a worked station"
JSON = "print JSON instead of words"


class Parser(argparse.ArgumentParser):
    """A grammar whose complaints show what was typed, and obey nothing in it."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the command line, and end."""
        super().error(escaped(message))


def out(command: argparse.ArgumentParser, says: str) -> None:
    """Let a command write a file."""
    command.add_argument("-o", "--out", metavar="OUT", help=says)
    command.add_argument("--force", action="store_true", help="replace another station that is there, unasked")


def second_opinion(commands: Any) -> None:
    """Add the commands to the command line's own."""
    readings = _add(commands, "readings", "what the meter readings in station files show, and what to measure next")
    readings.add_argument("files", nargs="+", metavar="FILE", help=FILE)
    bench = _add(commands, "bench", "a sheet of expected readings to fill in at the bench")
    bench.add_argument("file", metavar="FILE", help=FILE)
    bench.add_argument("--instrument", metavar="NAME", help="the meter to be used (shackrail list instruments)")
    symptom = _add(commands, "symptom", "what you notice, what it may be and what tells the causes apart")
    symptom.add_argument("name", nargs="?", metavar="NAME", help="a symptom; without it all are listed")
    reach = _add(commands, "reach", "how far each choice carries before which rule breaks")
    reach.add_argument("file", metavar="FILE", help=FILE)
    repair = _add(commands, "repair", "the cheapest change that makes a station sound; else the set that does")
    repair.add_argument("file", metavar="FILE", help=FILE)
    out(repair, "write the mended station's profile to this file")
    _claim(_add(commands, "claim", "what someone told you, in plain figures: does it hold?"))


def _claim(claim: argparse.ArgumentParser) -> None:
    claim.add_argument("--conductor", metavar="SIZE", help='a cable: "14 AWG" or "2.5 mm²", with --amps and --length')
    claim.add_argument("--amps", metavar="A", help='a current: "30 A"')
    claim.add_argument("--length", metavar="M", help='one way: "3 m" or "10 ft"')
    claim.add_argument("--drop", metavar="V", help='the loss that is claimed: "0.5 V"')
    claim.add_argument("--watts", metavar="W", help='radio-frequency power: "100 W", with --amps that are to be enough')
    claim.add_argument("--volts", metavar="V", help='at which the current is drawn: "13.8 V"')
    claim.add_argument("--raise", metavar="V", dest="raise_", help='a higher setting: "15 V", for a station or a class')
    claim.add_argument("--station", metavar="FILE", help=FILE)
    claim.add_argument("--class", metavar="CLASS", dest="equipment", help="a class (shackrail list equipment)")


def _add(commands: Any, name: str, says: str) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = commands.add_parser(name, help=says, description=says)
    made.add_argument("--json", action="store_true", help=JSON)
    return made
