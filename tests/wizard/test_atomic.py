"""A file is written whole or not at all, whoever kills the writer; nothing is left behind and no link is lost."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from catalog.shelf import STATIONS
from wizard import atomic, drafts
from wizard.interview.opening import draft_title

ROOT = Path(__file__).parents[2]


def temporary(folder: Path) -> list[str]:
    """What is half written in a folder."""
    return [name for name in os.listdir(folder) if name.startswith(atomic.PREFIX)]


def test_a_link_is_written_through_and_stays_a_link(own_folders: Path) -> None:
    """The file behind it holds the new content; the link leads where it led."""
    (own_folders / "far").mkdir()
    target, link = own_folders / "far" / "station.toml", own_folders / "link.toml"
    target.write_text("old")
    link.symlink_to(target)
    atomic.write(link, b"new")
    assert link.is_symlink() and Path(os.readlink(link)) == target
    assert target.read_text() == "new"
    assert temporary(own_folders) == temporary(own_folders / "far") == []


def test_a_link_to_nothing_yet_makes_the_file_that_it_leads_to(own_folders: Path) -> None:
    """The link stays, its file comes to be."""
    link = own_folders / "link.toml"
    link.symlink_to(own_folders / "new.toml")
    atomic.write(link, b"new")
    assert link.is_symlink() and (own_folders / "new.toml").read_bytes() == b"new"


def test_a_private_file_takes_the_place_of_a_link(own_folders: Path) -> None:
    """What somebody made a draft's name lead to is not touched; the file is for its owner's eyes alone."""
    target, link = own_folders / "precious", own_folders / "draft.toml"
    target.write_text("diary")
    link.symlink_to(target)
    atomic.write(link, b"draft", private=True)
    assert not link.is_symlink() and link.read_bytes() == b"draft"
    assert target.read_text() == "diary"
    assert link.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("make", ["loop", "folder", "pipe"])
def test_what_is_no_file_is_left_alone(own_folders: Path, make: str) -> None:
    """A link to itself, a folder and a pipe are refused by the system's own error, and nothing is left behind."""
    path = own_folders / "x.toml"
    {"loop": lambda: path.symlink_to(path), "folder": path.mkdir, "pipe": lambda: os.mkfifo(path)}[make]()
    with pytest.raises(OSError):  # noqa: PT011
        atomic.write(path, b"new")
    assert os.listdir(own_folders) == ["x.toml"]


def test_the_rights_of_a_file_stay(own_folders: Path) -> None:
    """A file that its group may read is so afterwards; a new one follows the owner's mask."""
    path = own_folders / "x.toml"
    path.write_text("old")
    path.chmod(0o640)
    atomic.write(path, b"new")
    assert path.stat().st_mode & 0o777 == 0o640
    mask = os.umask(0o027)
    try:
        atomic.write(own_folders / "y.toml", b"new")
    finally:
        os.umask(mask)
    assert (own_folders / "y.toml").stat().st_mode & 0o777 == 0o640


def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(
    own_folders: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk, between the writing and the renaming."""
    path = own_folders / "x.toml"
    path.write_text("old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        atomic.write(path, b"new")
    assert path.read_text() == "old" and os.listdir(own_folders) == ["x.toml"]


def test_what_a_killed_writer_left_is_swept_and_what_is_in_use_stays(own_folders: Path) -> None:
    """A lock tells the two apart; a file or link of somebody else's of a like name is not ours to take."""
    left = own_folders / f"{atomic.PREFIX}dead{atomic.SUFFIX}"
    left.write_text("half")
    others = [
        own_folders / ".shackrail-notes",
        own_folders / "shackrail-x.tmp",
        own_folders / f"{atomic.PREFIX}l{atomic.SUFFIX}",
    ]
    for other in others[:2]:
        other.write_text("mine")
    others[2].symlink_to(others[0])
    handle, name = atomic._begin(own_folders)
    try:
        atomic.sweep(own_folders)
        assert not left.exists()
        assert os.path.exists(name) and all(map(os.path.lexists, others))
    finally:
        os.close(handle)
    atomic.sweep(own_folders)
    assert not os.path.exists(name)


NURSERY = """
import os, sys, tomllib
from pathlib import Path
from catalog.shelf import STATIONS
from wizard import atomic, drafts
folder = Path(sys.argv[1])
texts = [path.read_bytes() * 20 for path in sorted(STATIONS.glob("*.toml"))[:2]]
documents = [tomllib.loads(path.read_text()) for path in sorted(STATIONS.glob("*.toml"))[:2]]
print("ready", flush=True)
for _ in sys.stdin:
    child = os.fork()
    if child == 0:
        draft, number = drafts.Draft(), 0
        while True:
            number += 1
            atomic.write(folder / "station.toml", texts[number % 2])
            draft.keep({"draft": {"mode": "plan", "step": "use"}, "station": documents[number % 2]})
    print(child, flush=True)
    os.waitpid(child, 0)
    print("dead", flush=True)
"""
"""A process that gives birth to writers, one for each line that it is sent, and tells who and when."""


@pytest.mark.heavy(usual=40, full=600)
def test_kills_while_saving_lose_nothing_and_leave_nothing(own_folders: Path, seeds: range) -> None:
    """SIGKILL at random moments: profile and drafts are always whole; the next save takes away what is half written.

    All 600: ``python -m pytest -n 0 tests/wizard/test_atomic.py --trials=full``
    """
    folder = own_folders / "saved"
    folder.mkdir()
    stations = sorted(STATIONS.glob("*.toml"))[:2]
    whole = [b"", *(path.read_bytes() * 20 for path in stations)]
    path = folder / "station.toml"
    path.write_bytes(b"")
    assert drafts.Draft().keep({}) is None
    hits = 0
    with subprocess.Popen(
        [sys.executable, "-c", NURSERY, str(folder)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": str(ROOT)},
    ) as nursery:  # fmt: skip
        assert nursery.stdin is not None and nursery.stdout is not None
        assert nursery.stdout.readline() == "ready\n"
        for seed in seeds:
            print(file=nursery.stdin, flush=True)
            child = int(nursery.stdout.readline())
            time.sleep(random.Random(seed).uniform(0.0, 0.05))
            os.kill(child, signal.SIGKILL)
            assert nursery.stdout.readline() == "dead\n"
            hits += len(temporary(folder)) + len(temporary(drafts.folder()))
            assert path.read_bytes() in whole, seed
        nursery.stdin.close()
    kept = drafts.unfinished()
    assert len([path for path in kept if draft_title(path) is None]) == 1, "but for the first, which is empty"
    atomic.write(path, b"after")
    assert drafts.Draft().keep({}) is None
    assert os.listdir(folder) == ["station.toml"]
    assert temporary(drafts.folder()) == []
    assert len(drafts.unfinished()) == len(kept) + 1
    assert hits or len(seeds) < 600, "no kill fell into a write"
