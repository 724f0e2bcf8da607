"""The commands of a second opinion: output, exit status, and faults in a sentence."""

import json
import tomllib
from pathlib import Path

import pytest

from catalog.shelf import built_in
from engine.station import profile
from wizard import store
from wizard.commands.grammar import CLAIM_OPTIONS
from wizard.commands.main import main
from wizard.interview.claims import FIELDS, KINDS, kind_of

READINGS = """
[[reading]]
at = "supply"
state = "keyed"
keyed = ["hf"]
volts = "13.6 V"
amps = "21 A"
instrument = "digital multimeter"

[[reading]]
at = "hf"
state = "keyed"
volts = "{hf} V"
instrument = "digital multimeter"
"""


@pytest.fixture
def desk_file(own_folders: Path) -> str:
    """A worked station with two readings, one to be filled in."""
    from catalog.shelf import STATIONS

    text = (STATIONS / "chapel-row.toml").read_text(encoding="utf-8")
    (own_folders / "good.toml").write_text(text + READINGS.format(hf="13.25"), encoding="utf-8")
    (own_folders / "bad.toml").write_text(text + READINGS.format(hf="11.7"), encoding="utf-8")
    return str(own_folders / "bad.toml")


def test_readings_name_the_run_and_end_with_status_1(desk_file: str, capsys: pytest.CaptureFixture[str]) -> None:
    """1.9 V lost at 21 A is found in the lead; a sound station ends with 0; both in one call end with 1."""
    assert main(["readings", desk_file]) == 1
    said = capsys.readouterr().out
    assert "FOUND" in said.splitlines()[0]
    assert "hf-lead" in said and "Measure next" in said
    assert main(["readings", desk_file.replace("bad", "good")]) == 0
    assert "Not a power problem at hf" in capsys.readouterr().out
    assert main(["readings", desk_file, desk_file.replace("bad", "good")]) == 1


def test_readings_as_json_are_one_object_a_line(desk_file: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The keys of the format page, in SI units: 1.9 V over 21 A is 90.5 mohm (Ohm's law)."""
    assert main(["readings", "--json", desk_file, desk_file.replace("bad", "good")]) == 1
    first, second = (json.loads(line) for line in capsys.readouterr().out.splitlines())
    assert set(first) == set(second)
    assert first["estimates"][0]["ohms"] == pytest.approx((13.6 - 11.7) / 21, abs=1e-5)
    assert (first["outcome"], second["outcome"]) == ("found", "sound")
    assert second["next"] is None and first["next"]["at"] == "hf-lead"


def test_an_alarm_leads_in_words_and_in_json(desk_file: str, capsys: pytest.CaptureFixture[str]) -> None:
    """17.2 V at the radio: status 1, the alarm before everything else, and nothing to be measured keyed."""
    path = Path(desk_file)
    path.write_text(path.read_text(encoding="utf-8").replace('"11.7 V"', '"17.2 V"'), encoding="utf-8")
    assert main(["readings", desk_file]) == 1
    first, second = capsys.readouterr().out.splitlines()[:2]
    assert first.endswith(": ALARM") and second.startswith("! WARNING: 17.2 V at hf, hf keyed;")
    assert main(["readings", "--json", desk_file]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["outcome"] == "alarm" and "Do not key." in found["alarm"][0]
    assert found["causes"][0]["do"] and found["next"]["keyed"] == []


def test_a_station_without_readings_is_told_where_to_begin(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing read, nothing accused: status 0 and the first measurement."""
    assert main(["readings", "chapel-row"]) == 0
    assert "volts at the terminals of hf, hf keyed" in capsys.readouterr().out


def test_the_bench_sheet_fits_eighty_columns(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every line of the sheet fits, each point has room for a pencil, and an unknown meter is named."""
    monkeypatch.setenv("COLUMNS", "80")
    assert main(["bench", "chapel-row"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) <= 80
    assert sum(line.endswith("____") for line in lines) == 3 + 5 + 5
    assert main(["bench", "chapel-row", "--instrument", "digital multimetre"]) == 2
    assert "'digital multimeter'" in capsys.readouterr().err
    assert main(["bench", "--json", "chapel-row"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert all(set(one) == {"at", "across", "state", "keyed", "volts", "expected", "amps"} for one in found["lines"])


def test_claims_from_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Refuted claims end with 1 and show the arithmetic; faults end with 2 and name the option."""
    assert main(["claim", "--conductor", "14 AWG", "--amps", "30 A", "--length", "3 m", "--drop", "0.5 V"]) == 1
    said = capsys.readouterr().out
    assert "REFUTED" in said and "1.49 V" in said and "feet" in said
    assert main(["claim", "--json", "--watts", "50 W", "--amps", "12 A"]) == 0
    assert json.loads(capsys.readouterr().out)["outcome"] == "holds"
    assert main(["claim", "--raise", "15 V", "--class", "hf-100w"]) == 1
    assert main(["claim", "--raise", "15 V", "--station", "quarry-road"]) == 1
    capsys.readouterr()
    for wrong, said in (
        (["--watts", "100 W", "--amps", "8 W"], "--amps"),
        (["--watts", "100 W"], "these figures make no claim"),
        (["--conductor", "39 AWG", "--amps", "3 A", "--length", "3 m"], "--conductor"),
        (["--raise", "15 V", "--class", "hf-100"], "--class"),
        (["--raise", "15 V", "--station", "nowhere.toml"], "nowhere.toml"),
    ):
        assert main(["claim", *wrong]) == 2
        assert said in capsys.readouterr().err


@pytest.mark.parametrize(
    ("said", "status", "outcome"),
    [
        ("--watts=300W --amps=14A --volts=50V", 0, "holds"),
        ("--watts=300W --amps=5A --volts=50V --stage=switching", 1, "refuted"),
        ("--amp-hours=100Ah --amps=5A --hours=20h --chemistry=agm", 1, "refuted"),
        ("--amp-hours=100Ah --amps=5A --hours=9h --chemistry=agm --temperature=25C --health=100%", 0, "holds"),
        ("--amp-hours=20Ah --transmit=20A --receive=1A --keyed=25% --hours=4h --chemistry=lfp", 0, "holds"),
        ("--transmit=22A --receive=1A --keyed=25% --mode=fm --mean=2A", 1, "refuted"),
        ("--panel=100W --sun=4.5h --per-day=20Ah", 0, "holds"),
        ("--amp-hours=100Ah --charger=10A --hours=10h --chemistry=agm", 1, "refuted"),
        ("--years=18months --chemistry=agm", 0, "holds"),
    ],
)
def test_every_kind_of_claim(said: str, status: int, outcome: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Each kind is told by its figures; words and JSON give the same outcome, the basis and the arithmetic."""
    assert main(["claim", *said.split()]) == status
    lines = capsys.readouterr().out.splitlines()
    assert f": {outcome.upper()}" in " ".join(lines[:2]) and lines[-1]
    assert main(["claim", "--json", *said.split()]) == status
    found = json.loads(capsys.readouterr().out)
    assert found["outcome"] == outcome and found["figures"] and found["basis"]


@pytest.mark.parametrize(
    ("said", "where"),
    [
        ("--watts=100W --amps=8A --volts=0V", "--volts"),
        ("--amp-hours=100Ah --amps=0A --hours=1h", "--amps"),
        ("--amp-hours=100Ah --transmit=20A --keyed=0% --hours=1h", "--keyed"),
        ("--transmit=20A --keyed=140% --mean=1A", "--keyed"),
        ("--years=3years --chemistry=amg", "--chemistry"),
        ("--watts=100W --amps=8A --stage=fast", "--stage"),
        ("--raise=15V --class=hf-100w --station=quarry-road", "no claim that is known"),
        ("--amps=3A --station=quarry-road", "no claim that is known"),
    ],
)
def test_a_claim_that_cannot_be_judged(said: str, where: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing, more than the whole, an unknown word: status 2, the option by name, what to write instead."""
    assert main(["claim", *said.split()]) == 2
    assert where in capsys.readouterr().err


def test_every_figure_of_a_claim_has_its_option() -> None:
    """Screens and command line ask for the same figures, and no two kinds can be mistaken for each other."""
    assert [one.key for one in CLAIM_OPTIONS] == list(FIELDS)
    for kind in KINDS:
        assert kind_of(one.key for one in kind.needs) is kind
        assert kind_of(one.key for one in (*kind.needs, *kind.may)) is kind


def test_symptoms_are_listed_and_told_apart(capsys: pytest.CaptureFixture[str]) -> None:
    """All of the owner's complaints are there; each ends in a measurement; an unknown one is named."""
    assert main(["symptom"]) == 0
    listed = capsys.readouterr().out
    for name in ("dies-on-key-down", "locks-up-in-the-evening", "battery-cuts-out", "fuse-blows-at-once", "hum"):
        assert name in listed
    assert main(["symptom", "whine-with-engine-speed"]) == 0
    assert "(not a lack of power)" in capsys.readouterr().out
    assert main(["symptom", "--json", "hot-plug"]) == 0
    assert json.loads(capsys.readouterr().out)["causes"][0]["ask"]
    assert main(["symptom", "hot-plugs"]) == 2
    assert "hot-plug" in capsys.readouterr().err


def test_reach_in_words_and_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Each lead, source and the air has its two limits; JSON gives them as numbers."""
    assert main(["reach", "chapel-row"]) == 0
    said = capsys.readouterr().out
    assert "hf-lead, longest lead, now 1.52 m" in said and "window-floor" in said
    assert main(["reach", "--json", "chapel-row"]) == 0
    found = json.loads(capsys.readouterr().out)["reach"]
    assert {one["what"] for one in found} == {
        "longest lead",
        "lowest set point",
        "room for another load",
        "hottest air",
    }
    assert main(["reach", "harbour-street"]) == 0
    assert "plan it, or describe it" in capsys.readouterr().out


def test_a_club_evening_is_one_line_a_station(capsys: pytest.CaptureFixture[str]) -> None:
    """Each station has one line with its worst finding; one that cannot be read does not stop the others."""
    assert main(["check", "--brief", "chapel-row", "quarry-road", "nowhere.toml"]) == 2
    said = capsys.readouterr()
    lines = said.out.splitlines()
    assert len(lines) == 3
    assert lines[0].startswith("chapel-row") and "+ SOUND" in lines[0]
    assert lines[1].startswith("quarry-road") and "! UNSOUND" in lines[1] and "short-circuit" in lines[1]
    assert "nowhere.toml" in said.err


def test_repair_says_what_is_enough_and_writes_it(own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A knob that is locked costs nothing; several changes are named together; what is written is no longer unsound."""
    from catalog.shelf import STATIONS

    text = (STATIONS / "chapel-row.toml").read_text(encoding="utf-8")
    knob = 'adjustable = true\nlowest = "9 V"\nhighest = "17 V"\noutlets'
    (own_folders / "knob.toml").write_text(text.replace("outlets", knob), encoding="utf-8")
    assert main(["check", "knob.toml"]) == 1
    capsys.readouterr()
    assert main(["repair", "knob.toml", "-o", "mended.toml"]) == 0
    said = capsys.readouterr().out
    assert "One change is enough. supply: lock or cover the knob" in said and "costs nothing" in said
    assert main(["check", "mended.toml"]) == 0
    capsys.readouterr()
    assert main(["repair", "quarry-road", "-o", "road.toml"]) == 0
    said = capsys.readouterr().out
    assert "No single change is enough; together:" in said and "supply stays" in said
    assert main(["check", "road.toml"]) == 0
    capsys.readouterr()
    assert main(["repair", "--json", "chapel-row"]) == 0
    assert json.loads(capsys.readouterr().out)["each"] == []
    assert main(["repair", "nowhere.toml"]) == 2


@pytest.mark.parametrize("name", ["chapel-row", "quarry-road", "orchard-lane"])
def test_the_next_measurement_can_be_pasted_back(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """What ``next`` says of place, state and loads keyed is read as a reading once volts stand beside it."""
    shelf = built_in()
    assert main(["readings", "--json", name]) == 0
    following = json.loads(capsys.readouterr().out)["next"]
    said = {key: following[key] for key in ("at", "across", "state", "keyed") if following[key] is not None}
    document = tomllib.loads(store.find(name).read_text(encoding="utf-8"))
    document["reading"] = [said | {"volts": "12.9 V"}]
    (read,) = profile.from_document(document, shelf).station.readings
    assert (read.at, read.state, read.across) == (said["at"], said["state"], said.get("across"))


def test_no_key_of_the_json_has_two_shapes(capsys: pytest.CaptureFixture[str]) -> None:
    """What ``check`` calls the longest leads and ``reach`` the limits of every choice have names of their own."""
    keys: dict[str, set[str]] = {}
    for command in ("check", "reach"):
        assert main([command, "--json", "chapel-row"]) == 0
        for key, value in json.loads(capsys.readouterr().out).items():
            if isinstance(value, list) and value and isinstance(value[0], dict):
                shape = ", ".join(sorted(value[0]))
                keys.setdefault(key, set()).add(shape)
    assert {"longest", "reach"} <= set(keys)
    assert all(len(shapes) == 1 for shapes in keys.values())
