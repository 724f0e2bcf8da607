"""The README's pictures say what the program says today."""

from pathlib import Path

import pytest

from ..tools.pictures import FOLDER, SCREENS, drawn, text_of


@pytest.mark.parametrize("name", SCREENS)
async def test_a_picture_is_current(own_folders: Path, name: str) -> None:
    """Its text is that of the screen; where it is not, python -m tests.tools.pictures makes it anew."""
    held = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert text_of(held) == text_of(await drawn(name))
    assert "http" not in held.replace("http://www.w3.org/", "")


def test_the_readme_shows_every_picture() -> None:
    """None is forgotten."""
    readme = (FOLDER.parents[1] / "README.md").read_text(encoding="utf-8")
    assert all(f"wizard/pictures/{name}.svg" in readme for name in SCREENS)
