"""A held tone starts, ends and gives way without a step, a dip or a swell.

Referee  theorems: the steepest step of a steady sum of partials is measured in its middle, and no fade may be
         steeper; powers of tones of different pitch add; equal tones end to end are one tone.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.units import Beats
from tests.sound.measure import (
    CHANGES_ALONE,
    DRONE_ALONE,
    RATE_HZ,
    Wave,
    decibels,
    level,
    rendered,
    short_levels,
    vector,
)
from tests.sound.scores import chord, hour_long_ramp, score, tone

FADE_MS = {"drone": 60, "changes": 25}
STEP_SLACK = 1.05
"""A fade adds its own slope, at most pi / 2 of the level in 25 ms: some thousandths of a step of the wave."""

SMOOTH_DB = 1.0
"""The change in level that is just heard on a steady tone (common practice, no source)."""


def steepest(wave: Wave) -> float:
    return float(np.max(np.abs(np.diff(wave))))


def held(*tones: tuple[Fraction | int, Fraction | int, str]) -> Wave:
    end = max(onset + length for onset, length, _ in tones)
    return rendered(score(Beats(end), drone=[tone(*each) for each in tones]), DRONE_ALONE)


def test_a_tone_starts_on_its_frame_and_is_silent_at_its_end() -> None:
    drone = score(Beats(4), drone=[tone(Fraction(1, 3), 2, "D3")])
    sounding = np.flatnonzero(rendered(drone, DRONE_ALONE))
    assert sounding[0] == RATE_HZ // 3
    assert sounding[-1] == RATE_HZ // 3 + 2 * RATE_HZ - 1


def test_start_and_end_are_no_steeper_than_the_tone() -> None:
    wave = held((1, 2, "D3"))
    middle = steepest(wave[int(1.5 * RATE_HZ) : int(2.5 * RATE_HZ)])
    tenth = RATE_HZ // 10
    assert steepest(wave[RATE_HZ - 1 : RATE_HZ + tenth]) < STEP_SLACK * middle
    assert steepest(np.append(wave[-tenth:], 0.0)) < STEP_SLACK * middle


def test_a_tone_rises_out_of_silence_as_half_a_cosine() -> None:
    """Half way through the fade the amplitude is half, a quarter through 0.146 (half of 1 - cos 45 degrees)."""
    fade = FADE_MS["drone"] * RATE_HZ // 1000
    wave = held((0, 2, "A5"))
    steady = np.max(np.abs(wave[RATE_HZ // 2 : RATE_HZ]))
    for share, amplitude in ((0.25, 0.146), (0.5, 0.5), (0.75, 0.854)):
        middle = int(share * fade)
        period = RATE_HZ // 884 + 1
        assert np.max(np.abs(wave[middle - period : middle + period])) / steady == pytest.approx(amplitude, abs=0.05)


@pytest.mark.parametrize("names", [("D3", "E3"), ("D3", "A3"), ("D4", "C#4")])
def test_a_change_of_tone_is_no_steeper_than_both_together(names: tuple[str, str]) -> None:
    wave = held((0, 2, names[0]), (2, 2, names[1]))
    first, second = steepest(wave[RATE_HZ // 2 : RATE_HZ]), steepest(wave[3 * RATE_HZ : 3 * RATE_HZ + 24_000])
    assert steepest(wave) <= STEP_SLACK * np.hypot(first, second)


@pytest.mark.parametrize(("part", "names"), [("drone", ("D3", "E3")), ("changes", ("D4", "E4"))])
def test_a_change_of_tone_neither_dips_nor_swells(part: str, names: tuple[str, str]) -> None:
    """A tone's fade out shorter or longer than the other's fade in would show here; so would a linear one (-3 dB)."""
    if part == "drone":
        wave = held((0, 2, names[0]), (2, 2, names[1]))
    else:
        changes = [chord(0, 2, names[:1]), chord(2, 2, names[1:])]
        wave = rendered(score(Beats(4), changes=changes), CHANGES_ALONE)
    around = short_levels(wave[2 * RATE_HZ - 9_600 : 2 * RATE_HZ + 9_600], 2_400)
    even = level(wave[RATE_HZ // 2 : 2 * RATE_HZ - 9_600])
    assert abs(decibels(float(np.max(around)) / even)) < SMOOTH_DB
    assert abs(decibels(float(np.min(around)) / even)) < SMOOTH_DB


def test_the_old_tone_is_gone_after_the_fade() -> None:
    wave = held((0, 2, "D3"), (2, 2, "E3"))
    after = 2 * RATE_HZ + FADE_MS["drone"] * RATE_HZ // 1000
    old, new = (abs(vector(wave[after : 4 * RATE_HZ - 4_800], hz, after)) for hz in (147.5, 165.6))
    assert decibels(old / new) < -80


def test_a_tone_that_goes_on_is_not_struck_again() -> None:
    bars = held(*((bar, 1, "D3") for bar in range(8)))
    assert np.array_equal(bars, held((0, 8, "D3")))


def test_a_tone_that_goes_on_is_held_under_one_that_changes() -> None:
    both = held((0, 2, "D3"), (0, 2, "A3"), (2, 2, "D3"), (2, 2, "B3"))
    apart = held((0, 4, "D3")) + held((0, 2, "A3"), (2, 2, "B3"))
    assert np.allclose(both, apart, atol=1e-6)


def test_a_tone_that_two_chords_share_is_held_through() -> None:
    both = rendered(score(Beats(4), changes=[chord(0, 2, ("D4", "A4")), chord(2, 2, ("D4", "B4"))]), CHANGES_ALONE)
    shared = rendered(score(Beats(4), changes=[chord(0, 4, ("D4",))]), CHANGES_ALONE)
    moving = rendered(score(Beats(4), changes=[chord(0, 2, ("A4",)), chord(2, 2, ("B4",))]), CHANGES_ALONE)
    assert np.allclose(both, shared + moving, atol=1e-6)


def test_a_tone_held_over_changes_of_tempo_is_one_tone() -> None:
    """Joins of a beat each, on frames that are rounded, leave no seam."""
    tempos = hour_long_ramp()
    beats = score(Beats(60), drone=[tone(beat, 1, "D3") for beat in range(60)], tempos=tempos)
    whole = score(Beats(60), drone=[tone(0, 60, "D3")], tempos=tempos)
    assert np.array_equal(rendered(beats, DRONE_ALONE), rendered(whole, DRONE_ALONE))


LENGTHS = st.fractions(min_value=Fraction(1, 200), max_value=Fraction(1, 2), max_denominator=400)
NAMES = st.sampled_from(["C3", "D3", "F#3", "A3", "D4"])


@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(LENGTHS, NAMES, st.booleans()), min_size=1, max_size=12))
def test_no_run_of_tones_however_short_has_a_step(run: list[tuple[Fraction, str, bool]]) -> None:
    """Tones and rests of 5 to 500 ms: never steeper than two of the steepest tones at once, as powers."""
    onset = Fraction(0)
    tones = []
    for length, name, rests in run:
        if not rests:
            tones.append(tone(onset, length, name))
        onset += length
    wave = rendered(score(Beats(onset + 1), drone=tones), DRONE_ALONE)
    steepest_tone = steepest(held((0, 1, "D4"))[RATE_HZ // 4 : RATE_HZ // 2])
    fade_slope = np.max(np.abs(wave)) * np.pi / (2 * RATE_HZ / 400)  # the shortest fade is half of 5 ms
    assert steepest(np.pad(wave, 1)) <= np.sqrt(2) * steepest_tone + 2 * fade_slope
    for before, after in pairwise([*tones, tone(onset, 1, "D3")]):
        gap = (before.onset + before.length).exact, after.onset.exact
        if gap[0] < gap[1]:
            assert not wave[int(gap[0] * RATE_HZ) + 1 : int(gap[1] * RATE_HZ)].any()
