"""The grammar of the commands of a second opinion."""

from __future__ import annotations

import argparse
import os
from dataclasses import dataclass
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


def jobs(command: argparse.ArgumentParser) -> None:
    """Let a command about many files use several cores."""
    says = "how many processes share the files: a number, or all for one a core; 1 where nothing is said"
    command.add_argument("--jobs", metavar="N", type=_processes, default=1, help=says)


def _processes(text: str) -> int:
    """A number of processes, no more than there are cores."""
    cores = os.cpu_count() or 1
    if text.casefold() == "all":
        return cores
    if not (text.isascii() and text.isdigit() and len(text) < 10 and int(text)):
        raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a number of processes; write 1, 2 or more, or all")
    return min(int(text), cores)


PAPERS = ("plan", "wiring", "why", "card", "bench", "labels", "note")
"""The words of the papers; kept here so that help needs none of what makes them."""


def print_papers(commands: Any) -> None:
    """Add the command that prints."""
    says = "every paper of a station in one HTML file, to print or to send to a friend"
    printing: argparse.ArgumentParser = commands.add_parser("print", help=says, description=says)
    printing.add_argument("file", metavar="FILE", help=FILE)
    printing.add_argument("--only", choices=PAPERS, help="one paper alone")
    printing.add_argument("--markdown", action="store_true", help="as Markdown instead")
    out(printing, "write the papers to this file")


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


@dataclass(frozen=True)
class Option:
    """One option of a claim: the figure that it gives, how it is written, and what it means."""

    key: str
    metavar: str
    says: str
    spelled: str = ""

    @property
    def flag(self) -> str:
        """As it is typed."""
        return f"--{self.spelled or self.key}"

    @property
    def dest(self) -> str:
        """The attribute that argparse keeps it under."""
        return f"claimed_{self.key.replace('-', '_')}"


CLAIM_OPTIONS = (
    Option("conductor", "SIZE", 'a cable: "14 AWG" or "2.5 mm²", with --amps and --length'),
    Option("amps", "A", 'a current: "30 A"; of a battery\'s hours the mean'),
    Option("length", "M", 'one way: "3 m" or "10 ft"'),
    Option("drop", "V", 'the loss that is claimed: "0.5 V"'),
    Option("watts", "W", 'radio-frequency power: "100 W", with --amps that are to be enough'),
    Option("volts", "V", 'at which the current is drawn: "13.8 V", "50 V"'),
    Option("stage", "SORT", 'the sort of set: "transceiver", "linear", "class c", "switching"'),
    Option("raise", "V", 'a higher setting: "15 V", for a station or a class'),
    Option("for", "CLASS", "a class (shackrail list equipment)", "class"),
    Option("amp-hours", "AH", 'a battery: "100 Ah", with --amps and --hours, or --transmit, --keyed and --hours'),
    Option("hours", "H", 'the hours that are claimed: "20 h"'),
    Option("chemistry", "SORT", "the sort of battery (shackrail list chemistries)"),
    Option("temperature", "T", 'of the battery itself: "5 °C"'),
    Option("health", "%", 'what is left of its capacity: "80 %"'),
    Option("taken", "%", 'how much of its charge was drawn: "50 %"'),
    Option("transmit", "A", 'the current at key-down: "22 A"'),
    Option("receive", "A", 'the current while listening: "1.5 A"'),
    Option("keyed", "%", 'the share of time sending: "25 %"'),
    Option("mode", "MODE", "the mode (shackrail list modes)"),
    Option("mean", "A", 'the mean current that is claimed: "4 A", with --transmit and --keyed'),
    Option("panel", "W", 'a solar panel: "100 W", with --sun and --per-day'),
    Option("sun", "H", 'peak sun hours of a day: "3 h"'),
    Option("per-day", "AH", 'ampere-hours of a day: "20 Ah"'),
    Option("charger", "A", 'a charger: "10 A", with --amp-hours, --hours and --chemistry'),
    Option("years", "Y", 'the age of a battery: "5 years", with --chemistry'),
)
"""Every figure of a claim, one option each."""


def option(key: str) -> Option:
    """The option for one figure of a claim."""
    return next(known for known in CLAIM_OPTIONS if known.key == key)


def _claim(claim: argparse.ArgumentParser) -> None:
    for known in CLAIM_OPTIONS:
        help_ = known.says.replace("%", "%%")
        claim.add_argument(known.flag, metavar=known.metavar.replace("%", "SHARE"), dest=known.dest, help=help_)
    claim.add_argument("--station", metavar="FILE", help=FILE)


def _add(commands: Any, name: str, says: str) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = commands.add_parser(name, help=says, description=says)
    made.add_argument("--json", action="store_true", help=JSON)
    return made
