"""The station as typed: from text to the values a file would hold, and from a fault to the answer it is about."""

from __future__ import annotations

from typing import Any

from engine import units
from engine.station.model import FIELDS, SECTIONS
from engine.units import QuantityError
from wizard.questions.question import Document, Question


def typed(question: Question, text: str) -> object:
    """The value a file would hold for an answer typed as ``text``."""
    schema = question.field.shape.schema.get("type")
    if question.yes_no:
        return {"yes": True, "no": False}.get(text.casefold(), text)
    if question.key == "keyed_together":
        return [[part.strip() for part in text.replace(" and ", ",").split(",") if part.strip()]]
    if schema == "array":
        return [part.strip() for part in text.replace("/", ",").split(",") if part.strip()]
    if schema in ("number", "integer"):
        try:
            value = units.number(text)
        except QuantityError:
            return text
        return int(value) if value == int(value) else value
    return text


def cut(document: Document, where: str) -> bool:
    """Take the value that a fault names out of the document; False when there is no such value."""
    at: Any = document
    steps = where.replace("[", ".").replace("]", "").split(".")
    for place, step in enumerate(steps):
        key: Any = int(step) if step.isdigit() and isinstance(at, list) else step
        try:
            inner = at[key]
        except (KeyError, IndexError, TypeError):
            return False
        last = place == len(steps) - 1
        if place == len(steps) - 2 and steps[-1] == "id" and isinstance(at, list):
            del at[key]
            return True
        if last or (isinstance(inner, list) and inner and not isinstance(inner[0], dict)):
            del at[key]
            return True
        at = inner
    return False


def steps(where: str) -> tuple[str, int, str]:
    """Table, row and key of a dotted place."""
    head, _, key = where.rpartition(".")
    table, _, number = head.partition("[")
    if not head and where in FIELDS:
        return where, 0, ""
    digits = number.rstrip("]")
    return table, int(digits) if digits.isdigit() else 0, key.partition("[")[0]


def about(where: str, question: Question, index: int) -> bool:
    """Whether the fault at ``where`` concerns one answer."""
    table = question.table
    prefix = f"{table}." if table in SECTIONS else f"{table}[{index}]." if table else ""
    place = f"{prefix}{question.key}"
    if (table, question.key) == ("reading", "at") and where == f"{prefix}across":
        return True
    part = "" if question.part is None else f"{question.part}]"
    return where == place or where.startswith(f"{place}[{part}")


def understood(question: Question, text: str) -> str:
    """What an answer was understood as, in plain units; empty when it is open or faulty."""
    field = question.field
    if not text or question.yes_no or question.options or question.from_shelf:
        return ""
    try:
        value = field.shape.read(typed(question, text))
    except QuantityError:
        return ""
    if field.shape.kind and not isinstance(value, str):
        return "= none" if text.casefold() == "none" else f"= {units.show(float(value), field.shape.kind)}"
    window = getattr(value, "lowest", None)
    if window is not None:
        return f"= {value.lowest:.2f} to {value.highest:.2f} V"
    return f"= {value}" if field.key == "conductor" else ""
