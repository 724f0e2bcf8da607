"""The archives as a stranger gets them, built once for all workers, and the program installed from them."""

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
OF_THIS_CHECKOUT = ("XDG_", "PYTHON", "VIRTUAL_ENV", "COLUMNS")
NOT_SOURCE = shutil.ignore_patterns(
    ".git", ".venv", "__pycache__", "*.egg-info", "build", "dist", ".*_cache", ".hypothesis"
)


class Stranger:
    """Someone with a home of their own, and nothing that points back to this checkout."""

    def run(self, *command: str | Path, folder: Path, stdin: str = "", **env: str) -> subprocess.CompletedProcess[str]:
        """What becomes of a command in a folder."""
        kept = {key: text for key, text in os.environ.items() if not key.startswith(OF_THIS_CHECKOUT)}
        own = {"HOME": str(folder / "home"), "PIP_NO_CACHE_DIR": "1", **env}
        words = list(map(str, command))
        return subprocess.run(
            words, cwd=folder, env=kept | own, input=stdin, capture_output=True, text=True, check=False
        )

    def must(self, *command: str | Path, folder: Path, **env: str) -> None:
        """The same, where anything but success ends the test with what the command said."""
        ended = self.run(*command, folder=folder, **env)
        assert ended.returncode == 0, f"{' '.join(map(str, command))}\n{ended.stdout}{ended.stderr}"


@pytest.fixture(scope="session")
def stranger() -> Stranger:
    """Whoever tries the program for the first time."""
    return Stranger()


@dataclass(frozen=True)
class Archives:
    """What is handed out: the sources and the built program."""

    source: Path
    wheel: Path


@pytest.fixture(scope="session")
def once(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, Callable[[Path], None]], Path]:
    """Makes a folder once, whichever worker comes first; the others wait for it."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base

    def make(name: str, fill: Callable[[Path], None]) -> Path:
        folder = shared / name
        with (shared / f"{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not (folder / "complete").exists():
                shutil.rmtree(folder, ignore_errors=True)
                folder.mkdir()
                fill(folder)
                (folder / "complete").touch()
        return folder

    return make


Once = Callable[[str, Callable[[Path], None]], Path]


@pytest.fixture(scope="session")
def sources(once: Once) -> Path:
    """The files of this checkout, without what builds and runs leave behind."""
    return once("sources", lambda folder: _copied(folder)) / "shackrail"


def _copied(folder: Path) -> None:
    shutil.copytree(ROOT, folder / "shackrail", ignore=NOT_SOURCE)


@pytest.fixture(scope="session")
def archives(once: Once, sources: Path, stranger: Stranger) -> Archives:
    """The source archive, and the wheel that is built from it: what the one lacks, the other lacks too."""
    build = (sys.executable, "-m", "build", "--outdir", ".", sources)
    folder = once("archives", lambda folder: stranger.must(*build, folder=folder))
    (source,), (wheel,) = folder.glob("*.tar.gz"), folder.glob("*.whl")
    return Archives(source, wheel)


@pytest.fixture(scope="session")
def installed(once: Once, archives: Archives, stranger: Stranger) -> Path:
    """The programs of a fresh environment into which the wheel was installed with what it needs."""

    def fill(folder: Path) -> None:
        stranger.must(sys.executable, "-m", "venv", "venv", folder=folder)
        stranger.must("venv/bin/python", "-m", "pip", "install", "--quiet", archives.wheel, folder=folder)

    return once("installed", fill) / "venv" / "bin"
