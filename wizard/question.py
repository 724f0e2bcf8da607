"""What a question is: about one key of one table, with what is asked, why, and where its answer stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine import keys
from engine.fields import Field
from engine.parts import Shelf

NOT_KNOWN = "I don't know"
MEANING = {
    "fixed": "fixed: at home, from the mains",
    "mobile": "mobile: in a vehicle (not planned yet)",
    "battery": "battery: portable or off the grid (not planned yet)",
    "amplifier": "amplifier: at home, with a power amplifier",
    "linear": "linear: heavy, with a mains transformer",
    "switch-mode": "switch-mode: light, ask about noise on the bands",
    "steady current": "steady current: most transmitters and receivers",
    "steady power": "steady power: a converter inside, as in computers and chargers",
    "resistive": "resistive: heaters, old lamps, plain fans",
    "one lead each": "one lead each, from the supply's own posts",
    "fused strip": "through a strip with a fuse for each lead",
}
"""What the words to choose from mean."""


@dataclass(frozen=True)
class Question:
    """One question about one key of one table: what is asked, why, how to write it, where to find it."""

    table: str
    key: str
    asks: str
    why: str
    where: str
    example: str
    options: tuple[str, ...] = ()
    yes_no: bool = False
    part: int | None = None
    from_shelf: str = ""

    def choices(self, shelf: Shelf) -> tuple[tuple[str, str], ...]:
        """The words to choose from with what they mean; none where the answer is typed."""
        if self.yes_no:
            return (("yes", "yes"), ("no", "no"))
        if self.from_shelf:
            rows = getattr(shelf, self.from_shelf)
            return tuple((key, f"{key}: {row.title}" if row.title != key else key) for key, row in rows.items())
        return tuple((one, MEANING.get(one, one)) for one in self.options)

    @property
    def field(self) -> Field:
        """The key's own declaration."""
        return next(one for one in TABLES[self.table] if one.key == self.key)


TABLES: dict[str, Sequence[Field]] = {
    "": keys.TOP,
    "site": keys.SITE,
    "wishes": keys.WISHES,
    "load": keys.LOAD,
    "source": keys.SOURCE,
    "run": keys.RUN,
    "reading": keys.READING,
}
