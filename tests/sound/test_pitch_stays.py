"""A drone is in tune after an hour, and does not move.

Referee  the samples themselves: the phase of each partial against an ideal cosine, by projection. Over a time T
         an error of e hertz turns the phase by e T; so two windows an hour apart tell e to a few billionths.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from droner.score.score import Score
from droner.sound.audio_file import write_audio
from droner.units import Beats
from tests.sound.measure import DRONE_ALONE, RATE_HZ, Wave, cents, decibels, hertz_off, rendered, vector
from tests.sound.scores import hertz, score, tone

IN_TUNE_CENTS = 0.01
"""A five-hundredth of what a trained ear can tell (about 5 cents)."""

STEADY_DB = 0.001
"""A level that moves less than this does not beat: two lines that beat by as little differ by 85 dB."""

NOT_THERE_DB = -100.0
"""Below the noise of any room, recording or sixteen-bit file."""

HOUR = 3_600
WINDOW = 20
LOW, HIGH = hertz("C2"), hertz("A5")
JUST_THIRD_OVER_D3 = hertz("D3") * 5 / 4


def hour_of(hz: float) -> Score:
    return score(Beats(HOUR), drone=[tone(0, HOUR, "D3", hz)])


def assert_partials_agree(first: Wave, last: Wave, hz: float, last_frame: int, first_frame: int) -> None:
    """Every partial in tune inside both windows and between them."""
    apart = (last_frame - first_frame) / RATE_HZ
    for partial in range(1, 13):
        ideal = hz * partial
        for wave, frame in ((first, first_frame), (last, last_frame)):
            assert abs(cents(hertz_off(wave, ideal, frame), ideal)) < IN_TUNE_CENTS
        turned = np.angle(vector(last, ideal, last_frame) / vector(first, ideal, first_frame)) / (2 * np.pi)
        assert abs(cents(turned / apart, ideal)) < IN_TUNE_CENTS
        # The windows alone are far finer than a whole turn between them, so `turned` has no hidden turns.
        assert abs(hertz_off(last, ideal, last_frame)) < 0.5 / apart


@pytest.mark.parametrize("hz", [LOW, JUST_THIRD_OVER_D3, HIGH])
def test_every_partial_is_in_tune_at_the_start_and_the_end_of_an_hour(hz: float) -> None:
    drone = hour_of(hz)
    first_frame, last_frame = RATE_HZ, (HOUR - WINDOW - 1) * RATE_HZ
    first = rendered(drone, DRONE_ALONE, first_frame, first_frame + WINDOW * RATE_HZ)
    last = rendered(drone, DRONE_ALONE, last_frame, last_frame + WINDOW * RATE_HZ)
    assert_partials_agree(first, last, hz, last_frame, first_frame)


def test_an_hour_written_as_wav_is_in_tune_at_its_end(tmp_path: Path) -> None:
    path = tmp_path / "hour.wav"
    write_audio(path, hour_of(LOW), DRONE_ALONE, "wav")
    first_frame, last_frame = RATE_HZ, (HOUR - WINDOW - 1) * RATE_HZ
    with soundfile.SoundFile(path) as file:
        assert file.frames == HOUR * RATE_HZ
        file.seek(first_frame)
        first = file.read(WINDOW * RATE_HZ)
        file.seek(last_frame)
        last = file.read(WINDOW * RATE_HZ)
    path.unlink()
    assert_partials_agree(first, last, LOW, last_frame, first_frame)


@pytest.mark.parametrize("hz", [LOW, hertz("D4")])
def test_no_partial_moves_in_level(hz: float) -> None:
    drone = score(Beats(10), drone=[tone(0, 10, "D3", hz)])
    wave = rendered(drone, DRONE_ALONE)
    half = RATE_HZ // 2  # short enough to see a beat of two a second, long enough to part the partials
    starts = range(RATE_HZ, 9 * RATE_HZ, half // 2)
    for partial in range(1, 13):
        levels = [abs(vector(wave[start : start + half], hz * partial, start)) for start in starts]
        assert decibels(max(levels) / min(levels)) < STEADY_DB


def test_nothing_sounds_beside_the_partials() -> None:
    """Taking the partials away, by least squares, leaves nothing that could beat with a player."""
    hz = hertz("D3")
    drone = score(Beats(5), drone=[tone(0, 5, "D3")])
    wave = rendered(drone, DRONE_ALONE, RATE_HZ, 3 * RATE_HZ)
    angles = 2 * np.pi * np.outer(RATE_HZ + np.arange(len(wave)), hz * np.arange(1, 13) / RATE_HZ)
    lines = np.concatenate((np.cos(angles), np.sin(angles)), axis=1)
    amounts, *_ = np.linalg.lstsq(lines, wave, rcond=None)
    rest = wave - lines @ amounts
    nothing_db = -120.0  # single precision holds about 144 dB
    assert decibels(float(np.sqrt(np.mean(rest**2)) / np.sqrt(np.mean(wave**2)))) < nothing_db


def test_partials_shared_by_purely_tuned_tones_are_in_step() -> None:
    """The third partial of a tonic and the second of its pure fifth: amplitudes add (superposition)."""
    hz = hertz("D3")
    third_partial = 3 * hz

    def at_third_partial(*tones: float) -> float:
        drone = score(Beats(4), drone=[tone(0, 4, "D3", each) for each in tones])
        return abs(vector(rendered(drone, DRONE_ALONE, RATE_HZ, 3 * RATE_HZ), third_partial, RATE_HZ))

    apart = at_third_partial(hz) + at_third_partial(hz * 3 / 2)
    together = at_third_partial(hz, hz * 3 / 2)
    assert together == pytest.approx(apart, rel=1e-3)


def test_partials_above_the_rate_are_left_out() -> None:
    """At 8 kHz the tenth partial of A4 (4,420 Hz) would fold back to 3,580 Hz; nothing stands there."""
    drone = score(Beats(3), drone=[tone(0, 3, "A4")])
    wave = rendered(drone, DRONE_ALONE, 8_000, 16_000, rate_hz=8_000)
    folded = abs(vector(wave, 8_000 - 10 * 442.0, 8_000, 8_000))
    assert decibels(folded / abs(vector(wave, 442.0, 8_000, 8_000))) < NOT_THERE_DB
