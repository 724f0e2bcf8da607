"""Saving where the owner wants it: nothing of anybody's is replaced unasked, and the owner's words stay."""

import os
from pathlib import Path

import pytest

from catalog.shelf import STATIONS, built_in
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station import profile
from wizard import store
from wizard.interview import saving
from wizard.interview.saving import Consent, InTheWay
from wizard.store import StoreError

OWN = """\
# my own remark
format = 1
name = "Shelf"

[[load]]
transmit = "20 A"  # measured
class = "hf-100w"
id = "hf"
"""


def verdict(text: str = OWN) -> Verdict:
    """The verdict on a station."""
    return checking.check(profile.read(text, built_in()).station, built_in())


def save(path: Path, made: Verdict, consent: Consent) -> saving.Saved:
    """Save on the shipped shelf."""
    return saving.save(path, made, built_in(), consent)


def test_a_file_that_was_read_keeps_its_owners_words(own_folders: Path) -> None:
    """Saved over, its part is the same bytes and the verdict stands beneath; saved again nothing is written."""
    path = own_folders / "x.toml"
    path.write_text(OWN)
    saved = save(path, verdict(), Consent(store.read(path)))
    assert saved.fresh and path.read_text().startswith(OWN) and "[verdict]" in path.read_text()
    assert saved.held.raw == path.read_bytes()
    again = save(path, verdict(path.read_text()), Consent(saved.held))
    assert not again.fresh and again.held.raw == saved.held.raw


def test_its_mark_and_its_ends_of_lines_stay_too(own_folders: Path) -> None:
    """A file from another system goes back as it came (round trip)."""
    path = own_folders / "x.toml"
    raw = b"\xef\xbb\xbf" + OWN.replace("\n", "\r\n").encode()
    path.write_bytes(raw)
    save(path, verdict(), Consent(store.read(path)))
    written = path.read_bytes()
    assert written.startswith(raw)
    assert written.count(b"\n") == written.count(b"\r\n")


@pytest.mark.parametrize("held", [False, True])
def test_another_station_is_asked_about(own_folders: Path, held: bool) -> None:
    """Whether or not another file was read; once it was shown and agreed to it is replaced."""
    path, read = own_folders / "x.toml", own_folders / "read.toml"
    path.write_text(OWN.replace("Shelf", "Precious"))
    read.write_text(OWN)
    consent = Consent(store.read(read) if held else None)
    with pytest.raises(InTheWay, match="Precious") as caught:
        save(path, verdict(), consent)
    assert "Precious" in path.read_text()
    save(path, verdict(), Consent(consent.held, shown=caught.value.there))
    assert "Precious" not in path.read_text()


def test_what_changed_after_it_was_shown_is_asked_about_again(own_folders: Path) -> None:
    """Agreeing to one content is not agreeing to the next."""
    path = own_folders / "x.toml"
    path.write_text(OWN.replace("Shelf", "Precious"))
    with pytest.raises(InTheWay) as caught:
        save(path, verdict(), Consent())
    path.write_text(OWN.replace("Shelf", "Dearest"))
    with pytest.raises(InTheWay, match="Dearest"):
        save(path, verdict(), Consent(shown=caught.value.there))


def test_an_edit_made_meanwhile_is_asked_about(own_folders: Path) -> None:
    """The file that was read is not what is there now; agreed to, the edit's remarks stay."""
    path = own_folders / "x.toml"
    path.write_text(OWN)
    held = store.read(path)
    path.write_text(OWN.replace("# measured", "# measured twice").replace("20 A", "19 A"))
    with pytest.raises(InTheWay, match="has changed since it was read") as caught:
        save(path, verdict(), Consent(held))
    assert "19 A" in path.read_text()
    save(path, verdict(), Consent(held, shown=caught.value.there))
    assert path.read_text().startswith(OWN.replace("# measured", "# measured twice"))


def test_a_read_only_file_is_asked_about(own_folders: Path) -> None:
    """Its owner marked it so; agreed to, it stays marked."""
    path = own_folders / "x.toml"
    path.write_text(OWN)
    path.chmod(0o444)
    with pytest.raises(InTheWay, match="read-only"):
        save(path, verdict(), Consent(store.read(path)))
    assert path.read_text() == OWN
    save(path, verdict(), Consent(store.read(path), force=True))
    assert "[verdict]" in path.read_text() and path.stat().st_mode & 0o777 == 0o444


def test_comments_that_cannot_be_kept_are_asked_about(own_folders: Path) -> None:
    """Rows in one line cannot be changed in their place: its owner decides."""
    path = own_folders / "x.toml"
    text = '# mine\nformat = 1\nname = "Shelf"\nload = [{id = "hf", class = "hf-100w"}]\n'
    path.write_text(text)
    with pytest.raises(InTheWay, match="comments that cannot be kept"):
        save(path, verdict(), Consent(store.read(path)))
    assert path.read_text() == text


def test_what_is_no_station_file_is_never_replaced(own_folders: Path) -> None:
    """Not even where all is agreed to: a diary, a picture, a folder, a pipe, a link to itself, something too deep."""
    made = verdict()
    (own_folders / "diary.txt").write_text("dear diary")
    (own_folders / "picture.toml").write_bytes(bytes(range(256)))
    (own_folders / "folder.toml").mkdir()
    os.mkfifo(own_folders / "pipe.toml")
    (own_folders / "loop.toml").symlink_to("loop.toml")
    (own_folders / "deep.toml").write_text("format = 1\na = " + "[" * 2000)
    (own_folders / "long.toml").write_text("format = 1\na = 1" + "0" * 5000)
    before = {path.name: path.lstat().st_mtime_ns for path in own_folders.iterdir()}
    for name in before:
        with pytest.raises(StoreError, match="choose another name"):
            save(own_folders / name, made, Consent(force=True))
    assert {path.name: path.lstat().st_mtime_ns for path in own_folders.iterdir()} == before


def test_a_place_that_cannot_be_written_is_told(own_folders: Path) -> None:
    """No folder, a name too long, a nul, a file as a folder."""
    (own_folders / "file").write_text("x")
    for name in ("no/such/x.toml", "x" * 300 + ".toml", "a\0b.toml", "file/x.toml"):
        with pytest.raises(StoreError, match="choose another"):
            save(own_folders / name, verdict(), Consent())
    assert os.listdir(own_folders) == ["file"]


def test_saving_through_a_link_keeps_the_link(own_folders: Path) -> None:
    """The file behind it is the one that was read, by whichever name."""
    path, link = own_folders / "x.toml", own_folders / "link.toml"
    path.write_text(OWN)
    link.symlink_to("x.toml")
    save(link, verdict(), Consent(store.read(path)))
    assert link.is_symlink() and path.read_text().startswith(OWN) and "[verdict]" in path.read_text()


def test_a_paper_replaces_nothing_unasked(own_folders: Path) -> None:
    """A text of the same name is asked about, a station file never replaced."""
    path = own_folders / "paper.txt"
    saving.save_text(path, "one\n")
    with pytest.raises(InTheWay, match="is there already") as caught:
        saving.save_text(path, "two\n")
    saving.save_text(path, "two\n", caught.value.there)
    assert path.read_text() == "two\n"
    path.write_text(OWN)
    with pytest.raises(StoreError, match="is a station file"):
        saving.save_text(path, "three\n", store.read(path))


@pytest.mark.parametrize("path", sorted(STATIONS.glob("*.toml")), ids=lambda one: one.stem)
def test_a_profile_read_and_saved_unchanged_is_the_same_bytes(own_folders: Path, path: Path) -> None:
    """Every worked station, judged and saved, read and saved again (this house's promise)."""
    copy = own_folders / path.name
    copy.write_bytes(path.read_bytes())
    save(copy, verdict(copy.read_text()), Consent(store.read(copy)))
    once = copy.read_bytes()
    assert once.startswith(path.read_bytes())
    save(copy, verdict(copy.read_text()), Consent(store.read(copy)))
    assert copy.read_bytes() == once
