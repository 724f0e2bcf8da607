"""The command line as a process: output, exit status, and never a traceback."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from wizard.commands.main import main

STATION = 'format = 1\nname = "Shelf"\n[[load]]\nid = "hf"\nclass = "hf-100w"\ntransmit = "20 A"\n'


def run(*arguments: str, stdin: str = "") -> subprocess.CompletedProcess[str]:
    """The program in a process of its own."""
    root = Path(__file__).parents[2]
    env = {**os.environ, "PYTHONPATH": str(root)}
    command = [sys.executable, "-m", "wizard.commands.main", *arguments]
    return subprocess.run(command, input=stdin, capture_output=True, text=True, env=env, timeout=120, check=False)


def test_without_a_terminal_one_sentence_says_what_to_use_instead() -> None:
    """No screen, no wizard: one line on what to use, status 2."""
    found = run()
    assert found.returncode == 2
    assert len(found.stderr.splitlines()) == 1
    assert "shackrail plan FILE" in found.stderr
    assert found.stdout == ""


def test_plan_writes_a_profile_that_check_accepts(own_folders: Path) -> None:
    """Plan to a file, then check that file: nothing unsound, status 0; and planning it again changes no byte."""
    (own_folders / "a.toml").write_text(STATION)
    first = run("plan", "a.toml", "-o", "b.toml")
    assert first.returncode == 0, first.stderr
    assert "saved to b.toml" in first.stdout
    checked = run("check", "b.toml")
    assert checked.returncode == 0
    assert "0 unsound" in checked.stdout.splitlines()[0]
    again = run("plan", "b.toml", "-o", "c.toml")
    assert again.returncode == 0
    assert (own_folders / "c.toml").read_bytes() == (own_folders / "b.toml").read_bytes()
    anew = run("plan", "b.toml", "--again", "-o", "d.toml")
    assert anew.returncode == 0
    assert (own_folders / "d.toml").read_bytes() == (own_folders / "b.toml").read_bytes()


def test_an_unsound_station_ends_with_status_1_worst_first() -> None:
    """One line for the outcome, then the findings, worst first."""
    found = run("check", "quarry-road")
    assert found.returncode == 1
    lines = found.stdout.splitlines()
    assert "UNSOUND" in lines[0]
    marks = [line[0] for line in lines[1:]]
    assert marks == sorted(marks, key="!?~+".index)
    assert marks[0] == "!"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("format = 1\nname = [", "not valid TOML"),
        ("", "format: is missing"),
        ('format = 7\nname = "x"', "format"),
        ('format = 1\nname = "x"\n[[load]]\nid = "a"\ntransmit = "1e999 A"', "load[0].transmit"),
        ('format = 1\nname = "x"\nload = 3', "load"),
        ("[" * 5000, "not valid TOML"),
    ],
)
def test_a_file_that_cannot_be_read_ends_with_status_2_and_the_reason(own_folders: Path, text: str, said: str) -> None:
    """Broken files give where, what and what instead; nothing is written; no traceback."""
    (own_folders / "bad.toml").write_text(text)
    for arguments in (("check", "bad.toml"), ("plan", "bad.toml", "-o", "out.toml")):
        found = run(*arguments)
        assert found.returncode == 2
        assert said in found.stderr
        assert "Traceback" not in found.stderr
        assert not (own_folders / "out.toml").exists()


def test_bytes_that_are_no_text(own_folders: Path) -> None:
    """A binary file, a folder and a missing file each end in a sentence."""
    (own_folders / "bin.toml").write_bytes(bytes(range(256)))
    for name in ("bin.toml", ".", "nowhere.toml", "a\0b"[:1] + "\n"):
        found = run("check", name)
        assert found.returncode == 2
        assert found.stderr.startswith("shackrail: ")
        assert "Traceback" not in found.stderr


def test_json_holds_every_promised_key(capsys: pytest.CaptureFixture[str]) -> None:
    """One object a station, a line each, with the keys of the format page."""
    assert main(["check", "--json", "chapel-row", "quarry-road"]) == 1
    objects = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [one["outcome"] for one in objects] == ["sound", "unsound"]
    for one in objects:
        assert {"name", "outcome", "findings", "operating", "choices", "assumptions", "switching", "bill"} <= set(one)
        for finding in one["findings"]:
            assert set(finding) == {"rule", "outcome", "about", "says", "figure", "limit", "basis", "turns_on"}
        for point in one["operating"]:
            assert set(point) == {"state", "condition", "loads", "runs", "sources"}
            assert all(set(load) == {"id", "volts", "amps"} for load in point["loads"])
            assert all(set(lead) == {"id", "amps", "drop", "celsius"} for lead in point["runs"])
        assert set(one["switching"]) == {"on", "off"}


def test_plan_json_gives_choices_with_refused_neighbours(capsys: pytest.CaptureFixture[str]) -> None:
    """Every choice says what, why, and which cheaper candidate a rule refused."""
    assert main(["plan", "--json", "harbour-street"]) == 0
    found = json.loads(capsys.readouterr().out)
    keys = {one["about"] for one in found["choices"]}
    assert keys >= {"supply.part", "hf-lead.conductor", "hf-lead.fuse", "hf-lead.contacts", "vhf-lead.conductor"}
    for one in found["choices"]:
        assert set(one) == {"about", "chosen", "because", "filled", "refused", "better"}
        assert all(set(other) == {"candidate", "rule", "says"} for other in one["refused"])
    supply = next(one for one in found["choices"] if one["about"] == "supply.part")
    assert supply["refused"]


def test_one_unreadable_file_does_not_stop_the_others(capsys: pytest.CaptureFixture[str]) -> None:
    """A club evening goes on: the readable stations are judged, the status tells of the other."""
    assert main(["check", "chapel-row", "nowhere.toml"]) == 2
    said = capsys.readouterr()
    assert "Chapel Row" in said.out
    assert "nowhere.toml" in said.err


def test_a_file_it_cannot_write(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The plan is printed all the same; the trouble is named; status 2."""
    (own_folders / "diary.txt").write_text("dear diary")
    for target in ("no/such/folder/x.toml", "diary.txt", str(own_folders)):
        assert main(["plan", "chapel-row", "-o", target]) == 2
        assert "choose another" in capsys.readouterr().err
    assert (own_folders / "diary.txt").read_text() == "dear diary"


def test_a_vehicle_station_is_planned_on_its_vehicle(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is not planned as if it hung on the mains: no supply is bought, and the engine is started first."""
    (own_folders / "car.toml").write_text(STATION.replace('name = "Shelf"', 'name = "Car"\nuse = "mobile"'))
    assert main(["plan", "car.toml", "--json"]) == 0
    made = json.loads(capsys.readouterr().out)
    assert not [line for line in made["bill"]["lines"] if "supply" in line["what"]]
    assert any("engine" in step["do"] for step in made["switching"]["on"])


def test_adding_an_amplifier_from_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Upgrade says what stays and why the new one has a supply of its own; an unknown class is named."""
    assert main(["upgrade", "chapel-row", "--add", "amp-300w"]) == 0
    said = capsys.readouterr().out
    assert "supply stays" in said
    assert "amp has a supply of its own" in said
    assert main(["upgrade", "chapel-row", "--add", "amp-30"]) == 2
    assert "did you mean 'amp-300w'" in capsys.readouterr().err


def test_upgrade_without_additions_mends_what_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """The unsound example is mended by replacing only what the rules refuse."""
    assert main(["upgrade", "--json", "quarry-road"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["outcome"] != "unsound"
    assert any("replaced" in one for one in found["notes"])


def test_devices_and_odd_files(own_folders: Path) -> None:
    """A pipe, a device and a byte-order mark: no hang, no traceback, and the mark is read over."""
    os.mkfifo(own_folders / "pipe.toml")
    for name in ("pipe.toml", "/dev/zero"):
        found = run("check", name)
        assert found.returncode == 2
        assert "not an ordinary file" in found.stderr
    (own_folders / "bom.toml").write_bytes(b"\xef\xbb\xbf" + STATION.encode())
    assert run("check", "bom.toml").returncode == 0
    (own_folders / "long.toml").write_text("format = 1" + "0" * 5000)
    assert "a number is too long" in run("check", "long.toml").stderr


def test_a_load_of_which_nothing_is_known_is_asked_about(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No supply is recommended for a load without class and currents."""
    (own_folders / "thing.toml").write_text('format = 1\nname = "x"\n[[load]]\nid = "thing"\n')
    assert main(["plan", "thing.toml"]) == 2
    assert "nothing is known of what thing draws" in capsys.readouterr().err
    assert main(["check", "thing.toml"]) == 0
    assert "the current and the window of thing not known" in capsys.readouterr().out


def test_a_station_without_loads_is_told_what_is_missing(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing to feed is nothing to judge: the check says unknown and what to write down, never sound."""
    path = own_folders / "idle.toml"
    path.write_text('format = 1\nname = "Idle"\n[[source]]\nid = "psu"\nvolts = "13.8 V"\n', encoding="utf-8")
    assert main(["check", str(path)]) == 0
    said = capsys.readouterr().out
    assert "Idle: UNKNOWN" in said and "no load is described" in said and "SOUND" not in said


def test_help_teaches(capsys: pytest.CaptureFixture[str]) -> None:
    """--help shows a whole small station file and the exit status."""
    with pytest.raises(SystemExit) as left:
        main(["--help"])
    assert left.value.code == 0
    said = capsys.readouterr().out
    assert "[[load]]" in said
    assert "Exit status" in said


def test_own_rows_join_the_shelf_and_faults_are_named(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The owner's folder adds classes; a fault in it names file and key and ends with status 2."""
    folder = Path(os.environ["XDG_CONFIG_HOME"]) / "shackrail" / "catalog"
    folder.mkdir(parents=True)
    (folder / "limits.toml").write_text('[limits]\nwindow_margin = "0.2 V"\n')
    assert main(["list", "equipment"]) == 0
    (folder / "limits.toml").write_text('[limits]\nwindow_margin = "0.2 A"\n')
    assert main(["check", "chapel-row"]) == 2
    assert "window_margin" in capsys.readouterr().err


def test_compare_names_what_changes(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two stations in words and as JSON; an unreadable one ends with status 2."""
    assert main(["compare", "quarry-road", "chapel-row"]) == 0
    said = capsys.readouterr().out
    assert "window-floor hf goes" in said
    assert "vhf comes" in said
    assert main(["compare", "--json", "chapel-row", "quarry-road"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert {"before", "after", "changes"} == set(found)
    assert main(["compare", "chapel-row", "nowhere.toml"]) == 2
    assert "nowhere.toml" in capsys.readouterr().err
