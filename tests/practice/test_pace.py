"""The pace is what was played, and the end is where that pace leads.

Referee  a calendar walked day by day, each day adding its share; two halves, of which one is at least the mean.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.pace import COMPLETE, NO_TURN, NOTHING_YET, TOO_SLOW, End, Pace, end_of, pace_of

TODAY = date(2026, 3, 2)
WEEKS_4 = st.lists(st.integers(0, 9), min_size=28, max_size=28)


def days(counts: list[int]) -> list[date]:
    """So many turns on each of the days up to today."""
    return [TODAY - timedelta(back) for back, count in enumerate(reversed(counts)) for _ in range(count)]


def pace(counts: list[int]) -> Pace:
    """The pace of days that were all practised."""
    every = {TODAY - timedelta(back) for back in range(len(counts))}
    found = pace_of(days(counts), every, TODAY)
    assert found is not None
    return found


def walked(last: date, left: int, per_day: Fraction) -> date:
    """The day on which the last turn is played, when each day brings its share."""
    done, day = Fraction(0), last
    while done < left:
        done, day = done + per_day, day + timedelta(1)
    return day


@given(WEEKS_4, st.integers(1, 400))
def test_the_end_is_where_the_pace_leads(counts: list[int], left: int) -> None:
    found, end = pace(counts), end_of(pace(counts), left)
    fortnights = [sum(counts[first : first + 14]) for first in range(15)]
    assert (found.turns, found.weakest, found.best) == (sum(counts), min(fortnights), max(fortnights))
    for told, turns, span in (
        (end.expected, sum(counts), 28),
        (end.earliest, max(fortnights), 14),
        (end.latest, min(fortnights), 14),
    ):
        assert told == (walked(TODAY, left, Fraction(turns, span)) if turns else None)


@given(WEEKS_4, st.integers(1, 10_000))
def test_the_expected_end_lies_within_the_range(counts: list[int], left: int) -> None:
    end = end_of(pace(counts), left)
    if end.expected and end.earliest:
        assert end.earliest <= end.expected
        assert end.latest is None or end.expected <= end.latest


def test_a_turn_a_day_takes_as_many_days_as_turns() -> None:
    # 100 days after 2 March 2026: 29 left in March, 30, 31 and then the 10th of June
    ends = date(2026, 6, 10)
    assert end_of(pace([1] * 28), 100) == End(ends, ends, ends)


def test_days_without_practice_count_as_days_but_not_as_practice_days() -> None:
    practised = {TODAY - timedelta(back) for back in range(0, 28, 2)}
    turns = [day for day in practised for _ in range(6)]
    found = pace_of(turns, practised | {TODAY - timedelta(40)}, TODAY)
    assert found is not None
    assert (found.days, found.practised, found.turns) == (28, 14, 84)
    assert (found.per_day, found.per_practice_day) == (Fraction(3), Fraction(6))


def test_today_counts_once_anything_is_written_down() -> None:
    yesterday = TODAY - timedelta(1)
    before = pace_of([yesterday], {yesterday}, TODAY)
    after = pace_of([yesterday, TODAY], {yesterday, TODAY}, TODAY)
    assert before is not None
    assert after is not None
    assert (before.last, before.days) == (yesterday, 1)
    assert (after.last, after.days) == (TODAY, 2)


def test_what_came_later_or_long_before_does_not_count() -> None:
    long_ago, tomorrow = TODAY - timedelta(28), TODAY + timedelta(1)
    found = pace_of([long_ago, TODAY, tomorrow], {long_ago, TODAY, tomorrow}, TODAY)
    assert found is not None
    assert (found.days, found.practised, found.turns) == (28, 1, 1)


@pytest.mark.parametrize(
    ("found", "left", "why"),
    [
        (None, 5, NOTHING_YET),
        (pace([3] * 27), 5, "the logbook goes back 27 of the 28 days that are needed"),
        (pace([0] * 28), 5, NO_TURN),
        (pace([0] * 27 + [1]), 10**9, TOO_SLOW),
        (pace([3] * 28), 0, COMPLETE),
    ],
)
def test_where_an_end_cannot_be_told_the_reason_is(found: Pace | None, left: int, why: str) -> None:
    assert end_of(found, left) == End(why=why)


def test_a_weak_fortnight_of_nothing_has_no_end() -> None:
    end = end_of(pace([0] * 14 + [2] * 14), 10)
    assert (end.expected, end.earliest, end.latest) == (TODAY + timedelta(10), TODAY + timedelta(5), None)


def test_nothing_played_is_no_pace() -> None:
    assert pace_of([], set(), TODAY) is None
