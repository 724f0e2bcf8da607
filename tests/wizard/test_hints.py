"""A hint promises what completing the station takes: nothing else, and nothing less."""

import copy
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from catalog.shelf import built_in
from engine.model.case import Case
from engine.model.complete import complete
from engine.model.layout import lay_out
from engine.parts import Span
from engine.station import profile
from wizard.interview import steps
from wizard.interview.hints import Hints
from wizard.interview.session import JUDGE, PLAN, Session
from wizard.questions import LOAD
from wizard.questions.question import Question

WINDOW = "13.8 V ± 15 %"
LOADS = (
    {"id": "hf", "class": "hf-100w"},
    {"id": "own", "window": WINDOW, "receive": "1 A", "transmit": "9 A"},
    {"id": "pc", "class": "laptop"},
    {"id": "amp", "class": "amp-300w"},
)
RUN = {"conductor": "8 AWG", "fuse": "40 A", "contacts": ["ring terminal", "keyed plug"]}
USES: dict[str, dict[str, Any]] = {
    "fixed": {"source": [{"id": "psu", "continuous": "60 A"}]},
    "supply chosen": {"use": "fixed"},
    "mobile": {"use": "mobile", "source": [{"id": "car", "class": "vehicle"}]},
    "lead": {"use": "battery", "source": [{"id": "pack", "class": "battery", "part": "agm-35ah"}]},
    "lithium": {
        "use": "battery",
        "source": [{"id": "p", "class": "battery", "chemistry": "lfp", "amp_hours": "40 Ah"}],
    },
    "sun": {"use": "battery", "sun": {"latitude": 47}, "wishes": {"hours": "5 h"}},
    "cold": {"use": "battery", "site": {"coldest": "-12 °C", "mains": "230 V"}, "sun": {"tilt": 30}},
    "amplifier": {"use": "amplifier", "load": [{"id": "hf", "class": "hf-100w"}, {"id": "tube", "class": "amp-valve"}]},
}
UNLIKE = ("headroom", "keyed_together", "keyed")
"""Promised in words that differ by mode or are no single answer, or a share of one operator's time among several."""


def described(name: str, loads: tuple[dict[str, Any], ...], lead: dict[str, str] | None = None) -> Session:
    """A session of a use with loads; each has a lead of its own where ``lead`` says something of it."""
    own = copy.deepcopy(USES[name])
    rows = own.get("load", loads)
    document = {"format": 1, "name": "x"} | {key: one for key, one in own.items() if key != "load"}
    document["load"] = [dict(one) for one in rows]
    if lead is not None:
        document["run"] = [{"id": f"{one['id']}-lead", "to": one["id"], **lead} for one in rows]
    return Session(built_in(), PLAN, document)


def asked(session: Session) -> Iterator[tuple[Question, int]]:
    """Every question of a station with the load that it is about, through both doors."""
    for mode in (PLAN, JUDGE):
        session.mode = mode
        for step in session.steps:
            yield from ((one, 0) for one in session.asked(step))
        for index, load in enumerate(session.rows("load")):
            row = session.shelf.equipment.get(str(load.get("class", "")))
            yield from ((one, index) for one in LOAD if one.key not in steps.pointless(row))
            if row is None or row.feed == "dc":
                yield from ((one, index) for one in steps.leads(mode, session.document, session.shelf))


def whole(session: Session) -> tuple[Case, dict[str, str]]:
    """The station completed, and its assumptions by place."""
    station = lay_out(profile.from_document(session.usable(), session.shelf).station, session.shelf)
    case, found = complete(station, session.shelf)
    return case, {one.about: one.value for one in found}


SITUATIONS = [(name, loads, lead) for name in USES for loads in (LOADS[:1], LOADS) for lead in (None, RUN)]


@pytest.mark.parametrize(("name", "loads", "lead"), SITUATIONS)
def test_what_is_assumed_is_promised_and_what_is_promised_is_taken(
    name: str, loads: tuple[dict[str, Any], ...], lead: dict[str, str] | None
) -> None:
    """Every question of every use: the hint is the assumption written down; written as an answer it changes nothing.

    A default without a note is held by the second half alone: the completed station is the same with it and without.
    """
    session = described(name, loads, lead)
    case, assumptions = whole(session)
    hints, promised = Hints(session), set()
    for question, index in asked(session):
        promise = hints.of(question, index)
        if session.text(question, index) or not promise or question.key in UNLIKE:
            continue
        other = described(name, loads, lead)
        other.answer(question, promise.partition(" (usual")[0], index)
        assert alike(whole(other)[0]) == alike(case), f"{question.table}.{question.key}: {promise}"
        promised |= set(assumptions) - set(whole(other)[1])
    assert len(promised) > 3


def alike(case: Case) -> Case:
    """The case with every span at its high end, and without what only tells what was given."""
    return replace(
        case,
        draws=tuple(_high(one) for one in case.draws),
        leads=tuple(sorted(case.leads, key=lambda lead: lead.id)),
        feeds=tuple(replace(feed, part=None) for feed in case.feeds),
        sunlight=case.sunlight and replace(case.sunlight, hours=round(case.sunlight.hours, 2)),
    )


def _high(draw: Any) -> Any:
    spans = {key: getattr(draw, key) for key in ("receive", "transmit", "busy", "wall")}
    high = {key: Span.exactly(span.high) for key, span in spans.items() if span}
    return replace(draw, **high, stated=(), own_fuse_given=False)


@pytest.mark.parametrize(
    ("use", "load", "key", "says"),
    [
        ("fixed", "hf-100w", "length", "1.5 m"),
        ("fixed", "amp-300w", "length", "1.2 m"),
        ("mobile", "hf-100w", "length", "4 m"),
        ("fixed", "hf-100w", "insulation", ""),
        ("lithium", "hf-100w", "temperature", "5 °C"),
        ("cold", "hf-100w", "temperature", ""),
        ("lead", "hf-100w", "peak", ""),
        ("lithium", "hf-100w", "peak", "40 A"),
        ("supply chosen", "hf-100w", "volts", ""),
        ("fixed", "hf-100w", "volts", "13.8 V"),
    ],
)
def test_a_hint_is_about_this_station(use: str, load: str, key: str, says: str) -> None:
    """A length by what the lead joins, a temperature by the site; none where the plan or the row decides."""
    session = described(use, ({"id": "x", "class": load},))
    questions = [pair for pair in asked(session) if pair[0].key == key and pair[0].table in ("run", "source")]
    assert {Hints(session).of(question, index) for question, index in questions} == {says}
