"""Every paper of a station in one self-contained HTML page, or as Markdown: made from its verdict alone."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from engine.characters import escaped
from engine.diagnosis.diagnosis import METER
from engine.diagnosis.sheet import sheet
from engine.parts import Shelf
from engine.planning.plan import Plan
from engine.rules.check import Verdict
from wizard.papers.bench import sheet_lines
from wizard.papers.card import card_lines
from wizard.papers.note import note_lines
from wizard.papers.wiring import wire_text, wiring_pages
from wizard.papers.words import draw_lines, plan_lines, reason_lines
from wizard.view.scene import Scene
from wizard.view.span import Line, plain_text

WIDTH = 88
"""Columns of text that fit A4 and Letter upright at 9 points."""

WIRING = "wiring"

STYLE = """\
@page { margin: 14mm }
body { font: 11pt sans-serif; color: #111; background: #fff; max-width: 190mm; margin: 1em auto }
section + section { break-before: page }
h1, h2 { break-after: avoid }
pre { font: 9pt monospace; white-space: pre-wrap; overflow-wrap: anywhere; margin: 0 }
svg { max-width: 100%; max-height: 240mm; height: auto; break-inside: avoid }
@page wide { size: landscape }
.wide { page: wide }
@media print { body { max-width: none; margin: 0 } }
.wide svg { width: 100%; max-height: 150mm }
"""


_SIZE = re.compile(r'viewBox="\S+ \S+ (\S+) (\S+)"')
"""Width and height of a drawing."""


@dataclass(frozen=True)
class Page:
    """One paper: the word it is asked for by, its title, and its lines."""

    word: str
    title: str
    lines: Callable[[Verdict, Shelf], Iterable[str | Line]]


def _bench(verdict: Verdict, shelf: Shelf) -> Iterable[str]:
    return sheet_lines(sheet(verdict.operating, shelf.instruments[METER]), WIDTH)


PAGES = (
    Page("plan", "The plan", lambda verdict, _: plan_lines(Plan(verdict), WIDTH, ())),
    Page(WIRING, "Wiring drawing", lambda verdict, _: draw_lines(Plan(verdict), WIDTH)),
    Page("why", "Why each part, and all volts", lambda verdict, _: reason_lines(Plan(verdict), WIDTH)),
    Page("card", "Switching card", lambda verdict, _: card_lines(verdict)),
    Page("bench", "Bench sheet", _bench),
    Page("labels", "Labels for both ends of every lead", lambda verdict, _: label_lines(verdict)),
    Page("note", "Note for the electrician", note_lines),
)
"""Every paper, in the order in which they are printed."""


def label_lines(verdict: Verdict) -> Iterator[str]:
    """Two labels for each run, one for each end: what it is, where this end goes, and the fuse to put back."""
    scene = Scene(verdict)
    for run in verdict.case.leads:
        fuse = f"fuse {run.fuse_rating:g} A" if run.fuse_rating else "no fuse" if run.fuse_rating == 0 else "fuse open"
        for here, there in ((run.start, run.end), (run.end, run.start)):
            yield f"[ {run.id} | this end: {here or 'source'} | other end: {there or 'source'} ]"
            yield f"[ {wire_text(scene, run)} | {fuse} | red + black − ]"
            yield ""


def chosen(only: str | None) -> Sequence[Page]:
    """The papers that are meant: one by its word, or all."""
    return [page for page in PAGES if only in (None, page.word)]


def _plain(page: Page, verdict: Verdict, shelf: Shelf) -> Iterator[str]:
    """A paper's lines as text; what is hidden in them is written out."""
    for line in page.lines(verdict, shelf):
        yield escaped(line if isinstance(line, str) else plain_text(line)).rstrip()


def html_lines(verdict: Verdict, shelf: Shelf, only: str | None = None) -> list[str]:
    """The papers as one HTML document that needs nothing beside it."""
    name = html.escape(escaped(verdict.station.name))
    head = f'<meta charset="utf-8"><title>{name}</title><style>\n{STYLE}</style>'
    lines = ["<!DOCTYPE html>", f'<html lang="en"><head>{head}</head><body>', f"<h1>{name}</h1>"]
    for page in chosen(only):
        body = _body(page, verdict, shelf)
        shape = ' class="wide"' if _is_wide(body[:1]) else ""
        lines += [f'<section id="{page.word}"{shape}><h2>{page.title}</h2>', *body, "</section>"]
    return "\n".join([*lines, "</body></html>"]).split("\n")


def _body(page: Page, verdict: Verdict, shelf: Shelf) -> list[str]:
    if page.word == WIRING:
        return wiring_pages(verdict)
    return ["<pre>", *map(html.escape, _plain(page, verdict, shelf)), "</pre>"]


def _is_wide(drawings: Sequence[str]) -> bool:
    """Whether a drawing is wider than high, so that its paper lies on its side."""
    sizes = [_SIZE.search(one) for one in drawings]
    return any(float(size[1]) > float(size[2]) for size in sizes if size)


def markdown_lines(verdict: Verdict, shelf: Shelf, only: str | None = None) -> list[str]:
    """The papers as Markdown; each is an indented block, in which nothing is read as a mark."""
    lines = []
    for page in chosen(only):
        body = (f"    {line}".rstrip() for line in _plain(page, verdict, shelf))
        lines += [f"# {page.title}", "", *body, ""]
    return lines
