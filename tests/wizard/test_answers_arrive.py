"""No answer from the background is lost: however a screen is come to, what it waits for arrives."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from wizard import questions
from wizard.interview.background import Fault, Work
from wizard.interview.opening import from_file
from wizard.interview.session import JUDGE, Session
from wizard.screens.app import ShackrailApp
from wizard.screens.readings import Readings
from wizard.screens.result import Result
from wizard.screens.widgets.tally import Tally

from ..tools.waiting import quiet
from .test_bench_screens import ATTIC
from .test_screens import picture, settle

STEPS = {"use": "1", "leads": "4", "site": "5", "result": "6"}


async def judged(pilot: Pilot[str], folder: Path) -> ShackrailApp:
    """The attic, opened to be judged, its result in sight."""
    app = pilot.app
    assert isinstance(app, ShackrailApp)
    (folder / "attic.toml").write_text(ATTIC, encoding="utf-8")
    app.go_on(from_file(folder / "attic.toml", app.shelf, JUDGE))
    await settle(pilot)
    assert_arrived(app)
    return app


async def press(pilot: Pilot[str], *keys: str) -> None:
    """Keys, each with all its consequences."""
    for key in keys:
        await pilot.press(key)
        await settle(pilot)


def assert_arrived(app: ShackrailApp) -> None:
    """A result stands there with its findings, or readings with what they show; nothing is waited for."""
    screen = app.screen
    assert isinstance(screen, Result | Readings)
    assert "orking it out" not in picture(app)
    if isinstance(screen, Result):
        assert screen.made is not None
        assert screen.lines[0].title.startswith("one change is enough")
    else:
        assert screen.found is not None


WAYS = {
    "back and forward": ("f3", "f4"),
    "jump and back": ("f5", STEPS["use"], "f5", STEPS["result"]),
    "jump to the result itself": ("f5", STEPS["result"]),
    "readings left unchanged": ("f8", "f3"),
    "readings seen again": ("f8", "f4", "f8"),
    "an empty reading": ("f8", "f7", "f3"),
    "an empty reading, and the result": ("f8", "f7", "f3", "f4"),
}


@pytest.mark.parametrize("keys", WAYS.values(), ids=WAYS)
async def test_the_result_comes_back(keys: tuple[str, ...], own_folders: Path) -> None:
    """Whichever way leads to the result or the readings again, unchanged, they stand there."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await judged(pilot, own_folders)
        before = app.session.exported
        await press(pilot, *keys)
        assert_arrived(app)
        assert app.session.exported == before


async def test_the_result_comes_back_after_an_answer_was_in_the_way(own_folders: Path) -> None:
    """An answer that cannot be read stands in the way; corrected to what it was, the result is there again."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await judged(pilot, own_folders)
        length = app.session.text(questions.LEAD[0])
        app.session.answer(questions.LEAD[0], "1,5")
        for _ in range(2):
            await press(pilot, "f5", STEPS["result"])
            assert "in the way" in picture(app)
            await press(pilot, "enter")
            assert app.session.step == "leads"
        app.session.answer(questions.LEAD[0], length)
        await press(pilot, "f5", STEPS["result"])
        assert_arrived(app)


async def test_saving_twice_is_answered_twice(own_folders: Path) -> None:
    """The page that saves takes a result that is known already as well as one still to be worked out."""
    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await judged(pilot, own_folders)
        for name in ("one.toml", "two.toml"):
            await press(pilot, "f10")
            app.screen.query_one("#path", Input).value = name
            await press(pilot, "enter")
            assert (own_folders / name).exists()
            assert isinstance(app.screen, Result)


async def test_a_tally_asked_for_under_a_page_stands_there_when_the_page_is_left() -> None:
    """Its pause belongs to its own screen: a page over it takes nothing away."""
    app = ShackrailApp(debounce=3600.0)
    async with app.run_test(size=(80, 24)) as pilot:
        session = Session(app.shelf, JUDGE)
        session.add_load("hf-qrp")
        app.go_on(session)
        await press(pilot, "f1")
        app.debounce = 0.0
        app.refresh_tally()
        await press(pilot, "escape")
        assert "values assumed" in str(app.screen.query_one(Tally).content)


async def test_a_fault_in_the_background_is_said(monkeypatch: pytest.MonkeyPatch, own_folders: Path) -> None:
    """Where the program itself fails, a sentence stands in place of the answer; nothing waits for ever."""

    def fail(*_: object) -> None:
        raise ZeroDivisionError

    app = ShackrailApp(debounce=0.0)
    async with app.run_test(size=(80, 24)) as pilot:
        await judged(pilot, own_folders)
        monkeypatch.setattr("wizard.interview.readings.diagnosed", fail)
        monkeypatch.setattr("wizard.screens.result.reach", fail)
        screen = app.screen
        await pilot.press("7")
        await quiet(pilot)
        assert isinstance(screen, Result) and "fault of the program" in screen.lines[0].title
        await pilot.press("f8")
        await quiet(pilot)
        assert "fault of the program" in picture(app)
        assert len(app.troubles) == 2 and all("ZeroDivisionError" in one for one in app.troubles)


# -- the mechanism alone


class Desk:
    """A waiter with a queue of its own, worked through when it is there."""

    def __init__(self) -> None:
        self.queue: list[tuple[Callable[..., Any], tuple[Any, ...]]] = []
        self.got: list[object] = []
        self.closed = False

    def call_later(self, callback: Callable[..., Any], *args: Any) -> bool:
        """Queue a call, unless it is gone."""
        if not self.closed:
            self.queue.append((callback, args))
        return not self.closed

    def arrive(self) -> None:
        """Work through the queue."""
        queue, self.queue = self.queue, []
        for callback, args in queue:
            callback(*args)


class Bench:
    """Work whose answers come home when the test says so."""

    def __init__(self) -> None:
        self.came: list[tuple[Callable[..., Any], tuple[Any, ...]]] = []
        self.work = Work(lambda callback, *args: self.came.append((callback, args)))
        self.begun = 0

    def ask(self, desk: Desk, about: object, name: str = "plan") -> None:
        """Ask for an answer that says what it is about."""

        def make(stop: Callable[[], bool]) -> object:
            self.begun += 1
            return f"answer to {about}"

        self.work.ask(desk, name, about, make, desk.got.append)

    def home(self, count: int) -> None:
        """Wait for answers from the threads, and bring them home."""
        from time import sleep

        for _ in range(500):
            if len(self.came) >= count:
                break
            sleep(0.01)
        came, self.came = self.came, []
        assert len(came) == count
        for callback, args in came:
            callback(*args)


def test_an_answer_waits_in_the_queue_until_its_screen_is_there() -> None:
    """Known beforehand or not, it is taken from the waiter's own queue, once."""
    bench, desk = Bench(), Desk()
    for _ in range(2):
        bench.ask(desk, "a")
        assert desk.got == []
        if bench.begun == 0 or not desk.queue:
            bench.home(1)
        assert bench.work.busy
        desk.arrive()
        assert desk.got == ["answer to a"]
        assert not bench.work.busy
        desk.got.clear()
    assert bench.begun == 1


def test_only_the_newest_question_of_a_screen_is_answered() -> None:
    """The older answer, home before or after, is not taken."""
    bench, desk = Bench(), Desk()
    bench.ask(desk, "a")
    bench.home(1)
    bench.ask(desk, "b")
    desk.arrive()
    assert desk.got == []
    bench.home(1)
    desk.arrive()
    assert desk.got == ["answer to b"]


def test_two_screens_share_one_piece_of_work() -> None:
    """Asked by both, done once, given to both; one that leaves does not take it from the other."""
    bench, first, second, gone = Bench(), Desk(), Desk(), Desk()
    for desk in (first, gone, second):
        bench.ask(desk, "a")
    bench.work.leave(gone)
    bench.home(1)
    for desk in (first, gone, second):
        desk.arrive()
    assert (bench.begun, first.got, second.got, gone.got) == (1, ["answer to a"], ["answer to a"], [])


def test_a_screen_that_leaves_and_comes_back_finds_its_answer() -> None:
    """What is under way goes on when its screen is left, and serves the next that asks the same."""
    bench, left, next_ = Bench(), Desk(), Desk()
    bench.ask(left, "a")
    bench.work.leave(left)
    bench.home(1)
    bench.ask(next_, "a")
    next_.arrive()
    assert (bench.begun, left.got, next_.got) == (1, [], ["answer to a"])


def test_work_that_was_told_to_give_up_is_never_an_answer() -> None:
    """What nobody waits for gives up; asked for again, it is begun again."""
    bench, desk = Bench(), Desk()
    bench.ask(desk, "a")
    bench.work.leave(desk)
    bench.work.give_up()
    bench.ask(desk, "a")
    bench.home(2)
    desk.arrive()
    assert (bench.begun, desk.got) == (2, ["answer to a"])
    assert not bench.work.busy


def test_a_fault_is_an_answer_and_is_not_kept() -> None:
    """It reaches the waiter with its details; asked again, the work is tried again."""
    bench, desk = Bench(), Desk()

    def make(stop: Callable[[], bool]) -> object:
        raise ZeroDivisionError

    bench.work.ask(desk, "plan", "a", make, desk.got.append)
    bench.home(1)
    desk.arrive()
    (fault,) = desk.got
    assert isinstance(fault, Fault) and "ZeroDivisionError" in fault.details
    bench.ask(desk, "a")
    bench.home(1)
    desk.arrive()
    assert desk.got[1:] == ["answer to a"]


def test_a_screen_that_is_gone_is_waited_for_by_nobody() -> None:
    """Its queue takes nothing more; nothing is left open."""
    bench, desk = Bench(), Desk()
    bench.ask(desk, "a")
    desk.closed = True
    bench.home(1)
    assert not bench.work.busy
