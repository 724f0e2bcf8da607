"""Whatever a file holds: checked, planned, opened, saved over and kept as a draft without a fault, and in a moment."""

import contextlib
import copy
import io
import json
import random
import signal
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from catalog import files
from catalog.shelf import built_in
from engine.characters import first_hidden
from engine.station import profile, toml
from engine.station.table import Problems
from tests.wizard.hostile import hostile
from wizard import atomic, drafts, store
from wizard.commands.main import main
from wizard.interview import saving
from wizard.interview.opening import draft_title, from_draft, from_file
from wizard.interview.session import JUDGE, MODES, Session
from wizard.store import StoreError

MOMENT = 60
"""Seconds of work after which something hangs."""
PLANNED = 12
"""One of so many readable files is also planned, which takes longer than all the rest."""


@contextlib.contextmanager
def in_a_moment() -> Iterator[None]:
    """Raise where it takes too long."""

    def late(*_: object) -> None:
        raise TimeoutError("it hangs")

    signal.signal(signal.SIGPROF, late)
    signal.setitimer(signal.ITIMER_PROF, MOMENT)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)


def said(*arguments: str) -> tuple[int, str, str]:
    """What a command answers: its status, its answer and its complaints, in which nothing may be obeyed."""
    out, errors = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(errors):
        status = main(list(arguments))
    assert status in (0, 1, 2)
    assert "fault of its own" not in errors.getvalue()
    assert all(line.startswith("shackrail: ") for line in errors.getvalue().splitlines())
    assert first_hidden(out.getvalue() + errors.getvalue(), allowed="\n") == ""
    return status, out.getvalue(), errors.getvalue()


def checked(path: Path) -> bool:
    """Judge a file in words and as JSON; whether it could be read."""
    status, out, errors = said("check", str(path))
    assert (status == 2) == (errors != "") == (out == "")
    assert said("check", "--json", str(path))[0] == status
    return status != 2


def opened(path: Path) -> None:
    """Open a file through every door, and walk through its answers; saved as it stands it is the same bytes."""
    before = path.read_bytes()
    for mode in MODES:
        session = from_file(path, built_in(), mode)
        walk(session)
        assert session.problems() == ()
    judged = from_file(path, built_in(), JUDGE)
    try:
        saved = saving.save(path, judged.result().verdict, built_in(), saving.Consent(judged.held))
    except (saving.InTheWay, Problems):  # comments that cannot be kept are asked about; a station without loads
        assert path.read_bytes() == before
        return
    station = profile.read(saved.held.text, built_in()).station
    assert station == profile.read(store.read(path).text, built_in()).station
    assert station == profile.from_document(judged.exported, built_in()).station
    again = from_file(path, built_in(), JUDGE)
    assert not saving.save(path, again.result().verdict, built_in(), saving.Consent(again.held)).fresh


def walk(session: Session) -> None:
    """Everything that the screens ask of a session, without a screen."""
    for step in session.steps:
        for question in session.asked(step):
            session.text(question)
    for problem in session.problems():
        session.place(problem)
    session.usable()


def as_data(document: object) -> str:
    """A document as text that can be compared, whatever the order of its keys, and with what is no number."""
    return json.dumps(document, sort_keys=True, default=str)


def resumed(raw: bytes, dice: random.Random) -> str:
    """The same document as a draft: read, walked through, kept and read again."""
    draft = drafts.Draft()
    try:
        station = toml.parse(files.decode(raw))
    except (Problems, files.FileTrouble):
        drafts.folder().mkdir(parents=True, exist_ok=True)
        atomic.write(draft.path, b"[draft]\nmode = 'plan'\n[station]\n" + raw, private=True)
    else:
        assert draft.keep({"draft": {"mode": dice.choice(("plan", 3, "")), "step": "use"}, "station": station}) is None
    session = from_draft(draft.path, built_in())
    assert (draft_title(draft.path) is None) == (session is None)
    if session is None:
        draft.finish()
        return "not read"
    walk(session)
    held = copy.deepcopy(session.document)
    session.step = session.steps[-1]
    assert session.keep() is None
    again = from_draft(draft.path, built_in())
    assert again is not None and as_data(again.document) == as_data(held)
    session.draft.finish()
    return "resumed"


def trial(seed: int, folder: Path) -> list[str]:
    """Everything that is done with one file; what became of it."""
    raw, dice = hostile(seed), random.Random(seed)
    path = folder / "x.toml"
    path.write_bytes(raw)
    with in_a_moment():
        kinds = [resumed(raw, dice)]
        readable = checked(path)
        assert path.read_bytes() == raw
        if not readable:
            with pytest.raises((Problems, StoreError)):
                from_file(path, built_in(), JUDGE)
            assert said("plan", str(path), "-o", str(folder / "out.toml"))[0] == 2
            assert not (folder / "out.toml").exists()
            return [*kinds, "refused"]
        opened(path)
        if seed % PLANNED == 0:
            said("plan", str(path), "-o", str(path))
            kinds.append("planned")
    path.unlink()
    return [*kinds, "read"]


@pytest.mark.heavy(usual=250, full=10_000)
def test_no_file_is_too_strange(own_folders: Path, seeds: range) -> None:
    """No traceback, no hang, nothing that a terminal obeys, no answer lost; every sort of outcome is met.

    All 10,000: ``python -m pytest -n 0 tests/wizard/test_hostile.py --trials=full``
    """
    outcomes: Counter[str] = Counter()
    for seed in seeds:
        try:
            outcomes.update(trial(seed, own_folders))
        except BaseException as error:
            raise AssertionError(f"file {seed}: {error!r}") from error
    print(dict(outcomes))
    assert set(outcomes) >= {"resumed", "not read", "refused", "read", "planned"}


def test_it_is_the_same_file_again() -> None:
    """A number names a file, so that a failure can be looked at."""
    assert hostile(7) == hostile(7) != hostile(8)
