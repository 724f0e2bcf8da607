"""Stations to be measured, and readings as they stand in a file."""

from typing import Any

from engine.diagnosis.diagnosis import diagnose, face_read
from engine.diagnosis.result import Diagnosis

METER = "digital multimeter"
DESK = """
[[load]]
id = "hf"
window = "13.8 V ± 15 %"
receive = "1.2 A"
transmit = "20 A"
mode = "ssb"
follows = "steady current"
fuse = "25 A"
[[source]]
id = "psu"
class = "switch-mode"
volts = "13.8 V"
tolerance = "2 %"
regulation = "2 %"
continuous = "30 A"
outlets = ["binding post"]
[[run]]
id = "lead"
from = "psu"
to = "hf"
length = "10 ft"
conductor = "12 AWG"
insulation = "105 °C"
fuse = "25 A"
contacts = ["ring terminal", "keyed plug"]
"""
SMALL = DESK.replace('"20 A"', '"6 A"').replace('"1.2 A"', '"0.7 A"')


def reading(at: str, state: str, volts: str = "", **more: str) -> str:
    """One reading as it stands in a file."""
    rows = {"at": at, "state": state, "volts": volts, "instrument": METER, **more}
    return "[[reading]]\n" + "\n".join(f'{key} = "{value}"' for key, value in rows.items() if value) + "\n"


def judged(bench: Any, text: str) -> Diagnosis:
    """The diagnosis of a station file's readings."""
    verdict = bench.check(text)
    readings, instruments = verdict.station.readings, bench.shelf.instruments
    return diagnose(face_read(verdict.faces, readings), readings, instruments, verdict.assumptions)


CAR = """
use = "mobile"
[[load]]
id = "hf"
window = "13.8 V ± 15 %"
receive = "1.2 A"
transmit = "20 A"
mode = "ssb"
[[source]]
id = "car"
class = "vehicle"
part = "car"
engine = "running"
[[run]]
id = "lead"
from = "car"
to = "hf"
length = "4 m"
conductor = "10 AWG"
fuse = "30 A"
contacts = ["ring terminal", "keyed plug"]
"""
PACK = """
use = "battery"
[[load]]
id = "hf"
window = "13.8 V ± 15 %"
receive = "1.2 A"
transmit = "20 A"
mode = "ssb"
[[source]]
id = "pack"
class = "battery"
chemistry = "agm"
amp_hours = "50 Ah"
[[run]]
id = "lead"
from = "pack"
to = "hf"
length = "1 m"
conductor = "10 AWG"
fuse = "30 A"
contacts = ["ring terminal", "keyed plug"]
"""
