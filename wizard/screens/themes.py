"""The two looks of the program: dark for the evening, light for the bench by the window."""

from __future__ import annotations

from textual.theme import Theme

DARK, LIGHT = "shackrail-dark", "shackrail-light"

THEMES = (
    Theme(
        name=DARK,
        primary="#5b7fa6",
        secondary="#8a94a6",
        accent="#dca54a",
        foreground="#d9dee7",
        background="#14161a",
        surface="#181b20",
        panel="#20262f",
        success="#7fbf6a",
        warning="#e0b04f",
        error="#e0685e",
        dark=True,
        variables={
            "sound": "#7fbf6a",
            "thin": "#e0b04f",
            "unknown": "#8fb4dd",
            "unsound": "#e0685e",
            "quiet": "#7d8694",
            "wire": "#c3cad6",
            "footer-key-foreground": "#dca54a",
        },
    ),
    Theme(
        name=LIGHT,
        primary="#2d5d8a",
        secondary="#55606f",
        accent="#8a5a00",
        foreground="#1b1f26",
        background="#f7f5f0",
        surface="#fffdf8",
        panel="#e6e2d8",
        success="#2c6b1f",
        warning="#7d5600",
        error="#a3261c",
        dark=False,
        variables={
            "sound": "#2c6b1f",
            "thin": "#7d5600",
            "unknown": "#245a94",
            "unsound": "#a3261c",
            "quiet": "#666d78",
            "wire": "#3a414d",
            "footer-key-foreground": "#8a5a00",
        },
    ),
)
"""Each outcome has a colour of its own here; its mark and word stand beside it everywhere."""
