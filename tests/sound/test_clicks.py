"""Clicks are short, dry, bright, without pitch, and each kind is its own.

Referee  the spectrum of the samples (discrete Fourier transform). The band of 2 to 5 kHz, the length and the
         want of pitch are common practice, no source; the semitone is 2^(1/12) by definition.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from droner.score.score import ClickKind
from droner.units import Beats
from tests.sound.measure import CLICK_ALONE, RATE_HZ, Wave, decibels, level, rendered
from tests.sound.scores import click, score

SHARE_IN_BAND = 0.9
SHARE_OF_A_SEMITONE = 0.25
"""A whistle has nearly all its energy in one semitone; noise over an octave has a twelfth in each."""

HEARD_DB = 3.0
"""A difference in level that nobody misses."""

CLEAR_HZ = 150.0
"""A difference of the middle of the spectrum that is heard as another colour."""


def one(kind: ClickKind, gain: float = 1.0) -> Wave:
    return rendered(score(Beats(1), clicks=[click(0, kind, gain)]), CLICK_ALONE)


def spectrum(wave: Wave) -> tuple[Wave, Wave]:
    energy: Wave = np.abs(np.fft.rfft(wave)) ** 2
    return np.fft.rfftfreq(len(wave), 1 / RATE_HZ).astype(np.float64), energy


def middle_hz(wave: Wave) -> float:
    hz, energy = spectrum(wave)
    return float(np.sum(hz * energy) / np.sum(energy))


@pytest.mark.parametrize("kind", list(ClickKind))
def test_a_click_lasts_no_longer_than_thirty_milliseconds(kind: ClickKind) -> None:
    assert np.flatnonzero(one(kind))[-1] < 30 * RATE_HZ / 1000


@pytest.mark.parametrize("kind", list(ClickKind))
def test_the_energy_lies_between_2_and_5_kilohertz(kind: ClickKind) -> None:
    hz, energy = spectrum(one(kind))
    assert np.sum(energy[(hz >= 2_000) & (hz <= 5_000)]) / np.sum(energy) > SHARE_IN_BAND


@pytest.mark.parametrize("kind", list(ClickKind))
def test_no_semitone_holds_enough_to_tune_to(kind: ClickKind) -> None:
    hz, energy = spectrum(one(kind))
    quarter = 2 ** (1 / 24)
    shares = [
        np.sum(energy[(hz >= middle / quarter) & (hz < middle * quarter)]) / np.sum(energy)
        for middle in 2_000 * 2 ** (np.arange(0, 16, 0.25) / 12)
    ]
    assert max(shares) < SHARE_OF_A_SEMITONE


def test_the_bar_is_louder_than_the_beat_and_the_beat_than_its_parts() -> None:
    bar, beat, part = (level(one(kind)) for kind in (ClickKind.ACCENT, ClickKind.BEAT, ClickKind.SUBDIVISION))
    assert decibels(bar / beat) > HEARD_DB
    assert decibels(beat / part) > HEARD_DB


def test_each_kind_has_a_colour_of_its_own() -> None:
    middles = sorted(middle_hz(one(kind)) for kind in ClickKind)
    assert min(np.diff(middles)) > CLEAR_HZ


def test_the_count_is_a_double_stroke_and_nothing_else_is() -> None:
    """Energy comes back after the first stroke has died away."""
    for kind in ClickKind:
        wave = one(kind)
        millisecond = RATE_HZ // 1000
        again = level(wave[11 * millisecond : 14 * millisecond]) / level(wave[8 * millisecond : 10 * millisecond])
        assert (again > 2) == (kind is ClickKind.COUNT)


@pytest.mark.parametrize("gain", [0.5, 0.1])
def test_gain_scales_a_click(gain: float) -> None:
    assert np.allclose(one(ClickKind.BEAT, gain), gain * one(ClickKind.BEAT), atol=1e-7)


def test_a_click_of_gain_nothing_is_silent() -> None:
    assert not one(ClickKind.ACCENT, 0.0).any()


def test_clicks_that_overlap_add_up() -> None:
    apart = Fraction(1, 100)
    both = rendered(score(Beats(1), clicks=[click(0), click(apart)]), CLICK_ALONE)
    alone = one(ClickKind.BEAT)
    assert np.allclose(both, alone + np.concatenate((np.zeros(480), alone[:-480])), atol=1e-7)
