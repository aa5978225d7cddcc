"""Metronome numbers. Referee: the traditional series as quoted on the horn mailing list (music.memphis.edu archive,
msg29183), its step sizes and its property that every number from 40 to 104 doubles into another.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.theory.metronome import FASTEST_BPM, SLOWEST_BPM, nearest_bpm, numbers_between, stepped_bpm
from droner.theory.metronome_table import TRADITIONAL_BPM

STEPS = [(40, 60, 2), (60, 72, 3), (72, 120, 4), (120, 144, 6), (144, 208, 8)]
SECOND_DECIMAL = 0.005
"""The percentages are printed to two decimals."""
numbers = st.sampled_from(TRADITIONAL_BPM)


def test_the_series_is_made_of_the_published_steps() -> None:
    series = [40]
    for first, last, step in STEPS:
        series += range(first + step, last + 1, step)
    assert list(TRADITIONAL_BPM) == series
    assert len(series) == 39


def test_every_step_is_between_3_45_and_5_56_per_cent() -> None:
    ratios = [100 * (after / before - 1) for before, after in pairwise(TRADITIONAL_BPM)]
    assert min(ratios) == pytest.approx(3.45, abs=SECOND_DECIMAL)
    assert max(ratios) == pytest.approx(5.56, abs=SECOND_DECIMAL)


def test_every_number_to_104_doubles_into_another() -> None:
    assert {2 * number for number in numbers_between(40, 104)} <= set(TRADITIONAL_BPM)


@given(st.floats(30, 250))
def test_the_nearest_number_is_the_nearest_by_ratio(bpm: float) -> None:
    found = nearest_bpm(bpm)
    off = max(found / bpm, bpm / found)
    assert all(off <= max(number / bpm, bpm / number) for number in TRADITIONAL_BPM)


@given(numbers, st.integers(0, 10))
def test_steps_up_and_down_undo_each_other_within_the_scale(number: int, steps: int) -> None:
    up = stepped_bpm(number, steps)
    if up < FASTEST_BPM:
        assert stepped_bpm(up, -steps) == number


@pytest.mark.parametrize(
    ("bpm", "steps", "found"),
    # read off the series
    [
        (60, 1, 63),
        (60, -1, 58),
        (61, 1, 63),
        (61, -1, 60),
        (61, 0, 60),
        (72, 2, 80),
        (208, 1, 208),
        (40, -3, 40),
        (300, -1, 208),
    ],
)
def test_a_step_goes_to_the_next_number(bpm: float, steps: int, found: int) -> None:
    assert stepped_bpm(bpm, steps) == found


def test_numbers_between_are_read_off_the_series() -> None:
    assert numbers_between(59, 76) == (60, 63, 66, 69, 72, 76)
    assert (SLOWEST_BPM, FASTEST_BPM) == (40, 208)


@pytest.mark.parametrize("bpm", [0, -60])
def test_no_tempo_is_refused(bpm: float) -> None:
    with pytest.raises(ValueError, match="more than 0"):
        nearest_bpm(bpm)
