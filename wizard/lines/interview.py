"""The line-by-line interview: the wizard's questions for screen readers and plain terminals, one at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from engine.rules.check import Verdict
from engine.station.table import Problem, Problems
from engine.terms import PowerInput
from wizard import questions, store
from wizard.interview import steps
from wizard.interview.document import understood
from wizard.interview.hints import Hints
from wizard.interview.saving import Consent, InTheWay, save
from wizard.interview.session import Session
from wizard.papers.words import plan_lines, reason_lines
from wizard.questions.question import Question
from wizard.view.scene import Scene
from wizard.view.span import plain_text
from wizard.view.spoken import spoken

Ask = Callable[[str], str]
Say = Callable[[str], None]

HOW = (
    "Answer each question and press Enter. An empty line means: I don't know, a careful value is taken and written "
    "down; an answer that is there already stays. A question mark explains the question. The word back goes to the "
    "question before, the word clear takes an answer out again."
)


class Interview:
    """One station asked for line by line; what is typed goes into a session, as on the screens."""

    def __init__(self, session: Session, ask: Ask, say: Say) -> None:
        self.session, self.ask, self.say = session, ask, say

    def run(self) -> int:
        """Ask everything, print the plan and save it; the exit status."""
        self.say(HOW)
        self._questions(lambda: [(one, 0) for one in questions.USE])
        self._equipment()
        self._questions(self._rest)
        return self._finish()

    def _questions(self, asked: Callable[[], list[tuple[Question, int]]]) -> None:
        """Ask one after another; what is asked may follow from the answers before."""
        place = 0
        while place < len(asked()):
            question, index = asked()[place]
            place += 1 if self._one(question, index) else -1 if place else 0

    def _one(self, question: Question, index: int) -> bool:
        """Ask one question until its answer can be read; False to go back."""
        now = self.session.text(question, index)
        loads = self.session.rows("load")
        taken = now or Hints(self.session).of(question, index)
        whose = f"{loads[index].get('id', '')}: " if question.table in ("load", "run") and index < len(loads) else ""
        prompt = f"{whose}{question.asks}{f' [{taken}]' if taken else ''} "
        problem: Problem | None = None
        while True:
            text = self.ask(prompt).strip()
            if text == "?":
                self._explain(question)
                continue
            if text.casefold() == "back":
                return False
            if text.casefold() == "clear" or (problem and not text):
                self._take(question, "", index)
                self.say("left open")
                return True
            problem = self._take(question, text, index) if text else None
            if problem is None:
                return True
            self.say(f"! {problem.what}; {problem.instead}")

    def _take(self, question: Question, text: str, index: int) -> Problem | None:
        """Take an answer and say what was understood; its fault, if it has one."""
        self.session.answer(question, text, index)
        self.session.keep()
        problem = self.session.fault(self.session.problems(), question, index) if text else None
        echo = "" if problem else understood(question, text)
        if echo:
            self.say(echo)
        return problem

    def _explain(self, question: Question) -> None:
        self.say(question.why)
        self.say(f"Find it: {question.where}")
        self.say(f"Write for example: {question.example}")
        for key, says in question.choices(self.session.shelf):
            self.say(f"  {key}: {says}" if says != key else f"  {key}")

    def _equipment(self) -> None:
        shelf = self.session.shelf
        while True:
            name = self.ask(
                "Add which class of equipment? (list shows them, own means figures of its own, empty ends) "
            )
            name = name.strip()
            if not name:
                if self.session.rows("load"):
                    return
                self.say("! a station needs at least one piece of equipment")
            elif name == "list":
                for key, row in shelf.equipment.items():
                    self.say(f"  {key}: {row.title}")
            elif name == "own" or name in shelf.equipment:
                index = self.session.add_load(None if name == "own" else name)
                self._about(index)
            else:
                self.say(f"! {name!r} is not a class; write list to hear them")

    def _about(self, index: int) -> None:
        self._questions(lambda: [(one, index) for one in self._about_load(index)])

    def _about_load(self, index: int) -> Iterator[Question]:
        row = self.session.shelf.equipment.get(str(self.session.rows("load")[index].get("class", "")))
        for question in questions.LOAD:
            if question.key not in steps.pointless(row):
                yield question

    def _rest(self) -> list[tuple[Question, int]]:
        """Everything after the equipment, step by step as on the screens."""
        said = [step for step in self.session.steps if step not in ("use", "loads", "result")]
        return [pair for step in said for pair in self._step(step)]

    def _step(self, step: str) -> list[tuple[Question, int]]:
        session = self.session
        if step != "leads":
            return [(one, 0) for one in session.asked(step)]
        asked = steps.leads(session.mode, session.document, session.shelf)
        classes = [session.shelf.equipment.get(str(row.get("class", ""))) for row in session.rows("load")]
        fed = [index for index, row in enumerate(classes) if row is None or row.feed == PowerInput.DC]
        return [(one, index) for index in fed for one in asked]

    def _finish(self) -> int:
        try:
            made = self.session.result()
        except Problems as error:
            for problem in error.found:
                self.say(f"! {self.session.place(problem)[1]}: {problem.what}; {problem.instead}")
            return 2
        for line in plan_lines(made, drawn=spoken(Scene(made.verdict))):
            self.say(line if isinstance(line, str) else plain_text(line))
        for line in reason_lines(made):
            self.say(line if isinstance(line, str) else plain_text(line))
        while True:
            name = self.ask("Save the station profile as? (empty does not save) ").strip()
            if not name:
                return 0
            if self._save_to(name, made.verdict):
                return 1 if made.verdict.outcome == "unsound" or not made.complete else 0

    def _save_to(self, name: str, verdict: Verdict, *, finished: bool = True) -> bool:
        """Save under a name, and let the draft go where all of it is ``finished``; False where it cannot be saved."""
        consent = Consent(self.session.held)
        while True:
            try:
                self.session.held = save(store.typed_path(name), verdict, self.session.shelf, consent).held
            except InTheWay as error:
                if self.ask(f"{error}. Put this one in its place? (yes) ").strip().casefold() != "yes":
                    return False
                consent = replace(consent, shown=error.there)
            except store.StoreError as error:
                self.say(f"! {error}")
                return False
            else:
                if finished:
                    self.session.draft.finish()
                self.say(f"saved to {name}")
                return True
