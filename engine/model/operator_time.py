"""The share of the time keyed where its owner gave none: one operator, whose overs are those of what draws most."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace

from engine import units
from engine.model.assumptions import Notebook
from engine.model.case import Draw
from engine.model.turns import airtime
from engine.terms import Group, PowerInput
from engine.units import show

HOW = "how you operate"


def share_out(
    draws: tuple[Draw, ...], told: Set[str], together: Sequence[tuple[str, ...]], usual: float, book: Notebook
) -> tuple[Draw, ...]:
    """The loads with one operator's time shared out among those of which no share was ``told``.

    The hungriest of them is taken to be keyed for the ``usual`` share, or for what the others leave of the hour, and
    with it what is keyed at the same time; the rest listen. Any other sharing draws less.
    """
    groups = [frozenset(group) for group in together]
    open_ = [one for one in draws if one.is_keyed and one.feed == PowerInput.DC and one.id not in told]
    radios = [one for one in open_ if one.group != Group.AMPLIFIER]
    if not radios:
        return draws
    known = {one.id: one.keyed for one in draws if one.is_keyed and one.id in told and one.group != Group.AMPLIFIER}
    free = min(usual, max(1 - sum(airtime(known, groups).values()), 0.0))
    hungriest = max(radios, key=_swing)
    keyed = {hungriest.id}.union(*(group for group in groups if hungriest.id in group))
    shares = {one.id: free if one.id in keyed else 0.0 for one in radios}
    for one in radios:
        _note(one, shares[one.id], usual, hungriest, book)
    return tuple(replace(one, keyed=shares.get(one.id, one.keyed)) for one in draws)


def _swing(draw: Draw) -> float:
    """What an over adds to the mean [W], everything usual."""
    key_down = draw.transmit.usual if draw.transmit else 0.0
    return (key_down - draw.receive.usual) * draw.mode.envelope * draw.nominal


def _note(draw: Draw, share: float, usual: float, hungriest: Draw, book: Notebook) -> None:
    """Write down what is taken, in the place of the share that one load alone would have."""
    if share == usual:
        return
    basis = f"one operator, whose overs are counted as {hungriest.id}'s, which draws most"
    if draw.id == hungriest.id:
        basis = "what the other loads leave of the time"
    book.replace(f"{draw.id}.keyed", show(share, units.SHARE), basis, HOW)
