"""The questions about a meter reading, and the words for the places where a meter's points can lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from engine.parts import Shelf
from engine.terms import ACROSS, LeadPart, LoadState
from wizard.questions.question import Document, Question


@dataclass(frozen=True)
class Listed(Question):
    """A question whose words to choose from depend on the station."""

    words: tuple[tuple[str, str], ...] = ()

    def choices(self, shelf: Shelf) -> tuple[tuple[str, str], ...]:
        """The words given, each with what it means."""
        return self.words or super().choices(shelf)


AT = Listed(
    "reading",
    "at",
    "Where did the meter's two points lie?",
    "Volts are lost on the way: the two ends of a lead, read at the same moment, show how many.",
    "Terminals: plus and minus of that thing. Across a part: before and behind it, on the metal.",
    "hf",
)
STATE = Listed(
    "reading",
    "state",
    "What did the radio do meanwhile?",
    "Only a large current shows a poor joint: a reading with nothing drawn proves nothing about the cable.",
    "Key for a few seconds on a steady carrier into a dummy load; voice peaks are too short for a meter.",
    "keyed",
    words=(
        (LoadState.KEYED, "keyed: it transmitted, on a steady carrier"),
        (LoadState.RECEIVE, "receive: everything on, nothing keyed"),
        (LoadState.NO_LOAD, "no load: nothing switched on"),
    ),
)
LEG = Question(
    "reading",
    "leg",
    "Which leg was it across, if only one?",
    "What is read across a part of a lead is taken as lost in both legs together. One leg alone is half the tale.",
    "Plus is the red one. Left open: both legs, added.",
    "positive",
    label="Leg",
)
REST = (
    Question(
        "reading",
        "volts",
        "Which volts did it show?",
        "As read, not rounded, with its sign. Across a fuse or a contact it is often millivolts.",
        "The meter, on its direct-volts range.",
        "11.9 V, or 350 mV",
        label="Volts",
    ),
    Question(
        "reading",
        "amps",
        "Which current flowed there, if you know?",
        "Left open, what the equipment is stated to draw is taken, give or take; a measured one is surer.",
        "A clamp meter for direct current around one conductor, or the supply's own meter.",
        "20 A",
        label="Amperes",
    ),
    Question(
        "reading",
        "keyed",
        "Which of them transmitted? (where several can)",
        "Left open, the one at the place of the reading, or the one its neighbours name.",
        "Your own memory. Write their short names.",
        "hf",
        label="What was keyed",
    ),
    Question(
        "reading",
        "instrument",
        "Which sort of meter was it?",
        "Every sort has an error of its own; nothing is accused that the error could explain.",
        "The meter in your hand. Left open, an ordinary hand-held one is taken, the same for every reading.",
        "digital multimeter",
        from_shelf="instruments",
        label="Meter",
    ),
    Question(
        "reading",
        "amps_instrument",
        "Which sort of meter showed the current?",
        "It has an error of its own too.",
        "The meter in your hand. Left open, a clamp or the supply's own meter is taken.",
        "clamp meter",
        from_shelf="instruments",
        label="Ammeter",
    ),
    Question(
        "reading",
        "date",
        "On which day was it measured?",
        "The latest day is judged; earlier ones show what has aged since.",
        "Your notes. Year, month, day.",
        "2026-11-24",
        label="Date",
    ),
    Question(
        "reading",
        "ohms",
        "Which ohms did it show? (only with everything off)",
        "An ordinary meter cannot show milliohms: volts across a part, keyed, tell far more.",
        "Everything off, one end free, the points across the part.",
        "1.2 ohm",
        label="Ohms (all off)",
    ),
    LEG,
    Question(
        "reading",
        "note",
        "A remark of your own",
        "It is kept with the reading.",
        "Anything you noticed: a warm holder, a dim lamp.",
        "holder warm to the hand",
        label="Remark",
    ),
)
READING = (AT, STATE, *REST)
"""Every question about one reading."""

PARTS = {
    "fuse": "across the fuse of {run}, its holder included",
    "contacts": "across the contacts of {run}, both ends and both legs added",
    "copper": "along the copper of {run} only, both legs added",
    "run": "along all of {run}, both legs added",
}
UNFUSED = "none"
"""How a lead without a fuse is written."""

CURRENT = "only the current in {run}, by a clamp"


def asked(document: Document, shelf: Shelf) -> tuple[Question, ...]:
    """The questions about a reading of one station: the places are its own."""
    return (replace(AT, words=tuple(places(document, shelf))), STATE, *REST)


def places(document: Document, shelf: Shelf) -> Iterator[tuple[str, str]]:
    """Every place that can be read, as it is written, and in words; never one at the voltage of the mains."""
    for row in _rows(document, "load"):
        known = shelf.equipment.get(str(row.get("class", "")))
        if known is None or known.feed == "dc":
            yield row["id"], f"{row['id']}: at its own terminals"
    for one in [row["id"] for row in _rows(document, "source")] or ["supply"]:
        yield one, f"{one}: at its own terminals or posts"
    for row in _rows(document, "strip"):
        yield row["id"], f"{row['id']}: at its terminals"
    for row in _rows(document, "run"):
        yield from _on_run(row)


def _on_run(row: Document) -> Iterator[tuple[str, str]]:
    """The parts of a lead; a lead without a fuse has none to measure across."""
    run = row["id"]
    for part in ACROSS:
        if part != LeadPart.FUSE or str(row.get("fuse", "")).casefold() != UNFUSED:
            yield f"{run} {part}", f"{PARTS[part].format(run=run)}"
    yield run, CURRENT.format(run=run)


def _rows(document: Document, table: str) -> list[Document]:
    """The rows of a table that have a name."""
    rows = document.get(table, [])
    rows = [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []
    return [row for row in rows if isinstance(row.get("id"), str) and row["id"]]
