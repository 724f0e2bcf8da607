"""Meter readings line by line: where, what was shown, and what the readings say, for plain terminals."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from engine.diagnosis.result import Diagnosis
from engine.rules.check import check
from engine.station import profile
from engine.station.table import Problem, nearest
from wizard.interview import readings
from wizard.lines.interview import Interview
from wizard.papers.bench import CARE, diagnosis_lines
from wizard.questions.readings import LEG, REST, STATE, places

HOW = (
    "Type what a meter showed, one reading after another. An empty line means: I don't know. A question mark explains "
    "the question. The word list shows the places."
)
WHERE = "Where did the meter's two points lie? (list shows the places, empty ends) "


class BenchInterview(Interview):
    """The readings of one station, asked for line by line."""

    def run(self) -> int:
        """Ask for readings until there are no more, say what they show, and save them; the exit status."""
        self.say(HOW)
        self.say(CARE[0])
        found = self._diagnosis()
        while (place := self._place()) is not None:
            index = readings.add(self.session, replace(found, next=None) if found else None, date.today())
            readings.set_place(self.session, index, place)
            across = "across" in self.session.rows(readings.TABLE)[index]
            asked = [(question, index) for question in (STATE, *REST) if across or question is not LEG]
            self._questions(asked.copy)
            self._complete(index)
            found = self._diagnosis()
        return self._save()

    def _place(self) -> str | None:
        """A place that can be read; None when there are no more readings."""
        known = dict(places(self.session.document, self.session.shelf))
        while text := self.ask(WHERE).strip():
            if text in known:
                return text
            if text in ("list", "?"):
                for key, says in known.items():
                    self.say(f"  {key}: {says}" if key not in says else f"  {key}  ({says})")
            else:
                self.say(f"! {text[:40]!r} is no place of this station; write {nearest(text, known)}")
        return None

    def _complete(self, index: int) -> None:
        """Ask again for what keeps a reading from being counted; it is kept whatever the answers are."""
        wanting = readings.missing(self.session, index)
        for problem in wanting:
            self.say(f"! {self._words(problem)}")
        asked = [spot.question for spot in map(self.session.place, wanting) if spot.question in (STATE, *REST)]
        self._questions([(one, index) for one in dict.fromkeys(asked) if one].copy)
        if readings.missing(self.session, index):
            self.say("! this reading is kept, and not counted yet")

    def _words(self, problem: Problem) -> str:
        return f"{self.session.place(problem).words} {problem.what}; {problem.instead}"

    def _diagnosis(self) -> Diagnosis | None:
        """What the readings show so far, which is also said."""
        found, _ = readings.diagnosed(self.session)
        if found is None:
            self.say(f"! {readings.NO_LOADS}")
            return None
        for line in diagnosis_lines(str(self.session.document.get("name", "")), found):
            self.say(line)
        return found

    def _save(self) -> int:
        """Save what can be read; readings that cannot be counted stay in the draft."""
        wanting = readings.missing(self.session)
        station = profile.from_document(self.session.usable(), self.session.shelf).station
        verdict = check(station, self.session.shelf, self.session.choices)
        asked = "Save the station with its readings as? (empty does not save) "
        while name := self.ask(asked).strip():
            if self._save_to(name, verdict, finished=not wanting):
                return self._saved(wanting)
        return 0

    def _saved(self, wanting: list[Problem]) -> int:
        """Keep what is not in the file as a draft, and say what it lacks."""
        if not wanting:
            return 0
        for problem in wanting:
            self.say(f"! {self._words(problem)}")
        self.session.keep()
        self.say("Not in that file, but kept as a draft; the wizard goes on with it.")
        return 0
