"""Where can it live: one radio against every kind of source, on a page."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.events import Resize
from textual.widgets import Footer, OptionList
from textual.widgets.option_list import Option

from engine.parts import Equipment, Shelf
from engine.planning.homes import Living, homes, is_12_volt
from engine.station.model import Load
from engine.station.table import Problems
from wizard.interview.background import Fault
from wizard.screens import keymap
from wizard.screens.asking import Base
from wizard.screens.widgets.drawn import Drawn
from wizard.screens.widgets.plain import Plain, plain
from wizard.view import homes as drawing
from wizard.view.span import MARK

ASKED = "homes"
"""The name under which the homes of a radio are worked out."""

INTRO = "Choose a radio; the page shows its window against what each source really does, on its own lead."


class Where(Base):
    """The radios of the catalogue, and the page of the one that is chosen."""

    DEFAULT_CSS = """
    Where #radios { border: none; height: 7; background: $surface; }
    Where #page { height: 1fr; padding: 0 1; border-top: solid $panel; }
    Where #about { height: auto; color: $quiet; padding: 0 1; }
    Where #homes { height: auto; }
    Where.-short #intro { display: none; }
    """
    KEYS = keymap.CLAIMS
    BINDINGS = keymap.bindings(keymap.CLAIMS)

    def __init__(self, equipment: str = "") -> None:
        super().__init__()
        self.wanted = equipment
        self.living: Living | None = None

    def compose(self) -> ComposeResult:
        """The radios above, the page below."""
        yield Plain("Where can it live?", id="heading")
        yield Plain("", id="verdict")
        yield Plain(INTRO, id="intro")
        with Vertical(id="notice"):
            yield OptionList(*(Option(plain(row.title), id=row.id) for row in self.rows()), id="radios", markup=False)
            yield Plain("", id="about")
            with VerticalScroll(id="page"):
                yield Drawn(id="homes")
        yield Footer(compact=True, show_command_palette=False)

    def rows(self) -> list[Equipment]:
        """What runs on the 12 V class, as the catalogue orders it."""
        return [row for row in self.wizard.shelf.equipment.values() if is_12_volt(row)]

    def on_mount(self) -> None:
        """Begin with the radio that was asked for, else with the one that most own."""
        radios = self.query_one("#radios", OptionList)
        radios.focus()
        names = [row.id for row in self.rows()]
        radios.highlighted = names.index(self.wanted) if self.wanted in names else 0

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Work the homes of this radio out."""
        event.stop()
        name, shelf = event.option.id or "", self.wizard.shelf
        load = Load(name, equipment=name)
        self.wizard.work.ask(self, ASKED, name, lambda stop: _homes(load, shelf), self._show)

    def _show(self, found: Living | str | Fault) -> None:
        if isinstance(found, Fault):
            found = self.wizard.trouble(found)
        self.living = None if isinstance(found, str) else found
        bar = self.query_one("#verdict", Plain)
        bar.remove_class(*MARK)
        if isinstance(found, str):
            bar.say(found)
            self.query_one("#homes", Drawn).show_lines([])
            return
        outcome = drawing.outcome(found)
        bar.add_class(outcome)
        bar.say(f"{MARK[outcome]} {drawing.headline(found)}")
        self.query_one("#about", Plain).say(drawing.about(found))
        self._draw()

    def _draw(self) -> None:
        if self.living is not None:
            room = max(self.query_one("#page").content_size.width - 2, 40)
            self.query_one("#homes", Drawn).show_lines(list(drawing.draw(self.living, room)))

    def on_resize(self, event: Resize) -> None:
        """Draw for the room there is."""
        self.call_after_refresh(self._draw)

    def action_back(self) -> None:
        """To the doors."""
        self.wizard.to_door()

    def help_text(self) -> str:
        """How to read the page."""
        return (
            "The upright bars are the lowest and the highest volts that the radio accepts. The thick part is where the "
            "volts at its own terminals move: the left end while it transmits and the source is at its weakest, the "
            "right end at receive. What lies outside the bars is marked. The lead is the one that a plan for a desk "
            "gives it; only the source differs from line to line."
        )


def _homes(load: Load, shelf: Shelf) -> Living | str:
    """The homes of a radio, or why there are none."""
    try:
        return homes(load, shelf)
    except Problems as error:
        return "; ".join(f"{problem.what}; {problem.instead}" for problem in error.found)
