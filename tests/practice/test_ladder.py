"""Climb a ladder by hand and compare.

Referee the series of metronome numbers as published (reference: the horn mailing list's quotation; steps of 2 from 40,
        3 from 60, 4 from 72, 6 from 120, 8 from 144 to 208), written out here; the climbing rules worked by hand.
        Three in a row and 70 per cent: common practice, no source.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.ladder import Run, rung, rungs
from droner.practice.session import LadderOrder

SERIES = (*range(40, 60, 2), *range(60, 72, 3), *range(72, 120, 4), *range(120, 144, 6), *range(144, 209, 8))
LARGEST_STEP = Fraction(76, 72)
"""The largest ratio of neighbours in the published series, 5.56 per cent."""
DAY = date(2025, 1, 6)
NEXT = DAY + timedelta(1)


def ladder(slow: int | Fraction, target: int | Fraction) -> LadderOrder:
    return LadderOrder(Fraction(slow), Fraction(target))


def runs(*told: tuple[date, int, int, int]) -> tuple[Run, ...]:
    return tuple(Run(day, Fraction(bpm), clean, total) for day, bpm, clean, total in told)


def test_the_rungs_are_the_metronome_s_numbers() -> None:
    assert len(SERIES) == 39
    assert [*rungs(ladder(60, 80))] == [60, 63, 66, 69, 72, 76, 80]
    assert [*rungs(ladder(40, 208))] == [*SERIES]


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
    assert rungs(ladder(slow, target)) == climb


TEMPOS = st.fractions(min_value=20, max_value=400, max_denominator=4)


@given(TEMPOS, TEMPOS)
def test_rungs_rise_in_small_steps_inside_the_ends_and_reach_the_target(one: Fraction, other: Fraction) -> None:
    slow, target = sorted((one, other))
    climb = rungs(ladder(slow, target))
    assert all(slow <= tempo <= target for tempo in climb)
    assert climb[-1] == target
    assert all(1 < Fraction(high, low) <= LARGEST_STEP for low, high in pairwise(climb))
    assert Fraction(climb[0], slow) <= LARGEST_STEP


def test_nothing_played_yet_stands_at_the_start() -> None:
    assert rung(ladder(60, 126)) == 60
    assert rung(ladder(61, 126)) == 63


@pytest.mark.parametrize(
    ("history", "stands"),
    [
        (runs((DAY, 60, 2, 2)), 60),  # two in a row
        (runs((DAY, 60, 3, 3)), 63),  # three in a row, all clean
        (runs((DAY, 60, 1, 1), (DAY, 60, 1, 1), (DAY, 60, 1, 1)), 63),
        (runs((DAY, 60, 1, 1), (DAY, 60, 1, 1), (NEXT, 60, 1, 1)), 60),  # a row is of one day
        (runs((DAY, 60, 0, 1), (DAY, 60, 3, 3)), 63),  # 3 of 4 = 75 %
        (runs((DAY, 60, 0, 2), (DAY, 60, 3, 3)), 60),  # 3 of 5 = 60 %
        (runs((DAY, 60, 0, 2), (DAY, 60, 4, 4)), 60),  # 4 of 6 = 67 %
        (runs((DAY, 60, 0, 3), (DAY, 60, 7, 7)), 63),  # 7 of 10 = 70 %, just enough
        (runs((DAY, 60, 0, 2), (NEXT, 60, 3, 3)), 63),  # yesterday's misses are yesterday's
        (runs((DAY, 60, 4, 5)), 60),  # one missed, and nobody knows which
        (runs((DAY, 60, 2, 2), (DAY, 60, 4, 5), (DAY, 60, 2, 2)), 60),  # the miss breaks the row
        (runs((DAY, 60, 3, 3), (DAY, 63, 3, 3)), 66),  # two rungs on one day
        (runs((DAY, 60, 3, 3), (DAY, 60, 3, 3)), 63),  # too slow for the rung: does not count
        (runs((DAY, 72, 9, 9)), 60),  # too fast for the rung: does not count
        (runs((DAY, 60, 3, 3), (NEXT, 63, 0, 9)), 63),  # a bad day brings nothing down
    ],
)
def test_climbing_worked_by_hand(history: tuple[Run, ...], stands: int) -> None:
    assert rung(ladder(60, 126), history) == stands


def test_the_target_is_the_top() -> None:
    history = runs((DAY, 60, 3, 3), (DAY, 61, 3, 3), (NEXT, 61, 3, 3))
    assert rung(ladder(60, 61), history) == 61


def test_the_same_history_gives_the_same_rung_and_a_longer_one_never_a_lower() -> None:
    history = runs((DAY, 60, 3, 3), (DAY, 63, 1, 2), (NEXT, 63, 3, 3), (NEXT, 66, 0, 4), (NEXT, 66, 3, 3))
    stood = [rung(ladder(60, 126), history[:count]) for count in range(len(history) + 1)]
    assert stood == [60, 63, 63, 66, 66, 66]
    assert stood == [rung(ladder(60, 126), iter(history[:count])) for count in range(len(history) + 1)]


def test_impossible_orders_are_refused() -> None:
    with pytest.raises(ValueError, match="slower than its start"):
        rungs(ladder(100, 60))
    for clean, total in ((4, 3), (-1, 3), (0, 0)):
        with pytest.raises(ValueError, match="cannot be"):
            Run(DAY, Fraction(60), clean, total)
