"""What a plan writes into the station of the parts that it chose."""

from __future__ import annotations

from typing import Any

from engine.model.case import Feed, Lead
from engine.station.model import FIELDS
from engine.units import AMP_HOURS, AMPS, CELSIUS, LENGTH, VOLTS, Kind, Spelled, show

ATTRIBUTE = {one.key: one.name for one in (*FIELDS["source"], *FIELDS["strip"], *FIELDS["run"])}
KEY = {one.name: one.key for one in FIELDS["source"]}


def source_keys(feed: Feed) -> dict[str, Any]:
    """What a plan writes of a chosen source."""
    if feed.cell is not None:
        return {
            "technology": feed.technology,
            "part": feed.part,
            "chemistry": feed.cell.chemistry.id,
            "amp_hours": _spelled(feed.cell.amp_hours, AMP_HOURS),
        }
    return {
        "part": feed.part,
        "technology": feed.technology,
        "volts": _spelled(feed.volts, VOLTS),
        "continuous": _spelled(feed.continuous / feed.counts, AMPS),
        "peak": _spelled(feed.peak / feed.counts, AMPS),
        "locked": True if feed.adjustable and feed.locked else None,
        "parallel": feed.parallel if feed.parallel > 1 else None,
        "shares": True if feed.parallel > 1 and feed.shares else None,
    }


def run_keys(lead: Lead) -> dict[str, Any]:
    """What a plan writes of a chosen lead."""
    return {
        "conductor": lead.conductor.id if lead.conductor else None,
        "insulation": _spelled(lead.insulation.celsius, CELSIUS) if not lead.supplied else None,
        "supplied": True if lead.supplied else None,
        "own_fuse": _spelled(lead.own_fuse.rating, AMPS) if lead.own_fuse else None,
        "tail": lead.tail.conductor.id if lead.tail else None,
        "tail_length": _spelled(lead.tail.length, LENGTH) if lead.tail else None,
        "fuse": _spelled(lead.fuse_rating, AMPS) if lead.fuse_rating else lead.fuse_rating,
        "fuse_type": lead.fuse_type.id if lead.fuse_type else None,
        "contacts": tuple(one.id for one in lead.contacts) if lead.contacts else None,
    }


def _spelled(value: float, kind: Kind) -> Spelled:
    return Spelled(value, show(value, kind))
