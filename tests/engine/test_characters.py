"""What a terminal obeys or an eye cannot see is found and written out."""

import unicodedata

import pytest

from engine.characters import JOINERS, escaped, first_hidden

OBEYED = {
    "\x1b": "\\x1b", "\x07": "\\x07", "\x7f": "\\x7f", "\x9b": "\\x9b", "\n": "\\n", "\r": "\\r", "\t": "\\t",
    "\u202e": "\\u202e", "\u2066": "\\u2066", "\u200b": "\\u200b", "\ufeff": "\\ufeff", "\u2028": "\\u2028",
    "\u2029": "\\u2029", "\ud800": "\\ud800", "\U000e0041": "\\U000e0041",
}  # fmt: skip


@pytest.mark.parametrize("char", OBEYED, ids=OBEYED.values())
def test_it_is_written_out_as_its_number(char: str) -> None:
    """Escape, C1, marks of direction, separators of lines and halves of pairs (Unicode general categories)."""
    assert first_hidden(f"a{char}b") == char
    assert escaped(f"a{char}b") == f"a{OBEYED[char]}b"
    assert escaped(f"a{char}b", allowed=char) == f"a{char}b"


def test_a_byte_of_a_file_name_that_is_no_text_is_written_as_a_byte() -> None:
    """What Python holds as a half of a pair in place of such a byte (PEP 383)."""
    assert escaped(b"a\xff".decode(errors="surrogateescape")) == "a\\xff"


def test_every_control_and_format_character_is_found() -> None:
    """No character of the categories C-control, format, surrogate, line and paragraph separator passes (Unicode)."""
    hidden = {"Cc", "Cf", "Cs", "Zl", "Zp"}
    for code in range(0x110000):
        char = chr(code)
        if unicodedata.category(char) in hidden and char not in JOINERS:
            assert first_hidden(char), hex(code)
            assert not first_hidden(escaped(char)), hex(code)


@pytest.mark.parametrize("text", ["", "Funkraum Süd 2 m", "Ω ± 15 % −3 °C ½ ²", "电台", "غرفة", "👩\u200d🔧", "naïve"])
def test_what_can_be_seen_stays(text: str) -> None:
    """Letters of any script, the trade's signs and joined pictures are shown as they are."""
    assert escaped(text) == text
