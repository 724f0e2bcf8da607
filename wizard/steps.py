"""The steps of each door, and what is assumed while an answer is open."""

from __future__ import annotations

from dataclasses import dataclass

from engine.parts import Equipment, Shelf
from wizard.question import Question
from wizard.questions import SITE, SUPPLY, USE, WISHES


@dataclass(frozen=True)
class Step:
    """One step of the wizard: a heading, an introduction, and the questions of one table."""

    id: str
    title: str
    intro: str
    questions: tuple[Question, ...] = ()


STEPS = {
    "use": Step("use", "Use", "A name, and where the station lives. Leave empty what you do not know.", USE),
    "loads": Step("loads", "Equipment", "Everything that draws direct current: radios first, then the small things."),
    "supply": Step(
        "supply",
        "Supply",
        "What feeds the station. A first supply is chosen for you: leave it open.",
        SUPPLY,
    ),
    "leads": Step("leads", "Cable", "One lead to each piece of equipment."),
    "site": Step("site", "Site", "The wall, the air and the shops around you.", SITE),
    "wishes": Step("wishes", "Wishes", "What may it cost, and what matters to you?", WISHES),
    "result": Step("result", "Result", ""),
}
PLANNED = ("use", "loads", "leads", "supply", "site", "wishes", "result")
UPGRADED = ("loads", "leads", "site", "wishes", "result")
JUDGED = ("use", "loads", "supply", "leads", "site", "result")


def hint(question: Question, row: Equipment | None, shelf: Shelf) -> str:
    """What is taken when the answer is left open: the class's figure with its spread, or the house's."""
    if row is None or question.table != "load":
        return _house(question, shelf)
    span = {"receive": row.receive, "transmit": row.transmit, "busy": row.busy}.get(question.key)
    if span:
        return f"{span.high:g} A (typical {span.low:g} to {span.high:g} A)"
    if question.key == "wall" and row.wall:
        return f"{row.wall.high:g} W (typical {row.wall.low:g} to {row.wall.high:g} W)"
    plain = {
        "window": f"{row.lowest:g} to {row.highest:g} V",
        "mode": row.mode or "",
        "follows": row.follows,
        "fuse": f"{row.fuse:g} A" if row.fuse else "",
        "keyed": f"{shelf.limits.keyed * 100:g} %" if row.transmit else "",
    }
    return plain.get(question.key, "")


def _house(question: Question, shelf: Shelf) -> str:
    limits = shelf.limits
    return {
        "length": f"{limits.desk_lead:g} m",
        "hottest": f"{limits.hottest:g} °C",
        "coldest": f"{limits.coldest:g} °C",
        "headroom": f"{limits.voice_headroom * 100:g} %, or {limits.steady_headroom * 100:g} % for FM and digital",
        "prefer": "price",
        "mains": "120 V",
        "circuit": "the smallest usual circuit",
        "layout": "by the number of leads",
        "insulation": limits.insulation,
    }.get(question.key, "")


PLUGGED = {"wall", "circuit", "mains"}
"""The questions about what plugs into the wall itself."""


def pointless(row: Equipment | None) -> set[str]:
    """The questions that make no sense for a class of equipment, or for one with figures of its own."""
    if row is None:
        return PLUGGED
    if row.feed != "dc":
        return {"window", "receive", "transmit", "busy", "follows", "fuse", "lead", "lead_length"}
    return PLUGGED | ({"busy"} if row.transmit else {"transmit", "mode", "keyed"})
