"""Every audio file holds the score: all of it, nothing more, and every onset in its place.

Referees  libsndfile and ffmpeg, which decode the files on their own; cross-correlation finds a delay.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile
from scipy.signal import correlate

from droner.score.score import ClickKind
from droner.sound.audio_file import write_audio
from droner.sound.formats_table import AUDIO_FORMATS, audio_format
from droner.sound.mix import EachPart, Mix
from droner.sound.render import frames_of, render_blocks
from droner.units import Beats
from tests.sound.measure import (
    CLICK_ALONE,
    DRONE_ALONE,
    RATE_HZ,
    Wave,
    cents,
    decibels,
    hertz_off,
    level,
    rendered,
    vector,
)
from tests.sound.readers import by_ffmpeg, by_soundfile, told_by_ffprobe
from tests.sound.scores import chord, click, day_of_work, hertz, note, score, tone

EXACT = ("wav", "wav24", "flac")
LOSSY = ("ogg", "opus", "mp3")
CODECS = {"wav": "pcm_s16le", "wav24": "pcm_s24le", "flac": "flac", "ogg": "vorbis", "opus": "opus", "mp3": "mp3"}
STEP = {"wav": 2**-15, "flac": 2**-15, "wav24": 2**-23}

IN_TUNE_CENTS = 0.01
DELAY_FRAMES = 1
"""A fiftieth of a millisecond."""

STEADY_DB = 0.3
"""A partial that moves by so little makes no beat that a player could count: two lines 35 dB apart do as much."""

ROUNDING_DB = -98.0
"""Effective level of rounding to 16 bits: a step of 2^-15 over the root of 12 (uniform error) is -101 dB."""

SCORE = score(
    Beats(6),
    drone=[tone(0, 6, "D3"), tone(0, 6, "A3")],
    changes=[chord(0, 3, ("D4", "F#4", "A4")), chord(3, 3, ("D4", "G4", "B4"))],
    clicks=[click(beat, ClickKind.BEAT if beat % 3 else ClickKind.ACCENT) for beat in range(6)],
    solo=[note(0, 3, "D5"), note(3, 3, "E5")],
)


def written(folder: Path, name: str, mix: Mix | None = None, rate_hz: int = RATE_HZ) -> Path:
    path = folder / f"track{audio_format(name).suffix}"
    write_audio(path, SCORE, mix or Mix(guide=True), name, rate_hz=rate_hz)
    return path


def delay(reference: Wave, heard: Wave) -> int:
    """By how many frames `heard` comes after `reference`."""
    return int(np.argmax(correlate(heard, reference, mode="full", method="fft"))) - (len(reference) - 1)


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_two_readers_find_the_right_kind_of_file_and_every_frame(tmp_path: Path, name: str) -> None:
    path = written(tmp_path, name)
    _, stream = told_by_ffprobe(path)
    assert stream["codec_name"] == CODECS[name]
    assert stream["channels"] == 1
    assert int(stream["sample_rate"]) == RATE_HZ
    assert len(by_soundfile(path)) == len(by_ffmpeg(path)) == 6 * RATE_HZ


@pytest.mark.parametrize("name", EXACT)
def test_exact_formats_hold_the_nearest_sample(tmp_path: Path, name: str) -> None:
    path = written(tmp_path, name)
    wave = rendered(SCORE, Mix(guide=True), levelled=True)
    for heard in (by_soundfile(path), by_ffmpeg(path)):
        assert np.max(np.abs(heard - wave)) <= 0.51 * STEP[name]


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
@pytest.mark.parametrize("reader", [by_soundfile, by_ffmpeg])
def test_nothing_comes_late(tmp_path: Path, name: str, reader: Callable[[Path], Wave]) -> None:
    path = written(tmp_path, name, CLICK_ALONE)
    assert abs(delay(rendered(SCORE, CLICK_ALONE), reader(path))) <= DELAY_FRAMES


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_a_drone_comes_back_in_tune(tmp_path: Path, name: str) -> None:
    drone = score(Beats(12), drone=[tone(0, 12, "D3")])
    path = tmp_path / "drone"
    write_audio(path, drone, DRONE_ALONE, name)
    wave = by_soundfile(path)
    for partial in range(1, 11):
        ideal = hertz("D3") * partial
        assert abs(cents(hertz_off(wave[RATE_HZ : 11 * RATE_HZ], ideal, RATE_HZ), ideal)) < IN_TUNE_CENTS


@pytest.mark.parametrize("name", LOSSY)
def test_lossy_formats_keep_every_partial_of_a_drone_steady(tmp_path: Path, name: str) -> None:
    """D3 under A3: the partials that the two do not share, in every half second."""
    wave, heard = rendered(SCORE, DRONE_ALONE, levelled=True), by_soundfile(written(tmp_path, name, DRONE_ALONE))
    for start in range(RATE_HZ, 5 * RATE_HZ, RATE_HZ // 2):
        piece = slice(start, start + RATE_HZ // 2)
        for hz in (hertz("D3") * partial for partial in range(1, 11) if partial % 3):
            kept = abs(vector(heard[piece], hz, start)) / abs(vector(wave[piece], hz, start))
            assert abs(decibels(kept)) < STEADY_DB


@pytest.mark.parametrize("name", LOSSY)
@pytest.mark.parametrize("channels", ["mono", "stereo"])
def test_compressed_files_have_the_bits_to_stay_clean(tmp_path: Path, name: str, channels: str) -> None:
    """128 kbit/s for MP3 and Opus (common practice); Vorbis takes what its quality asks for."""
    stereo = Mix(pan=EachPart(drone=-1, click=1), channels="stereo")
    path = written(tmp_path, name, stereo if channels == "stereo" else Mix())
    bits_a_second = path.stat().st_size * 8 / 6
    assert bits_a_second > (30_000 if name == "ogg" else 127_000)
    assert bits_a_second < 160_000


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_drone_and_click_can_be_had_on_separate_channels(tmp_path: Path, name: str) -> None:
    pan = EachPart(drone=-1, changes=-1, click=1)
    path = written(tmp_path, name, Mix(pan=pan, channels="stereo"))
    samples = soundfile.read(path, dtype="float64")[0]
    assert samples.shape == (6 * RATE_HZ, 2)
    between_beats = samples[RATE_HZ // 2 : RATE_HZ * 9 // 10]
    assert level(between_beats[:, 1]) < 0.01 * level(between_beats[:, 0])


@pytest.mark.parametrize("name", list(AUDIO_FORMATS))
def test_the_same_score_makes_the_same_file(tmp_path: Path, name: str) -> None:
    assert written(tmp_path, name).read_bytes() == written(tmp_path, name).read_bytes()


@pytest.mark.parametrize("name", ["wav", "mp3", "ogg", "opus"])
def test_a_reader_finds_a_place_in_the_middle(tmp_path: Path, name: str) -> None:
    path = written(tmp_path, name, CLICK_ALONE)
    with soundfile.SoundFile(path) as file:
        file.seek(int(3.5 * RATE_HZ))
        heard = file.read(RATE_HZ)
    assert abs(delay(rendered(SCORE, CLICK_ALONE, int(3.5 * RATE_HZ), int(4.5 * RATE_HZ)), heard)) <= DELAY_FRAMES


@pytest.mark.parametrize(("name", "rate_hz"), [("wav", 44_100), ("mp3", 44_100), ("opus", 24_000), ("flac", 96_000)])
def test_other_rates(tmp_path: Path, name: str, rate_hz: int) -> None:
    path = written(tmp_path, name, CLICK_ALONE, rate_hz)
    assert soundfile.info(path).samplerate == rate_hz
    assert len(by_soundfile(path)) == frames_of(SCORE, rate_hz) == 6 * rate_hz
    assert abs(delay(rendered(SCORE, CLICK_ALONE, rate_hz=rate_hz), by_soundfile(path))) <= DELAY_FRAMES


def test_sixteen_bits_leave_only_rounding_and_no_line_that_beats() -> None:
    """What rounding adds to the plainest drone: noise near -101 dB, and no single line above -110 dB."""
    wave = rendered(score(Beats(5), drone=[tone(0, 5, "A4")]), DRONE_ALONE, RATE_HZ, 4 * RATE_HZ)
    added = np.rint(wave * 2**15) / 2**15 - wave
    assert decibels(level(added)) < ROUNDING_DB
    lines = 2 * np.abs(np.fft.rfft(added * np.hanning(len(added)))) / (len(added) / 2)
    assert decibels(float(np.max(lines))) < -110
    assert decibels(level(wave) / level(added)) > 75


def test_progress_tells_every_block_up_to_the_last_frame(tmp_path: Path) -> None:
    told: list[int] = []
    write_audio(tmp_path / "a.wav", SCORE, Mix(), progress=told.append)
    blocks = [len(block) for block in render_blocks(SCORE, Mix())]
    assert told == np.cumsum(blocks).tolist()
    assert told[-1] == 6 * RATE_HZ


def test_a_long_track_goes_through_vorbis_in_blocks(tmp_path: Path) -> None:
    """Two minutes, 5.8 million frames: more than libsndfile's Vorbis writer survives in one call."""
    path = tmp_path / "long.ogg"
    write_audio(path, day_of_work(2), CLICK_ALONE, "ogg")
    assert math.isclose(soundfile.info(path).duration, 120.0)


def test_a_format_that_does_not_exist_names_those_that_do() -> None:
    with pytest.raises(ValueError, match="did you mean flac"):
        audio_format("flack")


def test_a_rate_that_the_format_does_not_have_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="opus files run at 8000, 12000"):
        write_audio(tmp_path / "a.opus", SCORE, Mix(), "opus", rate_hz=44_100)
    assert not list(tmp_path.iterdir())
