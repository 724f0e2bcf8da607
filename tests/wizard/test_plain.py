"""The line-by-line interview gives the same station as the screens and the file."""

from collections.abc import Callable, Iterator
from pathlib import Path

from catalog.shelf import built_in
from engine.planning import plan as planning
from engine.station import profile
from wizard import drafts
from wizard.interview.saving import profile_text
from wizard.interview.session import Session
from wizard.lines.interview import Interview


def scripted(answers: dict[str, list[str]], heard: list[str]) -> Callable[[str], str]:
    """Answers by the words of the question, each in turn; empty when there is none left."""
    queues: dict[str, Iterator[str]] = {key: iter(values) for key, values in answers.items()}

    def ask(prompt: str) -> str:
        heard.append(prompt)
        return next((next(queue, "") for key, queue in queues.items() if key in prompt), "")

    return ask


def test_the_interview_ends_in_the_profile_of_the_same_file(own_folders: Path) -> None:
    """Asked line by line, with a wrong unit, a question mark and a step back on the way, the bytes are the same."""
    heard: list[str] = []
    said: list[str] = []
    answers = {
        "call this station": ["Attic desk", "Attic desk"],
        "will it be used": ["back", ""],
        "which class": ["nonsense", "hf-100w", ""],
        "key-down, full power": ["?", "22 W", "22 A"],
        "way from the supply": ["5 ft"],
        "mains voltage": ["230 V"],
        "may it cost": ["250"],
        "Save the station": ["attic.toml"],
    }
    status = Interview(Session(built_in()), scripted(answers, heard), said.append).run()
    assert status == 0
    station = (
        'format = 1\nname = "Attic desk"\n[site]\nmains = "230 V"\n[wishes]\nbudget = 250\n'
        '[[load]]\nid = "hf"\nclass = "hf-100w"\ntransmit = "22 A"\n'
        '[[run]]\nid = "hf-lead"\nto = "hf"\nlength = "5 ft"\n'
    )
    shelf = built_in()
    planned = planning.plan(profile.read(station, shelf).station, shelf)
    assert (own_folders / "attic.toml").read_text(encoding="utf-8") == profile_text(planned.verdict)
    text = "\n".join(said)
    assert "is a power; this asks for the direct current" in text
    assert "Find it:" in text
    assert "= 22 A" in text
    assert "'nonsense' is not a class" in text
    assert drafts.unfinished() == []


def test_leaving_everything_open_still_ends_in_a_plan() -> None:
    """Only a class of equipment is needed; I don't know is an answer to the rest."""
    said: list[str] = []
    answers = {"which class": ["vhf-50w", ""]}
    assert Interview(Session(built_in()), scripted(answers, []), said.append).run() == 0
    assert any("What to buy" in line for line in said)
