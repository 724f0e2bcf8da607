"""What is handed out is whole: every package and every table in the wheel, every file in the source archive."""

import subprocess
import sys
import tarfile
import tomllib
import zipfile
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
OURS = ("engine", "catalog", "wizard")


def files(sources: Path, *tops: str) -> set[str]:
    """The files below some folders of the sources, as they are named in an archive."""
    return {one.relative_to(sources).as_posix() for top in tops for one in (sources / top).rglob("*") if one.is_file()}


def in_wheel(archives: Any) -> set[str]:
    """Everything in the wheel but what describes it."""
    with zipfile.ZipFile(archives.wheel) as wheel:
        return files_of(wheel)


def files_of(wheel: zipfile.ZipFile) -> set[str]:
    """The files of a wheel but those that describe it."""
    return {name for name in wheel.namelist() if ".dist-info/" not in name}


def test_every_package_is_in_the_wheel(archives: Any, sources: Path) -> None:
    """No folder with Python files is left out, however new, and each is a package of its own (has __init__.py)."""
    folders = {str(Path(name).parent) for name in files(sources, *OURS) if name.endswith(".py")}
    names = in_wheel(archives)
    assert {"wizard/questions", "engine/physics", "catalog"} <= folders
    assert folders == {str(Path(name).parent) for name in names if name.endswith(".py")}
    assert {f"{folder}/__init__.py" for folder in folders} <= names


def test_the_wheel_holds_every_file_of_the_program_and_no_other(archives: Any, sources: Path) -> None:
    """Code, tables, worked stations, schema, format page and style sheet; no tests, nothing left over."""
    names = in_wheel(archives)
    assert names == files(sources, *OURS)
    for name in ("catalog/stations/harbour-street.toml", "catalog/FORMAT.md", "wizard/screens/shackrail.tcss"):
        assert name in names


def test_the_source_archive_holds_every_file_of_the_repository(archives: Any, sources: Path) -> None:
    """Whoever takes the archive can test and build as from a clone."""
    with tarfile.open(archives.source) as archive:
        names = {one.name.partition("/")[2] for one in archive.getmembers() if one.isfile()}
    listed = {path for path in _listed() if (ROOT / path).is_file()}
    assert listed or not (ROOT / ".git").exists()
    assert files(sources, *OURS, "tests", ".ci") | {"README.md", "DEVELOPERS.md", "LICENSE"} | listed <= names


def _listed() -> set[str]:
    """What git holds of this checkout; nothing where it is no clone."""
    ended = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)
    return set(ended.stdout.split("\0")) - {""}


def test_the_oldest_builder_that_is_allowed_builds(stranger: Any, sources: Path, archives: Any, tmp_path: Path) -> None:
    """The floor in pyproject.toml is enough: the same files from the oldest as from the newest."""
    (floor,) = (one.partition(">=")[2] for one in PROJECT["build-system"]["requires"] if "setuptools" in one)
    only = tmp_path / "oldest.txt"
    only.write_text(f"setuptools=={floor}\n")
    build = (sys.executable, "-m", "build", "--wheel", "--outdir", ".", sources)
    stranger.must(*build, folder=tmp_path, PIP_CONSTRAINT=str(only))
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as oldest:
        (told,) = (name for name in oldest.namelist() if name.endswith(".dist-info/WHEEL"))
        assert f"Generator: setuptools ({floor})" in oldest.read(told).decode()
        assert files_of(oldest) == in_wheel(archives)


@pytest.mark.parametrize("word", ["engine", "catalog", "wizard"])
def test_a_new_folder_is_found(word: str) -> None:
    """The packages are looked for, never listed by hand."""
    assert {word, f"{word}.*"} <= set(PROJECT["tool"]["setuptools"]["packages"]["find"]["include"])
