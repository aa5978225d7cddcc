"""Stay away and come back.

Referee the rungs worked by hand. 90 per cent the next day, 80 after three days, 70 after ten: common practice, no
        source.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from droner.practice.ladder.fold import climbed
from tests.practice.ladder.history import Told, day, history, ladder, play, stands

ORDER = ladder(60, 126)
UP_TO_96: tuple[Told, ...] = tuple((0, bpm, 3, 3) for bpm in (60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96))
"""Eleven rungs on one Monday: stands at 100, secure 96."""
ALWAYS_CLEAN = {60: 3}


@pytest.mark.parametrize(
    ("days", "tempo", "opening"),
    [
        (0, 100, None),
        (1, 100, Fraction(864, 10)),  # 90 per cent of the secure 96
        (2, 100, Fraction(864, 10)),  # 80 per cent only after three days
        (3, 76, None),  # 80 per cent of 96 is 76.8: 76
        (9, 76, None),
        (10, 66, None),  # 70 per cent of 96 is 67.2: 66
        (4000, 66, None),
        (-1, 100, None),  # a day before the last one: no day away
    ],
)
def test_where_it_starts_again(days: int, tempo: int, opening: Fraction | None) -> None:
    found = stands(ORDER, history(*UP_TO_96), day(days))
    assert found.rung.bpm == tempo
    assert found.opening_bpm == opening


def test_nothing_opens_slower_at_the_first_rung() -> None:
    assert stands(ORDER, (), day(1)).opening_bpm is None
    assert stands(ORDER, history((0, 60, 1, 3)), day(1)).opening_bpm is None


def test_no_share_is_slower_than_the_first_rung() -> None:
    told = history((0, 60, 3, 3), (0, 63, 3, 3))  # stands at 66; 80 per cent of 63 is 50.4
    assert stands(ORDER, told, day(3)).rung.bpm == 60


def test_one_clean_run_is_enough_on_ground_once_held() -> None:
    back = [(10, bpm, 1, 1) for bpm in (66, 69, 72, 76)]
    assert stands(ORDER, history(*UP_TO_96, *back), day(10)).rung.bpm == 80
    everything = [(10, bpm, 1, 1) for bpm in (66, 69, 72, 76, 80, 84, 88, 92, 96)]
    assert stands(ORDER, history(*UP_TO_96, *everything), day(10)).rung.bpm == 100
    assert stands(ORDER, history(*UP_TO_96, *everything, (10, 100, 1, 1)), day(10)).rung.bpm == 100  # new ground


def test_on_the_way_back_a_slow_rung_opens_no_slower() -> None:
    # at 84 on the next day: 90 per cent of the secure 96 is 86.4, and 84 is slower than that
    back = [(3, bpm, 1, 1) for bpm in (76, 80)]
    found = stands(ORDER, history(*UP_TO_96, *back), day(4))
    assert found.rung.bpm == 84
    assert found.opening_bpm is None


def test_an_absence_that_was_come_back_from_clean_opens_the_day_instead() -> None:
    # three days away: down to 76, clean, up to 80; then on to 100 on the same day, and three days away again
    back = [(3, bpm, 1, 1) for bpm in (76, 80, 84, 88, 92, 96)]
    again = stands(ORDER, history(*UP_TO_96, *back), day(6))
    assert again.rung.bpm == 100
    assert again.opening_bpm == Fraction(768, 10)  # 80 per cent of the secure 96
    longer = stands(ORDER, history(*UP_TO_96, *back), day(7))
    assert longer.rung.bpm == 76


def test_a_fall_on_the_way_back_is_no_clean_return() -> None:
    # 76, missed twice: 69, two rungs down. Clean there: 72. Three days away again: 80 per cent of 69 is 55.2
    back: list[Told] = [(3, 76, 0, 2), (3, 69, 3, 3)]
    assert stands(ORDER, history(*UP_TO_96, *back), day(3)).rung.bpm == 72
    assert stands(ORDER, history(*UP_TO_96, *back), day(6)).rung.bpm == 60


def test_who_plays_twice_a_week_gets_on() -> None:
    # Mondays and Thursdays, all clean. Clean on day 0 at 60: stands at 63. Day 3: 80 per cent of 60 is below the
    # ladder: 60, clean, so three days are come back from; 63. Day 7, four days: 60, clean; 63. From day 10 on no gap is
    # longer than four days, and each day leads up by one: 63 on day 10, 66 on day 14, 69 on day 17, 72 on day 21.
    days = [week * 7 + ahead for week in range(4) for ahead in (0, 3)]
    assert [int(run.bpm) for run in play(ORDER, days, ALWAYS_CLEAN)] == [60, 60, 60, 63, 66, 69, 72, 76]


def test_steps_with_names_go_back_by_one_and_by_two() -> None:
    order = ladder(60, 120, climb="growing bursts")
    told = [*history((0, 120, 3, 3), step="1 breath"), *history((0, 120, 3, 3), step="2 breaths")]
    told += [*history((0, 120, 3, 3), step="3 breaths"), *history((0, 120, 3, 3), step="4 breaths")]
    steps = [stands(order, told, day(days)).rung.step for days in (0, 1, 3, 10)]
    assert steps == ["5 breaths", "5 breaths", "4 breaths", "3 breaths"]
    assert stands(order, told, day(1)).opening_bpm is None  # always at the target


def test_a_longer_absence_never_starts_faster_than_a_shorter_one() -> None:
    strange = replace(ORDER, restart=((3, Fraction(60)), (10, Fraction(95))))
    # 60 per cent of 96 is 57.6, slower than the first rung
    assert stands(strange, history(*UP_TO_96), day(10)).rung.bpm == 60


def test_a_share_that_is_a_rung_exactly() -> None:
    exact = replace(ORDER, restart=((1, Fraction(100)), (3, Fraction(75))))  # 75 per cent of 96 is 72
    assert stands(exact, history(*UP_TO_96), day(3)).rung.bpm == 72
    assert stands(exact, history(*UP_TO_96), day(1)).opening_bpm is None  # all of it is no slower


def test_a_climb_that_goes_back_counts_from_the_fastest_tempo_passed() -> None:
    # 60 70 80 | 70 80 90 | 80 90 100: clean up to the second 70, so at the second 80. 90 per cent of 80 is 72: the
    # second 70. Of the 70 before it, it would be 63: the 60.
    order = ladder(
        60, 100, climb="two up, one down", step_bpm=Fraction(10), fine_from=Fraction(100), restart=((3, Fraction(90)),)
    )
    told = history((0, 60, 3, 3), (0, 70, 3, 3), (0, 80, 3, 3), (0, 70, 3, 3))
    assert [stands(order, told, day(days)).place for days in (0, 3)] == [4, 3]


def test_without_restart_nothing_changes() -> None:
    still = replace(ORDER, restart=())
    found = stands(still, history(*UP_TO_96), day(400))
    assert found.rung.bpm == 100
    assert found.opening_bpm is None


def test_summer_time_and_leap_days_are_only_dates() -> None:
    # the clocks of Europe changed on 30 March 2025; 2024 had a 29 February
    for first, later, tempo in (
        (date(2025, 3, 29), date(2025, 3, 31), 100),
        (date(2025, 3, 29), date(2025, 4, 1), 76),
        (date(2024, 2, 27), date(2024, 2, 29), 100),
        (date(2024, 2, 27), date(2024, 3, 1), 76),  # three days, over the 29th
    ):
        runs = [replace(run, day=first) for run in history(*UP_TO_96)]
        assert stands(ORDER, runs, later).rung.bpm == tempo
    assert climbed(ORDER, []).state.day is None
