"""Work beside the screens, whose answer cannot be lost. No widget in it.

Whoever asks waits under a number. The answer goes through the waiter's own queue, so that a screen which is still being
put up takes it once it is there. Asking again under the same name, or leaving, makes the number before void. Equal
questions share one piece of work, and the last answer under each name is kept.
"""

from __future__ import annotations

import itertools
import traceback
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from threading import Event, Thread
from typing import TYPE_CHECKING, Any, Protocol, TypeAlias

if TYPE_CHECKING:
    from engine.planning.judge import Stop

Make: TypeAlias = "Callable[[Stop], object]"


class Waiter(Hashable, Protocol):
    """Something with a queue of its own: a screen."""

    def call_later(self, callback: Callable[..., Any], *args: Any) -> bool:
        """Call back once everything that waits in the queue is done."""
        ...


@dataclass(frozen=True)
class Fault:
    """The work failed by a fault of the program; ``details`` are for its makers."""

    details: str


@dataclass(frozen=True)
class Ticket:
    """One waiter's wish for one answer."""

    waiter: Waiter
    name: str
    number: int
    done: Callable[[Any], None]


@dataclass(eq=False)
class Job:
    """A piece of work under way: its name, all that its answer depends on, and who waits for it."""

    name: str
    about: object
    tickets: list[Ticket] = field(default_factory=list)
    halted: Event = field(default_factory=Event)


class Work:
    """Everything that is worked out beside the screens.

    ``home`` takes a callback from another thread to the one on which the screens live.
    """

    def __init__(self, home: Callable[..., Any]) -> None:
        self._home = home
        self._numbers = itertools.count(1)
        self._jobs: list[Job] = []
        self._open: dict[tuple[Waiter, str], int] = {}
        self._kept: dict[str, tuple[object, object]] = {}

    @property
    def busy(self) -> bool:
        """Whether anything is under way, or an answer is still to be taken."""
        return bool(self._jobs or self._open)

    def ask(self, waiter: Waiter, name: str, about: object, make: Make, done: Callable[[Any], None]) -> None:
        """Give ``done`` what ``make`` makes, or a ``Fault``, unless ``waiter`` asks again first or leaves.

        ``about`` is all that the answer depends on: where it is equal to that of a former answer, or of work under
        way, that one serves.
        """
        self.forget(waiter, name)
        ticket = Ticket(waiter, name, next(self._numbers), done)
        self._open[waiter, name] = ticket.number
        kept = self._kept.get(name)
        if kept is not None and kept[0] == about:
            self._hand_over(ticket, kept[1])
        else:
            self._join(ticket, about, make)

    def _join(self, ticket: Ticket, about: object, make: Make) -> None:
        """Wait for work under way on the same question, or begin it; what nobody wants any more gives up."""
        same = [job for job in self._jobs if (job.name, job.about) == (ticket.name, about) and not job.halted.is_set()]
        job = same[0] if same else Job(ticket.name, about)
        job.tickets.append(ticket)
        self.give_up(ticket.name)
        if not same:
            self._jobs.append(job)
            Thread(target=self._run, args=(job, make), name=f"work-{ticket.name}", daemon=True).start()

    def _run(self, job: Job, make: Make) -> None:
        made: object
        try:
            made = make(job.halted.is_set)
        except Exception:
            made = Fault(traceback.format_exc())
        self._home(self._finish, job, made)

    def _finish(self, job: Job, made: object) -> None:
        """Keep the answer and hand it to all who wait; one that was told to give up has none."""
        self._jobs.remove(job)
        if job.halted.is_set():
            return
        if not isinstance(made, Fault):
            self._kept[job.name] = (job.about, made)
        for ticket in job.tickets:
            self._hand_over(ticket, made)

    def _hand_over(self, ticket: Ticket, made: object) -> None:
        if not ticket.waiter.call_later(self._take, ticket, made):
            self.leave(ticket.waiter)

    def _take(self, ticket: Ticket, made: object) -> None:
        """In the waiter's own queue: the answer, if it is still the one that is waited for."""
        if self._open.get((ticket.waiter, ticket.name)) == ticket.number:
            del self._open[ticket.waiter, ticket.name]
            ticket.done(made)

    def forget(self, waiter: Waiter, name: str) -> None:
        """``waiter`` does not wait for that any more."""
        self._open.pop((waiter, name), None)
        for job in self._jobs:
            job.tickets = [one for one in job.tickets if (one.waiter, one.name) != (waiter, name)]

    def leave(self, waiter: Waiter) -> None:
        """``waiter`` waits for nothing any more; its work goes on, for it may come back."""
        for of, name in list(self._open):
            if of is waiter:
                self.forget(waiter, name)

    def give_up(self, name: str = "") -> None:
        """Let work give up for which nobody waits: all of it, or that of one name."""
        for job in self._jobs:
            if not job.tickets and name in ("", job.name):
                job.halted.set()

    def close(self) -> None:
        """Let all work give up: the program ends."""
        for job in self._jobs:
            job.halted.set()
