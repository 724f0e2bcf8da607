"""What the commands print: colours on a terminal alone, tables in columns, completion by the shells themselves."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from catalog.shelf import built_in
from engine.rules.check import check
from engine.station import profile
from wizard.commands import listing, output
from wizard.commands.main import LISTED, main, words
from wizard.view.scene import Scene
from wizard.view.span import SOUND, UNSOUND, Span
from wizard.view.spoken import spoken

ROOT = Path(__file__).parents[2]


def shown(
    line: tuple[Span, ...], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], **env: str
) -> str:
    """What is printed of a line on a terminal with an environment."""
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    monkeypatch.delenv("NO_COLOR", raising=False)
    for key, value in {"TERM": "xterm", **env}.items():
        monkeypatch.setenv(key, value)
    output.say(line)
    return capsys.readouterr().out


def test_colours_stand_beside_the_mark_and_obey_the_terminal(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Coloured on a terminal; plain with NO_COLOR, on a dumb one, and where a name holds codes of its own."""
    line = (Span("✗", UNSOUND), Span(" hf\x1b[2J ", SOUND))
    coloured = shown(line, monkeypatch, capsys)
    assert coloured == "\x1b[31;1m✗\x1b[0m\x1b[32m hf\\x1b[2J \x1b[0m\n"
    for env in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
        assert shown(line, monkeypatch, capsys, **env) == "✗ hf\\x1b[2J\n"


def test_every_table_is_listed_in_columns() -> None:
    """Each line is as the head lays it out, and each row of the catalogue has its line."""
    shelf = built_in()
    for table in LISTED:
        head, *rows = listing.lines(table, shelf)
        assert head.startswith("name")
        assert len(rows) == len(getattr(shelf, table, rows))
        start = head.rindex("  ") + 2
        assert all(row[start - 1] == " " and row[start] != " " for row in rows)


def test_brief_has_its_columns_and_counts(capsys: pytest.CaptureFixture[str]) -> None:
    """The outcome begins in one column, whatever the file is called; the last line counts."""
    assert main(["check", "--brief", "chapel-row", "quarry-road", "nowhere.toml"]) == 2
    first, second, last = capsys.readouterr().out.splitlines()
    assert first.index("SOUND") == second.index("UNSOUND") == 16
    assert last == "3 files: 1 unsound, 1 sound, 1 not read"


def test_a_plan_is_a_page_and_says_more_when_asked(capsys: pytest.CaptureFixture[str]) -> None:
    """Alone the drawing; by itself what to do; with --why also the reasons and what was refused."""
    said = {}
    for option in ("", "--draw", "--why"):
        assert main(["plan", "chapel-row", *([option] if option else [])]) == 0
        said[option] = capsys.readouterr().out
    assert "hf" in said["--draw"] and "Switching on" not in said["--draw"]
    assert "Switching on" in said[""] and "How far the same cable" not in said[""] and "--why" in said[""]
    assert "How far the same cable" in said["--why"]
    assert len(said["--draw"]) < len(said[""]) < len(said["--why"])


def test_the_drawing_in_words_holds_every_part() -> None:
    """Whoever hears the plan is told each source, each run with its fuse and wire, and the volts of each load."""
    shelf = built_in()
    text = (
        'format = 1\nname = "x"\n[[source]]\nid = "psu"\npart = "switch-25-fixed"\n'
        '[[load]]\nid = "hf"\nclass = "hf-100w"\n'
        '[[run]]\nid = "lead"\nfrom = "psu"\nto = "hf"\nlength = "1.5 m"\nconductor = "10 AWG"\nfuse = "25 A"\n'
    )
    lines = list(spoken(Scene(check(profile.read(text, shelf).station, shelf))))
    assert lines[0].startswith("psu: switch-mode, 13.8 V, 25 A")
    assert lines[1].startswith("From psu to hf: a 25 A fuse, 1.5 m of 10 AWG; hf keeps 1")
    assert "above its floor" in lines[1]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_is_printed_for_each_shell(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    """It names the program, and a shell that is there takes it."""
    assert main(["completion", shell]) == 0
    script = capsys.readouterr().out
    assert "shackrail" in script
    program = shutil.which(shell)
    if program:
        assert subprocess.run([program, "-n"], input=script, text=True, capture_output=True).returncode == 0


def test_a_shell_is_told_what_may_follow(tmp_path: Path) -> None:
    """Every command that begins as typed; tables after list. Neither pint nor the engine is loaded for it."""
    assert _completed("shackrail che", tmp_path) == ["check"]
    assert set(_completed("shackrail ", tmp_path)) >= set(words())
    assert _completed("shackrail list sup", tmp_path) == ["supplies"]


def _completed(line: str, folder: Path) -> list[str]:
    """What the program answers a shell, asked as its scripts ask."""
    answer = folder / "answer"
    env = {
        **os.environ,
        "_ARGCOMPLETE": "1",
        "_ARGCOMPLETE_STDOUT_FILENAME": str(answer),
        "_ARGCOMPLETE_IFS": "\n",
        "_ARGCOMPLETE_SUPPRESS_SPACE": "1",
        "COMP_LINE": line,
        "COMP_POINT": str(len(line)),
    }
    code = "from wizard.commands.main import main\nmain()"
    command = [sys.executable, "-c", code]
    ended = subprocess.run(command, cwd=ROOT, env=env, check=False, capture_output=True, timeout=60)
    assert answer.exists(), ended.stderr
    return [word.strip() for word in answer.read_text().split("\n") if word.strip()]
