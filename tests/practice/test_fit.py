"""What is divided comes round whole; what has no time is left out with its reason.

Referee  theorem: the whole numbers between neighbouring multiples of a fraction tile the number line, so portions cut
         there miss nothing whatever the days are like. The rest are days counted by hand.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.fit import ALONE_TOO_LONG, OWN_MINUTES, TOO_SHORT_A_DAY
from droner.practice.plan import Plan, Planner
from droner.practice.portion import Divided, Size, portion
from droner.practice.remarks import remarks
from droner.practice.rotation import rotation
from droner.practice.session import Session
from droner.practice.standing import Standing, by_calendar, by_completion
from tests.practice.days import (
    ARPEGGIOS,
    MONDAY,
    SCALES,
    SLOW_TONES,
    STUDY,
    USUAL,
    built_in,
    drills_of,
    keys_of,
    planner_of,
)
from tests.practice.lines import patterns

SHORT, LONG = 5, 45
"""Minutes."""
ENDLESS = 1000
"""Minutes that hold every key of any day."""
PHRASES = 2
"""No phrase of a divided drill lasts so many times the mean of them; the count-in is within."""
CELLS = 'drill = "five-note cells"\ntempo = 72'
BY_CALENDAR = 'moves = "by the calendar"\nbegins = 2026-01-05\nvariants = "sixty"'


@given(st.integers(1, 99), st.integers(1, 30), st.lists(st.integers(1, 30), max_size=60), st.data())
def test_portions_go_on_where_the_last_one_stopped_whatever_the_days_are_like(
    units: int, keys: int, days: list[int], data: st.DataObject
) -> None:
    full = data.draw(st.integers(1, units))
    place, expected = 0, 0
    for asked in days:
        count_of_keys = min(asked, keys)
        start, count = portion(Divided(units, full, 0), Size(count_of_keys), Standing(place, keys, 0))
        assert start == expected % units
        assert count <= full
        expected, place = expected + count, place + count_of_keys
    assert expected == Fraction(full, keys) * place // 1


@given(st.integers(1, 60), st.sampled_from((1, 2, 3)), st.sampled_from((2, 4, 8, 16)), st.integers(0, 9))
def test_a_day_too_short_for_one_share_comes_round_to_all_of_it(units: int, keys: int, parts: int, least: int) -> None:
    played: set[int] = set()
    for place in range(keys * parts):
        start, count = portion(Divided(units, units, min(least, units)), Size(1, parts), Standing(place, keys, 0))
        played |= {(start + step) % units for step in range(count)}
    assert played == set(range(units))


def test_a_portion_has_at_least_its_least_but_the_place_moves_on_by_its_share() -> None:
    first = portion(Divided(57, 57, 5), Size(1), Standing(0, 24, 0))
    second = portion(Divided(57, 57, 5), Size(1), Standing(1, 24, 0))
    assert (first, second) == ((0, 5), (2, 5))  # 57 phrases over 24 keys are two and a bit for each


@given(st.integers(1, 24), st.integers(1, 24), st.integers(0, 400))
def test_by_the_calendar_short_days_meet_every_key(keys: int, count: int, first: int) -> None:
    count, walk = min(count, keys), rotation(24, 60)
    days = range(first, first + 2 * 24 * -(-keys // count))  # twice, since a cycle may end in between
    standings = [by_calendar(walk, day * keys, keys) for day in days]
    met = {(one.place + ahead) % 24 for one in standings for ahead in one.aheads(count)}
    assert met == set(range(24))


@pytest.mark.parametrize("keys", [1, 2, 3, 6])
def test_by_the_calendar_short_days_meet_every_pair_in_as_many_cycles_as_they_are_short(keys: int) -> None:
    walk = rotation(6, 5)
    for count in range(1, keys + 1):
        days = range(walk.cycle // keys * -(-keys // count))
        standings = [by_calendar(walk, day * keys, keys) for day in days]
        met = {(one.place + ahead) % walk.cycle for one in standings for ahead in one.aheads(count)}
        assert met == set(range(walk.cycle))


def test_a_full_day_takes_its_keys_in_order_by_calendar_and_by_completion() -> None:
    walk = rotation(24, 60)
    assert by_calendar(walk, 36, 12).aheads(12) == tuple(range(12))
    assert by_completion(walk, 36, 12).aheads(5) == (0, 1, 2, 3, 4)
    assert by_calendar(walk, 36, 12).lap == by_completion(walk, 36, 12).lap == 1


def reasons(plan: Plan) -> dict[str, str]:
    return {gone.drill: gone.why for gone in plan.left_out}


def test_a_short_day_takes_fewer_keys_before_it_leaves_anything_out() -> None:
    planner = planner_of(SCALES, ARPEGGIOS, STUDY, minutes=SHORT, rotation="keys_per_day = 12")
    plan = planner.day(MONDAY)
    assert drills_of(plan) == ["turning scale", "broken arpeggio", "curving study"]
    assert 0 < plan.moves_on < 12
    assert not plan.left_out
    one_more = planner_of(SCALES, ARPEGGIOS, STUDY, minutes=LONG, rotation="keys_per_day = 12").day(MONDAY)
    assert one_more.moves_on == 12


CALENDAR_DAYS = (
    built_in(),
    planner_of(SLOW_TONES, CELLS, top='instrument = "alto flute"', rotation=f"{BY_CALENDAR}\nkeys_per_day = 3").session,
    planner_of(*USUAL, rotation=f"{BY_CALENDAR}\nkeys_per_day = 12").session,
    planner_of('drill = "turning scale"\nkeys = "all"', ARPEGGIOS, rotation=f"{BY_CALENDAR}\nkeys_per_day = 5").session,
)


@given(st.sampled_from(CALENDAR_DAYS), st.integers(0, 400), st.integers(7, 40))
@settings(max_examples=60, deadline=None)
def test_by_the_calendar_no_key_is_left_out_that_would_fit_with_the_others(
    session: Session, ahead: int, minutes: int
) -> None:
    day = MONDAY + timedelta(ahead)
    short, whole = (Planner(replace(session, minutes=Fraction(one)), patterns()).day(day) for one in (minutes, ENDLESS))
    taken = {planned.place for planned in short.items if planned.place is not None}
    costs: dict[int, Fraction] = {}
    for planned in whole.items:
        if planned.place is not None:
            costs[planned.place] = costs.get(planned.place, Fraction(0)) + planned.item.seconds.exact
    assert taken <= set(costs)
    assert short.moves_on == len(taken)
    left = short.budget.exact - short.seconds.exact
    assert left >= 0
    assert not short.left_out
    assert not [place for place, cost in costs.items() if place not in taken and cost < left]
    for planned in short.items:
        if planned.item.portion is not None:
            assert left < PHRASES * planned.item.seconds.exact / planned.item.portion.count


def test_a_key_that_fits_is_taken_though_its_share_of_the_long_tones_would_not_fit() -> None:
    """Twelve minutes: 54 phrases last 8:46, so two thirds of them about 5:53; the cells 1:24, 1:59 and 1:32."""
    planner = planner_of(SLOW_TONES, CELLS, minutes=12, top='instrument = "alto flute"', rotation="keys_per_day = 3")
    plan = planner.day(date(2026, 11, 25))
    (tones,) = (planned.item for planned in plan.items if planned.item.portion)
    assert tones.portion is not None
    assert (tones.portion.start, tones.portion.whole) == (36, 54)
    assert 36 < tones.portion.count < 54  # two shares of three, and phrases beyond them in the minutes that are left
    assert 0 <= plan.budget.exact - plan.seconds.exact < PHRASES * tones.seconds.exact / tones.portion.count
    assert len(keys_of(plan, "five-note cells")) == plan.moves_on == 3
    assert not [told for told in remarks(plan, planner) if "time for" in told]


def test_by_completion_a_key_that_has_no_time_for_its_share_is_the_next_day_s_first() -> None:
    rotation = 'keys_per_day = 3\nmoves = "when done"\ndone = 984'
    planner = planner_of(SLOW_TONES, CELLS, minutes=12, top='instrument = "alto flute"', rotation=rotation)
    plan = planner.day(MONDAY)
    assert plan.moves_on == 2
    told = "This day has time for 2 of its 3 keys, each with its share of slow chromatic; the others are"
    assert any(remark.startswith(told) for remark in remarks(plan, planner))


def test_blocks_are_left_out_from_the_last_when_one_key_is_too_much() -> None:
    plan = planner_of(SCALES, ARPEGGIOS, STUDY, minutes=1).day(MONDAY)
    assert drills_of(plan) == ["turning scale", "broken arpeggio"]
    assert plan.moves_on == 1
    assert reasons(plan) == {"curving study": ALONE_TOO_LONG}
    two_studies = planner_of(SCALES, STUDY, 'drill = "little curving study"', minutes=2).day(MONDAY)
    assert drills_of(two_studies) == ["turning scale", "curving study"]
    assert reasons(two_studies) == {"little curving study": TOO_SHORT_A_DAY}


def test_a_block_longer_than_the_day_makes_way_for_the_others() -> None:
    plan = planner_of('drill = "curving study"\ntempo = 20', SCALES, minutes=2).day(MONDAY)
    assert drills_of(plan) == ["turning scale"]
    assert reasons(plan) == {"curving study": ALONE_TOO_LONG}


def test_a_day_too_short_for_anything_plays_nothing_and_the_rotation_waits() -> None:
    tiny = planner_of('drill = "turning scale"\ntempo = 20', minutes=1).day(MONDAY)
    assert not tiny.items
    assert tiny.moves_on == 0
    assert tiny.seconds.exact == 0
    assert reasons(tiny) == {"turning scale": ALONE_TOO_LONG}


def test_a_divided_drill_that_had_no_time_waits_too() -> None:
    plan = planner_of('drill = "slow chromatic"\ntempo = 20', minutes=0.25).day(MONDAY)
    assert not plan.items
    assert plan.moves_on == 0


@pytest.mark.parametrize("minutes", [1, 2, 3, 5, 8])
def test_a_block_keeps_to_its_own_minutes(minutes: int) -> None:
    for block in (SLOW_TONES, SCALES, 'drill = "turning scale"\nkeys = "all"', 'drill = "tongue bursts"'):
        plan = planner_of(f"{block}\nminutes = {minutes}", minutes=60, rotation="keys_per_day = 24").day(MONDAY)
        assert 0 < plan.seconds.exact <= minutes * 60


def test_own_minutes_too_few_for_any_of_it_are_said() -> None:
    blocks = ('drill = "curving study"\nminutes = 1', 'drill = "slow chromatic"\ntempo = 20\nminutes = 0.5')
    plan = planner_of(*blocks, SCALES, minutes=30).day(MONDAY)
    assert drills_of(plan) == ["turning scale"]
    assert reasons(plan) == {"curving study": OWN_MINUTES, "slow chromatic": OWN_MINUTES}


def test_what_does_not_fit_the_compass_is_named_and_the_others_are_played() -> None:
    plan = planner_of('drill = "two-octave scale"', SCALES, minutes=30, top='range = ["C4", "B5"]',
                      rotation='keys = ["C major", "B major"]\nkeys_per_day = 2').day(MONDAY)  # fmt: skip
    assert keys_of(plan, "turning scale") == ["C major", "B major"]
    assert keys_of(plan, "two-octave scale") == []
    assert [gone.why for gone in plan.left_out] == [
        "two-octave scale in C major needs C 6, above the top of this compass (B 5)",
        "two-octave scale in B major needs B 6, above the top of this compass (B 5)",
    ]
    assert plan.moves_on == 2


def test_when_nothing_fits_the_compass_the_day_is_empty_and_the_rotation_goes_on() -> None:
    plan = planner_of('drill = "two-octave scale"', top='range = ["C4", "B5"]', rotation="keys_per_day = 3").day(MONDAY)
    assert plan.items == ()
    assert len(plan.left_out) == 3
    assert plan.moves_on == 3


def test_a_block_in_its_own_keys_comes_round_to_all_of_them() -> None:
    block = 'drill = "turning scale"\nkeys = ["C major", "D major", "E major", "F major", "G major"]\nminutes = 1'
    planner = planner_of(block, rotation="keys_per_day = 5", top="lead_in_seconds = 0")
    days = [keys_of(planner.day(MONDAY, place), "turning scale") for place in range(0, 25, 5)]
    assert {key for day in days for key in day} == {"C major", "D major", "E major", "F major", "G major"}
    assert all(planned.cut_short for planned in planner.day(MONDAY, 0).items)
    order = [key for day in days for key in day]
    assert order[:7] == ["C major", "D major", "E major", "F major", "G major", "C major", "D major"]


def test_plain_means_plain_in_a_blocks_own_keys_and_in_none() -> None:
    for block in ('drill = "turning scale"\nkeys = ["C major"]\nvariant = "plain"',
                  'drill = "running chromatic"\nkeys = ["D major", "E major"]\nvariant = "plain"'):  # fmt: skip
        plan = planner_of(block, minutes=30, rotation='variants = "sixty"').day(MONDAY, 7)
        assert {planned.item.variant for planned in plan.items} == {None}
