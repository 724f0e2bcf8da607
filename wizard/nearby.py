"""What a misspelt word may have meant."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from pathlib import Path

LONGEST = 80
"""Characters of a misspelt word that are compared; what is longer is no slip of the finger."""


def near(word: str, known: Iterable[str]) -> list[str]:
    """The known words, at most three and nearest first, that ``word`` may have meant; capitals do not count."""
    plain = {one.casefold(): one for one in known}
    if word.casefold() in plain:
        return [plain[word.casefold()]]
    return [plain[one] for one in difflib.get_close_matches(word.casefold()[:LONGEST], plain)]


def either(words: Iterable[str]) -> str:
    """Words to choose from, quoted and with nothing in them that a terminal obeys."""
    return " or ".join(map(repr, words))


def stations_like(path: Path, worked: Iterable[str]) -> list[str]:
    """The station files in its folder, and the worked stations, that a file which is not there may have meant."""
    try:
        beside = {one.name: str(one) for one in path.parent.glob("*.toml")}
    except (OSError, ValueError):
        beside = {}
    return [*(beside[name] for name in near(path.name, beside)), *near(path.stem, worked)]
