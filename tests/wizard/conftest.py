"""The wizard in tests: its own folders, no pause before the tally."""

import functools
import inspect
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from catalog.shelf import built_in
from engine.planning import plan, repair, upgrade


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Keep configuration and drafts inside the test, and stand in an empty folder."""
    for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    return here


def remembered(make: Callable[..., Any]) -> Callable[..., Any]:
    """What ``make`` makes of a station of the shipped shelf, made once; what was stopped on the way is not kept."""
    known: dict[Any, Any] = {}
    signature = inspect.signature(make)

    @functools.wraps(make)
    def ask(*given: Any, **named: Any) -> Any:
        about = signature.bind(*given, **named).arguments
        stop = about.pop("stop", None)
        if about.pop("shelf") is not built_in():
            return make(*given, **named)
        key = tuple(about.items())
        if key not in known:
            made = make(*given, **named)
            if stop is not None and stop():
                return made
            known[key] = made
        return known[key]

    return ask


ONCE = [(plan, "plan"), (upgrade, "upgrade"), (repair, "repair")]
WORKED_OUT = [(module, name, remembered(getattr(module, name))) for module, name in ONCE]


@pytest.fixture(autouse=True)
def known_plans(monkeypatch: pytest.MonkeyPatch) -> None:
    """Screens ask about the same few stations again and again; the engine's own tests see that its answers hold."""
    for module, name, ask in WORKED_OUT:
        monkeypatch.setattr(module, name, ask)
