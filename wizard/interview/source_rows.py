"""The sources in a document: a row for each kind is made at its first answer, and set aside when the use changes.

What is set aside stays under a private mark in the document, so that drafts and undo keep it and no file holds it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from engine.model import sources
from engine.model.case import BATTERY, MAINS, VEHICLE
from engine.model.layout import CHANGEOVER, SUPPLY
from engine.parts import Shelf
from engine.terms import SUN, SourceKind, Use
from wizard.questions.question import Document

ASIDE = "_aside"
"""The private mark under which answers that the present use does not ask for are kept."""

KINDS: dict[str, SourceKind] = {Use.FIXED: MAINS, Use.MOBILE: VEHICLE, Use.BATTERY: BATTERY, Use.AMPLIFIER: MAINS}
NAMES = {MAINS: SUPPLY, VEHICLE: VEHICLE, BATTERY: BATTERY}
LEAD_KEYS = ("from", "negative", "engine_space", "fuse_legs")
"""What a lead says only of one kind of source."""

BACKUP = "backup"


def listed(document: Document, table: str) -> list[Document]:
    """The rows of a list of tables; none where something else stands there."""
    found = document.get(table, [])
    return [row for row in found if isinstance(row, dict)] if isinstance(found, list) else []


def kind(row: Document, shelf: Shelf) -> SourceKind:
    """What sort of source a row describes."""
    return sources.kind_of(str(row.get("class", "")), str(row.get("part", "")), shelf)


def of_kind(document: Document, sort: SourceKind, shelf: Shelf) -> list[Document]:
    """The rows of one kind of source."""
    return [row for row in listed(document, "source") if kind(row, shelf) == sort]


def main_kind(document: Document, shelf: Shelf) -> SourceKind:
    """The kind of source that the station lives from: by its use, or else by what is described."""
    said = KINDS.get(str(document.get("use", "")))
    there = [kind(row, shelf) for row in listed(document, "source")]
    return said or next((one for one in (MAINS, VEHICLE, BATTERY) if one in there), MAINS)


def wants_backup(document: Document) -> bool:
    """Whether hours without the mains are wished for."""
    wishes = document.get("wishes", {})
    return isinstance(wishes, dict) and bool(wishes.get("hours"))


# -- making and tidying


def make(document: Document, sort: SourceKind, shelf: Shelf) -> Document:
    """The row of a kind of source, made where there is none; a battery behind a supply brings its changeover."""
    found = of_kind(document, sort, shelf)
    if found:
        return found[0]
    if sort == BATTERY and main_kind(document, shelf) == MAINS:
        return _behind(document, make(document, MAINS, shelf))
    row = _row(document, NAMES[sort], sort)
    place = 0 if sort == MAINS else len(listed(document, "source"))
    document.setdefault("source", []).insert(place, row)
    sunlit(document, shelf)
    return row


def _row(document: Document, name: str, sort: str) -> Document:
    return {"id": _free(document, name)} | ({} if sort == MAINS else {"class": sort})


def _behind(document: Document, supply: Document) -> Document:
    row = _row(document, BATTERY, BATTERY) | {"charged_by": supply["id"]}
    document["source"].append(row)
    if not listed(document, "changeover"):
        document["changeover"] = [{"id": _free(document, CHANGEOVER)}]
        for run in listed(document, "run"):
            if run.get("from") == supply["id"]:
                run["from"] = document["changeover"][0]["id"]
    return row


def _free(document: Document, name: str) -> str:
    taken = {
        str(row.get("id")) for table in ("load", "source", "strip", "changeover") for row in listed(document, table)
    }
    number, found = 1, name
    while found in taken:
        number += 1
        found = f"{name}-{number}"
    return found


def sunlit(document: Document, shelf: Shelf) -> None:
    """A battery that lives alone is charged by the panels that are described, and by none when they are not."""
    if main_kind(document, shelf) != BATTERY:
        return
    for row in of_kind(document, BATTERY, shelf):
        if "sun" in document:
            row.setdefault("charged_by", SUN)
        elif row.get("charged_by") == SUN:
            del row["charged_by"]


def tidy(document: Document, shelf: Shelf) -> None:
    """Drop sources of which nothing is said any more and to which nothing leads."""
    told = {str(run.get(end)) for run in listed(document, "run") for end in ("from", "to")}
    told |= {str(row.get("at")) for row in listed(document, "reading")}
    bare = [row for row in listed(document, "source") if _says_nothing(row, shelf) and row.get("id") not in told]
    keep = [row for row in listed(document, "source") if not any(row is one for one in bare)]
    if any(kind(row, shelf) != MAINS for row in keep):
        keep = [row for row in listed(document, "source") if row in keep or kind(row, shelf) == MAINS]
    _set(document, "source", keep)
    changes = [row for row in listed(document, "changeover") if set(row) != {"id"} or row["id"] in told]
    if not of_kind(document, BATTERY, shelf):
        _set(document, "changeover", changes)


def _says_nothing(row: Document, shelf: Shelf) -> bool:
    silent = {"id"} if kind(row, shelf) == MAINS else {"id", "class", "charged_by"}
    return set(row) <= silent


def _set(document: Document, key: str, value: Any) -> None:
    if value:
        document[key] = value
    else:
        document.pop(key, None)


# -- setting aside


def used(document: Document, before: str, after: str) -> None:
    """Another kind of source: what belongs to the one before is set aside, what was said of this one comes back."""
    if before == after:
        return
    kept = document.setdefault(ASIDE, {})
    names = {str(row.get("id")) for table in ("source", "changeover") for row in listed(document, table)}
    kept[before] = _taken(document, names)
    for run in listed(document, "run"):
        said = {key: run.pop(key) for key in LEAD_KEYS if key in run and (key != "from" or run[key] in names)}
        run.setdefault(ASIDE, {})[before] = said
        run |= run[ASIDE].pop(after, {})
        run[ASIDE] = {key: value for key, value in run[ASIDE].items() if value}
        _set(run, ASIDE, run[ASIDE])
    _put_back(document, kept.pop(after, {}))
    document[ASIDE] = {key: value for key, value in kept.items() if value}
    _set(document, ASIDE, document[ASIDE])


def _taken(document: Document, names: set[str]) -> Document:
    """Everything that is said of the present kind of source, by its ``names``, taken out of the document."""
    strips = {str(row.get("id")) for row in listed(document, "strip")}
    taken: Document = {key: document.pop(key) for key in ("source", "changeover", "sun") if key in document}
    for table, mine in (("run", _between(names, strips)), ("reading", _read_at(names))):
        moved = [row for row in listed(document, table) if mine(row)]
        if moved:
            taken[table] = moved
            _set(document, table, [row for row in listed(document, table) if not mine(row)])
    wishes = document.get("wishes", {})
    if isinstance(wishes, dict) and "hours" in wishes:
        taken["hours"] = wishes.pop("hours")
        _set(document, "wishes", wishes)
    return taken


def _between(names: set[str], strips: set[str]) -> Callable[[Document], bool]:
    return lambda row: str(row.get("to")) in names or (str(row.get("to")) in strips and str(row.get("from")) in names)


def _read_at(names: set[str]) -> Callable[[Document], bool]:
    return lambda row: str(row.get("at")) in names


def _put_back(document: Document, taken: Document) -> None:
    for key, value in taken.items():
        if key == "hours":
            document.setdefault("wishes", {})["hours"] = value
        elif key in ("run", "reading"):
            document[key] = [*listed(document, key), *value]
        else:
            document[key] = value


def wished(document: Document, shelf: Shelf) -> None:
    """Hours without the mains wished for, or not any more: the battery described behind the supply follows."""
    if main_kind(document, shelf) != MAINS:
        return
    kept = document.setdefault(ASIDE, {})
    batteries = of_kind(document, BATTERY, shelf)
    if wants_backup(document):
        for row in kept.pop(BACKUP, []):
            make(document, BATTERY, shelf).update({key: one for key, one in row.items() if key not in ("id", "class")})
    elif batteries and batteries[0].get("charged_by") and not _leads_from(document, batteries[0]):
        kept[BACKUP] = batteries[:1]
        _set(document, "source", [row for row in listed(document, "source") if row is not batteries[0]])
        tidy(document, shelf)
    _set(document, ASIDE, kept)


def _leads_from(document: Document, row: Document) -> bool:
    return any(run.get("from") == row.get("id") for run in listed(document, "run"))


def shown(document: Document) -> Document:
    """The document without what is set aside."""
    found = {key: value for key, value in document.items() if key != ASIDE}
    if isinstance(found.get("run"), list):
        runs = found["run"]
        found["run"] = [{k: v for k, v in run.items() if k != ASIDE} if isinstance(run, dict) else run for run in runs]
    return found


def shaped(document: Document) -> bool:
    """Whether what a draft has set aside has its shape."""
    aside = document.get(ASIDE, {})
    runs = [run.get(ASIDE, {}) for run in listed(document, "run")]
    if not isinstance(aside, dict) or not all(isinstance(one, dict) for one in runs):
        return False
    kept = [value for key, value in aside.items() if key != BACKUP]
    lists = [aside.get(BACKUP, []), *(one.get(t, []) for one in kept if isinstance(one, dict) for t in TABLES)]
    inner = [value for run in runs for value in run.values()]
    tables = [*kept, *inner, *(one.get("sun", {}) for one in kept if isinstance(one, dict))]
    rows = all(isinstance(one, list) and all(isinstance(row, dict) for row in one) for one in lists)
    return rows and all(isinstance(one, dict) for one in tables)


TABLES = ("source", "changeover", "run", "reading")
