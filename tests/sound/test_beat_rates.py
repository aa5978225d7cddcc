"""Beats as they are heard in finished files: as fast as published, and none where a drone is purely tuned.

Referees  Teki et al., J. Neurosci. 32(35):12251-12257 (2012), Table 1, after Capleton 2007: beats a second of equal
          intervals at A4 = 440, their fifty printed values; arithmetic of partials; scipy's filters, which know nothing
          of how the sound is made; libsndfile, which reads the files.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from pathlib import Path

import numpy as np
import pytest
import soundfile

from droner.score.beat_demo import ALONE_SECONDS, beat_demo, held_seconds, rates
from droner.score.plain import drone_score
from droner.sound.audio_file import write_audio
from droner.sound.mix import Mix
from droner.sound.timbre_table import TIMBRES
from droner.theory.beats import beats_against
from droner.theory.interval import interval
from droner.theory.pitch import note_name, pitch
from droner.theory.tuning import tuning
from tests.sound.beating import depth_db, envelope, levels_db, rate_of
from tests.sound.measure import Wave
from tests.sound.readers import by_soundfile

RATE_HZ = 48_000
PRINTED_HZ = 0.05
"""The table prints one decimal."""
MEASURED_HZ = 0.001
"""What the measurement can tell."""
FLAT_DB = 0.05
"""A twentieth of the least change of loudness that is heard (about 1 dB)."""
DEEP_DB = 30.0
"""Two equal partials beat nearly to silence; twice as much of one as of the other would leave 9.5 dB."""
BEATS_MEASURED = 6
TEN_MINUTES = 600
BLOCK_SECONDS = 30
WINDOW_SECONDS, HOP_SECONDS = 0.25, 0.125
"""Short enough to show beats of a dozen a second, long enough to part partials a quarter of the tonic's hertz apart."""

LOWER_NOTES = ("F3", "F#3", "G3", "G#3", "A3", "Bb3", "B3", "C4", "C#4", "D4", "Eb4")
# interval; partials of the lower and the upper note that meet, by its ratio; printed beats from F3 upwards
TEKI = (
    ("M3", 5, 4, "6.9 7.3 7.8 8.2 8.7 9.2 9.8 10.4 11.0 11.7 12.3"),
    ("P4", 4, 3, "0.8 0.8 0.9 0.9 1.0 1.1 1.1 1.2 1.3 1.3"),
    ("P5", 3, 2, "0.6 0.6 0.7 0.7 0.7 0.8 0.8 0.9"),
    ("M6", 5, 3, "7.9 8.4 8.9 9.4 10.0 10.6"),
    ("m3", 6, 5, "9.4 10.0 10.6 11.2 11.9 12.6 13.3 14.1"),
    ("m6", 8, 5, "11.0 11.7 12.3 13.1 13.9 14.7 15.6"),
)
PRINTED = [
    (short, low, partials, float(rate))
    for short, *partials, printed in TEKI
    for low, rate in zip(LOWER_NOTES, str(printed).split(), strict=False)
]


def equal_hz(name: str) -> float:
    """ISO 16: A4 = MIDI 69 = 440 Hz, 2^(1/12) a semitone."""
    return float(440 * 2 ** ((pitch(name).midi - 69) / 12))


def test_all_fifty_published_rates_are_measured() -> None:
    assert len(PRINTED) == 50


@pytest.mark.parametrize(("short", "low", "partials", "printed"), PRINTED)
def test_equal_intervals_of_drones_beat_as_published(
    tmp_path: Path, short: str, low: str, partials: list[int], printed: float
) -> None:
    lower, upper = pitch(low), pitch(low) + interval(short)
    seconds = ceil(BEATS_MEASURED / printed) + 2
    path = tmp_path / "pair.wav"
    write_audio(path, drone_score((lower, upper), tuning(440, "equal"), Fraction(seconds)), Mix())
    wave = by_soundfile(path)[RATE_HZ // 2 : -RATE_HZ // 2]
    on_lower, on_upper = partials
    low_hz, high_hz = on_lower * equal_hz(low), on_upper * equal_hz(str(upper))
    half_width_hz = equal_hz(low) / on_upper / 2  # half way to the next partials
    measured = rate_of(envelope(wave, (low_hz + high_hz) / 2, half_width_hz, RATE_HZ))
    assert measured == pytest.approx(abs(high_hz - low_hz), abs=MEASURED_HZ)
    assert abs(measured - printed) < PRINTED_HZ


def ripple_db(path: Path, ratios: tuple[Fraction, ...], tonic_hz: float) -> Wave:
    """How far the level moves in a band around every partial up to the tenth of each tone, from end to end."""
    lines = sorted({ratio * number for ratio in ratios for number in range(1, 11)})
    lowest, highest = np.full(len(lines), np.inf), np.full(len(lines), -np.inf)
    with soundfile.SoundFile(path) as file:
        file.seek(RATE_HZ)  # past the fade in
        whole = BLOCK_SECONDS * RATE_HZ
        overlap = round(WINDOW_SECONDS * RATE_HZ)
        while file.tell() + overlap < file.frames - RATE_HZ:  # before the fade out
            wave = file.read(min(whole, file.frames - RATE_HZ - file.tell()))
            found = levels_db(wave, [float(line) * tonic_hz for line in lines], RATE_HZ, WINDOW_SECONDS, HOP_SECONDS)
            lowest, highest = np.minimum(lowest, found.min(axis=0)), np.maximum(highest, found.max(axis=0))
            if file.tell() < file.frames - RATE_HZ:
                file.seek(-overlap, soundfile.SEEK_CUR)
    moved: Wave = highest - lowest
    return moved


@pytest.mark.parametrize("names", [("D3", "A3"), ("D3", "F#3", "A3")])
def test_a_just_drone_is_still_in_every_band_for_ten_minutes(tmp_path: Path, names: tuple[str, ...]) -> None:
    ratios = {"D3": Fraction(1), "F#3": Fraction(5, 4), "A3": Fraction(3, 2)}
    path = tmp_path / "still.wav"
    tones = tuple(pitch(name) for name in names)
    write_audio(path, drone_score(tones, tuning(440, "just", note_name("D")), Fraction(TEN_MINUTES)), Mix())
    moved = ripple_db(path, tuple(ratios[name] for name in names), equal_hz("D3"))
    path.unlink()
    assert len(moved) >= 10
    assert moved.max() < FLAT_DB


def test_an_equal_drone_would_not_pass_for_still(tmp_path: Path) -> None:
    path = tmp_path / "beating.wav"
    write_audio(path, drone_score((pitch("D3"), pitch("A3")), tuning(440, "equal"), Fraction(20)), Mix())
    assert ripple_db(path, (Fraction(1), Fraction(3, 2)), equal_hz("D3")).max() > 10


@pytest.mark.parametrize(("drone", "note"), [("D3", "F#3"), ("D3", "F#5"), ("D4", "A3"), ("Bb2", "Bb5"), ("A3", "A3")])
def test_a_beat_demo_beats_as_it_says_and_deeply(tmp_path: Path, drone: str, note: str) -> None:
    tuned = tuning(440, "just", pitch(drone).name)
    row = beats_against(pitch(drone), pitch(note), tuned)
    path = tmp_path / "demo.wav"
    write_audio(path, beat_demo(row, tuned, TIMBRES["bright"].partials_db), Mix(timbre="bright"))
    wave, held = by_soundfile(path), held_seconds(row)
    met_hz = row.drone_partial * equal_hz(drone)
    half_width_hz = equal_hz(drone) / row.player_partial / 2
    for place, (cents, told) in enumerate(zip((0, -5, 5), rates(row), strict=True)):
        start = ALONE_SECONDS + place * (held + ALONE_SECONDS)
        heard = wave[int((start + 0.1) * RATE_HZ) : int((start + held - 0.1) * RATE_HZ)]
        found = envelope(heard, met_hz, half_width_hz, RATE_HZ)
        expected = abs(met_hz * (2 ** (cents / 1200) - 1))
        assert told == pytest.approx(expected, abs=MEASURED_HZ)
        if cents:
            assert rate_of(found) == pytest.approx(expected, abs=MEASURED_HZ)
            assert depth_db(found) > DEEP_DB
        else:
            assert depth_db(found) < FLAT_DB
