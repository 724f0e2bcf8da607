"""The command that prints every paper of a station."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

from engine.parts import Shelf
from wizard.commands import output
from wizard.commands.answer import Done, judged
from wizard.commands.stations import out_path
from wizard.interview.saving import InTheWay, save_text
from wizard.papers.pages import html_lines, markdown_lines
from wizard.store import StoreError


def print_papers(args: argparse.Namespace, shelf: Shelf) -> Done:
    """Print the papers of one station, or write them where asked."""
    done = Done()
    verdict = judged(args.file, shelf, done)
    if verdict is None:
        return done
    lines = (markdown_lines if args.markdown else html_lines)(verdict, shelf, args.only)
    if args.out is None:
        done.out = list(lines)
        return done
    try:
        path = out_path(args.out)
        _write(path, "\n".join(lines) + "\n", _consent(args.force))
    except StoreError as error:
        return done.fail([str(error)])
    done.out = [f"saved to {path}"]
    return done


def _consent(force: bool) -> Callable[[str], bool] | None:
    """Who is asked before another paper is replaced; nobody where there is no terminal."""
    if force:
        return lambda _: True
    return output.confirmed if output.can_be_asked() else None


def _write(path: Path, text: str, ask: Callable[[str], bool] | None) -> None:
    """Write a paper, once the owner agrees to what it replaces."""
    try:
        save_text(path, text)
    except InTheWay as error:
        if ask is None:
            raise StoreError(f"{error}; --force puts this one in its place, or choose another name") from None
        if not ask(f"{error}. Put this one in its place?"):
            raise StoreError(f"{path}: left as it is; nothing is saved") from None
        save_text(path, text, error.there)
