"""The questions about the lead to each piece of equipment."""

from __future__ import annotations

from wizard.questions.question import Question

LEAD = (
    Question(
        "run",
        "length",
        "How long is the way from the supply to its socket?",
        "One way, any lead that came with it included. Current goes out and back, so the loop is twice this.",
        "A tape along the way it will lie, corners and all.",
        "1.5 m, or 5 ft",
        label="Length, one way",
    ),
)

LEAD_AS_IT_STANDS = (
    *LEAD,
    Question(
        "run",
        "conductor",
        "Which size is each conductor?",
        "Thin copper loses volts and gets hot.",
        "The print on the cable's jacket.",
        "12 AWG, or 4 mm²",
        label="Conductor size",
    ),
    Question(
        "run",
        "insulation",
        "Which temperature is its insulation made for?",
        "It decides how much current the cable may carry.",
        "The print on the cable. Left empty, the least that is sold is taken.",
        "105 °C",
        label="Insulation",
    ),
    Question(
        "run",
        "fuse",
        "Which fuse sits where it leaves the supply?",
        "That fuse protects the wire.",
        "Look at the supply's end of the lead. Write none when there is none.",
        "25 A, or none",
        label="Fuse at the source",
    ),
    Question(
        "run",
        "contacts",
        "What is on its end at the supply?",
        "Contacts have a rating, take certain wires and fit certain posts.",
        "Look at the supply's posts.",
        "ring terminal",
        part=0,
        from_shelf="contacts",
        label="Contact at the source",
    ),
    Question(
        "run",
        "contacts",
        "What is on its end at the equipment?",
        "Contacts have a rating, take certain wires and fit certain sockets.",
        "Look at the back of the equipment.",
        "keyed plug",
        part=1,
        from_shelf="contacts",
        label="Contact at the load",
    ),
)
