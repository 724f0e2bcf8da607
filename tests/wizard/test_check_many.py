"""Many files at once: the same answer however many processes share them, and nothing loaded that a check needs not."""

import subprocess
import sys
from pathlib import Path

import pytest

from catalog.shelf import STATIONS
from wizard.commands.main import main

ROOT = Path(__file__).parents[2]
WORKED = sorted(path.stem for path in STATIONS.glob("*.toml"))


@pytest.mark.parametrize("manner", ["--brief", "--json", ""])
def test_the_answer_does_not_depend_on_how_many_share_the_work(
    manner: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Lines, their order, what could not be read and the exit status are those of one process."""
    monkeypatch.setattr("os.cpu_count", lambda: 2)
    files = [*WORKED[:9], "nowhere.toml", *WORKED[9:]]
    asked = ["check", *filter(None, [manner]), *files]
    alone = (main(asked), capsys.readouterr())
    assert alone[0] == 2
    assert "nowhere.toml" in alone[1].err
    assert (main([*asked, "--jobs", "all"]), capsys.readouterr()) == alone


@pytest.mark.parametrize("number", ["0", "-1", "some", "1.5", "²", "9" * 5000])
def test_a_number_of_processes_that_is_none_is_refused(number: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The complaint says what to write."""
    with pytest.raises(SystemExit) as left:
        main(["check", "chapel-row", f"--jobs={number}"])
    assert left.value.code == 2
    assert "write 1, 2 or more, or all" in capsys.readouterr().err


def test_what_is_piped_in_is_read_with_any_number_of_processes() -> None:
    """Standard input belongs to the first process, which then judges alone."""
    text = (STATIONS / "chapel-row.toml").read_text(encoding="utf-8")
    command = [sys.executable, "-m", "wizard", "check", "--brief", "--jobs", "all", *WORKED, "-"]
    ended = subprocess.run(command, cwd=ROOT, input=text, capture_output=True, text=True, check=False)
    assert f"{len(WORKED) + 1} files" in ended.stdout
    assert ended.stderr == ""


def test_a_check_loads_neither_pint_nor_planner_nor_drawings() -> None:
    """What only other commands need stays on disk."""
    command = [sys.executable, "-X", "importtime", "-m", "wizard", "check", "harbour-street"]
    ended = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    loaded = {line.rpartition("|")[2].strip() for line in ended.stderr.splitlines()}
    slow = ("pint", "textual", "engine.planning", "engine.diagnosis", "wizard.view", "wizard.interview")
    assert "engine.rules.check" in loaded
    assert not [one for one in loaded if one.startswith(slow)]
