"""Climb a ladder by hand and compare.

Referee the climbing rules worked by hand. Three in a row, 70 per cent, two misses: common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from droner.practice.ladder.fold import climbed
from droner.practice.ladder.state import Run, Why
from tests.practice.ladder.history import MONDAY, Told, day, history, ladder, stands, tempo_after

ORDER = ladder(60, 126)
"""60 63 66 69 72 76 80 84 88 92 96 100 104 108 112 116 118 120 123 126"""


def test_nothing_played_yet_stands_at_the_start() -> None:
    assert stands(ORDER, (), MONDAY).rung.bpm == 60
    assert stands(ladder(61, 126), (), MONDAY).rung.bpm == 63


@pytest.mark.parametrize(
    ("told", "tempo"),
    [
        ([(0, 60, 2, 2)], 60),  # two in a row
        ([(0, 60, 3, 3)], 63),  # three in a row, all clean
        ([(0, 60, 9, 9)], 63),  # one rung at a time
        ([(0, 60, 1, 1), (0, 60, 1, 1), (0, 60, 1, 1)], 63),
        ([(0, 60, 1, 1), (0, 60, 1, 1), (1, 60, 1, 1)], 63),  # a row may run over days
        ([(0, 60, 0, 1), (0, 60, 3, 3)], 63),  # 3 of 4 = 75 %
        ([(0, 60, 0, 2), (0, 60, 3, 3)], 60),  # 3 of 5 = 60 %
        ([(0, 60, 0, 2), (0, 60, 4, 4)], 60),  # 4 of 6 = 67 %
        ([(0, 60, 0, 3), (0, 60, 7, 7)], 63),  # 7 of 10 = 70 %, just enough
        ([(0, 60, 0, 2), (1, 60, 3, 3)], 63),  # yesterday's misses are yesterday's
        ([(0, 60, 4, 5)], 60),  # one missed: two in a row at least, in whatever order
        ([(0, 60, 5, 6)], 63),  # one missed: three in a row at least
        ([(0, 60, 8, 10)], 63),  # two missed, eight clean in three rows: one has three
        ([(0, 60, 2, 2), (0, 60, 4, 5)], 63),  # six clean in two rows: one has three
        ([(0, 60, 2, 2), (0, 60, 0, 1), (0, 60, 2, 2)], 60),  # the miss ends the row
        ([(0, 60, 0, 3), (0, 60, 3, 3), (0, 60, 1, 2), (1, 60, 1, 1)], 60),  # the miss ends the row: two at most
        ([(0, 60, 0, 9), (0, 60, 5, 6), (1, 60, 1, 1)], 60),  # a row there was, but the miss may stand after it
        ([(0, 60, 3, 3), (0, 63, 3, 3)], 66),  # two rungs on one day
        ([(0, 60, 3, 3), (0, 60, 3, 3)], 63),  # clean, but slower than the rung: does not lead up
        ([(0, 72, 3, 3)], 63),  # faster than the rung and clean: clean here too
        ([(0, 72, 3, 3), (0, 72, 3, 3)], 66),
        ([(0, 72, 0, 3), (0, 60, 3, 3)], 63),  # faster and missed: counts for nothing
        ([(0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 0, 2)], 60),  # missed twice: down two
        ([(0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 0, 1), (3, 66, 0, 1)], 60),  # also over a night
        ([(0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 0, 1), (2, 66, 1, 1), (2, 66, 0, 1)], 66),  # not in a row
        ([(0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 1, 3)], 66),  # two missed, perhaps with a clean one between
        ([(0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 1, 4)], 60),  # three missed, one clean: two in a row at least
        ([(0, 60, 3, 3), (1, 63, 3, 3), (2, 60, 0, 2)], 60),  # who misses slower misses here
        ([(0, 60, 3, 3), (1, 63, 3, 3), (2, 60, 0, 1), (2, 60, 1, 1), (2, 60, 0, 1)], 66),  # nor is this in a row
        ([(0, 60, 3, 3), (1, 63, 0, 9)], 60),  # no lower than the bottom
    ],
)
def test_climbing_worked_by_hand(told: list[Told], tempo: int) -> None:
    assert tempo_after(ORDER, *told) == tempo


TO_84: list[Told] = [(since, bpm, 3, 3) for since, bpm in enumerate((60, 63, 66, 69, 72, 76, 80))]


@pytest.mark.parametrize(
    ("runs", "tempo"),
    [
        ([(3, 3), (3, 3), (3, 3), (0, 2)], 88),  # 9 of 11 clean, three in a row: up, though the last were missed
        ([(0, 2), (3, 3), (3, 3), (3, 3)], 88),  # the same day in another order
        ([(3, 3), (0, 2), (3, 3), (3, 3)], 88),
        ([(0, 2), (2, 4), (1, 2), (1, 2)], 76),  # 4 of 10: two misses in a row lead down, and nothing leads up again
        ([(1, 3), (0, 2), (2, 4), (0, 1), (2, 2)], 76),  # 5 of 12
        ([(2, 2), (0, 2)], 76),  # half of them
        ([(7, 7), (0, 3)], 88),  # 70 per cent, just enough
        ([(6, 6), (0, 3)], 76),  # 67 per cent
        ([(2, 2), (0, 1), (2, 2), (0, 1), (2, 2)], 84),  # 6 of 8, but no three and no two in a row
    ],
)
def test_a_day_at_one_tempo_is_judged_as_a_whole(runs: list[tuple[int, int]], tempo: int) -> None:
    day_runs: list[Told] = [(7, 84, clean, total) for clean, total in runs]
    assert tempo_after(ORDER, *TO_84, *day_runs) == tempo
    moves = climbed(ORDER, history(*TO_84, *day_runs)).moves[len(TO_84) :]
    assert len(moves) == (tempo != 84)


def test_a_day_goes_on_at_the_rung_that_it_has_led_to_once_that_is_played() -> None:
    assert tempo_after(ORDER, *TO_84, (7, 84, 3, 3), (7, 88, 3, 3)) == 92
    assert tempo_after(ORDER, *TO_84, (7, 84, 3, 3), (7, 88, 0, 2)) == 80  # two down from 88, which was played
    assert (
        tempo_after(ORDER, *TO_84, (7, 84, 3, 3), (7, 88, 1, 1), (7, 84, 0, 2)) == 80
    )  # who misses slower misses here
    assert tempo_after(ORDER, *TO_84, (7, 84, 0, 2), (7, 76, 3, 3)) == 80  # fell to 76, played there, and up
    assert tempo_after(ORDER, *TO_84, (7, 84, 0, 2), (7, 76, 3, 3), (7, 84, 3, 3)) == 84  # on from 80: clean faster


def test_the_order_of_entries_on_a_day_counts_and_that_of_days_does_not() -> None:
    up_then_down = history((0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 0, 2))
    assert climbed(ORDER, up_then_down) == climbed(ORDER, up_then_down[::-1])
    assert climbed(ORDER, history((0, 60, 3, 3), (0, 63, 1, 1))) != climbed(
        ORDER, history((0, 63, 1, 1), (0, 60, 3, 3))
    )


def test_the_target_is_the_top_and_is_reached_when_it_is_clean() -> None:
    order = ladder(60, 61)
    assert not stands(order, history((0, 60, 3, 3)), day(0)).reached
    climb = climbed(order, history((0, 60, 3, 3), (1, 61, 3, 3), (2, 61, 3, 3)))
    assert [(move.why, move.day) for move in climb.moves] == [(Why.UP, day(0)), (Why.REACHED, day(1))]
    assert stands(order, history((0, 60, 3, 3), (1, 61, 3, 3), (2, 61, 3, 3)), day(2)).reached


def test_two_misses_at_the_target_lead_down_from_it() -> None:
    told = history((0, 60, 3, 3), (1, 61, 3, 3), (2, 61, 0, 2))
    found = stands(ladder(60, 61), told, day(2))
    assert found.rung.bpm == 60
    assert not found.reached


def test_after_a_fall_the_ground_has_to_be_climbed_again() -> None:
    fallen: list[Told] = [(0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 3, 3), (3, 69, 0, 2)]
    assert tempo_after(ORDER, *fallen) == 63
    assert tempo_after(ORDER, *fallen, (4, 63, 2, 2)) == 63
    assert tempo_after(ORDER, *fallen, (4, 63, 3, 3)) == 66


def test_a_fall_in_a_climb_that_goes_back_leads_to_a_slower_tempo() -> None:
    # terraces in tens: 60 70 80 90 100 | 80 90 100 110. Clean up to 100, then missed at the second 80: two slower is 60
    order = ladder(60, 110, climb="terraces", step_bpm=Fraction(10), fine_from=Fraction(100))
    up: list[Told] = [(0, 60, 3, 3), (0, 70, 3, 3), (0, 80, 3, 3), (0, 90, 3, 3), (0, 100, 3, 3)]
    assert tempo_after(order, *up) == 80
    assert tempo_after(order, *up, (0, 80, 0, 2)) == 60


def test_a_ladder_without_falls() -> None:
    order = ladder(60, 126, down_by=0)
    assert tempo_after(order, (0, 60, 3, 3), (1, 63, 0, 9)) == 63


def test_the_player_s_own_numbers_decide() -> None:
    assert tempo_after(ladder(60, 126, up_after=1), (0, 60, 1, 1)) == 63
    assert tempo_after(ladder(60, 126, up_after=5), (0, 60, 4, 4)) == 60
    assert tempo_after(ladder(60, 126, clean_share=Fraction(90)), (0, 60, 8, 10)) == 60
    assert tempo_after(ladder(60, 126, down_after=3), (0, 60, 3, 3), (1, 63, 0, 2)) == 63
    assert tempo_after(ladder(60, 126, down_after=3), (0, 60, 3, 3), (1, 63, 0, 3)) == 60


def test_steps_with_names() -> None:
    order = ladder(60, 120, climb="growing bursts")
    one, two = history((0, 120, 3, 3), step="1 breath"), history((0, 120, 3, 3), step="2 breaths")
    assert stands(order, one, day(0)).rung.step == "2 breaths"
    assert stands(order, (*one, *two), day(0)).rung.step == "3 breaths"
    assert stands(order, two, day(0)).rung.step == "2 breaths"  # who can play two breaths can play one
    assert stands(order, history((0, 100, 3, 3), step="1 breath"), day(0)).rung.step == "1 breath"  # below the target
    assert stands(order, history((0, 120, 3, 3), step="one a beat"), day(0)).rung.step == "1 breath"  # another climb's
    assert stands(order, history((0, 120, 3, 3)), day(0)).rung.step == "1 breath"
    missed = history((1, 120, 0, 2), step="3 breaths")
    assert stands(order, (*one, *two, *missed), day(1)).rung.step == "1 breath"
    assert stands(ORDER, one, day(0)).rung.bpm == 60  # steps say nothing where tempos climb


def test_one_cold_run_is_reached_by_one_run() -> None:
    order = ladder(60, 120, climb="one cold run")
    assert not stands(order, history((0, 120, 0, 1)), day(0)).reached
    assert stands(order, history((0, 120, 0, 1), (1, 120, 1, 1)), day(1)).reached


def test_impossible_entries_are_refused() -> None:
    for clean, total in ((4, 3), (-1, 3), (0, 0)):
        with pytest.raises(ValueError, match="cannot be"):
            Run(MONDAY, Fraction(60), "", clean, total)
