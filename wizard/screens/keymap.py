"""Every command of the wizard, declared once: keys, footer and help page all come from this list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from textual.binding import Binding, BindingType


@dataclass(frozen=True)
class Command:
    """One command: its keys, the action it runs, its name in the footer and what it does."""

    keys: str
    action: str
    name: str
    says: str
    show: bool = True
    priority: bool = False

    def binding(self) -> Binding:
        """The command as Textual binds it."""
        return Binding(self.keys, self.action, self.name, show=self.show, priority=self.priority)


HELP = Command("f1", "help", "Help", "what the question in focus is for, and where to find its answer")
UNKNOWN = Command("f2", "unknown", "Unknown", "empty the answer in focus; a careful value is taken and written down")
BACK = Command("escape,f3,ctrl+b", "back", "Back", "the step before; nothing is lost")
NEXT = Command("f4,ctrl+n", "next", "Next", "the next step")
JUMP = Command("f5,ctrl+t", "jump", "Jump", "any step by its name")
UNDO = Command("f6,ctrl+z", "undo", "Undo", "take the last answer back")
ADD = Command("f7,insert", "add", "Add", "add a piece of equipment")
LET_GO = Command("f8,delete", "let_go", "Let go", "let the highlighted draft go, once that is asked")
REMOVE = Command("f8,delete", "remove", "Remove", "take the highlighted piece of equipment out")
WORKING = Command("f9", "working", "Working", "the arithmetic behind the highlighted figure")
PLAN = Command("f9", "plan", "Plan", "the plan, or the verdict, at once; what is open is assumed and said")
SAVE = Command("f10,ctrl+s", "save", "Save", "save the station profile")
LEAVE = Command("ctrl+q", "leave", "Quit", "leave; a draft is kept", priority=True)
BREAK = Command("ctrl+c", "leave", "Quit", "leave; a draft is kept", show=False, priority=True)
MORE = Command(
    "f7", "more", "More", "papers to print: bench sheet, switching card, electrician's note; and a claim judged"
)
MEASURE = Command("f8", "measure", "Meter", "type what a meter showed, and see what is wrong")
ADD_READING = Command("f7,insert", "add", "Add", "add what a meter showed, at the place that tells most")
REMOVE_READING = Command("f8,delete", "remove", "Drop", "take the highlighted reading out; Undo brings it back")
WHOLE = Command("f9", "working", "All", "the whole diagnosis on a page of its own")
CANCEL = Command("escape,f3,ctrl+b", "cancel", "Cancel", "back to the screen beneath, nothing chosen", show=False)
STAY = Command("escape", "stay", "Stay", "say how to leave", show=False)
SAVE_PAPER = Command("f10,ctrl+s", "save", "Save as text", "write the page to a text file")
LEAVE_PAGE = Command("escape,f3,ctrl+b", "leave_page", "Back", "back to the screen beneath")

EVERYWHERE = (LEAVE, BREAK)
DOOR = (HELP, STAY)
FORM = (HELP, UNKNOWN, BACK, NEXT, JUMP, UNDO, PLAN, SAVE)
EQUIPMENT = (HELP, ADD, REMOVE, BACK, NEXT, JUMP, UNDO, PLAN, SAVE)
RESULT = (HELP, BACK, JUMP, MORE, MEASURE, WORKING, SAVE)
READINGS = (HELP, BACK, NEXT, JUMP, UNDO, ADD_READING, REMOVE_READING, WHOLE, SAVE)
SYMPTOMS = (HELP, BACK, MEASURE)
CLAIMS = (HELP, BACK)
CLAIM = (HELP, UNKNOWN, BACK, WORKING)
PAPER = (LEAVE_PAGE, SAVE_PAPER)
CHOOSING = (CANCEL,)
DRAFTS = (*CHOOSING, LET_GO)


def bindings(commands: tuple[Command, ...]) -> list[BindingType]:
    """The bindings of a screen."""
    return [one.binding() for one in commands]


def lines(commands: Iterable[Command]) -> list[str]:
    """The keys of some commands, one a line, for the help page."""
    return [f"{one.keys.replace(',', ' or '):<24} {one.name}: {one.says}" for one in dict.fromkeys(commands)]
