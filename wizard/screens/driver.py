"""The terminal as the screens read it: whatever bytes come, and one key after another."""

from __future__ import annotations

import asyncio
import sys
from codecs import IncrementalDecoder, getincrementaldecoder
from collections.abc import Callable
from typing import Any

from textual import events
from textual.app import App, ScreenStackError
from textual.dom import DOMNode
from textual.driver import Driver
from textual.message import Message
from textual.message_pump import MessagePump

AT_ONCE = ("ctrl+c", "ctrl+q")
"""The keys that leave the program: they wait for nothing."""

PATIENCE = 2.0
"""Seconds that a key waits for one part of the program; then it goes on all the same."""

CALM, ROUNDS = 3, 20
"""Rounds through the queues with screen and focus unchanged that count as done, and the most rounds."""


def forgiving(encoding: str) -> Callable[[], IncrementalDecoder]:
    """A decoder to which bytes that are no text are a replacement mark; Textual's own one ends the program there."""
    return lambda: getincrementaldecoder(encoding)(errors="replace")


class OneByOne(Driver):
    """It hands a key on when all that follows from the one before is done: typing ahead loses nothing."""

    _typed: asyncio.Queue[Message] | None = None
    _handing_on: asyncio.Task[None] | None = None

    def process_message(self, message: Message) -> None:
        """Queue a message; called beside the screens' own thread."""
        if isinstance(message, events.Key) and message.key in AT_ONCE:
            super().process_message(message)
        else:
            self._loop.call_soon_threadsafe(self._queue, message)

    def _queue(self, message: Message) -> None:
        if self._typed is None:
            self._typed = asyncio.Queue()
            self._handing_on = asyncio.create_task(self._hand_on(self._typed))
        self._typed.put_nowait(message)

    async def _hand_on(self, typed: asyncio.Queue[Message]) -> None:
        while True:
            message = await typed.get()
            if isinstance(message, events.Key | events.Paste):
                await quiet(self._app)
            super().process_message(message)


async def quiet(app: App[Any]) -> None:
    """Wait until nothing is left to do that follows from the keys so far; work in the background aside."""
    calm, before = 0, _in_sight(app)
    for _ in range(ROUNDS):
        for pump in (app, *_chain(app), app):
            await _served(pump)
        now = _in_sight(app)
        calm = calm + 1 if now == before else 0
        if calm >= CALM:
            return
        before = now


def _in_sight(app: App[Any]) -> tuple[DOMNode | None, DOMNode | None]:
    try:
        return app.screen, app.focused
    except ScreenStackError:
        return None, None


def _chain(app: App[Any]) -> list[MessagePump]:
    """Whoever a key passes through: what is in focus, all around it, the screen."""
    screen, focused = _in_sight(app)
    inner = screen if focused is None else focused
    return [] if inner is None else [one for one in inner.ancestors_with_self if one is not app]


async def _served(pump: MessagePump) -> None:
    """Wait until everything that stands in a queue by now is done."""
    done = asyncio.Event()
    if pump.call_later(done.set):
        try:
            await asyncio.wait_for(done.wait(), PATIENCE)
        except TimeoutError:
            return


def on_terminal(base: type[Driver]) -> type[Driver]:
    """The driver of this system, made to bear any bytes and to hand on one key after another."""
    # Textual has no hook for its decoder; it looks the maker up in its own module when it begins to read.
    module = sys.modules[base.__module__]
    if hasattr(module, "getincrementaldecoder"):
        module.getincrementaldecoder = forgiving  # type: ignore[attr-defined]
    return type("Terminal", (OneByOne, base), {})
