"""The rules of the house that a machine can check: format, lint, types, imports, documents that must agree."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from engine.station import profile
from engine.station.model import FIELDS

ROOT = Path(__file__).parents[1]


def run(*command: str) -> None:
    """A checker, its output shown when it objects."""
    found = subprocess.run([sys.executable, *command], cwd=ROOT, capture_output=True, text=True, check=False)
    assert found.returncode == 0, found.stdout + found.stderr


def test_format() -> None:
    """One format for all (ruff format)."""
    run("-m", "ruff", "format", "--check", ".")


def test_lint() -> None:
    """The linter has nothing to say (ruff check)."""
    run("-m", "ruff", "check", ".")


def test_types() -> None:
    """Strict types throughout (mypy)."""
    run("-m", "mypy")


def test_dependencies_run_one_way() -> None:
    """Wizard -> catalog -> engine, held by the import contract (import-linter)."""
    run("-c", "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports())")


@pytest.mark.parametrize(
    "name",
    [
        "engine.planning.plan",
        "engine.rules.check",
        "catalog.shelf",
        "wizard.interview.session",
        "wizard.commands.stations",
    ],
)
def test_the_core_needs_no_screen(name: str) -> None:
    """Plan, check and the state behind the screens load without Textual, in a fresh process."""
    run("-c", f"import sys, {name}; assert not any(one.split('.')[0] == 'textual' for one in sys.modules)")


def test_the_schema_beside_the_format_page_is_the_one_the_reader_declares() -> None:
    """The published JSON Schema is up to date."""
    written = json.loads((ROOT / "catalog" / "station.schema.json").read_text(encoding="utf-8"))
    assert written == json.loads(json.dumps(profile.schema()))


def test_the_format_page_names_every_key() -> None:
    """No key of the station file or of the JSON is undocumented."""
    page = (ROOT / "catalog" / "FORMAT.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`(?:[\w\[\]]+\.)?\[*([a-z_]+)[\]\[]*`", page))
    assert {one.key for fields in FIELDS.values() for one in fields} <= named
    assert {"findings", "operating", "choices", "assumptions", "switching", "bill", "cautions", "outcome"} <= named


def test_the_readme_pair_is_what_ci_runs() -> None:
    """The README holds the two commands, and CI takes both from there."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```sh\n(.*?)\n```", readme, re.S)
    assert blocks[0].startswith("python3 -m venv .venv && ")
    assert blocks[1].startswith("python3 -m venv .venv && ")
    assert blocks[1].endswith("-m pytest")
    assert len(blocks[0].splitlines()) == len(blocks[1].splitlines()) == 1
    shown = subprocess.run([ROOT / ".ci" / "run", "--show"], capture_output=True, text=True, check=True).stdout
    assert shown.splitlines() == blocks[:2]
