"""A tone with a course goes where the course says, cent by cent, and adds up to a track like any other.

Referee  scipy: the phase of the analytic signal gives the hertz at every moment, the spectrum its partials. The law of
         beats: two tones sum to one that swells f1 - f2 times a second. ffmpeg's meter (ITU-R BS.1770) for loudness.
         The samples are a function of the frame number: two ways to ask must agree.
"""

from __future__ import annotations

import re
import subprocess
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import hilbert

from droner.score.score import Bearing, Score, Tone
from droner.score.tempo_map import tempo_map
from droner.sound.held_voice import HeldVoice, drone_tones
from droner.sound.mix import EachPart, Mix
from droner.sound.render import render_blocks
from droner.sound.timeline import Timeline
from droner.units import Beats
from tests.parts import need
from tests.sound.measure import DRONE_ALONE, RATE_HZ, Wave, decibels, level, rendered, vector
from tests.sound.scores import chord, click, hertz, hour_long_ramp, note, score, steady, tone

IN_TUNE_CENTS = 0.1
"""A fiftieth of what a trained ear can tell (about 5 cents)."""
WINDOW_MS = 20
"""The hertz of a moment is the slope of the phase over so long."""
BEAT_S = 0.01
"""How well the moment of a beat can be told."""
LOUDNESS_LU = 0.2
SAME = 1e-6
"""Single precision at full scale is about 1e-7."""
LEVEL_DB = 0.02
HOUR = 3_600

Points = tuple[tuple[Fraction | int, float, float], ...]
SWELLING: Points = ((1, 8.0, -6.0), (4, -8.0, 6.0), (7, 8.0, -6.0))


def course(points: Points) -> tuple[Bearing, ...]:
    return tuple(Bearing(Beats(onset), cents, gain_db) for onset, cents, gain_db in points)


def moving(points: Points, hz: float, beats: int = 8, *, plain: bool = True) -> Tone:
    return replace(tone(0, beats, "A4", hz), plain=plain, course=course(points))


def hertz_along(wave: Wave) -> Wave:
    """The mean hertz of the window after every frame: the slope of the phase of the analytic signal."""
    turns = np.unwrap(np.angle(hilbert(wave))) / (2 * np.pi)
    window = WINDOW_MS * RATE_HZ // 1000
    return np.asarray(turns[window:] - turns[:-window]) * RATE_HZ / window


def cents_at(points: Points, seconds: Wave) -> Wave:
    """Straight lines between the points (the promise of `Tone`)."""
    return np.interp(seconds, [float(point[0]) for point in points], [point[1] for point in points])


def assert_follows(wave: Wave, points: Points, hz: float, first_s: float = 0.0) -> None:
    found = 1200 * np.log2(hertz_along(wave) / hz)
    window = WINDOW_MS * RATE_HZ // 1000
    wanted = np.cumsum(cents_at(points, first_s + np.arange(len(wave)) / RATE_HZ))
    wanted = (wanted[window:] - wanted[:-window]) / window  # a corner of the course is as round as the window
    kept = slice(RATE_HZ // 2, -RATE_HZ // 2)  # away from the fades, and from the ends of the transform
    assert np.max(np.abs(found - wanted)[kept]) < IN_TUNE_CENTS


@pytest.mark.parametrize("hz", [110.0, 441.3, 1_760.0])
@pytest.mark.parametrize(
    "points",
    [SWELLING, ((0, 0.0, 0.0), (8, 50.0, 0.0)), ((2, -20.0, 0.0), (Fraction(5, 2), 20.0, -3.0), (6, 20.0, 0.0))],
)
def test_the_hertz_of_every_moment_are_those_of_the_course(hz: float, points: Points) -> None:
    assert_follows(rendered(score(Beats(8), drone=[moving(points, hz)]), DRONE_ALONE), points, hz)


def test_lines_are_straight_in_time_while_the_tempo_changes() -> None:
    """From 60 to 120 in the middle: four beats last 2 + 1 seconds, and the cents take no notice."""
    tempos = tempo_map([(Beats(0), 1_000_000), (Beats(4), 500_000)])
    beats: Points = ((0, 0.0, 0.0), (12, 40.0, 0.0))
    wave = rendered(score(Beats(12), drone=[moving(beats, 440.0, 12)], tempos=tempos), DRONE_ALONE)
    assert_follows(wave, ((0, 0.0, 0.0), (8, 40.0, 0.0)), 440.0)


def test_the_last_seconds_of_an_hour_are_in_tune() -> None:
    points: Points = ((0, 0.0, 0.0), (HOUR, 20.0, 0.0))
    first = HOUR - 5
    wave = rendered(score(Beats(HOUR), drone=[moving(points, 440.0, HOUR)]), DRONE_ALONE, first * RATE_HZ)
    assert_follows(wave, points, 440.0, first)


def test_every_partial_moves_with_the_first() -> None:
    """After the course it stands at +30 cents: whole multiples of that hertz, and nothing at the old ones."""
    hz = 220.0
    made = score(Beats(8), drone=[moving(((1, 0.0, 0.0), (3, 30.0, 0.0)), hz, plain=False)])
    wave = rendered(made, DRONE_ALONE, 4 * RATE_HZ, 7 * RATE_HZ)
    spectrum = np.abs(np.fft.rfft(wave * np.hanning(len(wave)), 8 * len(wave)))
    bin_hz = RATE_HZ / (8 * len(wave))
    for partial in range(1, 11):
        ideal = partial * hz * 2 ** (30 / 1200)
        near = slice(int((ideal - 20) / bin_hz), int((ideal + 20) / bin_hz))
        peak = (near.start + int(np.argmax(spectrum[near]))) * bin_hz
        assert abs(1200 * np.log2(peak / ideal)) < 1200 * bin_hz / ideal * 1.45  # half a bin, and a little


def test_it_beats_with_a_still_tone_as_often_as_they_are_apart() -> None:
    """The law of beats: from 0 to +d hertz on a straight line of cents the sum has swelled once a whole turn."""
    hz, cents = 440.0, 20.0
    still = replace(tone(0, 10, "A4", hz), plain=True)
    made = score(Beats(10), drone=[still, moving(((0, 0.0, 0.0), (10, cents, 0.0)), hz, 10)])
    envelope = np.abs(hilbert(rendered(made, DRONE_ALONE)))
    seconds = np.arange(len(envelope)) / RATE_HZ
    lost = np.cumsum(hz * (2 ** (cents * seconds / 10 / 1200) - 1)) / RATE_HZ  # the sum that the code never takes
    inside = (seconds > 0.5) & (seconds < 9.5)
    dips = [
        seconds[place]
        for place in np.flatnonzero((envelope[1:-1] < envelope[:-2]) & (envelope[1:-1] < envelope[2:])) + 1
        if inside[place] and envelope[place] < 0.1 * np.max(envelope)
    ]
    turns = np.arange(np.ceil(lost[inside][0] - 0.5), np.ceil(lost[inside][-1] - 0.5)) + 0.5
    assert len(dips) == len(turns) > 20
    assert np.max(np.abs(np.interp(turns, lost, seconds) - dips)) < BEAT_S


def test_the_level_goes_in_straight_lines_of_decibels() -> None:
    wave = rendered(score(Beats(8), drone=[moving(SWELLING, 440.0)]), DRONE_ALONE)
    flat = rendered(score(Beats(8), drone=[replace(tone(0, 8, "A4", 440.0), plain=True)]), DRONE_ALONE)
    envelope, even = np.abs(hilbert(wave)), level(flat[RATE_HZ : 7 * RATE_HZ]) * np.sqrt(2)
    for second, gain_db in ((0.5, -6.0), (1.0, -6.0), (2.5, 0.0), (4.0, 6.0), (6.0, -2.0), (7.5, -6.0)):
        assert decibels(envelope[int(second * RATE_HZ)] / even) == pytest.approx(gain_db, abs=LEVEL_DB)


def test_a_still_tone_takes_its_gain_and_may_be_plain() -> None:
    lone = tone(0, 4, "D3")
    whole, softer, plain = (
        rendered(score(Beats(4), drone=[each]), DRONE_ALONE, RATE_HZ, 3 * RATE_HZ)
        for each in (lone, replace(lone, gain_db=-7.5), replace(lone, plain=True))
    )
    assert decibels(level(softer) / level(whole)) == pytest.approx(-7.5, abs=LEVEL_DB)
    assert decibels(level(plain) / level(whole)) == pytest.approx(0.0, abs=LEVEL_DB)
    lines = [abs(vector(plain, partial * lone.hz, RATE_HZ)) for partial in range(1, 13)]
    assert lines[0] == pytest.approx(level(plain) * np.sqrt(2), rel=1e-4)
    assert max(lines[1:]) < 1e-5 * lines[0]


def test_tones_on_one_course_are_held_through_and_others_struck_anew() -> None:
    way = course(SWELLING)
    whole = [replace(tone(0, 8, "D3"), course=way)]
    parts = [replace(tone(beat, 1, "D3"), course=course(SWELLING)) for beat in range(8)]  # equal, not the same object
    assert np.array_equal(
        rendered(score(Beats(8), drone=parts), DRONE_ALONE), rendered(score(Beats(8), drone=whole), DRONE_ALONE)
    )
    louder = [tone(0, 2, "D3"), replace(tone(2, 2, "D3"), gain_db=3.0)]
    timeline = Timeline(steady(), RATE_HZ)
    assert len(drone_tones(score(Beats(4), drone=louder), timeline, 0.0, "medium")) == 2


def test_a_pure_fifth_stays_pure_while_it_moves() -> None:
    """The third partial of the tonic and the second of the fifth are in step all along: amplitudes add."""
    hz, way = hertz("D3"), ((0, 0.0, 0.0), (6, 0.0, 0.0), (7, 25.0, 0.0))
    tones = [replace(tone(0, 12, "D3", each), course=course(way)) for each in (hz, hz * 3 / 2)]

    def third_partial(*some: Tone) -> float:
        wave = rendered(score(Beats(12), drone=some), DRONE_ALONE, 8 * RATE_HZ, 11 * RATE_HZ)
        return abs(vector(wave, 3 * hz * 2 ** (25 / 1200), 8 * RATE_HZ))

    assert third_partial(*tones) == pytest.approx(third_partial(tones[0]) + third_partial(tones[1]), rel=1e-3)


CENTS = st.floats(-50, 50)
GAINS_DB = st.floats(-12, 6)
MOMENTS = st.fractions(0, 20, max_denominator=48)


@st.composite
def courses(draw: st.DrawFn) -> tuple[Bearing, ...]:
    moments = sorted(draw(st.sets(MOMENTS, min_size=1, max_size=6)))
    return tuple(Bearing(Beats(moment), draw(CENTS), draw(GAINS_DB)) for moment in moments)


@st.composite
def moving_scores(draw: st.DrawFn) -> Score:
    """Two courses and a still tone over a tempo that changes, with tones that give way to one another."""
    one, other = draw(courses()), draw(courses())
    drone = [
        replace(tone(0, 10, "D3"), course=one),
        replace(tone(0, 20, "A3"), course=other),
        replace(tone(10, 10, "E3"), course=one, gain_db=draw(GAINS_DB)),
        replace(tone(5, 7, "A4"), plain=True, course=other),
        tone(10, 5, "F#3"),
    ]
    return score(Beats(20), drone=drone, changes=[chord(2, 6, ("D4", "A4"))], tempos=hour_long_ramp())


@settings(deadline=None, max_examples=25)
@given(made=moving_scores(), start=st.integers(0, 19 * RATE_HZ), frames=st.integers(1, 60_000))
def test_any_stretch_in_blocks_of_any_size_is_the_same(made: Score, start: int, frames: int) -> None:
    stop = start + frames
    whole = np.concatenate(list(render_blocks(made, Mix(), start=start // 2, stop=stop)))[start - start // 2 :]
    for size in (frames, 777 + frames // 7):
        stretch = np.concatenate(list(render_blocks(made, Mix(), start=start, stop=stop, block_frames=size)))
        assert np.max(np.abs(stretch - whole), initial=0.0) < SAME


@settings(deadline=None, max_examples=15)
@given(made=moving_scores())
def test_no_voice_that_moves_passes_its_bound(made: Score) -> None:
    timeline = Timeline(made.tempo_map, RATE_HZ)
    voice = HeldVoice(drone_tones(made, timeline, 0.0, "medium"), RATE_HZ)
    wave = np.zeros(20 * RATE_HZ, dtype=np.float32)
    voice.add_to(wave, 0)
    peaks, bound = voice.peaks(), np.zeros(len(wave) + RATE_HZ)
    for start, stop, height in zip(peaks.starts, peaks.stops, peaks.levels, strict=True):
        bound[start:stop] += height
    assert np.all(np.abs(wave) <= bound[: len(wave)] * (1 + 1e-5) + 1e-7)
    assert np.max(np.abs(wave)) > 0.1 * np.max(bound)  # a bound that means something


def lone_partner() -> Score:
    """Tonic and fifth that swell and stray together, twelve seconds a phrase."""
    way = course(tuple((6 * place, 8.0 * (-1) ** place, -6.0 * (-1) ** place) for place in range(11)))
    return score(Beats(60), drone=[replace(tone(0, 60, name), course=way) for name in ("D3", "A3")])


def with_everything() -> Score:
    """A partner over chords, clicks and a solo that stand still, and that share its partials when it is in tune."""
    way = course(tuple((5 * place, 6.0 * (place % 2), 0.0) for place in range(13)))
    hz = hertz("D3")
    return score(
        Beats(60),
        drone=[replace(tone(0, 60, "D3", hz * ratio), course=way) for ratio in (1.0, 1.5)],
        changes=[chord(0, 60, ("D4", "F#4", "A4"))],
        clicks=[click(beat) for beat in range(60)],
        solo=[note(4 * place, 4, name) for place, name in enumerate(("D5", "E5", "F#5") * 5)],
    )


def slow_unison() -> Score:
    """A still tone and one that strays by a cent: they beat once in some seconds."""
    hz = hertz("D3")
    way = course(((0, 0.0, 0.0), (30, 1.0, 0.0), (60, 0.0, 0.0)))
    return score(Beats(60), drone=[tone(0, 60, "D3", hz), replace(tone(0, 60, "D3", hz), course=way)])


@pytest.mark.parametrize(
    ("made", "target_lufs"), [(lone_partner(), -18.0), (slow_unison(), -18.0), (with_everything(), -16.0)]
)
def test_the_track_is_as_loud_as_it_should_be(made: Score, target_lufs: float, tmp_path: Path) -> None:
    soundfile.write(tmp_path / "track.wav", rendered(made, Mix(guide=True), levelled=True), RATE_HZ, "FLOAT")
    measured = integrated_lufs(tmp_path / "track.wav")
    assert measured == pytest.approx(target_lufs, abs=LOUDNESS_LU)


def integrated_lufs(path: Path) -> float:
    """The whole track's loudness, as ffmpeg measures it, to a tenth."""
    command = [need("ffmpeg"), "-nostats", "-i", str(path), "-af", "ebur128", "-f", "null", "-"]
    told = subprocess.run(command, capture_output=True, check=True, text=True).stderr
    return float(re.findall(r"I:\s+(-[\d.]+) LUFS", told)[-1])


def test_a_part_left_out_is_silent_also_when_it_moves() -> None:
    assert not rendered(lone_partner(), Mix(gain_db=EachPart(drone=float("-inf"))), 0, RATE_HZ).any()
