"""The steps of each door in their order, the questions of each step, and what is assumed while an answer is open."""

from __future__ import annotations

from dataclasses import dataclass

from engine.model.case import BATTERY, MAINS, VEHICLE
from engine.parts import Equipment, Shelf
from engine.terms import PowerInput
from wizard import questions
from wizard.interview import source_rows
from wizard.questions.question import Document, Question

__all__ = ["PLUGGED", "STEPS", "Step", "asked", "leads", "order", "pointless", "source_step"]

PLAN, JUDGE, UPGRADE = "plan", "judge", "upgrade"


@dataclass(frozen=True)
class Step:
    """One step of the wizard: a heading and an introduction."""

    id: str
    title: str
    intro: str


STEPS = {
    one.id: one
    for one in (
        Step("use", "Use", "A name, and where the station lives. Leave empty what you do not know."),
        Step("loads", "Equipment", "Everything that draws direct current: radios first, then the small things."),
        Step("supply", "Supply", "What feeds the station. A first supply is chosen for you: leave it open."),
        Step("vehicle", "Vehicle", "The vehicle whose battery feeds the station. Open answers are taken carefully."),
        Step("battery", "Battery", "A battery that you have. Leave everything open and one is chosen for you."),
        Step("sun", "Sun", "Is it charged by panels? Answer what you know. If not, leave everything empty."),
        Step("leads", "Cable", "One lead to each piece of equipment."),
        Step("site", "Site", "The air and the shops around you, and the wall where there is one."),
        Step("wishes", "Wishes", "What may it cost, and what matters to you?"),
        Step("result", "Result", ""),
    )
}
SOURCE_STEPS = {MAINS: "supply", VEHICLE: "vehicle", BATTERY: "battery"}


def source_step(document: Document, shelf: Shelf) -> str:
    """The step about the source that the station lives from."""
    return SOURCE_STEPS[source_rows.main_kind(document, shelf)]


def order(mode: str, document: Document, shelf: Shelf, here: str = "") -> tuple[str, ...]:
    """The steps of a door for a station, in order; ``here`` is the step shown, which stays while it may."""
    main = source_rows.main_kind(document, shelf)
    there = {source_rows.kind(row, shelf) for row in source_rows.listed(document, "source")} | {main}
    before = [SOURCE_STEPS[one] for one in (MAINS, VEHICLE, BATTERY) if one in there and not _behind(main, one)]
    before += ["sun"] if main == BATTERY or "sun" in document else []
    behind = main == MAINS and (BATTERY in there or source_rows.wants_backup(document) or here == "battery")
    after = ["battery"] if behind else []
    return {
        PLAN: ("use", "loads", "leads", *before, "site", "wishes", *after, "result"),
        UPGRADE: ("loads", "leads", "site", "wishes", *after, "result"),
        JUDGE: ("use", "loads", *before, *after, "leads", "site", "result"),
    }[mode]


def _behind(main: str, kind: str) -> bool:
    """Whether a kind of source stands behind the one that the station lives from."""
    return main == MAINS and kind == BATTERY


def asked(step: str, mode: str, document: Document, shelf: Shelf) -> tuple[Question, ...]:
    """The questions of a step that are not about one piece of equipment."""
    main = source_rows.main_kind(document, shelf)
    mains = main == MAINS or bool(source_rows.of_kind(document, MAINS, shelf))
    region = (questions.REGION,) if main == VEHICLE else ()
    hours = {BATTERY: (questions.HOURS,), MAINS: (questions.OUTAGE,)}.get(main, ())
    charger = (questions.CHARGER,) if main == MAINS else ()
    return {
        "use": questions.USE,
        "supply": questions.SUPPLY,
        "vehicle": questions.VEHICLE,
        "battery": (*(hours if mode == JUDGE else ()), *questions.BATTERY, *charger),
        "sun": questions.SUN,
        "site": (*(questions.MAINS if mains else ()), *questions.PLACE, *region),
        "wishes": (*(hours if main == BATTERY else ()), *questions.WISHES, *(hours if main == MAINS else ())),
    }.get(step, ())


def leads(mode: str, document: Document, shelf: Shelf) -> tuple[Question, ...]:
    """The questions about the lead to each piece of equipment."""
    own, judge = questions.vehicle, mode == JUDGE
    return {
        MAINS: questions.LEAD_AS_IT_STANDS if judge else questions.LEAD,
        VEHICLE: own.LEAD_AS_IT_STANDS if judge else own.LEAD,
        BATTERY: questions.battery.FROM_BATTERY_AS_IT_STANDS if judge else questions.battery.FROM_BATTERY,
    }[source_rows.main_kind(document, shelf)]


PLUGGED = {"wall", "circuit", "mains"}
"""The questions about what plugs into the wall itself."""


def pointless(row: Equipment | None) -> set[str]:
    """The questions that make no sense for a class of equipment, or for one with figures of its own."""
    if row is None:
        return PLUGGED
    if row.feed != PowerInput.DC:
        return {"window", "receive", "transmit", "busy", "follows", "fuse", "lead", "lead_length"}
    return PLUGGED | ({"busy"} if row.transmit else {"transmit", "mode", "keyed"})
