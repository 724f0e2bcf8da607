"""What a drawing of a station shows, gathered from its verdict: the tree of its runs and the figures of each part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from engine.findings import SEVERITY, SOUND, UNKNOWN
from engine.model.case import BATTERY, VEHICLE, Case, Draw, Feed, Hub, Lead
from engine.model.endurance import sessions
from engine.model.operating import SAGGING, Operating
from engine.model.terminals import Terminal
from engine.rules.check import Verdict


@dataclass(frozen=True)
class Scene:
    """A verdict as a drawing reads it."""

    verdict: Verdict

    @property
    def case(self) -> Case:
        """The station, whole."""
        return self.verdict.case

    @cached_property
    def roots(self) -> tuple[Feed, ...]:
        """The sources that no other source feeds; a booster is drawn where it is fed."""
        inside = {one.converts for one in self.case.draws if one.converts}
        return tuple(one for one in self.case.feeds if one.id not in inside)

    @cached_property
    def terminals(self) -> dict[str, Terminal]:
        """The volts of each load by its id."""
        return {one.id: one for one in self.verdict.terminals}

    @cached_property
    def outcomes(self) -> dict[str, str]:
        """The worst outcome of what is found about each part."""
        worst: dict[str, str] = {}
        for finding in self.verdict.findings:
            held = worst.get(finding.about, SOUND)
            worst[finding.about] = max(held, finding.outcome, key=SEVERITY.__getitem__)
        return worst

    @cached_property
    def assumed(self) -> frozenset[str]:
        """What was taken without the owner's word, as ``part.key``."""
        return frozenset(one.about for one in self.verdict.assumptions)

    def outcome(self, part: str) -> str:
        """The outcome about one part; unknown while its volts are."""
        terminal = self.terminals.get(part)
        if terminal is not None and terminal.lowest is None:
            return max(self.outcomes.get(part, UNKNOWN), UNKNOWN, key=SEVERITY.__getitem__)
        return self.outcomes.get(part, SOUND)

    def worse(self, *parts: str) -> str:
        """The worst outcome about several parts."""
        return max(map(self.outcome, parts), key=SEVERITY.__getitem__)

    def leaving(self, start: str) -> tuple[Lead, ...]:
        """The runs that begin at a part."""
        return tuple(one for one in self.case.leads if one.start == start)

    def end(self, run: Lead) -> Draw | Hub | None:
        """What a run ends in."""
        return self.case.draw.get(run.end) or self.case.hub.get(run.end)

    def unfed(self) -> Iterator[Draw]:
        """The loads on direct current that no run reaches yet."""
        reached = {one.end for one in self.case.leads}
        return (one for one in self.case.draws if one.feed == "dc" and one.id not in reached)

    def face(self, part: str) -> Operating:
        """The station on the source that feeds a part."""
        faces = self.verdict.faces
        return next((one for one in faces if one.demand.served.get(part)), faces[0])

    def most(self, source: str) -> float:
        """The largest current [A] drawn from a source at once."""
        face = self.face(source)
        return face.demand.worst_peak(source)[0] if face.demand.served.get(source) else 0.0

    def rating(self, source: Feed) -> float:
        """What a source gives while something is keyed [A]; 0 where that is not known."""
        return 0.0 if source.kind == VEHICLE or source.missing else source.peak or source.continuous

    def loss(self, run: Lead) -> tuple[float, float] | None:
        """The largest volts lost on a run and the heat there [V, W], with the source sagging; None while unknown."""
        if run.conductor is None:
            return None
        lost = (0.0, 0.0)
        for face in self.verdict.faces:
            points = [face.point(state, SAGGING) for state in face.states]
            known = [one for one in points if one.fed and run.id in one.drop]
            lost = max([lost, *((one.drop[run.id], one.drop[run.id] * one.through[run.id]) for one in known)])
        return lost if lost[0] else None

    def hours(self, source: Feed) -> float | None:
        """How long a battery lasts [h]; None where it is no battery or that is not known."""
        if source.kind != BATTERY or source.missing:
            return None
        return next((made.hours for _, feed, made in sessions(self.verdict.faces) if feed.id == source.id), None)
