"""Words that are misspelt, the version, and what the command line must not load to say so."""

import subprocess
import sys
import tomllib
from importlib import metadata
from pathlib import Path

import pytest

from wizard import version
from wizard.commands.main import main, words
from wizard.nearby import near, stations_like

ROOT = Path(__file__).parents[2]


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """The one line of complaint about a command that cannot be run."""
    assert main(arguments) == 2
    (line,) = capsys.readouterr().err.splitlines()
    return line


@pytest.mark.parametrize(
    ("word", "meant"), [("plann", "plan"), ("chekc", "check"), ("Reach", "reach"), ("lst", "list")]
)
def test_a_misspelt_command_is_guessed(capsys: pytest.CaptureFixture[str], word: str, meant: str) -> None:
    """The nearest command is named."""
    assert said(capsys, word, "chapel-row") == f"shackrail: {word!r} is not a command; did you mean {meant!r}?"


def test_a_word_near_no_command_gets_them_all(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is guessed where nothing is near; every command is named."""
    line = said(capsys, "xyzzy")
    assert "did you mean" not in line
    assert all(word in line for word in words())


@pytest.mark.parametrize("name", ["chapel-row", "my-desk.toml"])
def test_a_station_where_a_command_belongs(capsys: pytest.CaptureFixture[str], own_folders: Path, name: str) -> None:
    """A file or a worked station alone is recognised, and what may be done with it is said."""
    (own_folders / "my-desk.toml").write_text('format = 1\nname = "x"\n')
    assert said(capsys, name).endswith("is a station, not a command; write shackrail check or shackrail plan before it")


@pytest.mark.parametrize("command", ["check", "plan", "card", "hours", "readings", "repair", "ask"])
def test_a_misspelt_worked_station_is_guessed(capsys: pytest.CaptureFixture[str], command: str) -> None:
    """Every command that takes a station names the nearest."""
    assert said(capsys, command, "harbourstreet").endswith("did you mean 'harbour-street'?")


def test_a_misspelt_file_is_guessed_among_those_beside_it(
    capsys: pytest.CaptureFixture[str], own_folders: Path
) -> None:
    """The file is named with its folder, so that it can be typed as it stands."""
    (own_folders / "shed").mkdir()
    (own_folders / "shed" / "my-station.toml").write_text("")
    assert said(capsys, "check", "shed/my-staton.toml").endswith("did you mean 'shed/my-station.toml'?")


def test_a_name_near_nothing_gets_the_worked_stations(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is guessed; the worked stations are named."""
    line = said(capsys, "check", "zzz")
    assert "did you mean" not in line and "harbour-street" in line


def test_what_is_said_again_cannot_steer_the_terminal(capsys: pytest.CaptureFixture[str], own_folders: Path) -> None:
    """Escape, C1 and bidirectional marks in a word or in the name of a file beside it are shown as escapes."""
    (own_folders / "my\x1b[2Jdesk.toml").write_text("")
    for arguments in (("pl\x1b[2J\x9b\u202ean",), ("check", "my-desk.toml")):
        line = said(capsys, *arguments)
        assert line.isprintable() and "x1b[2J" in line


def test_near_words_are_few_and_the_nearest_comes_first() -> None:
    """At most three, capitals not counted, and a very long word costs nothing."""
    assert near("CHECKK", ["note", "cheek", "check", "chick", "cheer"])[0] == "check"
    assert len(near("aaaa", [f"aaaa{n}" for n in range(9)])) == 3
    assert near("x" * 10**6, ["plan"]) == []
    assert stations_like(Path("no/such/folder/quary-road.toml"), ["quarry-road"]) == ["quarry-road"]


def test_the_version_is_the_declared_one(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Installed or not, --version says what pyproject.toml declares; a folder without one is no reason to fail."""

    def missing(name: str) -> str:
        raise metadata.PackageNotFoundError(name)

    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    with pytest.raises(SystemExit) as left:
        main(["--version"])
    assert left.value.code == 0
    assert capsys.readouterr().out.split()[:2] == ["shackrail", declared]
    monkeypatch.setattr(metadata, "version", missing)
    assert version.version() == f"{declared} (not installed)"
    monkeypatch.setattr(version, "__file__", str(tmp_path / "wizard" / "version.py"))
    assert version.version() == "of unknown version (not installed)"


@pytest.mark.parametrize("asked", ["--help", "--version"])
@pytest.mark.parametrize("module", ["wizard", "wizard.commands.main"])
def test_help_and_version_load_nothing_slow(asked: str, module: str) -> None:
    """Neither units nor engine nor screens are loaded to say what the program is, run as a module either way."""
    command = [sys.executable, "-X", "importtime", "-m", module, asked]
    ended = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    loaded = {line.rpartition("|")[2].strip() for line in ended.stderr.splitlines()}
    slow = {one for one in loaded if one.split(".")[0] in ("engine", "catalog", "pint", "textual", "tomli_w")}
    assert ended.returncode == 0 and ended.stdout
    assert "argparse" in loaded
    assert slow <= {"engine", "engine.characters"}, "only what shows a text safely"
