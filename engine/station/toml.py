"""TOML text and the plain document in it: read within bounds, written with a heading for every table."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from typing import Any

import tomli_w

from engine.station.table import Problem, Problems

LARGEST = 1_000_000
"""Characters accepted in one file."""

DEEPEST = 40
"""Tables and lists accepted within each other."""

FARTHEST = 10**15
"""The whole number that no figure of a station comes near."""

DOTS = 400
"""Dots accepted in one line: a key of dotted parts costs the parser the square of their number."""

_RIGHT_FILE = "check that it is the right file"


def parse(text: str) -> dict[str, Any]:
    """The document in ``text``: no deeper than ``DEEPEST``, no whole number beyond ``FARTHEST``.

    Raises:
        Problems: not TOML, or beyond those bounds.

    """
    if len(text) > LARGEST:
        raise _fault("the file is too large for a station", _RIGHT_FILE)
    if any(line.count(".") > DOTS for line in text.splitlines()):
        raise _fault(f"a line holds more than {DOTS} dots", "shorten it")
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _fault(f"not valid TOML: {error}", "mend that line") from None
    except RecursionError:
        raise _fault("not valid TOML: nested too deeply", _RIGHT_FILE) from None
    except ValueError:  # a number of thousands of digits
        raise _fault("not valid TOML: a number is too long", "shorten it") from None
    _within_bounds(document)
    return document


def _fault(what: str, instead: str) -> Problems:
    return Problems([Problem("", what, instead)])


def _within_bounds(document: Mapping[str, Any]) -> None:
    """Refuse what could not be gone through, or written out, later on."""
    level: list[Any] = [document]
    for _ in range(DEEPEST):
        if any(isinstance(value, int) and abs(value) > FARTHEST for value in level):
            raise _fault("a number is too long", "shorten it")
        level = [inner for value in level for inner in _inside(value)]
    if level:
        raise _fault("nested too deeply", _RIGHT_FILE)


def _inside(value: object) -> Iterable[Any]:
    if isinstance(value, Mapping):
        return value.values()
    return value if isinstance(value, list) else ()


def dump(document: Mapping[str, Any], at: str = "") -> str:
    """TOML text with every table and every row of a list of tables under a heading of its own, never inline."""
    plain = {key: value for key, value in document.items() if not _is_headed(value)}
    parts = [tomli_w.dumps(plain)] if plain else []
    for key, value in document.items():
        path = f"{at}{_key(key)}"
        if isinstance(value, Mapping):
            parts.append(f"[{path}]\n{dump(value, f'{path}.')}")
        elif _is_headed(value):
            parts += [f"[[{path}]]\n{dump(row, f'{path}.')}" for row in value]
    return "\n".join(parts)


def _key(key: str) -> str:
    """A key as TOML spells it, between quotation marks where it must be."""
    return tomli_w.dumps({key: 0}).removesuffix(" = 0\n")


def _is_headed(value: object) -> bool:
    """Whether a value is a table, or a list of nothing but tables."""
    if isinstance(value, (list, tuple)):
        return bool(value) and all(isinstance(row, Mapping) for row in value)
    return isinstance(value, Mapping)
