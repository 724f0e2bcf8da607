"""What tests of the engine share: the shipped shelf, and stations written as an owner would write them."""

from collections.abc import Callable
from dataclasses import dataclass, field

import pytest

from catalog.shelf import STATIONS, built_in
from engine.findings import Finding
from engine.parts import Shelf
from engine.planning import plan as planning
from engine.planning.plan import Plan
from engine.rules import check as checking
from engine.rules.check import Verdict
from engine.station import profile
from engine.station.model import Station
from engine.working import Figure


def pytest_addoption(parser: pytest.Parser) -> None:
    """``--trials=full`` runs the heavy random trials at their full number; else at the smaller one of each."""
    parser.addoption("--trials", choices=("usual", "full"), default="usual", help="how many heavy random trials to run")


def pytest_configure(config: pytest.Config) -> None:
    """Make the marker known."""
    config.addinivalue_line(
        "markers",
        "heavy(usual, full, first=0): random trials; 'seed' is each of them in turn, 'seeds' all of them at once",
    )


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """One test for every seed of a heavy trial."""
    marker = metafunc.definition.get_closest_marker("heavy")
    if marker is not None and "seed" in metafunc.fixturenames:
        metafunc.parametrize("seed", _seeds(marker, metafunc.config))


@pytest.fixture
def seeds(request: pytest.FixtureRequest) -> range:
    """The seeds of a heavy trial, for a test that looks at them all."""
    return _seeds(request.node.get_closest_marker("heavy"), request.config)


def _seeds(marker: pytest.Mark, config: pytest.Config) -> range:
    first = marker.kwargs.get("first", 0)
    return range(first, first + marker.kwargs[config.getoption("--trials")])


@dataclass(frozen=True)
class Bench:
    """The shipped shelf and what is done with a station file; what was planned once is not planned again."""

    shelf: Shelf
    plans: dict[str, Plan] = field(default_factory=dict)

    def station(self, text: str) -> Station:
        """The station in a file that holds ``text`` below its format and name."""
        return profile.read(f'format = 1\nname = "test"\n{text}', self.shelf).station

    def check(self, text: str) -> Verdict:
        """The verdict on such a file."""
        return checking.check(self.station(text), self.shelf)

    def plan(self, text: str) -> Plan:
        """The plan for such a file."""
        if text not in self.plans:
            self.plans[text] = planning.plan(self.station(text), self.shelf)
        return self.plans[text]

    def worked(self, name: str) -> Plan:
        """The plan for a worked station."""
        if name not in self.plans:
            text = (STATIONS / f"{name}.toml").read_text(encoding="utf-8")
            self.plans[name] = planning.plan(profile.read(text, self.shelf).station, self.shelf)
        return self.plans[name]

    def finding(self, text: str, rule: str, about: str) -> Finding:
        """The one finding of ``rule`` about a part."""
        return self.only(self.check(text), rule, about)

    @staticmethod
    def only(verdict: Verdict, rule: str, about: str) -> Finding:
        """The one finding of ``rule`` about a part in a verdict."""
        (found,) = (one for one in verdict.findings if (one.rule, one.about) == (rule, about))
        return found

    @staticmethod
    def term(figure: Figure, *labels: str) -> Figure:
        """The term of a figure's working that is reached by ``labels``, one working inside the other."""
        for label in labels:
            (figure,) = (one for one in figure.terms() if one.label == label)
        return figure

    @staticmethod
    def unsound(verdict: Verdict) -> list[Finding]:
        """The findings that are unsound."""
        return [one for one in verdict.findings if one.outcome == "unsound"]


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    """The catalogue as shipped."""
    return built_in()


@pytest.fixture(scope="session")
def bench(shelf: Shelf) -> Bench:
    """The shipped shelf, ready to read, check and plan stations."""
    return Bench(shelf)


Write = Callable[..., str]


@pytest.fixture(scope="session")
def desk() -> Write:
    """Writes a sound station of one radio on one lead; any line of it may be changed or left out (None)."""

    def write(**changes: object) -> str:
        lines: dict[str, dict[str, object]] = {
            "site": {"mains": "230 V", "circuit": "16 A", "coldest": "5 °C", "hottest": "30 °C"},
            "load": {
                "id": "hf",
                "window": "13.8 V ± 15 %",
                "receive": "1.5 A",
                "transmit": "20 A",
                "mode": "ssb",
                "keyed": "30 %",
                "follows": "steady current",
                "fuse": "25 A",
                "inlet": "keyed socket",
            },
            "source": {
                "id": "psu",
                "volts": "13.8 V",
                "continuous": "30 A",
                "peak": "30 A",
                "limit": "33 A",
                "tolerance": "1 %",
                "regulation": "1 %",
                "efficiency": "85 %",
                "power_factor": "95 %",
                "over_voltage": True,
                "outlets": ["binding post"],
            },
            "run": {
                "id": "lead",
                "from": "psu",
                "to": "hf",
                "length": "1.5 m",
                "conductor": "10 AWG",
                "insulation": "105 °C",
                "fuse": "25 A",
                "contacts": ["ring terminal", "keyed plug"],
            },
            "wishes": {"headroom": "25 %"},
        }
        for key, value in changes.items():
            table, _, name = key.partition("_")
            lines[table][name] = value
        return "\n".join(_table(name, rows) for name, rows in lines.items())

    return write


ON_POSTS = {
    **dict.fromkeys(f"source_{key}" for key in ("volts", "peak", "limit", "tolerance", "regulation")),
    **dict.fromkeys(f"source_{key}" for key in ("efficiency", "power_factor", "over_voltage", "continuous")),
    "source_outlets": ["stud"], "run_fuse": "30 A", "run_fuse_type": "battery post", "run_length": "1 m",
}  # fmt: skip
"""The desk's lead on the posts of something that is no mains supply."""


@pytest.fixture(scope="session")
def packed(desk: Write) -> Write:
    """Writes the desk on a battery of 20 Ah, warm and new: 1 A, and 20 A of carrier for a quarter of the time."""
    own = {
        **ON_POSTS, "site_coldest": "25 °C", "source_id": "pack", "run_from": "pack", "source_class": "battery",
        "source_chemistry": "lfp", "source_amp_hours": "20 Ah", "source_temperature": "25 °C",
        "source_health": "100 %", "source_depth": "100 %", "source_continuous": "20 A",
        "load_receive": "1 A", "load_mode": "carrier", "load_keyed": "25 %", "wishes_headroom": None,
    }  # fmt: skip
    return lambda **changes: desk(**(own | changes))


@pytest.fixture(scope="session")
def driven(desk: Write) -> Write:
    """Writes the desk in a car with its engine running: 20 A of voice, straight from the battery's posts."""
    own = {
        **ON_POSTS, "source_id": "car", "run_from": "car", "source_class": "vehicle", "source_part": "car",
        "source_engine": "running", "run_engine_space": "0 m", "wishes_headroom": None,
    }  # fmt: skip
    return lambda **changes: desk(**(own | changes))


def _table(name: str, rows: dict[str, object]) -> str:
    """A table with its rows; no table where every row is left out."""
    if all(value is None for value in rows.values()):
        return ""
    head = f"[{name}]" if name in ("site", "wishes") else f"[[{name}]]"
    return "\n".join([head, *(f"{key} = {_toml(value)}" for key, value in rows.items() if value is not None)])


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    return f'"{value}"' if isinstance(value, str) else str(value)


CHANGED_OVER = """
[[source]]
id = "mains"
volts = "{volts}"
continuous = "30 A"
tolerance = "1 %"
regulation = "1 %"
over_voltage = true
outlets = ["stud"]
[[changeover]]
id = "over"
{part}
[[run]]
id = "mains-way"
from = "mains"
to = "over"
length = "0.5 m"
conductor = "10 AWG"
insulation = "105 °C"
fuse = "30 A"
contacts = ["ring terminal", "ring terminal"]
[[run]]
id = "pack-way"
from = "pack"
to = "over"
length = "0.5 m"
conductor = "10 AWG"
insulation = "105 °C"
fuse = "30 A"
fuse_type = "battery post"
contacts = ["ring terminal", "ring terminal"]
"""


@pytest.fixture(scope="session")
def switched(packed: Write) -> Write:
    """Writes a station that a changeover feeds from a supply or from a battery of 100 Ah."""

    def write(part: str | None, volts: str = "13.8 V", **changes: object) -> str:
        named = f'part = "{part}"' if part else ""
        own: dict[str, object] = {
            "source_amp_hours": "100 Ah", "source_continuous": "100 A", "source_depth": "80 %", "run_from": "over",
            "run_length": "0.5 m", "run_fuse": "30 A", "run_fuse_type": None,
        }  # fmt: skip
        return packed(**(own | changes)) + CHANGED_OVER.format(part=named, volts=volts)

    return write
