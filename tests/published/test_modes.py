"""The modes of operation against the published duty factors; expected figures are typed here, not read from ours."""

from typing import Any

import numpy as np
import pytest

from catalog.shelf import built_in
from engine.physics import duty

FCC = {"ssb": 0.20, "ssb processed": 0.50, "cw": 0.40, "fm": 1.0, "rtty": 1.0, "digital": 1.0, "carrier": 1.0}


@pytest.mark.parametrize(("mode", "duty"), FCC.items())
def test_duty_factors_are_the_published_ones(mode: str, duty: float) -> None:
    """Conversation SSB 20 %, processed 50 %, Morse 40 %, FM, FSK, AFSK and carrier 100 % (FCC OET 65 Supplement B)."""
    row = built_in().modes[mode]
    assert row.duty == pytest.approx(duty)
    assert row.source == "fcc-oet65b"


def test_am_is_not_sold_as_published() -> None:
    """AM at full carrier is what the trade takes, not a row of the published table (common practice)."""
    assert built_in().modes["am"].duty == 1.0
    assert built_in().modes["am"].source == "common-practice"


def test_full_duty_is_steady_and_less_is_not() -> None:
    """Overs at full current for minutes are those of 100 % duty (FCC OET 65 Supplement B, table 2)."""
    assert {row.id for row in built_in().modes.values() if row.steady} == {"fm", "am", "rtty", "digital", "carrier"}
    assert all(row.steady == (row.duty == 1.0) for row in built_in().modes.values())


# -- sampled waveforms of the modes

IDLE, PEAK = 1.5, 22.0
SAMPLES = 50_000


def current(envelope: Any) -> Any:
    """The direct current [A] that follows an envelope of 0 to 1 from idle to key-down."""
    return IDLE + (PEAK - IDLE) * envelope


def over(mode: str) -> tuple[float, float]:
    """Mean and rms [A] that the program takes for an over of a mode."""
    row = built_in().modes[mode]
    return duty.mean(IDLE, PEAK, row.envelope), duty.keyed_rms(IDLE, PEAK, row.duty, row.envelope)


def speech(power_duty: float, seed: int) -> Any:
    """An envelope of syllables and pauses, clipped at its peak, of which the mean square is ``power_duty``."""
    dice = np.random.default_rng(seed)
    syllables = np.repeat(dice.gamma(0.8, 1.0, SAMPLES // 200), 200)
    swell = syllables * np.abs(np.sin(np.linspace(0, 250 * np.pi, SAMPLES)))
    low, high = 1e-3, 1e3
    for _ in range(80):
        gain = (low * high) ** 0.5
        low, high = (low, gain) if (np.minimum(swell * gain, 1) ** 2).mean() > power_duty else (gain, high)
    return np.minimum(swell * low, 1)


@pytest.mark.parametrize("mode", ["fm", "rtty", "digital", "carrier"])
def test_a_constant_envelope_holds_key_down(mode: str) -> None:
    """Frequency and phase carry the message, the envelope stands: mean and rms are key-down (sampled)."""
    phase = np.cumsum(0.1 + 0.05 * np.sin(np.linspace(0, 60, SAMPLES)))
    drawn = current(np.abs(np.exp(1j * phase)))
    assert over(mode) == pytest.approx((drawn.mean(), np.sqrt((drawn**2).mean())))


def test_morse_is_on_or_off() -> None:
    """40 % of the time at key-down and 60 % at idle: mean and rms of the sampled current (FCC OET 65 B, table 2)."""
    drawn = current((np.arange(SAMPLES) % 10 < 4).astype(float))
    assert over("cw") == pytest.approx((drawn.mean(), np.sqrt((drawn**2).mean())))
    assert over("cw")[0] == pytest.approx(1.5 + 0.4 * 20.5)


def test_a_standard_word_is_keyed_a_little_more_than_conversation() -> None:
    """PARIS with its space is 50 dots long and keyed for 22 of them, 44 % (ITU-R M.1677-1 code and spacing)."""
    code = ".--. .- .-. .. ..."
    letters = [sum({".": 1, "-": 3}[sign] for sign in letter) for letter in code.split()]
    gaps = sum(len(letter) - 1 for letter in code.split()) + 3 * 4 + 7
    assert (sum(letters), sum(letters) + gaps) == (22, 50)
    assert built_in().modes["cw"].duty <= 22 / 50


@pytest.mark.parametrize(("mode", "seed"), [(mode, seed) for mode in ("ssb", "ssb processed") for seed in range(20)])
def test_no_voice_of_its_duty_draws_more(mode: str, seed: int) -> None:
    """Mean and rms of sampled speech of the published power duty stay below what is taken, by 30 % of it at most.

    The mean of an envelope is at most the root of its mean square (Cauchy and Schwarz).
    """
    envelope = speech(FCC[mode], seed)
    assert (envelope**2).mean() == pytest.approx(FCC[mode], rel=1e-3)
    drawn = current(envelope)
    mean, rms = over(mode)
    assert mean * 0.7 <= drawn.mean() <= mean * (1 + 1e-3)
    assert rms * 0.7 <= np.sqrt((drawn**2).mean()) <= rms * (1 + 1e-3)


def test_two_tones_are_a_voice_of_half_the_power() -> None:
    """Two equal tones: the mean of the envelope is 2/π of its peak, the mean square a half (sampled)."""
    envelope = np.abs(np.cos(np.linspace(0, 200 * np.pi, SAMPLES, endpoint=False)))
    assert envelope.mean() == pytest.approx(2 / np.pi, rel=1e-3)
    assert current(envelope).mean() <= over("ssb processed")[0]
