"""The owner's own folder of tables: nothing in it makes the program wait, crash, or go on in silence."""

import os
import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from catalog import shelf as catalogue
from catalog.shelf import FILES, HERE, STATIONS, built_in, load
from engine.planning import plan as planning
from engine.rules import check as checking
from engine.station import profile, toml
from engine.station.table import Problems

MODE = '[[mode]]\nid = "test"\ntitle = "a test"\nduty = "30 %"\nsteady = false\nsource = "house"\n'


def faults(folder: Path) -> str:
    """What the loader says of the owner's folder."""
    with pytest.raises(Problems) as caught:
        load(folder)
    assert all(one.instead for one in caught.value.found)
    return str(caught.value)


PLACED: dict[str, tuple[Callable[[Path], object], str]] = {
    "a pipe": (os.mkfifo, "is not an ordinary file"),
    "an endless file": (lambda path: path.symlink_to("/dev/zero"), "is not an ordinary file"),
    "a dangling link": (lambda path: path.symlink_to("nowhere.toml"), "is a link that leads nowhere"),
    "a link to itself": (lambda path: path.symlink_to(path), "cannot be read"),
    "a folder": (lambda path: path.mkdir(), "is not an ordinary file"),
    "a huge file": (lambda path: path.write_bytes(b"#" * 5_000_000), "too large"),
    "deep nesting": (lambda path: path.write_text("mode = " + "[" * 2000), "nested too deeply"),
    "a number without end": (lambda path: path.write_text("mode = 0x" + "F" * 100_000), "a number is too long"),
    "a key without end": (lambda path: path.write_text("mode" + ".a" * 100_000 + " = 1"), "dots"),
    "no text": (lambda path: path.write_bytes(b"\xff\xfe"), "UTF-8"),
}


@pytest.mark.parametrize(("place", "what"), PLACED.values(), ids=PLACED)
@pytest.mark.parametrize("name", ["modes", "prices", "limits"])
def test_whatever_stands_there_is_named(tmp_path: Path, name: str, place: Callable[[Path], object], what: str) -> None:
    """At once, with the file and what to do; never waited for, never passed over (this house's loader)."""
    path = tmp_path / f"{name}.toml"
    place(path)
    said = faults(tmp_path)
    assert said.startswith(f"{path}: ") and what in said


@pytest.mark.parametrize("name", ["equipments.toml", "Equipment.toml", "mode.TOML", "price.toml"])
def test_a_file_of_another_name_is_asked_about(tmp_path: Path, name: str) -> None:
    """A misspelt table would be passed over in silence: its nearest name is given (this house's loader)."""
    (tmp_path / name).write_text(MODE)
    assert re.search(rf"{name}: is not a table known here; did you mean '\w+\.toml'", faults(tmp_path))


def test_other_files_are_none_of_its_business(tmp_path: Path) -> None:
    """Notes, copies of an editor and its locks are left alone (this house's loader)."""
    for name in ("notes.txt", "modes.toml~", "modes.toml.bak", ".modes.toml.swp", ".#modes.toml"):
        (tmp_path / name).write_text("x")
    assert load(tmp_path) == built_in()


def test_what_is_in_the_place_of_the_folder_is_named(tmp_path: Path) -> None:
    """A file, and a link to nothing; no folder at all is fine (this house's loader)."""
    (tmp_path / "file").write_text("x")
    (tmp_path / "link").symlink_to("nowhere")
    assert "make it a folder" in faults(tmp_path / "file")
    assert "leads nowhere" in faults(tmp_path / "link")
    assert load(tmp_path / "none") == built_in()


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("modes", MODE.replace('"house"', '"hearsay"')),
        ("batteries", '[[battery]]\nid = "a"\ntitle = "a"\nchemistry = "coal"\namp_hours = "9 Ah"\ncontinuous = "9 A"\n'
         'peak = "9 A"\nboard = false\nkilograms = "1 kg"\noutlets = ["stud"]\nsource = "house"\n'),
        ("prices", "[supply]\nno-such = [1, 2]\n"),
        ("limits", '[limits]\ninsulation = "61 °C"\n'),
    ],
)  # fmt: skip
def test_every_fault_names_its_file(tmp_path: Path, name: str, text: str) -> None:
    """Faults between tables too: what cites, names or costs what is not there (this house's loader)."""
    (tmp_path / f"{name}.toml").write_text(text)
    for line in faults(tmp_path).splitlines():
        assert line.startswith(f"{tmp_path / name}.toml: "), line


@pytest.mark.parametrize(
    ("table", "key", "value"),
    [
        ("supplies", "efficiency", "0 %"), ("supplies", "power_factor", "0 %"), ("supplies", "power_factor", "101 %"),
        ("supplies", "volts", "0 V"), ("supplies", "continuous", "0 A"), ("supplies", "tolerance", "50 %"),
        ("boosters", "efficiency", "0 %"), ("chemistries", "depth", "0 %"), ("chemistries", "hours", 0),
        ("chemistries", "ohm_ah", [0, 0, 0]), ("chemistries", "peukert", [1, 1, 9]), ("conductors", "area", 0),
        ("equipment", "nominal", "0 V"), ("panels", "watts", "0 W"), ("batteries", "amp_hours", "0 Ah"),
        ("modes", "duty", "101 %"), ("limits", "health", "0 %"),
    ],
)  # fmt: skip
def test_what_would_be_divided_by_is_refused_at_its_key(tmp_path: Path, table: str, key: str, value: object) -> None:
    """Nought and more than all are refused where they stand, by the key's own declaration (this house's loader)."""
    assert f".{key}: is " in faults(with_value(tmp_path, table, key, value))


def with_value(folder: Path, table: str, key: str, value: object) -> Path:
    """A folder of the owner's in which a shipped table has one value in all of its rows."""
    name = "limits" if table == "limits" else FILES[table].name
    found = tomllib.loads((HERE / f"{table}.toml").read_text(encoding="utf-8"))[name]
    rows = [row | {key: value} if key in row else row for row in ([found] if table == "limits" else found)]
    (folder / f"{table}.toml").write_text(toml.dump({name: rows[0] if table == "limits" else rows}), encoding="utf-8")
    return folder


NUMBERS = [
    (table, field.key)
    for table, declared in [*FILES.items(), ("limits", catalogue.tables.LIMITS)]
    for field in declared.fields
    if field.shape.kind is not None or field.shape is catalogue.tables.NUMBER
]


@pytest.mark.parametrize(("table", "key"), NUMBERS)
def test_nought_anywhere_is_refused_or_borne(tmp_path: Path, table: str, key: str) -> None:
    """Each number of each table at nought in all rows: refused with its place, or judged and planned with it."""
    found = tomllib.loads((HERE / f"{table}.toml").read_text(encoding="utf-8"))
    text = next((str(row[key]) for rows in found.values() for row in _rows(rows) if key in row), "0")
    unit = re.sub(r"^-?[\d.]+", "", text)
    folder = with_value(tmp_path, table, key, f"0{unit}" if unit else 0)
    try:
        shelf = load(folder)
    except Problems:
        assert f"{table}.toml: " in faults(folder)
        return
    for name in ("quarry-road", "heron-tor", "lighthouse-loft", "cooper-row"):
        station = profile.read((STATIONS / f"{name}.toml").read_text(encoding="utf-8"), shelf).station
        checking.check(station, shelf)
    planning.plan(profile.read(SMALL, shelf).station, shelf)


SMALL = 'format = 1\nname = "x"\n[[load]]\nid = "hf"\nclass = "hf-100w"\n'


def _rows(found: object) -> list[dict[str, object]]:
    return found if isinstance(found, list) else [found]  # type: ignore[list-item]
