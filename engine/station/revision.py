"""A profile's text brought up to date: what has not changed stays as its owner wrote it, comments and order too.

The text is taken apart at its headings; a table that says something else is changed key by key, all others are left
as they are, byte for byte.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from engine.parts import Shelf
from engine.station.model import LISTS, SECTIONS, Station
from engine.station.profile import LINE, read, station_document, with_derived
from engine.station.reading import DERIVED
from engine.station.table import Problem, Problems
from engine.station.toml import dump, parse

Row = Mapping[str, Any]

_HEADING = re.compile(r"[ \t]*\[{1,2}[ \t]*(?P<name>[\w-]+)[\w.\- \t]*\]{1,2}[ \t]*(?:#.*)?")


@dataclass(frozen=True)
class Block:
    """One heading with what stands beneath it, and the remark straight above it; ``name`` is empty before the first."""

    name: str
    text: str


def revised(original: str, station: Station, derived: Row | None, shelf: Shelf) -> str | None:
    """``original`` as a profile of ``station``; None where that cannot be done without loss.

    Everything down to the line of dashes is the owner's and is changed only where the station has changed; what
    follows that line is written anew.
    """
    after = station_document(station)
    try:
        before = station_document(read(original, shelf).station)
        above, _, _ = original.partition(LINE)
        blocks = [one for one in _blocks(above) if one.name not in DERIVED]
        kept = _changed(blocks, parse(above), before, after)
        text = with_derived("".join(one.text for one in kept), derived)
        return text if _holds(text, after, derived, shelf) else None
    except Problems:
        return None


def _holds(text: str, after: Row, derived: Row | None, shelf: Shelf) -> bool:
    """Whether a text says what was meant: the same station, and beneath it what was derived, nothing else."""
    beneath = {key: value for key, value in parse(text).items() if key in DERIVED}
    return station_document(read(text, shelf).station) == after and beneath == parse(with_derived("", derived))


# -- taking apart


def _blocks(text: str) -> list[Block]:
    """The text at its headings; a line that only looks like one, inside a longer value, is none."""
    blocks = [Block("", "")]
    for line in text.splitlines(keepends=True):
        heading = _HEADING.fullmatch(line.rstrip("\n"))
        if heading and _is_toml(blocks[-1].text):
            body, remark = _remark_above(blocks[-1].text)
            blocks[-1:] = [Block(blocks[-1].name, body), Block(heading["name"], remark + line)]
        else:
            blocks[-1] = Block(blocks[-1].name, blocks[-1].text + line)
    return blocks


def _is_toml(text: str) -> bool:
    try:
        parse(text)
    except Problems:
        return False
    return True


def _remark_above(text: str) -> tuple[str, str]:
    """A block's text, and the comment at its end that belongs to the heading that follows."""
    lines = text.splitlines(keepends=True)
    place = len(lines)
    while place and lines[place - 1].lstrip().startswith("#"):
        place -= 1
    return "".join(lines[:place]), "".join(lines[place:])


# -- changing


def _changed(blocks: list[Block], above: Row, before: Row, after: Row) -> list[Block]:
    """The blocks of the text ``above`` the line, brought from what all of it says to what it is to say."""
    root, *rest = blocks
    blocks = [_edited(root, lambda one: one, _plain(before), _plain(after)), *rest]
    for name in SECTIONS:
        if before.get(name) != after.get(name) or (name in after and name not in above):
            blocks = _with_section(blocks, name, before.get(name, {}), after.get(name))
    for name in LISTS:
        if before.get(name) != after.get(name) or len(above.get(name, [])) < len(after.get(name, [])):
            blocks = _with_rows(blocks, name, before.get(name, []), after.get(name, []))
    return blocks


def _plain(document: Row) -> Row:
    return {key: value for key, value in document.items() if key not in (*SECTIONS, *LISTS)}


def _edited(block: Block, inside: Callable[[Any], Any], before: Row, after: Row) -> Block:
    """A block whose table, found ``inside`` its text, says ``after`` in the place of ``before``."""
    if before == after:
        return block
    import tomlkit  # slow to load, and needed only where a file is saved over

    body = block.text.rstrip("\n")
    try:
        document = tomlkit.parse(f"{body}\n" if body else "")
        _change(inside(document), before, after)
        text = tomlkit.dumps(document)
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError) as error:
        raise Problems([Problem(block.name, f"cannot be changed in its place: {error}", "write it anew")]) from None
    return Block(block.name, text + block.text[len(body) + 1 :])


def _change(table: Any, before: Row, after: Row) -> None:
    """Take out what is gone, put in what is new; what means the same stays in its owner's words."""
    for key in before:
        if key not in after:
            table.pop(key)
    for key, value in after.items():
        if before.get(key) != value:
            table[key] = value


def _with_section(blocks: list[Block], name: str, before: Row, after: Row | None) -> list[Block]:
    places = [place for place, one in enumerate(blocks) if one.name == name]
    if after is None:
        return [one for one in blocks if one.name != name]
    if not places:
        return _added(blocks, len(blocks), Block(name, f"[{name}]\n{dump(after)}"))
    changed = _edited(blocks[places[0]], lambda document: document[name], before, after)
    return [*blocks[: places[0]], changed, *blocks[places[0] + 1 :]]


def _with_rows(blocks: list[Block], name: str, before: Sequence[Row], after: Sequence[Row]) -> list[Block]:
    """The rows of a list of tables: what is still there is changed in its place, the rest comes or goes."""
    places = [place for place, one in enumerate(blocks) if one.name == name]
    rows = []
    for row, old in zip(after, _partners(before, after), strict=True):
        if old is None or old >= len(places):
            rows.append(Block(name, f"[[{name}]]\n{dump(row)}"))
        else:
            rows.append(_edited(blocks[places[old]], lambda document: document[name][0], before[old], row))
    filled = dict(zip(places, rows, strict=False))
    kept = [filled.get(place, one) for place, one in enumerate(blocks) if one.name != name or place in filled]
    at = max((place for place, one in enumerate(kept) if one.name == name), default=len(kept) - 1) + 1
    for place, block in enumerate(rows[len(places) :]):
        kept = _added(kept, at + place, block)
    return kept


def _added(blocks: list[Block], at: int, block: Block) -> list[Block]:
    """A new block at a place, an empty line before and after it."""
    above = "".join(one.text for one in blocks[:at])
    gap = "" if not above or above.endswith("\n\n") else "\n" if above.endswith("\n") else "\n\n"
    end = "\n" if blocks[at:] else ""
    return [*blocks[:at], Block(block.name, gap + block.text + end), *blocks[at:]]


def _partners(before: Sequence[Row], after: Sequence[Row]) -> list[int | None]:
    """For each row the place that it had: by its id, by what it says, or by most of that under another id."""
    free = dict(enumerate(before))
    found: dict[int, int] = {}
    for same in (_same_id, _same_row, _alike):
        for place, row in enumerate(after):
            old = next((old for old, was in free.items() if same(was, row)), None) if place not in found else None
            if old is not None:
                found[place] = old
                del free[old]
    return [found.get(place) for place in range(len(after))]


def _same_id(was: Row, row: Row) -> bool:
    return "id" in row and str(was.get("id")) == str(row["id"])


def _same_row(was: Row, row: Row) -> bool:
    return dict(was) == dict(row)


def _alike(was: Row, row: Row) -> bool:
    """Whether two rows say mostly the same: a part that was given another name, a reading with one figure mended."""
    alike = sum(was.get(key) == value for key, value in row.items() if key != "id")
    return bool(2 * alike >= max(len(was), len(row)))
