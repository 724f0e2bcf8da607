"""What is assumed, and what the readings of a visit cannot tell, in a line each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from engine.bench.drops import in_words
from engine.bench.evidence import Evidence, loads_read
from engine.bench.meters import ASSUMED, ASSUMED_AMPS
from engine.bench.words import listed, spoken
from engine.keys import NO_LOAD
from engine.parts import Instrument

WAITING = "Nothing else is judged until this is put right."

NOT_KEYED = 1.5
"""Up to this many times its receive current a load was hardly keyed (own estimate)."""


def notes(evidence: Evidence, meters: Mapping[str, Instrument]) -> tuple[str, ...]:
    """Every note on the readings of a visit."""
    visit = evidence.visit
    every = [*_no_load(evidence), *_hardly_keyed(evidence)]
    if visit and not any(situation.state.is_keyed for situation in evidence.situations):
        every.append("Nothing was read at key-down: a small current hides a poor joint.")
    if any(one.across or one.volts for one in evidence.situations) and not any(one.amps for one in evidence.situations):
        every.append(
            "Assumed: the current that the loads are stated to draw. A clamp, or the supply's meter, is surer."
        )
    return (*every, *_undescribed(evidence), *_assumed_meters(evidence, meters))


def _no_load(evidence: Evidence) -> Iterator[str]:
    if any(reading.state == NO_LOAD and reading.ohms is None for reading in evidence.visit):
        yield "With nothing drawn nothing is lost: such a reading proves nothing about cable, fuse or contacts."


def _hardly_keyed(evidence: Evidence) -> Iterator[str]:
    """A current at key-down that is what the load draws at receive."""
    for situation in evidence.situations:
        for load in situation.state.keyed:
            draw, seen = evidence.sound.case.draw.get(load), situation.amps.get(load)
            if draw and draw.transmit and seen and seen.value < NOT_KEYED * draw.receive.high < draw.transmit.low:
                yield (
                    f"{spoken(seen.value, 'A')} with {in_words(situation.state)} is what {load} draws at receive: key "
                    "a steady carrier; voice without speech draws little."
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
    visit = evidence.visit
    if any(reading.instrument is None and (reading.volts or reading.ohms) is not None for reading in visit):
        meter = meters[ASSUMED]
        error = f"{(meter.volts_share or 0) * 100:g} % and {(meter.volts or 0) * 1000:g} mV"
        yield f"Assumed: an ordinary hand-held digital multimeter, the same one throughout ({error})."
    if any(reading.amps_instrument is None and reading.amps is not None for reading in visit):
        meter = meters[ASSUMED_AMPS]
        error = f"{(meter.amps_share or 0) * 100:g} % and {meter.amps or 0:g} A"
        yield f"Assumed: the current read by a clamp or by the supply's own meter ({error})."
