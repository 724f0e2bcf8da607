"""TOML within bounds: whatever a file holds, reading it ends in a document or in problems, and in a moment."""

from typing import Any

import pytest

from engine.station.table import Problems
from engine.station.toml import DEEPEST, FARTHEST, dump, parse

BEYOND = {
    "nested lists": "a = " + "[" * 400 + "]" * 400,
    "nested tables": "a = " + "{a = " * 60 + "1" + "}" * 60,
    "nested headings": "[" + "a." * (DEEPEST + 5) + "a]",
    "a key of a hundred thousand parts": "a" + ".a" * 100_000 + " = 1",
    "quoted parts": '"a b".' * 100_000 + "a = 1",
    "a decimal of five thousand digits": "a = 1" + "0" * 5000,
    "a hexadecimal of a hundred thousand digits": "a = 0x" + "F" * 100_000,
    "a million million million": f"a = {FARTHEST * 1000}",
    "two million characters": "#" * 2_000_000,
    "no end": "a = [",
    "nul": "\x00",
}


@pytest.mark.parametrize("text", BEYOND.values(), ids=BEYOND)
def test_what_is_beyond_the_bounds_is_refused(text: str) -> None:
    """Too deep, too long, too large, or no TOML: problems with a remedy, and nothing else."""
    with pytest.raises(Problems) as caught:
        parse(text)
    assert all(one.what and one.instead for one in caught.value.found)


def test_what_is_within_them_is_read() -> None:
    """The deepest document and the largest number that are accepted."""
    document: Any = parse("a = " + "[" * (DEEPEST - 2) + "]" * (DEEPEST - 2) + f"\nb = {FARTHEST}\nc = nan\nd = inf")
    assert document["b"] == FARTHEST


ODD: list[dict[str, Any]] = [
    {"contacts": [[1], {}]},
    {"rows": [{"a": 1}, {}, {"b": {"c": [{}, {"d": 1}]}}]},
    {"a b": {"c.d": {"\x7f": 1, "": 2}}, 'quo"te': [{"x": 1}]},
    {"mixed": [{"a": 1}, 2, "x", [], {}]},
    {"empty": [], "table": {}, "text": "a\x00\x1b\nb", "kinds": [1.5, True, "x"]},
]


@pytest.mark.parametrize("document", ODD, ids=range(len(ODD)))
def test_any_document_is_written_so_that_it_reads_the_same(document: dict[str, Any]) -> None:
    """Lists of anything, tables of any name: what is written is what is read again (round trip)."""
    assert parse(dump(document)) == document
