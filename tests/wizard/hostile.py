"""Files that nobody would write: worked stations changed at random, by the byte, by the line and by the value."""

from __future__ import annotations

import copy
import datetime
import json
import random
import re
import tomllib
from collections.abc import Callable
from typing import Any

from catalog.shelf import STATIONS
from engine.station import toml
from engine.station.model import FIELDS, LISTS, SECTIONS

WORKED = tuple(path.read_text(encoding="utf-8") for path in sorted(STATIONS.glob("*.toml")))
EVERY_KEY = sorted({one.key for fields in FIELDS.values() for one in fields})
TABLE_NAMES = (*LISTS, *SECTIONS, "choice", "finding", "verdict", "stray")

OBEYED = (
    "\x1b[2J", "\x1b]0;x\x07", "\x9b31m", "\u202e", "\u2066", "\u200b", "\u2028", "\ufeff", "\x7f", "\x00", "\r",
    "\x85",
)  # fmt: skip
TEXTS = (
    "", " ", "x", "hf", "supply", "sun", "2m", "70cm", "for", "in", "12v-psu", "hf-a", "hf_a", "None", "-", "_",
    "é" * 40,
    "0 A", "-1 A", "22 A", "1e9 A", "nan V", "13,8 V", "1.000 A", "13.8 V ± 15 %", "13.8 V ± 100 %", "0 to 0 V", "none",
    "5 ft 6 in", "0 m", "1000 m", "#10", "4/0 AWG", "0.01 mm²", "100 %", "0 %", "1000 %", "250 °C", "-90 °C", "[/x]",
    "[@click=app.quit]x", "../../etc/passwd", "line\nfeed", "! unsound  forged", "a" * 41, "a" * 2001, *OBEYED,
)  # fmt: skip
IDS = ("2m", "70cm", "for", "in", "12v-psu", "hf-a", "hf_a", "None", "e1", "_", "x" * 40, "supply", "sun", "é", "0")
FIGURES = ("0", "0.001", "0.5", "1", "3", "12", "47", "100", "999", "50000")
_FIGURE = re.compile(r"[\d.]+")
NUMBERS = (
    0, 1, -1, 2, 10**15, 10**16, -(10**30), 0.0, -0.0, 1e-300, 1e300, float("nan"), float("inf"), float("-inf"), 1e7,
)  # fmt: skip


def hostile(seed: int) -> bytes:
    """The file of that number: always the same one."""
    dice = random.Random(seed)
    text = dice.choice(WORKED)
    document = tomllib.loads(text)
    if dice.random() < 0.5:
        for _ in range(dice.randint(1, 4)):
            dice.choice((_other_figure, _other_figure, _rename_everywhere, _drop))(document, dice)
        text = _written(document)
        text = _other_ends(text, dice) if dice.random() < 0.1 else text
        return text.encode()
    if dice.random() < 0.6:
        for _ in range(dice.randint(1, 3)):
            dice.choice(IN_THE_DOCUMENT)(document, dice)
        text = _written(document)
    for _ in range(dice.choice((0, 0, 1, 2))):
        text = dice.choice(IN_THE_TEXT)(text, dice)
    raw = text.encode(errors="surrogatepass")
    return dice.choice(IN_THE_BYTES)(raw, dice) if dice.random() < 0.3 else raw


def _written(document: dict[str, Any]) -> str:
    try:
        return toml.dump(document)
    except (ValueError, TypeError, RecursionError):
        return json.dumps(document, default=str)


# -- values of every wrong sort


def value(dice: random.Random, deep: int = 0) -> Any:
    """Something that may stand where anything else should."""
    sort = dice.randrange(12)
    if sort < 5:
        return dice.choice(TEXTS)
    if sort < 7:
        return dice.choice(NUMBERS)
    if sort == 7:
        return dice.random() < 0.5
    if sort == 8:
        return dice.choice((datetime.date(1, 1, 1), datetime.time(1), datetime.datetime(9999, 12, 31, 23)))
    if deep > 3:
        return []
    if sort == 9:
        return {dice.choice((*EVERY_KEY, *TEXTS)): value(dice, deep + 1) for _ in range(dice.randrange(3))}
    return [value(dice, deep + 1) for _ in range(dice.randrange(4))]


def _tables(document: dict[str, Any]) -> list[dict[str, Any]]:
    rows = [row for one in document.values() if isinstance(one, list) for row in one if isinstance(row, dict)]
    return [document, *(one for one in document.values() if isinstance(one, dict)), *rows]


def _set(document: dict[str, Any], dice: random.Random) -> None:
    table = dice.choice(_tables(document))
    table[dice.choice(sorted(table) or ["x"]) if dice.random() < 0.7 else dice.choice(EVERY_KEY)] = value(dice)


def _drop(document: dict[str, Any], dice: random.Random) -> None:
    table = dice.choice(_tables(document))
    if table:
        del table[dice.choice(sorted(table))]


def _strange_key(document: dict[str, Any], dice: random.Random) -> None:
    dice.choice(_tables(document))[dice.choice((*TEXTS, *TABLE_NAMES))] = value(dice)


def _strange_table(document: dict[str, Any], dice: random.Random) -> None:
    document[dice.choice(TABLE_NAMES)] = value(dice)


def _rename(document: dict[str, Any], dice: random.Random) -> None:
    """A part gets another id, everywhere or only at its own place."""
    parts = [row for row in _tables(document) if "id" in row and isinstance(row["id"], str)]
    if parts:
        part = dice.choice(parts)
        old, new = part["id"], dice.choice(TEXTS)
        for row in _tables(document) if dice.random() < 0.7 else [part]:
            for key in ("id", "from", "to", "at", "charged_by"):
                if row.get(key) == old:
                    row[key] = new


def _rename_everywhere(document: dict[str, Any], dice: random.Random) -> None:
    """A part gets another id that may be one, wherever it is named."""
    parts = [row["id"] for row in _tables(document) if isinstance(row.get("id"), str)]
    old, new = dice.choice(parts or [""]), dice.choice(IDS)
    for row in _tables(document):
        row.update({key: new for key in ("id", "from", "to", "at", "charged_by") if row.get(key) == old})


def _other_figure(document: dict[str, Any], dice: random.Random) -> None:
    """A quantity gets another number, in the unit that it has."""
    table = dice.choice(_tables(document))
    quantities = [key for key, text in table.items() if isinstance(text, str) and _FIGURE.match(text)]
    if quantities:
        key = dice.choice(quantities)
        table[key] = _FIGURE.sub(dice.choice(FIGURES), table[key], count=1)


def _double(document: dict[str, Any], dice: random.Random) -> None:
    lists = [one for one in document.values() if isinstance(one, list) and one]
    if lists:
        rows = dice.choice(lists)
        rows += [copy.deepcopy(dice.choice(rows)) for _ in range(dice.choice((1, 2, 30, 201)))]


def _nest(document: dict[str, Any], dice: random.Random) -> None:
    deep: Any = "x"
    for _ in range(dice.choice((5, 38, 60, 200))):
        deep = [deep] if dice.random() < 0.5 else {"a": deep}
    dice.choice(_tables(document))[dice.choice(EVERY_KEY)] = deep


IN_THE_DOCUMENT: tuple[Callable[[dict[str, Any], random.Random], None], ...] = (
    _set, _set, _set, _set, _drop, _strange_key, _strange_table, _rename, _rename, _double, _nest,
)  # fmt: skip


# -- the text


def _line(text: str, dice: random.Random, make: Callable[[list[str], int], None]) -> str:
    lines = text.split("\n")
    make(lines, dice.randrange(len(lines)))
    return "\n".join(lines)


def _lose_a_line(text: str, dice: random.Random) -> str:
    return _line(text, dice, lambda lines, at: lines.pop(at) and None)


def _twice(text: str, dice: random.Random) -> str:
    return _line(text, dice, lambda lines, at: lines.insert(at, lines[at]))


def _bombs(text: str, dice: random.Random) -> str:
    bomb = dice.choice((
        "x = " + "[" * 5000, "x = " + "{a=" * 300, "x" + ".a" * 50_000 + " = 1", "n = 1" + "0" * 5000,
        "n = 0x" + "F" * 50_000, 'x = "' + "y" * 1_000_000 + '"', "#" * 900_000, "[" + "a." * 3000 + "a]",
        "x = [" + "1," * 50_000 + "]", 'note = """' + "\n" * 3000 + '"""', "[[load]]\n" * 300,
    ))  # fmt: skip
    return _line(text, dice, lambda lines, at: lines.insert(at, bomb))


def _insert(text: str, dice: random.Random) -> str:
    at = dice.randrange(len(text) + 1)
    return text[:at] + dice.choice((*OBEYED, '"', "'", "=", "[", "]", "\n", "#", "\\", "\ud800", '"""')) + text[at:]


def _cut(text: str, dice: random.Random) -> str:
    return text[: dice.randrange(len(text) + 1)]


def _other_ends(text: str, dice: random.Random) -> str:
    return text.replace("\n", dice.choice(("\r\n", "\r", "\n\n", "\n\r")))


IN_THE_TEXT = (_lose_a_line, _twice, _bombs, _insert, _insert, _cut, _other_ends)


# -- the bytes


def _mark(raw: bytes, dice: random.Random) -> bytes:
    return dice.choice((b"\xef\xbb\xbf", b"\xff\xfe", b"\xef\xbb\xbf\xef\xbb\xbf", b"\x1f\x8b")) + raw


def _flip(raw: bytes, dice: random.Random) -> bytes:
    changed = bytearray(raw)
    for _ in range(dice.choice((1, 1, 5)) if raw else 0):
        changed[dice.randrange(len(changed))] = dice.randrange(256)
    return bytes(changed)


def _other_coding(raw: bytes, dice: random.Random) -> bytes:
    return raw.decode(errors="replace").encode(dice.choice(("utf-16", "latin-1", "utf-32")), errors="replace")


def _pad(raw: bytes, dice: random.Random) -> bytes:
    return raw + dice.choice((b"\x00" * 100, b"\n" * 100_000, b"\x1a", b"\xed\xa0\x80"))


IN_THE_BYTES = (_mark, _flip, _flip, _other_coding, _pad)
