"""The wiring drawing as pages of SVG, with the fuse symbol of IEC 60617; red is positive, black is negative."""

from __future__ import annotations

import html
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from engine.characters import escaped
from engine.model.case import Lead
from engine.rules.check import Verdict
from engine.terms import FusedLegs, Negative
from wizard.view.figures import wire_line
from wizard.view.places import Box, Places, Wire, places
from wizard.view.scene import Scene
from wizard.view.span import plain_text

if TYPE_CHECKING:
    from schemdraw import Drawing

ROWS = 15
"""The most rows on one page."""

BOX, RUN, ROW = 6.4, 12.0, 2.95
"""Width of a box, length of a run and height of a row, in units of the drawing (36 points each)."""

RED_DOWN, BLACK_DOWN = 0.7, 1.6
"""How far below the top of its row the positive and the negative conductor lie."""

COLUMNS = 31
"""The most characters on a line of a box."""

LINE = 0.42
"""From one line of text to the next."""

RED, BLACK, GREY = "#a82020", "#202026", "#55555f"
SIZE = 11
_READ_AS_MARKUP = {chr(0xE000 + ord(char)): char for char in "$\\_^{}&<>"}
"""Characters that the drawing library reads as formulas or tags, each behind one that no text of ours has."""

_HIDE = str.maketrans({char: private for private, char in _READ_AS_MARKUP.items()})
_SHOW = str.maketrans({private: html.escape(char) for private, char in _READ_AS_MARKUP.items()})


def wiring_pages(verdict: Verdict) -> list[str]:
    """The drawing, one SVG document a page; none where there is nothing to draw."""
    scene = Scene(verdict)
    layout = places(scene)
    return [_page(scene, layout, first) for first in range(0, layout.rows, ROWS)]


def _page(scene: Scene, layout: Places, first: int) -> str:
    """The rows from ``first`` on."""
    import schemdraw
    from schemdraw.backends import svg

    svg.config.text = "text"
    drawing = schemdraw.Drawing(show=False, canvas="svg")
    shown = range(first, min(first + ROWS, layout.rows))
    _text(
        drawing,
        0,
        0.6,
        "red is positive (+), black is negative (−); every length is one way, for both conductors",
        GREY,
    )
    for box in layout.boxes:
        if box.top in shown or box.bottom in shown or box.top < first <= box.bottom:
            _box(drawing, box, shown)
    for wire in layout.wires:
        if wire.row in shown:
            _wire(drawing, scene, wire, wire.row - first)
    made: bytes = drawing.get_imagedata("svg")
    return made.decode().translate(_SHOW)


def _box(drawing: Drawing, box: Box, shown: range) -> None:
    """A part, cut where the page ends and named again on the next."""
    import schemdraw.elements as elm

    top, bottom = max(box.top, shown[0]) - shown[0], min(box.bottom, shown[-1]) - shown[0]
    left = box.column * (BOX + RUN)
    corners = (left, -top * ROW - 0.1), (left + BOX, -(bottom + 1) * ROW + 0.1)
    drawing.add(elm.Rect(*corners).at((0, 0)).theta(0).color(BLACK))
    lines = box.lines if box.top in shown else (box.lines[0], "continued from the page before")
    for number, line in enumerate(box_lines(lines)):
        down = 0.42 + number * LINE
        _text(drawing, left + 0.25, -top * ROW - down, line, GREY if number else BLACK)


def box_lines(lines: Sequence[str]) -> list[str]:
    """A name on one line, what follows on two where it is long: what fits a box of one row."""
    name, *rest = lines
    shown = [fitted(name, COLUMNS)]
    for line in rest:
        shown += [fitted(half, COLUMNS) for half in textwrap.wrap(escaped(line), COLUMNS, max_lines=2, placeholder="…")]
    return shown[:6]


def _wire(drawing: Drawing, scene: Scene, wire: Wire, row: int) -> None:
    """Both conductors of a run, its fuses, and what is written beside them."""
    run, right = wire.run, wire.column * (BOX + RUN)
    left, top = right - RUN, -row * ROW
    _conductor(drawing, (left, top - RED_DOWN), RED, bool(run.fuse_rating))
    both = bool(run.fuse_rating) and run.fuse_legs == FusedLegs.BOTH
    _conductor(drawing, (left, top - BLACK_DOWN), BLACK, both)
    _text(drawing, left + 0.2, top - 0.3, fitted(fuse_text(run), 14), RED)
    _text(drawing, left + 3.1, top - 0.3, fitted(wire_text(scene, run), 44), BLACK)
    _text(drawing, left + 0.2, top - 0.98, "+", RED)
    _text(drawing, left + 0.2, top - 1.34, "−", BLACK)
    _text(drawing, left + 3.1, top - 1.15, fitted(run.id, 26), BLACK)
    _text(drawing, left + 8.1, top - 1.15, drop_text(scene, run), GREY)
    for number, text in enumerate(end_texts(run)):
        _text(drawing, left + 0.2, top - 1.95 - number * 0.37, fitted(text, 60), GREY)


def _conductor(drawing: Drawing, start: tuple[float, float], colour: str, fused: bool) -> None:
    import schemdraw.elements as elm

    left, height = start
    if fused:
        fuse = elm.FuseIEC()  # type: ignore[no-untyped-call]
        drawing.add(fuse.at(start).to((left + 2.6, height)).color(colour))
        left += 2.6
    drawing.add(elm.Line().at((left, height)).to((start[0] + RUN, height)).color(colour))
    for end in (start[0], start[0] + RUN):
        drawing.add(elm.Dot(open=True).at((end, height)).color(colour))


def _text(drawing: Drawing, left: float, height: float, text: str, colour: str) -> None:
    """One line of text, nothing in it read as a formula or a tag."""
    from schemdraw.elements import Element
    from schemdraw.segments import SegmentText

    element = Element()
    plain = text.translate(_HIDE)
    element.segments.append(SegmentText((0, 0), plain, align=("left", "center"), fontsize=SIZE, color=colour))
    drawing.add(element.at((left, height)).theta(0))


def fitted(text: str, columns: int) -> str:
    """A text in at most ``columns`` characters, what is hidden in it written out.

    >>> fitted("a name that is long", 8)
    'a name …'
    """
    plain = escaped(text)
    return plain if len(plain) <= columns else f"{plain[: columns - 1]}…"


def fuse_text(run: Lead) -> str:
    """The fuse of a run."""
    if run.fuse_rating is None:
        return "fuse open"
    legs = "2 × " if run.fuse_legs == FusedLegs.BOTH else ""
    return f"{legs}{run.fuse_rating:g} A fuse" if run.fuse_rating else "no fuse"


def wire_text(scene: Scene, run: Lead) -> str:
    """Length and gauge of a run, in both families where there is a like size."""
    like = f" ({run.conductor.like})" if run.conductor and run.conductor.like else ""
    return f"{plain_text(wire_line(scene, run))}{like}"


def drop_text(scene: Scene, run: Lead) -> str:
    """The volts lost on a run at worst."""
    loss = scene.loss(run)
    return f"drop {loss[0]:.2f} V" if loss else "drop not known yet"


def end_texts(run: Lead) -> tuple[str, ...]:
    """The contacts at both ends of a run, and where its negative lands if not on the supply."""
    landing = () if run.negative == Negative.SUPPLY else (f"negative to: {run.negative}",)
    if run.contacts is None:
        return ("contacts open", *landing)
    start, end = run.contacts
    return (f"begins in: {start.title}", f"ends in: {end.title}", *landing)
