"""Lay out ladders by hand and compare.

Referee the series of metronome numbers as published (reference: the horn mailing list's quotation; steps of 2 from 40,
        3 from 60, 4 from 72, 6 from 120, 8 from 144 to 208), written out here; steps and halves worked by hand.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.ladder.tempos import tempos
from tests.practice.ladder.history import ladder

SERIES = (*range(40, 60, 2), *range(60, 72, 3), *range(72, 120, 4), *range(120, 144, 6), *range(144, 209, 8))
LARGEST_STEP = Fraction(76, 72)
"""The largest ratio of neighbours in the published series, 5.56 per cent."""
NOT_FINE = Fraction(100)
"""No step begins at the target or above it, so none is halved."""


def test_the_rungs_are_the_metronome_s_numbers() -> None:
    assert len(SERIES) == 39
    assert [*tempos(ladder(60, 80, fine_from=NOT_FINE))] == [60, 63, 66, 69, 72, 76, 80]
    assert [*tempos(ladder(40, 208, fine_from=NOT_FINE))] == [*SERIES]


def test_near_the_target_steps_are_halved() -> None:
    # 90 per cent of 80 is 72: the steps 72-76 and 76-80 begin there or above
    assert [*tempos(ladder(60, 80))] == [60, 63, 66, 69, 72, 74, 76, 78, 80]
    # 90 per cent of 126 is 113.4: the step 112-116 begins below it
    assert [*tempos(ladder(108, 126))] == [108, 112, 116, 118, 120, 123, 126]
    # 80 per cent of 69 is 55.2; between 60 and 63 the nearest whole numbers to 61.5 are two: the slower
    assert [*tempos(ladder(54, 69, fine_from=Fraction(80)))] == [54, 56, 57, 58, 59, 60, 61, 63, 64, 66, 67, 69]


def test_a_step_of_one_beat_is_not_halved() -> None:
    assert [*tempos(ladder(60, 64, step_bpm=Fraction(1), fine_from=Fraction(50)))] == [60, 61, 62, 63, 64]


@pytest.mark.parametrize(
    ("slow", "target", "climb"),
    [
        (61, 70, (63, 66, 69, 70)),  # starts on the first number inside, ends on the player's own target
        (60, 60, (60,)),
        (61, 62, (61, 62)),  # no number between: the two ends
        (61, 61, (61,)),
        (Fraction(121, 2), 66, (63, 66)),
        (28, 34, (28, 29, 30, Fraction(63, 2), 33, 34)),  # halves of 56 58 60 63 66, below the metronome
        (200, 220, (200, 208, 216, 220)),  # twice 108
    ],
)
def test_odd_ends(slow: Fraction, target: Fraction, climb: tuple[Fraction, ...]) -> None:
    assert tempos(ladder(slow, target, fine_from=NOT_FINE)) == climb


def test_steps_in_beats_a_minute() -> None:
    assert [*tempos(ladder(61, 80, step_bpm=Fraction(5), fine_from=NOT_FINE))] == [61, 66, 71, 76, 80]
    # 90 per cent of 80 is 72: only 76-80 begins above it
    assert [*tempos(ladder(61, 80, step_bpm=Fraction(5)))] == [61, 66, 71, 76, 78, 80]


def test_large_steps_in_per_cent_go_to_the_metronome_s_numbers() -> None:
    # 8 per cent from 60: 60, 64.8, 69.98, 75.58, 81.63, 88.16, 95.21; nearest numbers 60 66 69 76 80 88 96
    found = tempos(ladder(60, 100, step_per_cent=Fraction(8), fine_from=NOT_FINE))
    assert [*found] == [60, 66, 69, 76, 80, 88, 96, 100]


@pytest.mark.parametrize("per_cent", [4, 5])
def test_the_usual_steps_stay_on_the_metronome_and_never_leave_out_two_numbers(per_cent: int) -> None:
    found = tempos(ladder(60, 144, step_per_cent=Fraction(per_cent), fine_from=NOT_FINE))
    assert set(found) <= set(SERIES)
    assert all(SERIES.index(int(high)) - SERIES.index(int(low)) <= 2 for low, high in pairwise(found))


def test_small_steps_in_per_cent_go_to_whole_beats() -> None:
    # 2 per cent from 90: 90, 91.8, 93.64, 95.51, 97.42, 99.37
    found = tempos(ladder(90, 100, step_per_cent=Fraction(2), fine_from=NOT_FINE))
    assert [*found] == [90, 92, 94, 96, 97, 99, 100]


TEMPOS = st.fractions(min_value=20, max_value=400, max_denominator=4)


@given(TEMPOS, TEMPOS)
def test_rungs_rise_in_small_steps_inside_the_ends_and_reach_the_target(one: Fraction, other: Fraction) -> None:
    slow, target = sorted((one, other))
    climb = tempos(ladder(slow, target))
    assert all(slow <= tempo <= target for tempo in climb)
    assert climb[-1] == target
    assert all(1 < Fraction(high, low) <= LARGEST_STEP for low, high in pairwise(climb))
    assert Fraction(climb[0], slow) <= LARGEST_STEP


@given(
    TEMPOS,
    TEMPOS,
    st.one_of(
        st.fixed_dictionaries({"step_bpm": st.fractions(1, 40, max_denominator=4)}),
        st.fixed_dictionaries({"step_per_cent": st.fractions(1, 25, max_denominator=4)}),
    ),
)
def test_whatever_the_step_it_rises_inside_the_ends(one: Fraction, other: Fraction, step: dict[str, Fraction]) -> None:
    slow, target = sorted((one, other))
    climb = tempos(ladder(slow, target, **step))
    assert climb[-1] == target
    assert all(slow <= low < high for low, high in pairwise(climb))


def test_impossible_ladders_are_refused() -> None:
    with pytest.raises(ValueError, match="slower than its start"):
        tempos(ladder(100, 60))
    for step in ({"step_bpm": Fraction(-1)}, {"step_per_cent": Fraction(0)}):
        with pytest.raises(ValueError, match="larger than 0"):
            tempos(ladder(60, 100, **step))
