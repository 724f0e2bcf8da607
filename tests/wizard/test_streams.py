"""The command line's edges: what is closed, what is hostile, and what must not be replaced."""

import json
import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest

from engine.characters import first_hidden
from wizard import store
from wizard.commands import output
from wizard.commands.main import main

ROOT = Path(__file__).parents[2]
STATION = 'format = 1\nname = "{}"\n[[load]]\nid = "hf"\nclass = "hf-100w"\ntransmit = "20 A"\n'
HOSTILE = "a\x1b[2J\x1b]0;x\x07\x9b31m\u202egnp\u2028b"


def program(arguments: str) -> subprocess.CompletedProcess[bytes]:
    """The program in a shell, so that its streams can be closed and piped."""
    command = f"{sys.executable} -m wizard {arguments}"
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(["bash", "-c", command], capture_output=True, env=env, timeout=120, check=False)


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        ("check quarry-road >&-", 1),
        ("check quarry-road chapel-row | true; exit ${PIPESTATUS[0]}", 1),
        ("check --json chapel-row >&- 2>&-", 0),
        ("check nowhere.toml 2>&-", 2),
        ("list contacts <&- >&-", 0),
        ("list equipment | head -1; exit ${PIPESTATUS[0]}", 0),
        ("check chapel-row > /dev/full", 2),
        ("<&- >&- 2>&-", 2),
        ("--help >&-", 0),
        ("ask <&-", 130),
    ],
)
def test_closed_streams_are_no_fault(arguments: str, status: int) -> None:
    """Nobody reads, nobody can write: no traceback, and the status still says what was found out."""
    found = program(arguments)
    assert found.returncode == status, found.stderr
    assert b"Traceback" not in found.stderr and b"Exception" not in found.stderr


def test_a_profile_is_written_although_nobody_reads_the_answer(own_folders: Path) -> None:
    """The answer's stream is full, or gone; the file is asked for all the same."""
    for number, where in enumerate((">&-", "> /dev/full", "| true")):
        program(f"plan chapel-row -o {number}.toml {where}")
        assert store.is_station((own_folders / f"{number}.toml").read_text()), where


def test_bytes_that_are_no_text_are_shown_as_bytes(own_folders: Path) -> None:
    """As a file's name and as an answer: no traceback, and the byte is named."""
    name = os.fsencode(own_folders) + b"/\xff.toml"
    Path(os.fsdecode(name)).write_text(STATION.format("Byte"))
    command = [sys.executable, "-m", "wizard.commands.main", "check", "--brief", name, "no\udcfe.toml"]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    found = subprocess.run(command, capture_output=True, env=env, timeout=120, check=False)
    assert found.returncode == 2 and b"UNKNOWN" in found.stdout
    assert b"no\\xfe.toml: no such file" in found.stderr
    asked = subprocess.run(
        [*command[:3], "ask"], input=b"Caf\xe9\n", capture_output=True, env=env, timeout=120, check=False
    )
    assert asked.returncode == 130 and b"Traceback" not in asked.stderr
    assert b"type it again" in asked.stdout, "a line that is no text is asked for again"


def test_one_bad_name_costs_no_other_answer(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name too long, a nul, a loop and a pipe among good ones: the good ones are judged, the bad ones named."""
    os.mkfifo("pipe.toml")
    os.symlink("loop.toml", "loop.toml")
    bad = ["x" * 5000, "a\0b", "loop.toml", "pipe.toml", "~nobody-of-that-name/x", ""]
    assert main(["check", "--brief", *bad, "chapel-row", "quarry-road"]) == 2
    said = capsys.readouterr()
    assert "chapel-row" in said.out and "UNSOUND" in said.out
    assert len(said.err.splitlines()) == len(bad)


def test_a_station_may_be_piped_in(own_folders: Path) -> None:
    """``-`` is what is piped in."""
    (own_folders / "x.toml").write_text(STATION.format("Piped"))
    found = program("check --brief - < x.toml")
    assert found.returncode == 0 and b"-  ? UNKNOWN" in found.stdout
    assert b"standard input: not an ordinary" not in found.stderr
    assert program("check - < /dev/zero").stderr.startswith(b"shackrail: standard input: the file is too large")


def hostile_files(folder: Path) -> list[str]:
    """Files whose names, keys and values hold what a terminal obeys; one of them reads well."""
    toml = HOSTILE.replace("\x1b", "\\u001b").replace("\x07", "\\u0007")
    (folder / f"{HOSTILE}.toml").write_text(STATION.format("Good"))
    (folder / "name.toml").write_text(STATION.format(toml))
    (folder / "key.toml").write_text(f'{STATION.format("x")}"{toml}" = 1\n')
    (folder / "id.toml").write_text(STATION.format("x").replace('"hf"', f'"{toml}"'))
    (folder / "bytes.toml").write_text(f"format = 1\n{HOSTILE}")
    (folder / "note.toml").write_text(f'note = """one\n! unsound  forged: x\n"""\n{STATION.format("Noted")}')
    return sorted(os.listdir(folder))


def status_of(arguments: list[str]) -> object:
    """The exit status, however the command ends."""
    try:
        return main(arguments)
    except SystemExit as left:
        return left.code


def test_nothing_that_a_terminal_obeys_reaches_it(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """File names, keys, names and classes are shown written out, in answers, complaints and JSON alike."""
    names = hostile_files(own_folders)
    for arguments in (["check", *names], ["check", "--json", *names], ["plan", names[0], "-o", f"{HOSTILE}/x"]):
        main(arguments)
    for arguments in (["upgrade", "chapel-row", "--add", HOSTILE], ["symptom", HOSTILE], ["claim", "--amps", HOSTILE]):
        assert main(arguments) == 2
    for arguments in ([HOSTILE], ["check", f"--{HOSTILE}"], ["list", HOSTILE]):
        assert status_of(arguments) == 2
    said = capsys.readouterr()
    assert first_hidden(said.out + said.err, allowed="\n") == ""
    assert "\\x1b[2J" in said.err and "Good" in said.out


def test_a_line_feed_in_a_name_forges_no_finding(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name is one line; where a line feed comes in another way it is written out."""
    (own_folders / "x.toml").write_text(STATION.format("Good\\n+ sound   forged: everything holds"))
    assert main(["check", "x.toml"]) == 2
    said = capsys.readouterr()
    assert "forged" not in said.out
    assert "name: contains a character that cannot be seen (\\n)" in said.err
    output.say("one\ntwo")
    assert capsys.readouterr().out == "one\\ntwo\n"


def test_json_writes_out_what_cannot_be_seen_and_means_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    """JSON's own escapes, pairs included (RFC 8259, section 7); what can be seen stays readable."""
    data = {"a": f"Ω {HOSTILE} \U000e0041 \n"}
    text = output.dump(data)
    assert json.loads(text) == data
    assert first_hidden(text) == "" and "Ω" in text


def test_no_line_of_any_paper_holds_another(capsys: pytest.CaptureFixture[str]) -> None:
    """Every line that is printed for the worked stations is one line, so that nothing of ours is written out."""
    for name in store.worked():
        for command in ("check", "card", "note", "bench", "hours", "readings"):
            main([command, name])
    for name in ("harbour-street", "cooper-row", "mill-brow"):
        for command in ("plan", "reach", "repair"):
            main([command, name])
    main(["symptom"])
    said = capsys.readouterr()
    assert not re.search(r"\\[nrtxu]", said.out + said.err)


# -- what -o replaces


@pytest.fixture
def planned(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A station and a precious other one."""
    (own_folders / "x.toml").write_text(f"# mine\n{STATION.format('Shelf')}")
    (own_folders / "precious.toml").write_text(STATION.format("Precious"))
    return own_folders


def test_another_station_is_only_replaced_by_force(planned: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Refused with both ways out, the plan printed all the same; ``--force`` replaces it."""
    assert main(["plan", "x.toml", "-o", "precious.toml"]) == 2
    said = capsys.readouterr()
    assert "what to buy" in said.out
    assert "'Precious'; --force puts this one in its place, or choose another name" in said.err
    assert "Precious" in (planned / "precious.toml").read_text()
    assert main(["plan", "x.toml", "-o", "precious.toml", "--force"]) == 0
    assert "Shelf" in (planned / "precious.toml").read_text()


def test_a_plan_into_its_own_file_keeps_its_words(planned: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The remark above stays, by whichever name the file is meant; a second time nothing is written."""
    os.symlink("x.toml", "link.toml")
    assert main(["plan", "x.toml", "-o", "./link.toml"]) == 0
    once = (planned / "x.toml").read_text()
    assert once.startswith("# mine\n") and "[verdict]" in once and os.path.islink("link.toml")
    assert main(["plan", "x.toml", "-o", "x.toml"]) == 0
    assert "left as it is" in capsys.readouterr().out
    assert (planned / "x.toml").read_text() == once


@pytest.mark.parametrize("name", ["", " ", "-"])
def test_no_name_to_write_to_is_told(planned: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    """An empty name saves nothing, and says so."""
    before = sorted(os.listdir(planned))
    assert main(["plan", "x.toml", "-o", name]) == 2
    assert "is no file name" in capsys.readouterr().err
    assert sorted(os.listdir(planned)) == before


@pytest.mark.parametrize(
    "text", ["format = 1\na = " + "[" * 2000, "format = 1\na = 1" + "0" * 5000, "dear diary", None], ids=range(4)
)
def test_what_is_in_the_way_never_costs_the_plan(
    planned: Path, capsys: pytest.CaptureFixture[str], text: str | None
) -> None:
    """Too deep, too long, a diary or a link to itself: the plan is printed, the file stays, a sentence says why."""
    if text is None:
        os.symlink("there.toml", "there.toml")
    else:
        (planned / "there.toml").write_text(text)
    assert main(["plan", "x.toml", "-o", "there.toml", "--force"]) == 2
    said = capsys.readouterr()
    assert "what to buy" in said.out and "choose another name" in said.err
    assert text is None or (planned / "there.toml").read_text() == text


@pytest.mark.parametrize(("answer", "name"), [("yes", "Shelf"), ("no", "Precious")])
def test_on_a_terminal_it_asks(planned: Path, answer: str, name: str) -> None:
    """Somebody sits there: the question names what is there, and only yes replaces it."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "wizard.commands.main", "plan", "x.toml", "-o", "precious.toml"]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(command, stdin=theirs, stderr=theirs, stdout=subprocess.PIPE, env=env) as running:
        os.write(ours, f"{answer}\n".encode())
        printed = running.communicate(timeout=120)[0]
    asked = os.read(ours, 10_000)
    os.close(theirs)
    os.close(ours)
    assert b"what to buy" in printed
    assert b"'Precious'. Put this one in its place? (yes or no)" in asked
    assert f'name = "{name}"' in (planned / "precious.toml").read_text()
    assert running.returncode == (0 if answer == "yes" else 2)


@pytest.mark.parametrize(
    "arguments",
    [
        ["--watts", "100 W", "--amps", "20 A", "--volts", "0V"],
        ["--watts", "0 W", "--amps", "20 A"],
        ["--watts", "100 W", "--amps", "0 A"],
        ["--raise", "0 V", "--class", "hf-100w"],
        ["--raise", "0 V", "--station", "chapel-row"],
        ["--conductor", "12 AWG", "--amps", "0 A", "--length", "3 m"],
        ["--conductor", "12 AWG", "--amps", "30 A", "--length", "0 m"],
    ],
)
def test_a_claim_of_nothing_is_refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """Nought volts, amperes, watts or metres make no claim; each is named with its option."""
    assert main(["claim", *arguments]) == 2
    assert re.match(r"shackrail: --\w+: is (zero|nothing); write", capsys.readouterr().err)


def test_a_claim_of_no_loss_at_all_is_judged(capsys: pytest.CaptureFixture[str]) -> None:
    """Nought volts of drop are claimed sometimes, and refuted."""
    assert main(["claim", "--conductor", "12 AWG", "--amps", "30 A", "--length", "3 m", "--drop", "0 V"]) == 1
    assert "REFUTED" in capsys.readouterr().out
