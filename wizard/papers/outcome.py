"""What a verdict comes to, a line a finding: all that a check prints, so that it loads no drawing and no planner."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from engine.findings import Finding
from engine.rules.check import Verdict

MARK = {"sound": "+", "thin": "~", "unknown": "?", "unsound": "!"}
"""A mark beside the word, so that neither depends on colour."""


def headline(verdict: Verdict) -> str:
    """The outcome in one line."""
    counts = [f"{sum(one.outcome == word for one in verdict.findings)} {word}" for word in reversed(MARK)]
    return f"{verdict.station.name}: {verdict.outcome.upper()} ({', '.join(counts)})"


def finding_line(one: Finding) -> str:
    """One finding in one line."""
    return f"{MARK[one.outcome]} {one.outcome:<7} {one.rule:<17} {one.says}"


def check_lines(verdict: Verdict) -> Iterator[str]:
    """The outcome, then every finding, worst first."""
    yield headline(verdict)
    yield from (finding_line(one) for one in verdict.findings)


def brief_line(name: str, wide: int, verdict: Verdict) -> str:
    """One file in one line: its name in ``wide`` columns, the outcome, and the worst finding that is not sound."""
    worst = verdict.findings[0] if verdict.findings and verdict.findings[0].outcome != "sound" else None
    line = f"{name:<{wide}}  {MARK[verdict.outcome]} {verdict.outcome.upper():<7}"
    return f"{line}  {worst.rule}: {worst.says}" if worst else line.rstrip()


def counted(outcomes: Sequence[str], files: int) -> Iterator[str]:
    """How many files came to which outcome."""
    said = [f"{outcomes.count(word)} {word}" for word in reversed(MARK) if word in outcomes]
    said += [f"{files - len(outcomes)} not read"] if files > len(outcomes) else []
    yield f"{files} files: {', '.join(said)}"
