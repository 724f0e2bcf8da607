"""The wizard in tests: its own folders, no pause before the tally."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Keep configuration and drafts inside the test, and stand in an empty folder."""
    for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    return here
