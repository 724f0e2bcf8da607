"""Reading files of others: never waiting, never too much, never followed into a crash."""

import io
import os
import sys
from pathlib import Path

import pytest

from catalog import files
from engine.station import toml
from wizard import store

STATION = 'format = 1\nname = "Shelf"\n[[load]]\nid = "hf"\nclass = "hf-100w"\n'


def said_of(path: Path) -> str:
    """Why a file cannot be read."""
    with pytest.raises(store.StoreError) as caught:
        store.read(path)
    return str(caught.value)


def test_what_is_no_ordinary_file_is_refused_at_once(own_folders: Path) -> None:
    """A pipe that nobody writes to, an endless device, a folder, a link to itself, a name too long, a nul."""
    os.mkfifo(own_folders / "pipe.toml")
    (own_folders / "loop.toml").symlink_to(own_folders / "loop.toml")
    (own_folders / "gone.toml").symlink_to(own_folders / "nowhere.toml")
    for name in ("pipe.toml", "/dev/zero", ".", "/dev/stdin"):
        assert "not an ordinary file" in said_of(Path(name)), name
    assert "link that leads nowhere" in said_of(Path("gone.toml"))
    for name in ("loop.toml", "x" * 300, "a\0b"):
        assert "name a station file" in said_of(Path(name)), name
    assert "no such file; the worked stations are" in said_of(Path("no/such/file.toml"))


def test_a_file_is_read_up_to_a_size(own_folders: Path) -> None:
    """One byte more than is accepted is refused without reading the rest."""
    path = own_folders / "big.toml"
    path.write_bytes(b"#" * files.LARGEST)
    assert len(store.read(path).raw) == files.LARGEST
    with path.open("ab") as file:
        file.truncate(10**12)
    assert "too large" in said_of(path)


def test_bytes_that_are_no_text_are_named_by_their_line(own_folders: Path) -> None:
    """UTF-8 is asked for, and the first line that is not is named."""
    path = own_folders / "x.toml"
    path.write_bytes(b'format = 1\nname = "\xff"\n')
    assert "UTF-8; check line 2" in said_of(path)


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
def test_a_text_goes_back_as_it_came(own_folders: Path, mark: bytes, end: bytes) -> None:
    """The byte-order mark and the ends of lines are the file's own, and nothing of the text (round trip)."""
    raw = mark + STATION.encode().replace(b"\n", end)
    path = own_folders / "x.toml"
    path.write_bytes(raw)
    held = store.read(path)
    assert held.text == STATION
    assert held.encoded(held.text) == raw


def test_standard_input_is_bounded_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is piped in is read under the name ``-``, and refused when it is endless or no text."""
    for raw, says in ((STATION.encode(), ""), (b"\xff", "UTF-8"), (b"#" * (files.LARGEST + 9), "too large")):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw)))
        if not says:
            assert store.named("-").text == STATION
        else:
            with pytest.raises(store.StoreError, match=says):
                store.named("-")


@pytest.mark.parametrize("text", ["", "  ", "~nobody-of-that-name/x.toml"])
def test_a_path_that_cannot_be_meant_is_told(text: str) -> None:
    """No name, or the home of somebody who is not there."""
    with pytest.raises(store.StoreError, match="write"):
        store.typed_path(text)


def test_the_list_of_a_folder_survives_what_lies_in_it(own_folders: Path) -> None:
    """Deep nesting, huge numbers, pipes, links and folders of that ending are passed over or listed, never a crash."""
    hostile = {
        "deep": "format = 1\na = " + "[" * 2000, "long": "format = 1\nn = 1" + "0" * 5000,
        "other": "[tool]\nx = 1\n", "dots": "format = 1\n" + "a." * 200_000 + "a = 1",
    }  # fmt: skip
    for name, text in hostile.items():
        (own_folders / f"{name}.toml").write_text(text)
    (own_folders / "good.toml").write_text(STATION)
    (own_folders / "bytes.toml").write_bytes(b"format = 1\n\xff\xfe")
    os.mkfifo(own_folders / "pipe.toml")
    (own_folders / "folder.toml").mkdir()
    (own_folders / "loop.toml").symlink_to("loop.toml")
    found = {path.name for path in store.listed(own_folders, 40)}
    assert "good.toml" in found
    assert not found & {"other.toml", "bytes.toml", "pipe.toml", "folder.toml", "loop.toml"}
    for name in hostile:
        assert not store.is_station(hostile[name])
    assert toml.LARGEST < files.LARGEST
