"""Judging a station as it stands: the whole verdict in one object."""

from __future__ import annotations

from dataclasses import dataclass

from engine.findings import Assumption, Choice, Finding, Item, Step, outcome_of
from engine.model import bill, complete, switching
from engine.model.case import Case
from engine.model.operating import Operating
from engine.model.terminals import Terminal, worst_of
from engine.parts import Shelf
from engine.rules import book
from engine.rules.doubt import settled
from engine.rules.rivals import Rival, rivals
from engine.station.model import Station


@dataclass(frozen=True)
class Verdict:
    """What is known of a station once it is judged."""

    station: Station
    case: Case
    faces: tuple[Operating, ...]
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]
    choices: tuple[Choice, ...]
    on: tuple[Step, ...]
    off: tuple[Step, ...]
    items: tuple[Item, ...]
    rivals: tuple[Rival, ...] = ()

    @property
    def operating(self) -> Operating:
        """The station on the first of the sources that a changeover chooses from, and mostly on the only one."""
        return self.faces[0]

    @property
    def terminals(self) -> tuple[Terminal, ...]:
        """The volts of every load, on the worse of the sources that a changeover chooses from."""
        return worst_of(self.faces)

    @property
    def outcome(self) -> str:
        """The worst of the findings."""
        return outcome_of(self.findings)


def check(station: Station, shelf: Shelf, choices: tuple[Choice, ...] = ()) -> Verdict:
    """The verdict on ``station``: nothing is chosen, gaps stay gaps, ``choices`` are passed through."""
    case, assumptions = complete.complete(station, shelf)
    faces = tuple(Operating(face) for face in case.faces)
    on, off = switching.order(case)
    others = rivals(station, faces, shelf)
    findings = settled(book.judge(faces), station, shelf)
    return Verdict(station, case, faces, findings, assumptions, choices, on, off, bill.items(case), others)
