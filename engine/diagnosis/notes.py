"""What is assumed, and what the readings of a visit cannot tell, in a line each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from engine.diagnosis.drops import Drop
from engine.diagnosis.evidence import Evidence, loads_read
from engine.diagnosis.expected import SOURCE
from engine.diagnosis.meters import ASSUMED, ASSUMED_AMPS
from engine.diagnosis.situation import NOTHING
from engine.diagnosis.words import listed, spoken
from engine.parts import Instrument
from engine.terms import LoadState

NO_LOAD_NOTE = "With nothing drawn nothing is lost: such a reading proves nothing about cable, fuse or contacts."
WAITING = "Nothing else is judged until this is put right."


def notes(evidence: Evidence, meters: Mapping[str, Instrument], settled: bool) -> tuple[str, ...]:
    """Every note on the readings of a visit; where a fault is found (``settled``) none asks for more readings."""
    return (
        *(() if settled else _wanting(evidence)),
        *_elsewhere(evidence),
        *_hardly_keyed(evidence),
        *_assumed_current(evidence),
        *_undescribed(evidence),
        *_assumed_meters(evidence, meters),
    )


def _wanting(evidence: Evidence) -> Iterator[str]:
    """What the readings cannot show, whatever they are."""
    if any(reading.state == LoadState.NO_LOAD and reading.ohms is None for reading in evidence.visit):
        yield NO_LOAD_NOTE
    if evidence.visit and not any(reading.state == LoadState.KEYED for reading in evidence.visit):
        yield "Nothing was read at key-down: a small current hides a poor joint."
    if evidence.readings and not evidence.drops and not evidence.short:
        yield "Describe source and lead, and read the source's own terminals too, keyed."


def _assumed_current(evidence: Evidence) -> Iterator[str]:
    counts = any(part.name != SOURCE for drop in evidence.drops for part in drop.amps if _flows(drop))
    if counts and not any(situation.amps for situation in evidence.situations):
        yield "Assumed: the current that the loads are stated to draw. A clamp, or the supply's meter, is surer."


def _elsewhere(evidence: Evidence) -> Iterator[str]:
    if evidence.elsewhere:
        yield f"Read on the other way of the changeover, and not judged with the rest: {listed(evidence.elsewhere)}."


def _flows(drop: Drop) -> bool:
    return not drop.dead and not drop.in_ohms and drop.state != NOTHING


def _hardly_keyed(evidence: Evidence) -> Iterator[str]:
    """A current at key-down that is what the load draws at receive."""
    for load, amps in {
        load: amps for situation in evidence.situations for load, amps in situation.not_keyed.items()
    }.items():
        yield (
            f"{spoken(amps, 'A')} is what {load} draws at receive, so it counts as that. Key a steady carrier: voice "
            "without speech draws little."
        )


def _undescribed(evidence: Evidence) -> Iterator[str]:
    case = evidence.sound.case
    ways = [lead for load in loads_read(evidence) for lead in case.path(load)] if evidence.visit else []
    for lead in {lead.id: lead for lead in ways}.values():
        if lead.missing:
            gaps = listed(lead.missing)
            yield f"Of {lead.id} {gaps} {'is' if len(lead.missing) == 1 else 'are'} not described."


def _assumed_meters(evidence: Evidence, meters: Mapping[str, Instrument]) -> Iterator[str]:
    """Which instruments are taken for those that no reading names."""
    visit = evidence.readings
    if any(reading.instrument is None and (reading.volts or reading.ohms) is not None for reading in visit):
        meter = meters[ASSUMED]
        error = f"{(meter.volts_share or 0) * 100:g} % and {(meter.volts or 0) * 1000:g} mV"
        yield f"Assumed: an ordinary hand-held digital multimeter, the same one throughout ({error})."
    if any(reading.amps_instrument is None and reading.amps is not None for reading in visit):
        meter = meters[ASSUMED_AMPS]
        error = f"{(meter.amps_share or 0) * 100:g} % and {meter.amps or 0:g} A"
        yield f"Assumed: the current read by a clamp or by the supply's own meter ({error})."
