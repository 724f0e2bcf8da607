"""The questions about a vehicle as the source, and about a lead that begins at its battery."""

from __future__ import annotations

from engine.terms import Negative
from wizard.questions import lead
from wizard.questions.question import VEHICLE as KIND
from wizard.questions.question import Question

VEHICLE = (
    Question(
        "source",
        "part",
        "Which kind of vehicle?",
        "A computer-managed alternator lets the volts sag on purpose; a plain one holds them up.",
        "Its handbook. If in doubt: a car of the last ten years or so is managed.",
        "car",
        from_shelf="vehicles",
        kind=KIND,
        label="Kind of vehicle",
    ),
    Question(
        "source",
        "engine",
        "Do you transmit with the engine running, or with it off?",
        "Off, the battery alone feeds the radio: about two volts less at its terminals.",
        "How you operate. Common practice: start the engine first, then switch the radio on.",
        "running",
        kind=KIND,
        label="Engine",
    ),
    Question(
        "source",
        "highest",
        "The most volts you have measured at its battery while driving",
        "It must stay inside the window of every radio, in the cold and just after a start.",
        "A meter at the battery's posts, a minute after a cold start; or leave it open.",
        "14.8 V",
        kind=KIND,
        label="Highest voltage",
    ),
    Question(
        "source",
        "cranking",
        "What is the cold cranking current of its battery?",
        "A short circuit draws thousands of amperes: the fuse at the post must be able to break them.",
        "The battery's label: CCA, or the number beside EN.",
        "650 A",
        kind=KIND,
        label="Cold cranking current",
    ),
    Question(
        "source",
        "alternator",
        "What is its alternator rated?",
        "At idle it gives about a third of that, and the vehicle itself takes most of a third.",
        "The alternator's plate, or the handbook.",
        "120 A",
        kind=KIND,
        label="Alternator",
    ),
    Question(
        "source",
        "load_sensor",
        "Does a sensor sit in the battery's negative lead?",
        "A negative lead on the post would pass it by: the car then counts its battery wrong.",
        "A small box on the negative clamp, with a thin plug. Look only; touch nothing.",
        "yes",
        kind=KIND,
        label="Battery sensor",
    ),
)

_OWN = (
    Question(
        "run",
        "negative",
        "Where does its negative lead land?",
        "Makers and countries differ: past a sensor it spoils the car's count; on a seat bolt it is a gamble.",
        "What the vehicle's maker writes for two-way radio wins over everything here. A workshop helps.",
        "body near the battery bond",
        only=(Negative.BODY, Negative.POST),
        kind=KIND,
        label="Negative lands at",
    ),
    Question(
        "run",
        "engine_space",
        "How much of it lies beside the engine?",
        "Hot copper carries less: that part may get as hot as 85 °C.",
        "A tape from the battery to the bulkhead. Write 0 m where the battery is elsewhere.",
        "1 m, or 3 ft",
        kind=KIND,
        label="Beside the engine",
    ),
    Question(
        "run",
        "fuse_legs",
        "Which of its legs are fused?",
        "A fuse in the negative too guards against the car's current coming home through the radio.",
        "Look at the battery's end. Left open, it goes by where the negative lands.",
        "positive",
        kind=KIND,
        label="Fused legs",
    ),
)
_LENGTH = Question(
    "run",
    "length",
    "How long is the way from the battery to it?",
    "One way: from the battery's post through the bulkhead to the radio. The loop is twice this.",
    "A tape along the way it will lie: clear of airbags, pedals, fuel, and hot or moving parts.",
    "4 m, or 13 ft",
    kind=KIND,
    label="Length, one way",
)

LEAD = (_LENGTH, *_OWN)
LEAD_AS_IT_STANDS = (_LENGTH, *lead.LEAD_AS_IT_STANDS[1:], *_OWN)

REGION = Question(
    "site",
    "region",
    "Where does the vehicle live?",
    "Practice for the negative lead differs from country to country.",
    "The country whose rules and workshops you use.",
    "elsewhere",
    kind=KIND,
    label="Region",
)
