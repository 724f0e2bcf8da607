"""A stranger's install: from the archives into a fresh environment, every command run from another folder."""

import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from catalog.shelf import built_in
from wizard.commands.main import words
from wizard.interview.session import Session
from wizard.lines.interview import Interview

ROOT = Path(__file__).parents[2]

EXAMPLES = {
    "plan": (("harbour-street", "-o", "planned.toml"), 0, "saved to planned.toml"),
    "check": (("harbour-street", "quarry-road"), 1, "UNSOUND"),
    "upgrade": (("chapel-row", "--add", "amp-300w"), 0, "supply stays"),
    "compare": (("quarry-road", "chapel-row"), 0, "vhf"),
    "note": (("chapel-row",), 0, "electrician"),
    "card": (("chapel-row",), 0, "supply"),
    "hours": (("gravel-pit",), 0, "battery"),
    "print": (("chapel-row", "--only", "labels"), 0, "hf-lead"),
    "where": (("hf-100w",), 0, "engine off"),
    "completion": (("bash",), 0, "shackrail"),
    "list": (("stations",), 0, "harbour-street"),
    "readings": (("chapel-row",), 0, "Chapel Row"),
    "bench": (("chapel-row",), 0, "Chapel Row"),
    "symptom": (("dies-on-key-down",), 0, "contact"),
    "claim": (("--conductor", "14 AWG", "--amps", "30 A", "--length", "3 m", "--drop", "0.5 V"), 1, "14 AWG"),
    "reach": (("chapel-row",), 0, "hf-lead"),
    "repair": (("quarry-road", "-o", "mended.toml"), 0, "saved to mended.toml"),
}
"""Each command with what it is given, its exit status, and a word of its answer."""

ANSWERED = (("call this station", "Attic desk"), ("which class", "hf-100w"), ("Save the station", "asked.toml"))
"""What is typed to be asked line by line, by the words of the question; each once, and nothing to all others."""


@pytest.fixture
def typed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """Every line that is typed to save a station line by line, as the program of this checkout asks for it."""
    for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / "asked" / name))
    (tmp_path / "asked").mkdir()
    monkeypatch.chdir(tmp_path / "asked")
    left, lines = dict(ANSWERED), list[str]()

    def ask(prompt: str) -> str:
        lines.append(next((left.pop(about) for about in list(left) if about in prompt), ""))
        return lines[-1]

    assert Interview(Session(built_in()), ask, lambda line: None).run() == 0
    return "\n".join(lines) + "\n"


def test_every_command_has_an_example() -> None:
    """A new command cannot be forgotten here."""
    assert {*EXAMPLES, "ask"} == set(words())


@pytest.mark.parametrize("word", EXAMPLES)
def test_every_command_runs_from_another_folder(stranger: Any, installed: Path, tmp_path: Path, word: str) -> None:
    """Its exit status and its answer, nothing on the error stream; what it saved is a sound station."""
    arguments, status, said = EXAMPLES[word]
    ended = stranger.run(installed / "shackrail", word, *arguments, folder=tmp_path)
    assert (ended.returncode, ended.stderr) == (status, "")
    assert said in ended.stdout
    saved = [one.name for one in tmp_path.glob("*.toml")]
    assert bool(saved) is ("-o" in arguments)
    for name in saved:
        stranger.must(installed / "shackrail", "check", name, folder=tmp_path)


def test_the_questions_line_by_line_with_answers_from_a_pipe(
    stranger: Any, installed: Path, tmp_path: Path, typed: str
) -> None:
    """The same answers save the same bytes as in the checkout; a station that was measured is asked about too."""
    ended = stranger.run(installed / "shackrail", "ask", folder=tmp_path, stdin=typed)
    assert (ended.returncode, ended.stderr) == (0, "")
    assert "saved to asked.toml" in ended.stdout
    assert (tmp_path / "asked.toml").read_bytes() == (tmp_path / "asked" / "asked.toml").read_bytes()
    measured = stranger.run(installed / "shackrail", "ask", "asked.toml", folder=tmp_path, stdin="\n" * 9)
    assert (measured.returncode, measured.stderr) == (0, "")


@pytest.mark.parametrize("way", [("shackrail",), ("python", "-m", "wizard")], ids=["command", "module"])
def test_both_ways_to_start_it(stranger: Any, installed: Path, tmp_path: Path, way: tuple[str, ...]) -> None:
    """Command or module: the declared version, the help, a verdict, and one sentence where there is no terminal."""
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    command = (installed / way[0], *way[1:])
    assert stranger.run(*command, "--version", folder=tmp_path).stdout == f"shackrail {declared}\n"
    assert "usage: shackrail " in stranger.run(*command, "--help", folder=tmp_path).stdout
    stranger.must(*command, "check", "chapel-row", folder=tmp_path)
    assert "needs a terminal" in stranger.run(*command, folder=tmp_path).stderr


def test_the_wizard_in_a_terminal_up_to_a_saved_profile(stranger: Any, installed: Path, tmp_path: Path) -> None:
    """From the doors by the keyboard alone; the profile that is there at the end is sound."""
    script = ROOT / "tests" / "install" / "open_wizard.py"
    opened = stranger.run(sys.executable, script, installed / "shackrail", folder=tmp_path)
    assert opened.returncode == 0, opened.stdout + opened.stderr
    assert "saved attic-desk.toml" in opened.stdout
