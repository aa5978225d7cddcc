"""What holds, once corrections have taken the place of what they correct.

Referee  small logbooks worked by hand; laws that hold whatever was written (any order of the same entries is the same
         logbook; what holds, holds still when looked at again; what is corrected is gone).
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.logbook.effective import effective
from droner.practice.logbook.entry import Entry
from tests.practice.logbook.written import MORNING, entry

MANY = 20_000


def corrected(number: int, of: int, **changes: object) -> Entry:
    """A correction written later than all plain entries, on the day of the one it corrects."""
    first = entry(of)
    return entry(number, **{"day": first.day, "corrects": first.name, **changes})


def numbers(entries: tuple[Entry, ...]) -> list[int]:
    return [int(each.name, 16) for each in entries]


@pytest.mark.parametrize(
    ("written", "holds"),
    [
        ([], []),
        ([entry(2), entry(1)], [1, 2]),
        ([entry(10), entry(9)], [9, 10]),  # the day before
        ([entry(1), entry(2), entry(3), corrected(50, 2)], [1, 50, 3]),  # it stands where the corrected one stood
        (
            [entry(1), entry(2), corrected(50, 1, day=entry(10).day)],
            [2, 50],
        ),  # the other day was meant: at its own time
        ([entry(1), corrected(50, 1), corrected(60, 50)], [60]),  # a correction corrected
        ([entry(1), corrected(50, 1), corrected(60, 1)], [60]),  # two of one: the last
        ([entry(1), corrected(50, 1), corrected(60, 1), corrected(70, 50)], [60]),  # what was overruled stays so
        ([entry(1), corrected(50, 1, total=0, clean=0)], []),  # taken back
        ([entry(1), corrected(50, 1, total=0, clean=0), corrected(60, 50)], [60]),  # and yet it was played
        ([corrected(50, 1)], [50]),  # the other logbook has the first one
        ([corrected(50, 1, total=0, clean=0), entry(2)], [2]),
        ([entry(1, day=MORNING.date()), entry(2, written=entry(1).written)], [1, 2]),  # one moment: by name
        ([entry(1), entry(1)], [1]),  # the same entry, read twice
    ],
)
def test_by_hand(written: list[Entry], holds: list[int]) -> None:
    assert numbers(effective(written)) == holds


def test_two_corrections_of_one_moment_are_told_apart_by_name() -> None:
    late = entry(60).written
    assert numbers(effective([entry(1), corrected(51, 1, written=late), corrected(50, 1, written=late)])) == [51]


def test_a_place_is_kept_within_a_day_and_lost_by_a_change_of_day() -> None:
    other_day = entry(10).day
    moved = corrected(50, 1, day=other_day)
    between = entry(60, day=other_day)
    assert numbers(effective([entry(1), entry(11), moved, between])) == [11, 50, 60]
    again = corrected(70, 50, day=other_day)  # it stands where 50 stood, not where 1 did
    assert numbers(effective([entry(1), entry(11), moved, between, again])) == [11, 70, 60]
    back = corrected(80, 70, day=entry(1).day)
    assert numbers(effective([entry(1), entry(2), moved, again, back])) == [2, 80]


@pytest.mark.parametrize("around", [1, 2, 3, 1000])
def test_a_circle_is_broken_at_the_one_written_first(around: int) -> None:
    day = entry(0).day
    circle = [entry(number, day=day, corrects=entry((number + 1) % around).name) for number in range(around)]
    # the first stands for nothing; the last of the circle corrects it, the one before corrects that one, and so on
    assert numbers(effective(circle)) == [1 % around]


@st.composite
def logbooks(draw: st.DrawFn) -> list[Entry]:
    """Entries of a few days, many of them corrections of one another, taken back, or of strangers."""
    count = draw(st.integers(0, 12))
    written = []
    for number in range(count):
        corrects = draw(st.just("") | st.integers(0, count + 1).map(lambda other: entry(other).name))
        total = draw(st.integers(0 if corrects else 1, 4))
        day = MORNING.date() + timedelta(days=draw(st.integers(0, 2)))
        moment = MORNING + timedelta(minutes=draw(st.integers(0, 5)))
        written.append(entry(number, day=day, written=moment, corrects=corrects, total=total, clean=0))
    return written


def without_circles(written: list[Entry]) -> list[Entry]:
    """The same, each correcting only an earlier one."""
    return [each if each.corrects < each.name else replace(each, corrects="", total=1) for each in written]


@given(logbooks(), st.randoms(use_true_random=False))
def test_the_order_of_reading_does_not_matter(written: list[Entry], chance: random.Random) -> None:
    shuffled = list(written)
    chance.shuffle(shuffled)
    assert effective(shuffled) == effective(written)


@given(logbooks().map(without_circles))
def test_what_is_corrected_is_gone_and_what_is_not_stays(written: list[Entry]) -> None:
    names = {each.corrects for each in written}
    holding = effective(written)
    assert not names & {each.name for each in holding}
    assert {each for each in written if each.name not in names and not each.corrects} <= set(holding)
    assert all(not each.takes_back for each in holding)


@given(logbooks())
def test_what_holds_holds_still(written: list[Entry]) -> None:
    once = effective(written)
    assert set(effective(once)) == set(once)
    assert set(once) <= set(written)


@given(logbooks())
def test_the_days_are_in_order(written: list[Entry]) -> None:
    days = [each.day for each in effective(written)]
    assert days == sorted(days)


@pytest.mark.parametrize(
    "corrects",
    [
        pytest.param(lambda _: -1, id="no corrections"),
        pytest.param(lambda number: number - 1 if number % 3 == 2 else -1, id="a third of them"),
        pytest.param(lambda number: number - 1, id="one chain"),
        pytest.param(lambda number: (number + 1) % MANY, id="one circle"),
        pytest.param(lambda number: 0 if number else -1, id="all of one"),
    ],
)
def test_many_take_no_time(corrects: Callable[[int], int]) -> None:
    of = {number: corrects(number) for number in range(MANY)}
    written = [entry(number, corrects=f"{of[number]:032x}" if of[number] >= 0 else "") for number in of]
    random.Random(1).shuffle(written)
    holding = effective(written)  # would not end in a day if it were quadratic
    assert 0 < len(holding) <= MANY
