"""Plan days after an invented history: ladders, turns done, what comes back, rest, order, load.

Referee arithmetic worked by hand beside each test. What a player does is invented.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from droner.practice.history import History
from droner.practice.logbook.entry import Entry
from droner.practice.plan import Plan, Planner
from droner.practice.reasons import reasons
from droner.practice.remarks import remarks
from tests.practice.days import MONDAY, SCALES, keys_of, session_of
from tests.practice.entries import entry
from tests.practice.lines import patterns

WHEN_DONE = 'moves = "when done"\nkeys_per_day = 4'
LADDER = 'drill = "turning scale"\nladder = { from = 60, to = 126 }'
TUESDAY = MONDAY + timedelta(1)


def planner(*blocks: str, entries: tuple[Entry, ...] = (), top: str = "", rotation: str = WHEN_DONE) -> Planner:
    return Planner(session_of(*blocks, top=top, rotation=rotation), patterns(), History(entries))


def played(plan: Plan, clean: int, total: int, *, only: int | None = None) -> tuple[Entry, ...]:
    """The entries of a player who plays the first `only` items of a plan, each so often."""
    return tuple(
        replace(
            entry(plan.day, clean, total, number=one.number),
            drill=one.item.drill.name,
            key=str(one.item.key) if one.item.key else "",
            variant=one.item.variant.number if one.item.variant else 0,
            place=one.place,
            bpm=one.item.asked_bpm,
            seconds=one.item.seconds.exact,
            instrument="flute",
        )
        for one in plan.items[:only]
    )


def test_a_rotation_that_moves_when_done_goes_on_after_what_is_written_down() -> None:
    first = planner(SCALES).day(MONDAY)
    assert [one.place for one in first.items] == [0, 1, 2, 3]
    second = planner(SCALES, entries=played(first, 1, 1)).day(TUESDAY)
    assert [one.place for one in second.items] == [4, 5, 6, 7]
    after_a_month = planner(SCALES, entries=played(first, 1, 1)).day(MONDAY + timedelta(30))
    assert [one.place for one in after_a_month.items] == [4, 5, 6, 7]  # days away lose nothing


def test_what_was_left_out_comes_first_and_what_was_done_not_again() -> None:
    first = planner(SCALES).day(MONDAY)
    without_the_second = played(first, 1, 1)[:1] + played(first, 1, 1)[2:]
    second = planner(SCALES, entries=without_the_second).day(TUESDAY)
    assert [one.place for one in second.items] == [1, 4, 5, 6]
    assert second.first_place == 1


def test_a_block_with_a_variant_of_its_own_moves_the_rotation_too() -> None:
    block = f"{SCALES}\nvariant = 12"
    first = planner(block).day(MONDAY)
    assert {one.item.variant.number for one in first.items if one.item.variant} == {12}
    second = planner(block, entries=played(first, 1, 1)).day(TUESDAY)
    assert [one.place for one in second.items] == [4, 5, 6, 7]


def test_a_player_who_logs_every_day_meets_every_pair_once_in_a_cycle() -> None:
    """24 keys x 12 variants are 288 turns: 72 days of four keys, whichever days are missed (arithmetic)."""
    rotation = f'{WHEN_DONE}\nvariants = "twelve"'
    entries: tuple[Entry, ...] = ()
    met: list[tuple[str, int]] = []
    for number in range(72):
        day = MONDAY + timedelta(number + number // 5 * 2)  # weekends off
        plan = planner(SCALES, entries=entries[-40:], rotation=f"{rotation}\ndone = {max(number * 4 - 40, 0)}").day(day)
        entries += played(plan, 1, 1)
        met += [(str(one.item.key), one.item.variant.number if one.item.variant else 0) for one in plan.items]
    assert len(met) == len(set(met)) == 288


def test_the_tempo_is_the_ladder_s_with_its_reason() -> None:
    monday = planner(LADDER).day(MONDAY)
    tuesday = planner(LADDER, entries=played(monday, 1, 1)).day(TUESDAY)
    assert {one.item.asked_bpm for one in monday.items} == {60}
    assert {one.item.asked_bpm for one in tuesday.items} == {63}  # four clean in a row: the next metronome number
    told = reasons(tuesday.items[0], planner(LADDER, entries=played(monday, 1, 1)), TUESDAY)
    assert any("at 60, the last on Monday: up to 63" in reason for reason in told), told


def test_the_next_day_opens_at_90_per_cent_and_only_once() -> None:
    monday = planner(LADDER).day(MONDAY)
    tuesday = planner(LADDER, entries=played(monday, 1, 1)).day(TUESDAY)
    speeds = [one.item.speeds for one in tuesday.items]
    assert speeds[0] == (Fraction(100 * 60, 63), Fraction(100))  # 90 per cent of 63 lie below the ladder's start, 60
    assert len(set(speeds[1:])) == 1
    assert len(speeds[1]) == 1


def test_ten_days_of_touring_start_at_70_per_cent_of_the_secure_tempo() -> None:
    """Clean at 104, then ten days away: 72.8 beats a minute at most, so the metronome's 72."""
    entries = tuple(
        entry(MONDAY + timedelta(number), 3, 3, bpm=bpm)
        for number, bpm in enumerate((60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100, 104))
    )
    last = entries[-1].day
    assert planner(LADDER, entries=entries).day(last + timedelta(1)).items[0].item.asked_bpm == 108
    assert planner(LADDER, entries=entries).day(last + timedelta(10)).items[0].item.asked_bpm == 72
    assert keys_of(planner(LADDER, entries=entries).day(last + timedelta(10)), "turning scale")[0] == "C minor"


def test_a_plateau_is_told_with_something_else_to_change() -> None:
    """Never clean: at the bottom from the first day on, so after three days there is a plateau (common practice)."""
    entries = tuple(entry(MONDAY + timedelta(day), 0, 3) for day in range(3))
    made = planner(LADDER, entries=entries)
    told = [remark for remark in remarks(made.day(MONDAY + timedelta(3)), made) if "plateau" in remark]
    assert len(told) == 1
    assert "3 days did not get past 60, the slowest: begin lower" in told[0]
    two = planner(LADDER, entries=entries[:2])
    assert not [remark for remark in remarks(two.day(MONDAY + timedelta(2)), two) if "plateau" in remark]


def test_what_went_badly_comes_back_and_moves_nothing() -> None:
    monday = planner(SCALES).day(MONDAY)
    good = played(monday, 4, 4)
    bad = replace(good[2], clean=1)
    plain = planner(SCALES, entries=good).day(TUESDAY)
    plan = planner(SCALES, entries=(*good[:2], bad, good[3])).day(TUESDAY)
    back = [one for one in plan.items if one.again]
    assert [(str(one.item.key), one.item.variant, one.place) for one in back] == [
        (bad.key, monday.items[2].item.variant, None)
    ]
    assert "1 of 4 clean on Monday 5 January" in back[0].again
    assert [one.place for one in plan.items if not one.again] == [one.place for one in plain.items]
    assert not [
        one for one in planner(SCALES, entries=(*good[:2], bad), top="weak_keys = 0").day(TUESDAY).items if one.again
    ]


def test_what_comes_back_stays_within_the_minutes() -> None:
    blocks, top = (SCALES, 'drill = "slow chromatic"'), "minutes = 12"
    monday = planner(*blocks, top=top).day(MONDAY)
    plan = planner(*blocks, top=top, entries=played(monday, 0, 4)).day(TUESDAY)
    assert 0 < sum(bool(one.again) for one in plan.items) <= 2
    assert plan.seconds <= plan.budget


def test_taking_turns_parts_the_drills() -> None:
    blocks = (SCALES, 'drill = "broken arpeggio"')
    plan = planner(*blocks, top='order = "interleaved"').day(MONDAY)
    drills = [one.item.drill.name for one in plan.items]
    assert drills == ["turning scale", "broken arpeggio"] * 4
    assert [one.number for one in plan.items] == [*range(1, 9)]
    in_blocks = planner(*blocks).day(MONDAY)
    assert {str(one.item.key) for one in plan.items} == {str(one.item.key) for one in in_blocks.items}


def test_in_turn_a_warm_up_still_comes_first_and_a_study_last() -> None:
    blocks = ('drill = "held note"', SCALES, 'drill = "broken arpeggio"', 'drill = "curving study"')
    plan = planner(*blocks, top='order = "interleaved"\nminutes = 60').day(MONDAY)
    drills = [one.item.drill.name for one in plan.items]
    assert [drills.count(name) for name in ("held note", "curving study")] == [1, 1]
    assert drills[0] == "held note"
    assert drills[-1] == "curving study"


def test_the_rest_comes_early_and_counts_within_the_minutes() -> None:
    blocks = (SCALES, 'drill = "broken arpeggio"')
    plan = planner(*blocks, top="minutes = 20\nrest_minutes = 3").day(MONDAY)
    (before,) = [place for place, one in enumerate(plan.items) if one.rest_before.exact]
    playing = sum(float(one.item.seconds) for one in plan.items)
    begun = sum(float(one.item.seconds) for one in plan.items[:before])
    assert begun >= playing / 3 > begun - float(plan.items[before - 1].item.seconds)
    assert plan.items[before].rest_before.exact == 180
    assert plan.seconds <= plan.budget
    assert any("Rest before item" in told for told in remarks(plan, planner(SCALES)))


def test_a_day_that_would_be_too_much_is_shortened_and_says_so() -> None:
    """Ten minutes a day last week and 10 per cent more allowed: 77 minutes, of which six days have used 72."""
    days = [*((day, 600) for day in range(7)), *((day, 720) for day in range(7, 13))]
    entries = tuple(entry(MONDAY + timedelta(day), 1, 1, seconds=seconds) for day, seconds in days)
    top = "minutes = 25\nload_growth = 10"
    made = planner(SCALES, entries=entries, top=top)
    plan = made.day(MONDAY + timedelta(13))
    assert plan.budget.exact == 5 * 60
    assert plan.seconds <= plan.budget
    assert any("Shortened to 5 minutes" in told for told in remarks(plan, made))
    free = planner(SCALES, entries=entries, top="minutes = 25")
    assert free.day(MONDAY + timedelta(13)).budget.exact == 25 * 60


@settings(deadline=None, max_examples=40)
@given(st.lists(st.tuples(st.integers(0, 30), st.integers(0, 11), st.integers(0, 4)), max_size=12), st.integers(0, 60))
def test_any_history_leaves_a_plan_within_its_minutes(told: list[tuple[int, int, int]], today: int) -> None:
    fresh = planner(LADDER, 'drill = "slow chromatic"', top="minutes = 10").day(MONDAY)
    some = played(fresh, 4, 4)
    entries = tuple(
        replace(some[place % len(some)], day=MONDAY + timedelta(day), clean=clean, name=f"{number:032x}")
        for number, (day, place, clean) in enumerate(sorted(told))
    )
    day = date.fromordinal(MONDAY.toordinal() + today)
    kept = tuple(one for one in entries if one.day < day)
    made = planner(LADDER, 'drill = "slow chromatic"', entries=kept, top="minutes = 10\nrest_minutes = 1")
    plan = made.day(day)
    assert plan.items
    assert plan.seconds <= plan.budget
    assert plan == made.day(day) or [str(one.item.name) for one in plan.items] == [
        str(one.item.name) for one in made.day(day).items
    ]
    assert all(Fraction(60) <= one.item.asked_bpm <= 126 for one in plan.items if one.item.block.ladder)
