"""The questions about a battery as the source, alone or behind a supply."""

from __future__ import annotations

from dataclasses import replace

from wizard.questions import lead
from wizard.questions.question import BATTERY as KIND
from wizard.questions.question import Question

BATTERY = (
    Question(
        "source",
        "chemistry",
        "Which kind of battery?",
        "Each kind has volts of its own: some hold up to the end, some sag from the first hour.",
        "Its label. Left open with everything else here, a battery is chosen for you.",
        "lfp",
        from_shelf="chemistries",
        kind=KIND,
        label="Kind of battery",
    ),
    Question(
        "source",
        "amp_hours",
        "How much does it hold?",
        "With the current of your radios it gives the hours; fast draw, cold and age take from it.",
        "Its label, in Ah. Where several figures stand, the one at the 20-hour rate.",
        "20 Ah",
        kind=KIND,
        label="Ampere-hours",
    ),
    Question(
        "source",
        "continuous",
        "Which continuous current does it give?",
        "Lithium batteries have a board inside that cuts off above its rating, all at once.",
        "Its label or manual, line 'continuous discharge'.",
        "20 A",
        kind=KIND,
        label="Continuous current",
    ),
    Question(
        "source",
        "peak",
        "Which current does it give while keyed?",
        "The key-down current must stay below it, or the board trips in the middle of an over.",
        "Its label or manual, line 'peak' or 'maximum discharge'.",
        "30 A",
        kind=KIND,
        label="Current while keyed",
    ),
    Question(
        "source",
        "temperature",
        "How cold is the battery itself when you operate?",
        "Cold takes capacity and volts; and lithium is never charged below freezing.",
        "A thermometer on its case in the coldest hours. Carried in a bag it stays warmer than the air.",
        "5 °C, or 41 °F",
        kind=KIND,
        label="Battery temperature",
    ),
    Question(
        "source",
        "health",
        "What has age left of its capacity?",
        "An old battery gives its rated hours no more.",
        "A discharge with a watch and a meter; 100 % when new.",
        "90 %",
        kind=KIND,
        label="Capacity left by age",
    ),
    Question(
        "source",
        "depth",
        "How much of its capacity are you willing to draw?",
        "Lead-acid that is drawn below half ages fast.",
        "Your own judgement. Left open: what is usual for its kind.",
        "50 %",
        kind=KIND,
        label="Depth of discharge",
    ),
    Question(
        "source",
        "charge",
        "How full is it when you start?",
        "A battery that stood for months, or is charged to spare it, starts lower.",
        "Its charger or meter.",
        "100 %",
        kind=KIND,
        label="Charged at the start",
    ),
    Question(
        "source",
        "ohms",
        "Its inside resistance, if you have measured it",
        "It turns key-down current into lost volts; your own figure wins over that of its kind.",
        "A battery tester; milliohms.",
        "10 mohm",
        kind=KIND,
        label="Internal resistance",
    ),
    Question(
        "source",
        "owned",
        "Is it yours already?",
        "What you own costs nothing more.",
        "Your shelf.",
        "yes",
        kind=KIND,
        label="Yours already",
    ),
)

CHARGER = Question(
    "source",
    "charger",
    "Which charger keeps it full?",
    "Straight on a supply of 13.8 V most kinds are either worn out or never filled: each wants a charger of its own.",
    "Its label: it must name the battery's kind. Left open, a changeover that charges is looked for.",
    "mains-10-lithium",
    from_shelf="chargers",
    of_kind="mains charger",
    kind=KIND,
    label="Charger",
)

HOURS = Question(
    "wishes",
    "hours",
    "How long must it work in one go?",
    "This sizes the battery, its weight and its price.",
    "How you operate: an evening, a day on a hill.",
    "4 h",
    kind=KIND,
    label="Hours on battery",
)

_LENGTH = replace(lead.LEAD[0], asks="How long is the way from the battery to its socket?", kind=KIND)
FROM_BATTERY = (_LENGTH, *lead.LEAD[1:])
FROM_BATTERY_AS_IT_STANDS = (_LENGTH, *lead.LEAD_AS_IT_STANDS[1:])
