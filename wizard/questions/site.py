"""The questions about the place."""

from __future__ import annotations

from wizard.questions.question import Question

MAINS = (
    Question(
        "site",
        "mains",
        "What is the mains voltage?",
        "The same power takes twice the current at half the voltage.",
        "The plate of any appliance.",
        "230 V",
        label="Mains voltage",
    ),
    Question(
        "site",
        "circuit",
        "What is the outlet's circuit rated?",
        "The breaker must carry the supply and what else hangs on it.",
        "The breaker in the panel. If in doubt, ask a licensed electrician.",
        "16 A",
        label="Wall circuit",
    ),
    Question(
        "site",
        "extension",
        "Is there an extension lead between the outlet and the station? Its conductor size",
        "A thin or long one gets hot and loses volts before the supply.",
        "The print on its jacket. Leave it open when there is none.",
        "14 AWG, or 1.5 mm²",
        label="Extension lead",
    ),
    Question(
        "site",
        "extension_length",
        "How long is the extension lead?",
        "One way; the whole of it counts, also what lies coiled.",
        "A tape, or its label.",
        "5 m, or 25 ft",
        label="Its length",
    ),
    Question(
        "site",
        "generator",
        "Does a generator feed the station? Its running watts",
        "It must give the station's draw hour after hour with a fifth to spare.",
        "Its plate, line 'running' or 'rated'; not the 'starting' or 'maximum' watts. Leave it open for the mains.",
        "2000 W",
        label="Generator",
    ),
    Question(
        "site",
        "circuit_wire",
        "Which size is the wire of that circuit in the wall?",
        "A long thin circuit loses volts at key-down: lights dim, supplies drop out.",
        "A licensed electrician knows. Leave it open when you do not: open no outlet or panel to find out.",
        "12 AWG, or 2.5 mm²",
        label="Wire in the wall",
    ),
    Question(
        "site",
        "circuit_length",
        "How far is it from the breaker to the outlet?",
        "One way along the wire.",
        "A tape along the walls, with what goes up and down.",
        "15 m, or 50 ft",
        label="Breaker to outlet",
    ),
)

PLACE = (
    Question(
        "site",
        "hottest",
        "How warm does it get around the cables?",
        "Hot cable carries less and loses more.",
        "A thermometer behind the desk in summer.",
        "35 °C, or 95 °F",
        label="Warmest air",
    ),
    Question(
        "site",
        "coldest",
        "How cold does it get there?",
        "Cold raises the voltage a little and slows batteries a lot.",
        "A thermometer in winter.",
        "5 °C, or 41 °F",
        label="Coldest air",
    ),
    Question(
        "site",
        "wire",
        "Is cable sold by AWG or by mm² where you buy it?",
        "The plan then names sizes that you can buy.",
        "Any shop's shelf.",
        "metric",
        label="Cable is sold by",
    ),
    Question(
        "site",
        "layout",
        "One lead from the source to each load, or through a fused strip?",
        "More than three leads on one pair of posts work loose.",
        "Left open: single leads for up to three loads.",
        "one lead each",
        label="Layout of the leads",
    ),
)

SITE = (*MAINS, *PLACE)
