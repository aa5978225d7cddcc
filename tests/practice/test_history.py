"""Look at invented entries and compare with what a player would count by hand.

Referee the counts are worked by hand beside each test. 70 per cent, two weeks, 10 to 15 per cent a week: common
        practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from droner.practice.history import History
from droner.practice.load import LEAST_SECONDS, LOOKED_AT_DAYS, load_before
from tests.practice.days import MONDAY, session_of
from tests.practice.entries import entry

TUESDAY = MONDAY + timedelta(1)


def allowed_seconds(played: Mapping[date, Fraction], today: date, growth: Fraction) -> Fraction | None:
    load = load_before(played, today)
    return load.allowed(growth) if load else None


def a_turn(place: int) -> tuple[str, int]:
    """An invented rotation of two keys and three variants."""
    return ("C major", "A minor")[place % 2], place // 2 % 3 + 1


def test_a_turn_is_done_once_it_was_played_in_its_key_and_variant() -> None:
    played = (
        entry(MONDAY, 0, 1, key="C major", variant=1, place=0),  # however it went
        entry(MONDAY, 1, 1, key="A minor", variant=2, place=1),  # place 1 brings variant 1: another order of keys
        entry(MONDAY, 1, 1, key="D major", variant=2, place=2),  # no key of this rotation
        entry(MONDAY, 1, 1, key="A minor", variant=0, place=3),  # a drill that is always plain
        entry(MONDAY, 1, 1, key="C major", variant=3, place=None),  # did not follow the rotation
    )
    assert History(played).turns_done("Practice", a_turn) == {0, 3}
    assert History(played).turns_done("Another", a_turn) == frozenset()


def test_one_player_s_piccolo_does_not_move_the_flute() -> None:
    both = (entry(MONDAY, 1, 1), entry(MONDAY, 1, 1, instrument="piccolo"))
    assert History(both).of(session_of('drill = "turning scale"')).entries == both[:1]


def test_the_last_entry_decides_what_went_badly_and_the_worst_comes_first() -> None:
    played = (
        entry(MONDAY, 0, 4, key="Eb minor"),
        entry(MONDAY, 1, 4, key="F minor"),
        entry(MONDAY, 7, 10, key="G minor"),  # 70 per cent is enough
        entry(MONDAY, 0, 4, key="B minor"),
        entry(TUESDAY, 4, 4, key="B minor"),  # played again since
    )
    weak = History(played).weak(TUESDAY + timedelta(1))
    assert [one.key for one in weak] == ["Eb minor", "F minor"]
    assert History(played).weak(MONDAY) == ()  # nothing lies before the day itself
    assert len(History(played).weak(MONDAY + timedelta(14))) == 2
    assert History(played).weak(MONDAY + timedelta(15)) == ()  # after two weeks the rotation brings it


def test_days_hold_what_was_played_on_them() -> None:
    played = (entry(MONDAY, 1, 1, seconds=90), entry(MONDAY, 1, 1, seconds=30, number=1), entry(TUESDAY, 1, 1))
    assert History(played).seconds_by_day() == {MONDAY: 120, TUESDAY: 0}


def test_a_week_grows_by_the_share_and_no_more() -> None:
    """Five days of 20 minutes a week, 15 per cent: 115 minutes. After 25 minutes a day from Monday, Friday has 15."""
    weeks = {MONDAY + timedelta(7 * week + day): Fraction(20 * 60) for week in range(4) for day in range(5)}
    fifth = MONDAY + timedelta(28)
    weeks |= {fifth + timedelta(day): Fraction(25 * 60) for day in range(4)}
    assert allowed_seconds(weeks, fifth + timedelta(4), Fraction(15)) == (115 - 100) * 60


def test_rest_is_never_held_against_anybody() -> None:
    """Ten days of rest after a full week: the full week still counts, so nothing is cut."""
    week = {MONDAY + timedelta(day): Fraction(45 * 60) for day in range(5)}
    after = MONDAY + timedelta(4 + 10)
    assert allowed_seconds(week, after, Fraction(0)) == 5 * 45 * 60


def test_where_there_is_nothing_to_compare_with_nothing_is_limited() -> None:
    assert allowed_seconds({}, MONDAY, Fraction(10)) is None
    this_week = {MONDAY - timedelta(day): Fraction(3600) for day in range(7)}
    assert allowed_seconds(this_week, MONDAY, Fraction(10)) is None
    long_ago = {MONDAY - timedelta(LOOKED_AT_DAYS + 7): Fraction(3600)}
    assert allowed_seconds(long_ago, MONDAY, Fraction(10)) is None


@given(
    st.dictionaries(st.integers(0, 40), st.integers(0, 7200).map(Fraction), max_size=30),
    st.integers(0, 45),
    st.fractions(0, 50, max_denominator=4),
)
def test_more_rest_before_never_makes_today_shorter(played: dict[int, Fraction], today: int, share: Fraction) -> None:
    """What is taken out of the last six days is given back to today, whole (arithmetic)."""
    days = {MONDAY + timedelta(ahead): seconds for ahead, seconds in played.items()}
    on = MONDAY + timedelta(today)
    rested = {day: seconds for day, seconds in days.items() if not 0 < (on - day).days < 7}
    full, after_rest = allowed_seconds(days, on, share), allowed_seconds(rested, on, share)
    assert (full is None) == (after_rest is None)
    if full is not None and after_rest is not None:
        assert LEAST_SECONDS <= full <= after_rest
