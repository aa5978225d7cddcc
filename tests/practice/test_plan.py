"""The day's plan never lasts longer than its budget, and nothing a player does breaks the rotation.

Referee  the budget; the rotation as its rule is printed, reckoned again here from division with remainder; two fresh
         interpreters that hash differently. Budgets of 10, 15, 25, 45 and 75 minutes are the ones that people have
         (common practice, no source).
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.plan import Plan, Planner
from droner.practice.reasons import reasons
from droner.practice.rotation import rotation
from tests.practice.days import (
    MONDAY,
    SCALES,
    STUDY,
    USUAL,
    built_in,
    drills_of,
    keys_of,
    planner_of,
)
from tests.practice.lines import patterns

BUDGETS = (10, 15, 25, 45, 75)
EXAMPLES = 40
DRILLS = tuple(patterns().drills)
KEYS = ('"today"', '"one of today\'s"', '"all"', '["D major"]', '["C major", "A minor", "Eb major"]')
TWENTY_FOUR = 24


def with_minutes(planner: Planner, minutes: Fraction | float) -> Planner:
    return Planner(replace(planner.session, minutes=Fraction(minutes)), patterns())


@st.composite
def blocks(draw: st.DrawFn) -> str:
    drill = patterns().drills[draw(st.sampled_from(DRILLS))]
    rows = [f'drill = "{drill.name}"', f"tempo = {draw(st.integers(40, 160))}"]
    if draw(st.booleans()):
        rows.append(f"minutes = {draw(st.integers(1, 20))}")
    if drill.keyed and draw(st.booleans()):
        rows.append(f"keys = {draw(st.sampled_from(KEYS))}")
    if draw(st.booleans()):
        rows.append(draw(st.sampled_from(("speeds = [80, 90, 100]", "glide = [80, 100]", "count_in = 2"))))
    return "\n".join(rows)


@given(
    st.lists(blocks(), min_size=1, max_size=5),
    st.integers(5, 240),
    st.integers(1, TWENTY_FOUR),
    st.sampled_from(("beginner", "intermediate", "advanced")),
    st.sampled_from(("flute", "clarinet", "horn", "tuba")),
    st.integers(0, 1439),
)
@settings(max_examples=EXAMPLES, deadline=None)
def test_no_plan_is_longer_than_its_budget(
    asked: list[str], minutes: int, keys: int, level: str, instrument: str, place: int
) -> None:
    top = f'level = "{level}"\ninstrument = "{instrument}"'
    planner = planner_of(*asked, minutes=minutes, top=top, rotation=f"keys_per_day = {keys}")
    plan = planner.day(MONDAY, place)
    assert plan.seconds <= plan.budget
    assert plan.budget.exact == minutes * 60
    check_keys(plan, place, keys)
    named = {gone.drill for gone in plan.left_out}
    assert set(drills_of(plan)) | named == {block.drill for block in planner.session.blocks}


def check_keys(plan: Plan, place: int, keys: int) -> None:
    """All blocks that follow the rotation take the same keys, from its place on, as many as it moves on by."""
    assert 0 <= plan.moves_on <= keys
    blocks_places: dict[int, list[int]] = {}
    for planned in plan.items:
        if planned.place is not None:
            blocks_places.setdefault(planned.item.block.number, []).append(planned.place)
    for places in blocks_places.values():
        assert set(places) <= set(range(place, place + plan.moves_on))
        assert places == sorted(places)


@pytest.mark.parametrize("minutes", BUDGETS)
def test_the_built_in_day_has_its_four_staples_whatever_the_time(minutes: int) -> None:
    planner = with_minutes(Planner(built_in(), patterns()), minutes)
    for ahead in range(10):
        plan = planner.day(MONDAY + timedelta(days=ahead))
        assert plan.seconds <= plan.budget
        assert [planned.item.drill.staple.value for planned in plan.items][:: len(plan.items) - 1] == ["tone", "study"]
        assert {planned.item.drill.staple.value for planned in plan.items} == {"tone", "scales", "arpeggios", "study"}
        assert not plan.left_out
        assert keys_of(plan, "turning scale") == keys_of(plan, "arpeggio through inversions")
        assert keys_of(plan, "curving study")[0] in keys_of(plan, "turning scale")


def expected_pair(place: int, variants: int, offsets: tuple[int, ...]) -> tuple[int, int]:
    lap, key = divmod(place, TWENTY_FOUR)
    return key, (lap + offsets[key]) % variants


def test_days_of_any_length_meet_each_pair_once_and_in_order() -> None:
    planner, draw = planner_of(*USUAL, rotation='keys_per_day = 12\nvariants = "twelve"'), Random(7)
    planners = {minutes: with_minutes(planner, minutes) for minutes in (5, 10, 15, 25, 45)}
    variants, offsets = planner.variants, rotation(TWENTY_FOUR, 12).offsets
    keys = planner.session.rotation.keys
    met: dict[str, list[tuple[int, int]]] = {"turning scale": [], "broken arpeggio": []}
    place = 0
    while place < TWENTY_FOUR * 12:
        plan = planners[draw.choice(list(planners))].day(MONDAY, place)
        assert 0 < plan.moves_on <= 12
        for planned in plan.items:
            if planned.place is not None:
                item = planned.item
                assert item.key is not None
                met[item.drill.name].append((keys.index(item.key), variants.index(item.variant)))
        place += plan.moves_on
    for pairs in met.values():
        first = pairs[: TWENTY_FOUR * 12]
        assert first == [expected_pair(place, 12, offsets) for place in range(TWENTY_FOUR * 12)]
        assert set(Counter(first).values()) == {1}


def test_a_divided_drill_goes_on_where_it_stopped_on_days_of_any_length() -> None:
    planner, draw = planner_of(*USUAL, rotation="keys_per_day = 12"), Random(3)
    planners = {minutes: with_minutes(planner, minutes) for minutes in (10, 12, 15, 17)}
    place = due = 0
    for _ in range(60):
        plan = planners[draw.choice(list(planners))].day(MONDAY, place)
        (tone,) = (planned.item for planned in plan.items if planned.item.drill.name == "slow chromatic")
        place += plan.moves_on
        if tone.portion is not None:
            assert tone.portion.start == due % 57
            due += tone.portion.count
        else:
            due += 57
    assert due > 3 * 57


@pytest.mark.parametrize("minutes", [10, 15])
def test_by_the_calendar_a_divided_drill_comes_round_too(minutes: int) -> None:
    planner = with_minutes(Planner(built_in(), patterns()), minutes)
    played: set[int] = set()
    for ahead in range(12):
        for planned in planner.day(MONDAY + timedelta(days=ahead)).items:
            if planned.item.portion is not None:
                start, count = planned.item.portion.start, planned.item.portion.count
                played |= {(start + step) % 57 for step in range(count)}
    assert played == set(range(57))


@pytest.mark.parametrize(("minutes", "count"), [(10, 16), (15, 12)])
def test_by_the_calendar_days_that_are_always_short_miss_no_key(minutes: int, count: int) -> None:
    """Ten minutes have time for four or five of a day's twelve keys, so that three visits to each half are too few."""
    planner = with_minutes(Planner(built_in(), patterns()), minutes)
    days = [planner.day(MONDAY + timedelta(days=ahead)) for ahead in range(count)]
    met = Counter(key for plan in days for key in keys_of(plan, "turning scale"))
    assert set(met) == {str(key) for key in planner.session.rotation.keys}
    assert max(met.values()) - min(met.values()) <= 4


def test_by_the_calendar_the_day_decides_and_when_done_what_was_done() -> None:
    calendar = planner_of(SCALES, rotation='keys_per_day = 3\nmoves = "by the calendar"\nbegins = 2026-01-05')
    done = planner_of(SCALES, rotation='keys_per_day = 3\nmoves = "when done"\ndone = 7')
    assert [calendar.day(MONDAY + timedelta(days=ahead)).first_place for ahead in (0, 1, 8, -3)] == [0, 3, 24, 0]
    assert {done.day(MONDAY + timedelta(days=ahead)).first_place for ahead in (0, 1, 8)} == {7}
    assert calendar.day(MONDAY, 5).first_place == 5


def test_the_study_visits_another_key_each_lap_until_all_have_had_it() -> None:
    planner = planner_of(SCALES, STUDY, rotation="keys_per_day = 6")
    visited = [keys_of(planner.day(MONDAY, place), "curving study")[0] for place in range(0, 6 * 24, 6)]
    assert len(set(visited[:4])) == 4
    assert set(visited) == {str(key) for key in planner.session.rotation.keys}


def test_the_lengths_of_the_items_are_the_length_of_the_day() -> None:
    plan = planner_of(*USUAL, minutes=25).day(MONDAY)
    assert plan.seconds.exact == sum(planned.item.seconds.exact for planned in plan.items)
    assert [planned.number for planned in plan.items] == list(range(1, len(plan.items) + 1))


def test_the_reasons_say_where_the_rotation_stands_and_what_a_short_day_leaves() -> None:
    planner = planner_of(*USUAL, minutes=10, rotation='keys_per_day = 12\nvariants = "sixty"')
    plan = planner.day(MONDAY, 23)
    said = {planned.item.drill.name: reasons(planned, planner, plan.day) for planned in reversed(plan.items)}
    assert said["turning scale"][0].startswith("turn 24 of 1440 in the rotation")
    assert said["slow chromatic"][1].startswith("phrases ")
    assert said["curving study"][0] == "one of today's keys, another one each lap"


def test_the_reasons_count_phrases_as_players_do_also_round_the_end() -> None:
    planner = planner_of(USUAL[0])
    (whole,) = planner.day(MONDAY).items
    for start, count, said in ((0, 5, "phrases 1 to 5 of 57"), (55, 4, "phrases 56 to 57, then 1 to 2, of 57")):
        part = replace(whole, item=planner.items.part(whole.item, start, count), cut_short=True)
        assert reasons(part, planner, MONDAY)[1] == f"{said}; the rest comes in turn"


PRINT_A_WEEK = """
from datetime import date, timedelta
from droner.practice.reading.files import load_patterns, load_session
from droner.practice.plan import Planner
patterns = load_patterns()
planner = Planner(load_session(None, patterns), patterns)
for ahead in range(7):
    plan = planner.day(date(2026, 1, 5) + timedelta(days=ahead))
    for one in plan.items:
        item = one.item
        print(one.number, item.name, item.variant and item.variant.words, item.bpm, item.seconds)
        print(one.place, item.portion, one.cut_short)
"""


def test_two_interpreters_that_hash_differently_make_the_same_plan() -> None:
    pages = [
        subprocess.run(
            [sys.executable, "-c", PRINT_A_WEEK],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "20260105")
    ]
    assert pages[0] == pages[1]
    assert pages[0].count("turning scale") >= 7


def test_the_last_and_first_days_of_the_calendar_have_a_plan() -> None:
    planner = Planner(built_in(), patterns())
    for day in (date.min, date.max):
        assert planner.day(day).items
