"""The printed papers: what they must hold, in the width of a page."""

from pathlib import Path

import pytest

from engine.advice.electrician import RATINGS, suggested
from wizard.commands.main import main

STATION = """
format = 1
name = "Two circuits"
[site]
mains = "120 V"
circuit = "15 A"
wire = "AWG"
circuit_wire = "14 AWG"
circuit_length = "60 ft"
[[load]]
id = "hf"
class = "hf-100w"
[[load]]
id = "amp"
class = "amp-500w"
[[source]]
id = "psu"
part = "switch-30-fixed"
[[source]]
id = "big"
part = "switch-75-fixed"
mains = "240 V"
circuit = "20 A"
[[run]]
id = "hf-lead"
from = "psu"
to = "hf"
[[run]]
id = "amp-lead"
from = "big"
to = "amp"
"""


def paper(name: str, folder: Path, capsys: pytest.CaptureFixture[str], text: str = STATION) -> list[str]:
    """The lines of one paper about a station."""
    (folder / "s.toml").write_text(text)
    assert main([name, str(folder / "s.toml")]) == 0
    return capsys.readouterr().out.splitlines()


def test_the_note_asks_and_never_instructs(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Load, continuous current, suggested rating, both voltages, wire by table as a question (common practice)."""
    lines = paper("note", own_folders, capsys)
    assert all(len(line) <= 80 for line in lines)
    text = " ".join(" ".join(lines).split())
    assert "question to a licensed electrician, not an instruction" in text
    assert "local code" in text
    assert "at 120 V: 5.1 A at most" in text and "at 240 V: 2.6 A at most" in text
    assert "The circuit of big: 240 V, breaker 20 A" in text
    assert "by table 14 AWG over 60 ft: is that right here?" in text
    assert "opens no panel" in text and "never puts in a larger breaker" in text


def test_the_note_of_a_station_of_which_nothing_is_known(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A note without figures says so and asks nothing (this house)."""
    lines = paper("note", own_folders, capsys, 'format = 1\nname = "x"\n[[load]]\nid = "hf"\nclass = "hf-100w"\n')
    assert any("Nothing is known here" in line for line in lines)
    assert "Questions" not in lines


def test_a_finding_of_the_wall_becomes_a_question(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A breaker too large for its wire is not mended by the owner but asked about (NEC 240.4(D))."""
    text = STATION.replace('circuit = "15 A"', 'circuit = "25 A"', 1)
    said = " ".join(" ".join(paper("note", own_folders, capsys, text)).split())
    assert "What should be done about this: a 25.0 A breaker on 14 AWG" in said


def test_a_paper_of_a_file_that_cannot_be_read(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 2 and the name of the file."""
    assert main(["note", "nowhere.toml"]) == 2
    assert "nowhere.toml" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("amps", "family", "rating"),
    [(12.0, "AWG", 15), (15.1, "AWG", 20), (23.0, "AWG", 25), (11.0, "metric", 13), (16.5, "metric", 20)],
)
def test_suggested_ratings_are_standard_ones(amps: float, family: str, rating: float) -> None:
    """15, 20, 25, 30 A ... (NEC 240.6, in copies); 6, 10, 13, 16, 20 A ... (IEC 60898, from memory)."""
    assert suggested(amps, family) == rating
    assert suggested(1000, family) is None
    assert list(RATINGS[family]) == sorted(RATINGS[family])


@pytest.mark.parametrize(
    "name", ["harbour-street", "windmill-hill", "chapel-row", "quarry-road", "belfry-court", "tannery-wharf"]
)
def test_the_card_is_one_page(name: str, own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """80 columns, 66 lines at most, every step with what to see, and what is never moved while live (this house)."""
    assert main(["plan", name, "-o", "p.toml"]) in (0, 1)
    capsys.readouterr()
    assert main(["card", "p.toml"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) <= 66 and all(len(line) <= 80 for line in lines)
    text = "\n".join(lines)
    assert text.index("\nON\n") < text.index("\nOFF\n") < text.index("\nNEVER WHILE LIVE\n")
    assert text.count("[ ]") == text.count(" see: ")
    assert "direct-current plug" in text


def test_the_card_of_what_is_not_ready_says_so(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a source there is nothing to switch on; unsound findings are named before the first step."""
    text = "\n".join(paper("card", own_folders, capsys, 'format = 1\nname = "x"\n[[load]]\nid = "a"\nclass = "lamp"\n'))
    assert "no source is described yet" in text
    main(["card", "quarry-road"])
    assert "findings are unsound: mend them before switching on" in capsys.readouterr().out
