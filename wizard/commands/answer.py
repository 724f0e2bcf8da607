"""What a command has to say, and the reading of the station that it is about."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from engine.parts import Shelf
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station import profile
from engine.station.profile import Profile
from engine.station.table import Problems
from wizard import store
from wizard.store import Held, StoreError

if TYPE_CHECKING:
    from wizard.view.span import Line

Made = TypeVar("Made")


@dataclass(frozen=True)
class Saving:
    """A profile that is to be written once the answer is printed."""

    name: str
    verdict: Verdict
    shelf: Shelf
    held: Held
    force: bool
    quiet: bool


@dataclass
class Done:
    """What a command has to say."""

    status: int = 0
    out: list[str | Line] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    saving: Saving | None = None

    def fail(self, lines: Sequence[str], status: int = 2) -> Done:
        """Note errors."""
        self.errors += lines
        self.status = max(self.status, status)
        return self


def judged(name: str, shelf: Shelf, done: Done) -> Verdict | None:
    """The verdict on one station file; its faults are noted in ``done``."""
    held = held_by(name, done)
    if held is None:
        return None
    return read_station(held, shelf, done, lambda read: checking.check(read.station, shelf, read.choices))


def held_by(name: str, done: Done) -> Held | None:
    """What one station file holds; None, with the reason noted in ``done``, where it cannot be read."""
    try:
        return store.named(name)
    except StoreError as error:
        done.fail([str(error)])
        return None


def read_station(held: Held, shelf: Shelf, done: Done, make: Callable[[Profile], Made]) -> Made | None:
    """What ``make`` makes of one station; None, with the faults noted in ``done``, where it cannot."""
    try:
        return make(profile.read(held.text, shelf))
    except Problems as error:
        done.fail(store.problems_of(held.path, error))
    return None
