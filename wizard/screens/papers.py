"""The papers of a station, and a claim about it, one key away from its result."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from engine.diagnosis.diagnosis import METER
from engine.diagnosis.sheet import sheet
from engine.parts import Shelf
from engine.rules.check import Verdict
from wizard.papers.bench import sheet_lines
from wizard.papers.card import card_lines
from wizard.papers.note import note_lines
from wizard.screens import keymap
from wizard.screens.paper import Paper
from wizard.screens.widgets.plain import Plain, plain

if TYPE_CHECKING:
    from wizard.screens.app import ShackrailApp

WIDTH = 78
TOLD = "told"


@dataclass(frozen=True)
class Sort:
    """One sort of paper: its name, what it is for, the end of its file's name, and its lines."""

    id: str
    title: str
    says: str
    lines: Callable[[Verdict, Shelf], Iterable[str]]


def _bench(verdict: Verdict, shelf: Shelf) -> Iterable[str]:
    return sheet_lines(sheet(verdict.operating, shelf.instruments[METER]), WIDTH)


PAPERS = (
    Sort("bench-sheet", "Bench sheet", "what a meter should show at each point, to fill in", _bench),
    Sort("switching-card", "Switching card", "the order on and off, to hang beside it", lambda one, _: card_lines(one)),
    Sort("electrician", "Electrician's note", "what the station asks of the wall", note_lines),
)


class More(ModalScreen[None]):
    """The list of papers."""

    BINDINGS = keymap.bindings(keymap.CHOOSING)

    def __init__(self, verdict: Verdict) -> None:
        super().__init__()
        self.verdict = verdict

    def compose(self) -> ComposeResult:
        """One line a paper."""
        with Vertical(classes="dialog"):
            yield Plain("Papers; each can be saved as text. (Esc goes back)", classes="group")
            made = [Option(plain(f"{one.title}  -  {one.says}"), id=one.id) for one in PAPERS]
            told = Option(plain("Someone told me  -  a claim judged by its arithmetic"), id=TOLD)
            yield OptionList(*made, told, markup=False, id="papers")

    def on_mount(self) -> None:
        """Choose at once."""
        listed = self.query_one("#papers", OptionList)
        listed.focus()
        listed.highlighted = 0

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open it."""
        event.stop()
        wizard = cast("ShackrailApp", self.app)
        self.dismiss(None)
        if event.option.id == TOLD:
            from wizard.screens.claim import Told

            wizard.push_screen(Told(over=True))
            return
        sort = next(one for one in PAPERS if one.id == event.option.id)
        name = f"{file_stem(self.verdict.station.name)}-{sort.id}.txt"
        wizard.push_screen(Paper(sort.title, list(sort.lines(self.verdict, wizard.shelf)), name))

    def action_cancel(self) -> None:
        """Open nothing."""
        self.dismiss(None)


def file_stem(name: str) -> str:
    """A station's name as the beginning of a file's."""
    return re.sub(r"[^\w]+", "-", name.casefold()).strip("-")[:60] or "my-station"
