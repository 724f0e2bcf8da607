"""Files and drafts on the screens: hostile ones are shown or refused, and nothing keeps a terminal from its owner."""

import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from catalog.shelf import built_in
from engine.characters import first_hidden
from wizard import drafts, questions, store
from wizard.interview.opening import from_draft, from_file
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.screens.app import ShackrailApp
from wizard.screens.choose_station import Which
from wizard.screens.door import DOORS, Door
from wizard.screens.drafts import Drafts
from wizard.screens.open import Open
from wizard.screens.paper import SaveText
from wizard.screens.save import Save

from .test_screens import picture, settle

NEVER = 3600.0
"""A pause before the tally that no test waits for."""

OBEYED = "a\x1b[2J\x9b31m\u202egnp\u2028b"
SHOWN = "a\\x1b[2J\\x9b31m\\u202egnp\\u2028b"
STATION = 'format = 1\nname = "Shelf"\n[[load]]\nid = "hf"\nclass = "hf-100w"\ntransmit = "20 A"\n'
ROOT = Path(__file__).parents[2]


def drawn(app: ShackrailApp) -> str:
    """Every character that the screen sends to the terminal, line by line."""
    lines = []
    for widget in app.screen.query("*"):
        if widget.display and not widget.children:
            strips = [widget.render_line(y) for y in range(widget.size.height)]
            lines += ["".join(segment.text for segment in strip) for strip in strips]
    return "\n".join(lines)


def draft(name: str) -> Session:
    """A session whose draft is kept under a name."""
    made = Session(built_in())
    made.document["name"] = name
    assert made.keep() is None
    return made


async def through(pilot: Pilot[str], door: str) -> None:
    """Open one of the doors."""
    await settle(pilot)
    place = [id_ for id_, *_ in DOORS].index(door)
    await pilot.press("home", *["down"] * place, "enter")
    await settle(pilot)


def hostile_folder(here: Path) -> None:
    """What kills a reader that trusts a folder, and one good station whose name the terminal would obey."""
    (here / "deep.toml").write_text("format = 1\na = " + "[" * 2000)
    (here / "long.toml").write_text("format = 1\nn = 1" + "0" * 5000)
    (here / "dots.toml").write_text("format = 1\n" + "a." * 100_000 + "a = 1")
    os.mkfifo(here / "pipe.toml")
    (here / "loop.toml").symlink_to("loop.toml")
    (here / f"{OBEYED}.toml").write_text(STATION)


@pytest.mark.parametrize("door", ["open", "judge-file", "amplifier", "meter"])
async def test_every_door_bears_every_folder(own_folders: Path, door: str) -> None:
    """Each door to a file opens on it, shows every name written out, and refuses the bad ones in a sentence."""
    hostile_folder(own_folders)
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        await through(pilot, door)
        listed = app.screen.query_one("#files", OptionList)
        names = [str(listed.get_option_at_index(place).prompt) for place in range(listed.option_count)]
        assert f"{SHOWN}.toml" in names
        assert first_hidden(drawn(app)) in ("", "\n")
        for name in ("deep.toml", "long.toml", "dots.toml"):
            if not isinstance(app.screen, Open | Which):
                await through(pilot, door)
            app.screen.query_one("#files", OptionList).highlighted = names.index(name)
            app.screen.query_one("#files", OptionList).focus()
            await pilot.press("enter")
            await settle(pilot)
            assert f"! {name}: " in picture(app), name


@pytest.mark.parametrize("path", ["~nobody-of-that-name/x.toml", "x" * 300 + ".toml", "", "no/such.toml", "."])
async def test_every_line_for_a_path_bears_every_path(own_folders: Path, path: str) -> None:
    """Opening, choosing, saving a profile and a paper: a sentence, and the screen stays."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        app.go_on(from_file(store.worked()["chapel-row"], app.shelf, JUDGE))
        await settle(pilot)
        for screen in (Open(worked=False), Which(), Save(), SaveText("text\n", "paper.txt")):
            await app.push_screen(screen)
            await settle(pilot)
            field = screen.query_one("#path", Input)
            field.value = path
            field.focus()
            await pilot.press("enter")
            await settle(pilot)
            assert app.screen is screen
            assert "! " in picture(app), type(screen)
            app.pop_screen()
    assert os.listdir(own_folders) == []


async def test_what_is_pasted_is_shown_and_can_be_kept() -> None:
    """Escapes, marks of direction and half a pair: written out in the field, and in a draft that reads again."""
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin(PLAN)
        await settle(pilot)
        field = app.screen.query_one(Input)
        field.focus()
        field.post_message(events.Paste(f"x\ud800{OBEYED}"))
        await settle(pilot)
        assert first_hidden(field.value) == "" and field.value.startswith("x") and "\\ud800" in field.value
        assert first_hidden(drawn(app)) in ("", "\n")
        again = from_draft(app.session.draft.path, app.shelf)
        assert again is not None and again.document["name"] == field.value


async def test_a_draft_with_a_name_that_would_be_obeyed_is_shown_written_out() -> None:
    """On the doors, in the list of drafts, in the heading and in the field; looking at it changes nothing."""
    draft(OBEYED)
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        assert SHOWN in drawn(app) and first_hidden(drawn(app)) in ("", "\n")
        await app.push_screen(Drafts())
        await settle(pilot)
        assert SHOWN in drawn(app)
        await pilot.press("enter")
        await settle(pilot)
        app.go_on(from_draft(drafts.unfinished()[0], app.shelf) or app.session)
        await settle(pilot)
        assert first_hidden(drawn(app)) in ("", "\n")
        assert app.session.document["name"] == OBEYED


async def test_every_draft_can_be_reached_and_let_go(own_folders: Path) -> None:
    """Five drafts and three on the doors: the list holds all; Delete asks before it lets one go, and keeps it aside."""
    for number in range(5):
        draft(f"Station {number}")
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Door) and len(app.screen.drafts) == 3
        await pilot.press("end", "enter")
        await settle(pilot)
        assert isinstance(app.screen, Drafts) and len(app.screen.paths) == 5
        gone = app.screen.paths[0]
        await pilot.press("delete")
        await settle(pilot)
        assert gone.exists()
        await pilot.press("delete")
        await settle(pilot)
        assert not gone.exists() and (drafts.finished() / gone.name).exists()
        assert len(drafts.unfinished()) == 4
        await pilot.press("enter")
        await settle(pilot)
        assert str(app.session.document["name"]).startswith("Station ")


async def test_a_draft_that_cannot_be_read_is_left_aside() -> None:
    """Nested too deeply, or no draft at all: a sentence names where it is, under a name that nothing opens."""
    drafts.folder().mkdir(parents=True)
    bad = drafts.folder() / "bad.toml"
    bad.write_text("[draft]\nmode = 'plan'\n[station]\na = " + "[" * 400 + "]" * 400)
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Door) and app.screen.drafts == []
        await pilot.press("end", "enter")
        await settle(pilot)
        assert "bad.toml: cannot be read" in drawn(app)
        await pilot.press("enter")
        await settle(pilot)
        assert "is left aside in" in picture(app)
        assert not bad.exists() and bad.with_suffix(drafts.ASIDE).exists()


async def test_another_station_takes_two_enters(own_folders: Path) -> None:
    """The line says what is there; the second Enter replaces it, and not what it became meanwhile."""
    path = own_folders / "precious.toml"
    path.write_text(STATION.replace("Shelf", "Precious"))
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        app.go_on(from_file(store.worked()["chapel-row"], app.shelf, JUDGE))
        await settle(pilot)
        await pilot.press("f10")
        await settle(pilot)
        app.screen.query_one("#path", Input).value = str(path)
        await pilot.press("enter")
        await settle(pilot)
        assert "holds 'Precious': Enter again" in picture(app)
        path.write_text(STATION.replace("Shelf", "Dearest"))
        await pilot.press("enter")
        await settle(pilot)
        assert "Dearest" in path.read_text() and "holds 'Dearest': Enter again" in picture(app)
        await pilot.press("enter")
        await settle(pilot)
    assert "Chapel Row" in path.read_text()


async def test_an_opened_file_keeps_its_owners_words(own_folders: Path) -> None:
    """Opened, one answer changed, saved: the remark and the order stay, and only the answer is another."""
    text = f"# mine\n{STATION.replace('20 A', '20 A').strip()}  # measured\n"
    path = own_folders / "x.toml"
    path.write_text(text)
    app = ShackrailApp(debounce=NEVER)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        app.go_on(from_file(path, app.shelf, JUDGE))
        transmit = next(one for one in questions.LOAD if one.key == "transmit")
        app.session.answer(transmit, "19 A")
        await settle(pilot)
        await pilot.press("f10", "enter")
        await settle(pilot)
    assert path.read_text().startswith(text.replace('"20 A"', '"19 A"'))


# -- a fault of the program itself, on a real terminal

BROKEN = """
import sys
from wizard.screens.app import ShackrailApp
from wizard.interview.session import Session
from wizard.commands import main
def broken(*_):
    raise RecursionError("made for this test")
ShackrailApp.begin = lambda self, mode: (self.session._remember(), self.session.document.update(note={note}), broken())
sys.argv = ["shackrail"]
sys.exit(main.main([]))
"""


@pytest.mark.parametrize("note", ["'words'", "'half a pair ' + chr(0xD800)", "[[1], {}]"])
def test_a_fault_always_gives_the_terminal_back(own_folders: Path, note: str) -> None:
    """Whatever is in the answers, writable or not: one sentence, no traceback, the terminal as it was."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    before = termios.tcgetattr(theirs)
    env = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
    script = BROKEN.replace("{note}", note)
    with subprocess.Popen(
        [sys.executable, "-c", script], stdin=theirs, stdout=theirs, stderr=theirs, env=env
    ) as wizard:
        sent = read_until(ours, wizard, b"Go on with a station file")
        os.write(ours, b"\r")
        sent += read_until(ours, wizard, None)
    after = termios.tcgetattr(theirs)
    os.close(theirs)
    os.close(ours)
    assert after == before
    left = sent.rpartition(b"\x1b[?1049l")[2].decode(errors="replace")
    assert "stopped because of a fault of its own" in " ".join(left.split())
    assert "Traceback" not in left
    assert wizard.returncode == 1


def read_until(handle: int, running: subprocess.Popen[bytes], word: bytes | None) -> bytes:
    """What the program sends until it has sent a word, or has ended; a program that hangs is ended."""
    sent, end = b"", time.monotonic() + 120
    while time.monotonic() < end:
        if select.select([handle], [], [], 0.1)[0]:
            sent += os.read(handle, 65_536)
        elif running.poll() is not None:
            return sent
        if word is not None and word in sent:
            return sent
    running.kill()
    raise AssertionError(f"it hangs: {sent[-500:]!r}")
