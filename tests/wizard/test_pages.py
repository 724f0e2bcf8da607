"""Every paper on one page: whole, self-contained, and text whatever stands in it."""

from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from catalog.shelf import STATIONS, built_in
from engine.rules import check as checking
from engine.station import profile
from wizard.commands.grammar import PAPERS
from wizard.commands.main import main
from wizard.papers.pages import PAGES, html_lines, markdown_lines

WORKED = sorted(path.stem for path in STATIONS.glob("*.toml"))
OUTSIDE = {"script", "link", "img", "iframe", "object"}


class Tags(HTMLParser):
    """The standard library's reading of a page: its tags, the ids of its sections and its text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags, self.sections, self.text = list[str](), list[str](), ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a tag, and a section by its id."""
        self.tags.append(tag)
        self.sections += [dict(attrs).get("id") or ""] if tag == "section" else []

    def handle_data(self, data: str) -> None:
        """Note text."""
        self.text += data


def judged(name: str, called: str | None = None) -> checking.Verdict:
    """The verdict on a worked station, under another name where one is given."""
    shelf = built_in()
    read = profile.read((STATIONS / f"{name}.toml").read_text(encoding="utf-8"), shelf)
    verdict = checking.check(read.station, shelf, read.choices)
    return verdict if called is None else replace(verdict, station=replace(verdict.station, name=called))


@pytest.mark.parametrize("name", WORKED)
def test_every_paper_of_a_worked_station_is_on_its_page(name: str) -> None:
    """Each once, nothing fetched from elsewhere, every lead labelled at both ends."""
    verdict = judged(name)
    page = Tags("\n".join(html_lines(verdict, built_in())))
    assert page.sections == [one.word for one in PAGES] == list(PAPERS)
    assert not OUTSIDE & set(page.tags)
    for run in verdict.case.leads:
        assert page.text.count(f"[ {run.id} | this end:") == 2


@pytest.mark.parametrize("hostile", ["<script>alert(1)</script>", "</pre>&amp;", "```", "שלום"])
def test_a_hostile_name_stays_text(hostile: str) -> None:
    """It is read back as it was written, and opens no tag."""
    verdict = judged("chapel-row", hostile)
    page = Tags("\n".join(html_lines(verdict, built_in())))
    assert hostile in page.text
    assert "script" not in page.tags
    assert page.tags.count("pre") == len(PAGES) - 1
    said = markdown_lines(verdict, built_in())
    assert all(line.startswith(("    ", "# ")) for line in said if line)


def test_a_drawing_wider_than_high_lies_on_its_side() -> None:
    """A strip between supply and loads makes it so; text stays upright."""
    page = "\n".join(html_lines(judged("windmill-hill"), built_in()))
    assert page.count('class="wide"') == 1
    assert '<section id="wiring" class="wide">' in page


@pytest.mark.parametrize("word", [one.word for one in PAGES])
def test_each_paper_alone(word: str, capsys: pytest.CaptureFixture[str]) -> None:
    """By its word, as a page and as Markdown."""
    assert main(["print", "chapel-row", "--only", word]) == 0
    assert Tags(capsys.readouterr().out).sections == [word]
    assert main(["print", "chapel-row", "--only", word, "--markdown"]) == 0
    assert capsys.readouterr().out.count("\n# ") == 0


def test_another_file_is_not_replaced_unasked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is there stays until --force; a station file stays even then."""
    paper, station = tmp_path / "papers.html", tmp_path / "station.toml"
    paper.write_text("mine", encoding="utf-8")
    assert main(["print", "chapel-row", "-o", str(paper)]) == 2
    assert paper.read_text(encoding="utf-8") == "mine"
    assert main(["print", "chapel-row", "-o", str(paper), "--force"]) == 0
    assert "Switching card" in paper.read_text(encoding="utf-8")
    kept = (STATIONS / "chapel-row.toml").read_bytes()
    station.write_bytes(kept)
    assert main(["print", "chapel-row", "-o", str(station), "--force"]) == 2
    assert station.read_bytes() == kept
    assert "Traceback" not in capsys.readouterr().err
