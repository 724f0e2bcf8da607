"""A claim about the mean current of a set that listens and sends by turns."""

from __future__ import annotations

from engine.advice.claims.result import CLOSE, DOUBTFUL, HOLDS, REFUTED, Judged, at_most, near, plain, span
from engine.parts import Mode
from engine.physics import duty
from engine.working import Figure

BASIS = (
    "FCC OET Bulletin 65 Supplement B table 2: duty is a share of radio power, and the current follows the envelope, "
    "of which the mean lies between that share and its root, and of Morse is that share"
)


def mean_span(transmit: float, receive: float, keyed: float, mode: Mode) -> tuple[Figure, Figure]:
    """Least and most mean current [A] of a set that draws ``transmit`` at key-down and ``receive`` otherwise [A].

    ``keyed`` is the share of time sending (0 to 1); the envelope's mean is its power duty at the least, which
    is exact for on-off keying, and the root of it at the most (``Mode.envelope``).
    """
    listening = Figure(receive, "A", "receive", "listening")
    swing = Figure(transmit, "A", "transmit", "key-down") - listening
    share = Figure(keyed, "%", "keyed", "share of time sending")
    origin = f"mean of the envelope, {mode.title}"
    envelopes = (Figure(mean, "%", "envelope", origin) for mean in (mode.duty, mode.envelope))
    least, most = (listening + swing * envelope * share for envelope in envelopes)
    return least, most


def mean_current(transmit: float, receive: float, keyed: float, mode: Mode, claimed: float) -> Judged:
    """Whether a set draws no more than ``claimed`` [A] on average; the rest as in ``mean_span``."""
    least, most = mean_span(transmit, receive, keyed, mode)
    outcome = at_most(claimed, least.value, most.value)
    if (mode.on_off or mode.duty == 1) and near(claimed, most.value, CLOSE):
        outcome = HOLDS
    says = f"it averages {span(least, most)} over the whole time"
    because = ("Voice and habit decide.",) if outcome == DOUBTFUL else ()
    claim = (
        f"{plain(transmit, 'A')} at key-down, sending {plain(keyed, '%')} of the time ({mode.id}), averages "
        f"{plain(claimed, 'A')}"
    )
    mistake = _mistake(transmit, receive, keyed, mode, claimed) if outcome == REFUTED else ""
    return Judged(claim, outcome, says, (least, most), mistake, BASIS, because=because)


def _mistake(transmit: float, receive: float, keyed: float, mode: Mode, claimed: float) -> str:
    """What was forgotten, where leaving it out gives the claimed figure."""
    most = duty.mean(receive, transmit, mode.duty, keyed)
    if receive and near(claimed, (transmit - receive) * mode.duty * keyed):
        return "the current while listening was forgotten, and the duty of radio power taken for that of the current"
    if receive and near(claimed, most - receive):
        return "the current while listening was forgotten"
    return ""
