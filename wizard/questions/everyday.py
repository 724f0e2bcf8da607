"""Everyday words for classes of equipment, and finding a class by them. Common usage among operators, no source."""

from __future__ import annotations

import re
from collections.abc import Iterable

from engine.parts import Equipment

SHORT_WAVE = "short wave shortwave HF base SSB CW FT8 digital 80 m 40 m 20 m"
FM = "FM 2 m 70 cm dual band VHF UHF mobile repeater car"
LINEAR = "linear PA power amp booster"

WORDS = {
    "hf-qrp": f"QRP portable kit {SHORT_WAVE}",
    "hf-20w": f"QRP portable {SHORT_WAVE}",
    "hf-100w": SHORT_WAVE,
    "hf-100w-older": f"old vintage {SHORT_WAVE}",
    "hf-200w": SHORT_WAVE,
    "vhf-50w": FM,
    "vhf-50w-low": FM,
    "vhf-75w": FM,
    "vhf-5w": f"HT handy walkie talkie portable {FM}",
    "digital-25w": "packet APRS DMR modem data 2 m 70 cm VHF UHF",
    "receiver-sdr": "SDR dongle RX listening scanner",
    "receiver-general": "RX short wave shortwave listening scanner",
    "amp-160w-vhf": f"{LINEAR} 2 m VHF brick",
    "amp-300w": f"{LINEAR} HF",
    "amp-500w": f"{LINEAR} HF",
    "amp-600w": f"{LINEAR} HF kilowatt",
    "amp-50v-1kw": f"{LINEAR} HF kilowatt kW 1000 W LDMOS",
    "amp-50v-1500w": f"{LINEAR} HF kilowatt kW 1200 W 1500 W LDMOS",
    "amp-valve": f"{LINEAR} HF tube legal limit kilowatt",
    "handheld-charger": "HT handy cradle walkie talkie",
    "tuner": "ATU coupler matching",
    "rotator": "rotor beam antenna turner",
    "antenna-switch": "relay coax switch",
    "preamplifier": "LNA preamp mast VHF UHF",
    "packet-modem": "TNC APRS",
    "keyer": "CW paddle Morse",
    "speaker-amp": "speaker audio loudspeaker",
    "lamp": "light LED desk",
    "lamp-filament": "light bulb halogen",
    "dc-fan": "cooling blower ventilator",
    "clock-display": "light meter volt",
    "soldering-iron": "solder",
    "phone-charger": "USB phone tablet 5 V",
    "hotspot": "DMR digital voice",
    "small-computer": "PC computer board FT8 server",
    "laptop": "PC computer notebook FT8 logging",
    "router": "internet WiFi LAN network switch",
    "screen": "monitor display PC",
}
"""What else people call a class, by its id; a class of the owner's own is found by its title."""

_WORD = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+")


def words_of(text: str) -> tuple[str, ...]:
    """Numbers and words of a text, whether written apart or not.

    >>> words_of("2m FT8, 13.8 V")
    ('2', 'm', 'ft', '8', '13.8', 'v')
    """
    return tuple(_WORD.findall(text.casefold()))


def found_by(text: str, rows: Iterable[Equipment], groups: dict[str, str]) -> list[Equipment]:
    """The classes in which every word of ``text`` begins a word; whole words and whole numbers first."""
    asked = words_of(text)
    ranked = [(_misses(asked, row, groups.get(row.group, "")), row) for row in rows]
    known = [(misses, row) for misses, row in ranked if misses is not None]
    return [row for _, row in sorted(known, key=lambda one: one[0])]


def _misses(asked: tuple[str, ...], row: Equipment, group: str) -> int | None:
    """How many words are only the beginning of one, those outside the title counted too; None where one is missing."""
    title = set(words_of(f"{row.title} {row.id}"))
    known = title | set(words_of(f"{WORDS.get(row.id, '')} {group} {row.group} {row.mode or ''}"))
    if not all(any(word.startswith(one) for word in known) for one in asked):
        return None
    begun = asked[-1:] if not asked[-1:] or not asked[-1][0].isdigit() else ()  # the word still being typed
    missed = sum(2 * (one not in known) + (one not in title) for one in asked[: len(asked) - len(begun)])
    return missed + sum(not any(word.startswith(one) for word in title) for one in begun)
