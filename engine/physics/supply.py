"""What a regulated supply shows at its own terminals: volts, and shares from 0 to 1 of how far they may be off."""

from __future__ import annotations

from engine.working import Measure


def highest(set_point: Measure, tolerance: Measure) -> Measure:
    """The most that it shows, with nothing drawn.

    >>> round(highest(13.8, 0.01), 3)
    13.938
    """
    return set_point * (1 + tolerance)


def lowest(set_point: Measure, tolerance: Measure, sag: Measure) -> Measure:
    """The least that it shows, at full load; ``sag`` is what it gives up from no load to full load.

    >>> round(lowest(13.8, 0.01, 0.01), 3)
    13.525
    """
    return set_point * (1 - tolerance) * (1 - sag)
