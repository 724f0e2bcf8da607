"""A symptom in words: what to do first, then each cause with what tells it apart."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from engine.parts import Shelf, Symptom
from wizard.papers.words import WIDTH, wrap

NO_POWER_PROBLEM = ("elsewhere", "noise")


def symptom_lines(one: Symptom, shelf: Shelf, width: int = WIDTH) -> Iterator[str]:
    """One symptom to read from top to bottom."""
    yield from wrap(f"{one.title}:", width)
    yield from wrap(f"First: {one.first}", width, 2)
    for number, cause in enumerate(one.causes, 1):
        apart = " (not a lack of power)" if cause.about in NO_POWER_PROBLEM else ""
        yield ""
        yield from wrap(f"{number}. {cause.cause}{apart}", width, 3)
        for word, text in (("if", cause.apart), ("ask", cause.ask), ("then", cause.then)):
            yield from (f"   {line}" for line in wrap(f"{word:<4} {text}", width - 3, 5))
        yield from (f"   {line}" for line in wrap(f"from {shelf.sources[cause.source].title}", width - 3, 5))


def symptom_data(one: Symptom) -> dict[str, Any]:
    """One symptom as plain data."""
    return {
        "id": one.id,
        "title": one.title,
        "first": one.first,
        "causes": [vars(cause) for cause in one.causes],
        "source": one.source,
    }
