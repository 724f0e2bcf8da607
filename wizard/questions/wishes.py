"""The questions about use and wishes."""

from __future__ import annotations

from wizard.questions.question import Question

USE = (
    Question(
        "",
        "name",
        "What do you call this station?",
        "The name heads the plan and names the file.",
        "Any words of your own.",
        "Attic desk",
        label="Name of the station",
    ),
    Question(
        "",
        "use",
        "How will it be used?",
        "A supply holds its volts, a car's go up and down, a battery's sink: each is planned by its own worst day.",
        "Where the station stands most of the time.",
        "fixed",
        label="Use",
    ),
)

WISHES = (
    Question(
        "wishes",
        "budget",
        "What may it cost?",
        "The plan says when this is not enough. Safety is not trimmed to fit.",
        "A plain number in your own money; the catalogue's prices are illustrative.",
        "250",
        label="Budget",
    ),
    Question(
        "wishes",
        "headroom",
        "How much current to spare?",
        "The keyed rating carries key-down with this to spare, the continuous one what lasts for minutes.",
        "Common practice: 25 %.",
        "25 %",
        label="Current to spare",
    ),
    Question(
        "",
        "keyed_together",
        "Which of them transmit at the same time, if any?",
        "Left open, one transmits at a time. An amplifier always counts together with a radio that drives it.",
        "How you operate. Write their short names.",
        "hf, vhf",
        label="Keyed together",
    ),
    Question(
        "wishes",
        "prefer",
        "What decides between sound plans?",
        "The cheapest sound station, the quietest (no fan heard, no noise on the bands, or both) or the lightest.",
        "Your own taste. Left open: price.",
        "price",
        label="What decides",
    ),
)

OUTAGE = Question(
    "wishes",
    "hours",
    "How long must it go on when the mains fail?",
    "A battery and a changeover are then planned behind the supply. Leave it empty for no battery.",
    "How long outages last where you live.",
    "2 h",
    label="Hours on battery",
)
