"""The questions about panels that charge a battery; nothing answered means that there are none."""

from __future__ import annotations

from wizard.questions.question import Question

SUN = (
    Question(
        "sun",
        "latitude",
        "What is your latitude, in degrees?",
        "From it the sun of your worst month is worked out.",
        "Any map. South of the equator with a minus.",
        "47",
        label="Latitude",
    ),
    Question(
        "sun",
        "hours",
        "How many hours of full sun has a day in your worst month?",
        "So many hours the panels give their rated power; the rest of the day next to nothing.",
        "A table of monthly peak sun hours for your place. Left open, it goes by your latitude.",
        "2 h",
        label="Full sun, worst month",
    ),
    Question(
        "sun",
        "tilt",
        "How steep do the panels stand? Degrees from flat",
        "A steep panel catches the low sun of winter.",
        "A folded sheet of paper shows 45. Left open: flat.",
        "60",
        label="Tilt of the panels",
    ),
    Question(
        "sun",
        "days",
        "How many days without sun must the battery bridge?",
        "Each dark day wants a day's charge in store.",
        "How long you can wait. Common practice: three to five.",
        "3",
        label="Days without sun",
    ),
    Question(
        "sun",
        "operating",
        "How many hours do you operate in a day?",
        "So much must come back every day.",
        "How you operate.",
        "4 h",
        label="Operating in a day",
    ),
    Question(
        "sun",
        "panel",
        "Which class of panel?",
        "Its watts are those of full sun, straight on, at a temperature that it never has in summer.",
        "The label on its back. Left open, the findings say how many watts are wanted.",
        "panel-100",
        from_shelf="panels",
        label="Panel",
    ),
    Question(
        "sun",
        "panels",
        "How many of them?",
        "Alike panels side by side add up.",
        "Count them.",
        "2",
        label="How many panels",
    ),
    Question(
        "sun",
        "controller",
        "Which controller stands between panels and battery?",
        "It must know the battery's kind, and bear the volts of a panel in the cold.",
        "Its label: the kinds of battery, the amperes, the greatest volts of the panels.",
        "solar-20-mppt",
        from_shelf="chargers",
        of_kind="solar controller",
        label="Solar controller",
    ),
)
