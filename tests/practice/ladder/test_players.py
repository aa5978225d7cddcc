"""Let players whose playing is known practise for 200 days, and compare with what the rules predict on paper.

Referee the rules worked by hand, beside each test.
"""

from __future__ import annotations

from collections import Counter

from droner.practice.ladder.fold import climbed
from droner.practice.ladder.state import Why
from tests.practice.ladder.history import day, history, ladder, play, stands

ORDER = ladder(60, 126)
DAYS = 200
"""60 63 66 69 72 76 80 84 88 92 96 100 104 108 112 116, then in half steps 118 120 123 126: twenty rungs."""


def test_always_clean() -> None:
    # three of three a day leads up by one a day: on day 0 at rung 1, on day 19 at rung 20, where 126 is clean
    runs = play(ORDER, range(DAYS), {60: 3})
    climb = climbed(ORDER, runs)
    assert [int(run.bpm) for run in runs[:4]] == [60, 63, 66, 69]
    assert runs[18].bpm < 126
    assert {run.bpm for run in runs[19:]} == {126}
    assert climb.moves[-1].why is Why.REACHED
    assert climb.moves[-1].day == day(19)
    assert len(climb.moves) == 20


def test_never_clean() -> None:
    # at the bottom from the first day to the last: no move, and a plateau after three days
    runs = play(ORDER, range(DAYS), {60: 0})
    assert {run.bpm for run in runs} == {60}
    assert climbed(ORDER, runs).moves == ()
    assert [stands(ORDER, runs[:count], day(count)).plateau for count in (2, 3, DAYS)] == [False, True, True]


def test_eight_of_ten_clean() -> None:
    # two misses part eight clean runs into three rows, one of three at least; 80 per cent of the day: up each day
    runs = play(ORDER, range(DAYS), {60: 8}, runs=10)
    assert climbed(ORDER, runs).moves[-1].why is Why.REACHED
    assert climbed(ORDER, runs).moves[-1].day == day(19)
    assert {move.why for move in climbed(ORDER, runs).moves} == {Why.UP, Why.REACHED}


def test_four_of_five_clean() -> None:
    # one miss parts four clean runs into two rows, one of two at least; over two days two misses part eight into three
    # rows, one of three: up on every second day. On day 1 to rung 2, on day 37 to rung 20, clean there on day 39.
    runs = play(ORDER, range(DAYS), {60: 4}, runs=5)
    climb = climbed(ORDER, runs)
    assert [move.day for move in climb.moves] == [day(2 * rung - 1) for rung in range(1, 21)]
    assert climb.moves[-1].why is Why.REACHED


def test_two_of_three_clean_is_a_plateau() -> None:
    # 67 per cent is under 70: three such days; and no two misses in a row are proved, so it does not fall
    runs = play(ORDER, range(DAYS), {60: 3, 66: 2})
    assert {run.bpm for run in runs[2:]} == {66}
    assert [stands(ORDER, runs[:count], day(count)).plateau for count in (4, 5, DAYS)] == [False, True, True]


def test_a_plateau_at_104() -> None:
    # Twelve days up to 104, the thirteenth rung. On day 12 all three missed: two rungs down, to 96. Three clean at 96
    # on day 13, at 100 on day 14, missed at 104 on day 15: so it goes round in three days, for ever. The third failing
    # day is day 18: from then on it is a plateau. Days 12 to 199 are 188, 62 rounds and two days: 63 at 104 and at
    # 96, 62 at 100.
    runs = play(ORDER, range(DAYS), {60: 3, 104: 0})
    climb = climbed(ORDER, runs)
    assert Counter(int(run.bpm) for run in runs[12:]) == {104: 63, 96: 63, 100: 62}
    assert [move.day for move in climb.moves if move.why is Why.DOWN] == [day(since) for since in range(12, 200, 3)]
    found = [stands(ORDER, runs[:count], day(count)).plateau for count in (18, 19, 20, 21, DAYS)]
    assert found == [False, True, True, True, True]
    assert climb.state.stuck == 12


def test_up_and_down_each_day_is_a_plateau_too() -> None:
    # clean at 60 and up to 63, missed twice there and down to 60, on one day: it fails at 63, and three such days do
    told = [(since, *entry) for since in range(3) for entry in ((60, 3, 3), (63, 0, 2))]
    assert [stands(ORDER, history(*told[: 2 * days]), day(days)).plateau for days in (2, 3)] == [False, True]


def test_a_fall_is_made_good_on_its_day_by_enough_clean_runs_there() -> None:
    # twelve days up to 104; missed twice there: down. 3 of 5 clean are 60 %: down still. 6 of 8 are 75 %: up after all
    up = play(ORDER, range(12), {60: 3})
    told = [(12, 104, 0, 2), *((12, 104, 3, 3),) * 3]
    found = [climbed(ORDER, [*up, *history(*told[:count])]).state.failing for count in range(1, 5)]
    assert found == [1, 1, 0, 0]


def test_what_goes_wrong_after_a_move_up_makes_no_failing_day() -> None:
    # up to 63 on the first three runs, one more missed at 60 afterwards: no fall, and the day led up
    told = [entry for since in range(3) for entry in ((since, 60 + 3 * since, 3, 3), (since, 60, 0, 1))]
    assert climbed(ORDER, history(*told)).state.failing == 0


def test_a_plateau_is_over_once_its_tempo_is_passed() -> None:
    # day 30 brings 104 again, as days 12, 15, 18 did
    stuck = play(ORDER, range(30), {60: 3, 104: 0})
    assert stands(ORDER, stuck, day(30)).plateau
    passed = [*stuck, *history((30, 104, 3, 3))]
    assert stands(ORDER, passed, day(30)).rung.bpm == 108
    assert not stands(ORDER, passed, day(30)).plateau
