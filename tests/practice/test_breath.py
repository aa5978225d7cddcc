"""The longest breath of an item, and the tempo from which on the air carries it.

Referee  arithmetic from the drills' own lengths and the tempo, worked out beside each row; time to breathe (1 s after a
         phrase of 5 s and more, 0.6 s after a shorter one, in whole beats) is common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.practice.days import item_of


@pytest.mark.parametrize(
    ("block", "air", "longest", "fits"),
    [
        # a pair is 4 + 3 beats of 8: at 50 7 x 1.2 s. From 61 on a second is more than one beat, so the last note
        # gives one: 6 x 60/61 = 5.9 s
        ('drill = "slow chromatic"\ntempo = 50', 6, Fraction(84, 10), 61),
        # 8 s: at 52 7 x 60/52 = 8.08 s, at 53 7.92 s
        ('drill = "slow chromatic"\ntempo = 50', 8, Fraction(84, 10), 53),
        # at 60 seven seconds, which its air carries
        ('drill = "slow chromatic"\ntempo = 60', 7, Fraction(7), 60),
        # 8 beats, and a bar to breathe: 8 x 60/80 = 6 s
        ('drill = "swell"\ntempo = 60', 6, Fraction(8), 80),
        # played at 80 per cent of 60, that is at 48, too: 8 x 60/48 = 10 s; 8 x 60/(0.8 x 100) = 6 s
        ('drill = "swell"\ntempo = 60\nspeeds = [80, 100]', 6, Fraction(10), 100),
        # a glide is as slow as its slow end
        ('drill = "swell"\ntempo = 60\nglide = [100, 80]', 6, Fraction(10), 100),
        # seven notes, eight beats: 8 x 60/50 = 9.6 s; 8 x 60/60 = 8 s
        ('drill = "partials"\ntempo = 50', 8, Fraction(96, 10), 60),
        # between two whole tempos: 7 beats at 50.5 are 8.32 s
        ('drill = "slow chromatic"\ntempo = 50.5', 8, Fraction(840, 101), 53),
    ],
)
def test_what_cannot_be_parted_says_how_long_it_is_and_when_it_would_fit(
    block: str, air: int, longest: Fraction, fits: int
) -> None:
    item = item_of(block, "D major" if "swell" in block else "", top=f"air_seconds = {air}")
    assert item.air.exact == air
    # a tempo is rounded to whole microseconds, half of one at most for each of ten beats
    assert abs(item.longest_breath.exact - longest) <= Fraction(10, 2_000_000)
    assert item.fitting_bpm == fits


@pytest.mark.parametrize("air", [6, 8, 12])
def test_what_is_cut_to_fit_fits_as_it_is(air: int) -> None:
    item = item_of('drill = "turning scale"\ntempo = 66.5', "C major", top=f"air_seconds = {air}")
    assert item.longest_breath <= item.air
    assert item.fitting_bpm == 67  # its own tempo, as a whole one


def test_a_bar_of_a_study_is_a_breath_too() -> None:
    # six eighths, two dotted beats at 20: six seconds a bar, of which the last note gives some to breathe
    item = item_of('drill = "curving study"\ntempo = 20', "D major", top="air_seconds = 3")
    assert item.longest_breath.exact > 3
    assert item.longest_breath.exact <= 6
    assert 20 < item.fitting_bpm <= 40  # at 40 a bar lasts three seconds
