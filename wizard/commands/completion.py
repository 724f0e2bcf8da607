"""Completion of the command line in a shell: the script that a shell reads once, and what it asks at every Tab."""

from __future__ import annotations

import argparse
import os

from wizard.version import NAME

SHELLS = ("bash", "zsh", "fish")
ASKED = "_ARGCOMPLETE"
"""What a shell sets when it asks what may follow."""


def script(shell: str) -> str:
    """What a shell reads so that it completes commands, options, tables and file names."""
    from argcomplete.shell_integration import shellcode

    return shellcode([NAME], shell=shell)


def answer(parser: argparse.ArgumentParser) -> None:
    """Answer a shell that asks what may follow, and end; else nothing happens."""
    if ASKED in os.environ:
        from argcomplete.finders import CompletionFinder

        CompletionFinder(always_complete_options="long")(parser)
