"""Drafts: nothing unfinished is ever deleted, nobody else reads or steers them, none is in the program's way."""

import os
import time
from pathlib import Path

import pytest

from catalog.shelf import built_in
from wizard import drafts, questions
from wizard.drafts import Draft
from wizard.interview.opening import draft_title, from_draft, newest_drafts
from wizard.interview.session import Session


def session(name: str = "Attic") -> Session:
    """A session in which a name is typed."""
    made = Session(built_in())
    made.answer(questions.USE[0], name)
    assert made.keep() is None
    return made


def test_no_unfinished_draft_is_deleted() -> None:
    """Thirty sessions, foreign files among them and a clock set back: every draft is still there."""
    kept = []
    for number in range(30):
        made = session(f"Station {number}")
        os.utime(made.draft.path, (1_000_000 - number, 1_000_000 - number))
        kept.append(made.draft.path)
        (drafts.folder() / f"9999-{number}.toml").write_text("x = 1\n")
    assert {path for path in kept if path.exists()} == set(kept)
    assert set(kept) < set(drafts.unfinished())
    assert {path for path, _ in newest_drafts(100)} == set(kept)


def test_the_finished_ones_are_kept_by_number_and_age() -> None:
    """What was saved or let go stays for a while, and makes room, the oldest first."""
    for number in range(drafts.FINISHED_KEPT + 3):
        made = session()
        made.draft.finish()
        old = time.time() - 100 + number
        os.utime(drafts.finished() / made.draft.path.name, (old, old))
    assert drafts.unfinished() == []
    assert len(os.listdir(drafts.finished())) == drafts.FINISHED_KEPT
    for path in drafts.finished().iterdir():
        os.utime(path, (1e6, 1e6))
    session().draft.finish()
    assert len(os.listdir(drafts.finished())) == 1


def test_only_the_owner_can_read_them() -> None:
    """Folder 0700, file 0600, also where an earlier folder was open to everybody."""
    drafts.folder().mkdir(parents=True, mode=0o755)
    made = session()
    assert drafts.folder().stat().st_mode & 0o777 == 0o700
    assert made.draft.path.stat().st_mode & 0o777 == 0o600


def test_links_in_the_folder_are_not_followed(own_folders: Path) -> None:
    """Neither read, nor written through, nor moved."""
    target = own_folders / "precious.toml"
    made = session()
    target.write_bytes(made.draft.path.read_bytes())
    made.draft.path.unlink()
    made.draft.path.symlink_to(target)
    assert from_draft(made.draft.path, built_in()) is None
    assert made.draft.path not in drafts.unfinished()
    before = target.read_bytes()
    made.answer(questions.USE[0], "Loft")
    assert made.keep() == drafts.ELSEWHERE
    assert target.read_bytes() == before
    Draft(next(path for path in drafts.folder().iterdir() if path.is_symlink())).finish()
    assert target.read_bytes() == before


def test_two_windows_on_one_draft_keep_both_answers() -> None:
    """The second to write finds the file changed and goes on beside it, and says so once."""
    first = session()
    second = from_draft(first.draft.path, built_in())
    assert second is not None
    first.answer(questions.USE[0], "First")
    assert first.keep() is None
    second.answer(questions.USE[0], "Second")
    assert second.keep() == drafts.ELSEWHERE
    second.answer(questions.USE[0], "Second, again")
    assert second.keep() is None
    names = {from_draft(path, built_in()).document["name"] for path in drafts.unfinished()}  # type: ignore[union-attr]
    assert names == {"First", "Second, again"}


UNWRITABLE = ["\ud800", {"a": None}]


@pytest.mark.parametrize("value", UNWRITABLE, ids=["a lone surrogate", "none"])
def test_what_cannot_be_written_down_is_left_as_data_and_the_draft_before_stays(value: object) -> None:
    """One sentence says so and where it is; the last good draft is untouched."""
    made = session()
    good = made.draft.path.read_bytes()
    made.document["note"] = value
    said = made.keep()
    assert said is not None and "cannot be written down" in said
    aside = made.draft.path.with_suffix(drafts.ASIDE)
    assert str(aside) in said and b"Attic" in aside.read_bytes()
    assert made.draft.path.read_bytes() == good


def test_what_is_nested_without_end_is_told_too() -> None:
    """No form can hold it: the sentence stands, the draft before stays."""
    made = session()
    deep: list[object] = []
    for _ in range(100_000):
        deep = [deep]
    made.document["note"] = deep
    said = made.keep()
    assert said is not None and "cannot be written down" in said
    assert draft_title(made.draft.path) is not None


def test_lists_of_anything_go_through_a_draft() -> None:
    """What is no use to a station is still what was typed: it comes back as it was."""
    made = session()
    made.document["run"] = [{"id": "a", "to": "b", "contacts": [[1], {}]}]
    made.document["a b"] = {"c.d": [{"x": 1}, {}]}
    assert made.keep() is None
    again = from_draft(made.draft.path, built_in())
    assert again is not None and again.document == made.document
    again.problems()
    again.usable()


def test_a_draft_that_makes_trouble_gets_another_name() -> None:
    """After a fault the draft gone on with is left aside, a new one stays; the handler itself never fails."""
    made = session()
    assert drafts.after_fault(made.draft, made.keep) == "your answers are kept as a draft."
    opened = from_draft(made.draft.path, built_in())
    assert opened is not None
    said = drafts.after_fault(opened.draft, opened.keep)
    aside = made.draft.path.with_suffix(drafts.ASIDE)
    assert str(aside) in said and aside.exists()
    assert drafts.unfinished() == []

    def broken() -> str:
        raise RecursionError

    assert drafts.after_fault(opened.draft, broken) == "your last answers could not be kept."


def test_the_folder_of_drafts_may_be_in_the_way(own_folders: Path) -> None:
    """A file where the folder should be, a pipe where the note of trouble should be: a sentence, and no wait."""
    drafts.folder().parent.mkdir(parents=True)
    drafts.folder().write_text("")
    os.mkfifo(drafts.folder().parent / "trouble.txt")
    made = Session(built_in())
    made.answer(questions.USE[0], "Attic")
    said = made.keep()
    assert said is not None and "cannot be kept in" in said
    assert drafts.unfinished() == [] and newest_drafts(3) == []
    assert "trouble.txt" in drafts.note_trouble("details")
