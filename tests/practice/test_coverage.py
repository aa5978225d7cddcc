"""The map of the rotation holds what was played, all of it and nothing else.

Referee  the rule of the rotation as it is printed, reckoned again from division with remainder; sets; sixty days
         counted on the calendar. The entries are invented.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.coverage import Asked, Coverage, Follower, State, asked_of, coverage, first_entries
from droner.practice.logbook.entry import Entry
from droner.practice.rotation import Rotation
from tests.practice.days import planner_of
from tests.practice.entries import entry

MONDAY = date(2026, 1, 5)
KEYS, VARIANTS, OFFSETS = ("C major", "A minor", "F major"), (3, 7, 8, 20), (0, 3, 1)
SCALE, ARPEGGIO, PLAIN_THIRDS = (
    Follower("turning scale"),
    Follower("broken arpeggio"),
    Follower("thirds", turning=False, own=(0,)),
)
SMALL = Asked("Practice", "flute", Rotation(3, 4, OFFSETS), KEYS, VARIANTS, (SCALE, ARPEGGIO, PLAIN_THIRDS))
CYCLE = 12


def brought(place: int) -> tuple[str, int]:
    """By the rule: key i mod K, variant (i div K + offset of the key) mod V."""
    return KEYS[place % 3], VARIANTS[(place // 3 + OFFSETS[place % 3]) % 4]


def played(place: int, drill: str = "turning scale", days: int = 0, number: int = 0) -> Entry:
    """An entry of what a turn brings."""
    key, variant = brought(place)
    plain = drill == "thirds"
    return entry(
        MONDAY + timedelta(days),
        1,
        1,
        drill=drill,
        key=key,
        variant=0 if plain else variant,
        place=place,
        number=number,
    )


def mapped(entries: Iterable[Entry], cycle: int = 0, passed: int = 0, asked: Asked = SMALL) -> Coverage:
    return coverage(asked, first_entries(asked, entries), cycle, lambda place: place < passed)


@given(
    st.lists(st.tuples(st.integers(0, 3 * CYCLE - 1), st.sampled_from(["turning scale", "broken arpeggio", "thirds"])))
)
def test_the_map_is_the_set_of_what_was_played(turns: list[tuple[int, str]]) -> None:
    entries = [played(place, drill, days=number, number=number) for number, (place, drill) in enumerate(turns)]
    for cycle in range(3):
        found = mapped(entries, cycle)
        for turn in found.turns:
            by = {drill for place, drill in turns if place == turn.place}
            days = [MONDAY + timedelta(number) for number, (place, _) in enumerate(turns) if place == turn.place]
            assert (KEYS[turn.key], VARIANTS[turn.variant]) == brought(turn.place)
            assert turn.state is {0: State.AHEAD, 3: State.BY_ALL}.get(len(by), State.BY_SOME)
            assert turn.first_day == (min(days) if days else None)
        mine = {(place, drill) for place, drill in turns if place // CYCLE == cycle}
        assert found.played == len({place for place, _ in mine})
        assert sum(found.by_drill.values()) == len(mine)


def test_every_key_is_a_row_and_every_variant_a_column() -> None:
    rows = mapped([]).rows
    assert [[(turn.key, turn.variant) for turn in row] for row in rows] == [
        [(key, variant) for variant in range(4)] for key in range(3)
    ]
    assert {turn.place for row in rows for turn in row} == set(range(CYCLE))


@pytest.mark.parametrize(
    "wrong",
    [
        {"key": "G major"},
        {"key": "A minor"},  # another key of the rotation
        {"variant": 7},
        {"variant": 0},  # plain, but this drill takes the turn's variant
        {"session": "Another"},
        {"instrument": "clarinet"},
        {"place": None},
        {"drill": "curving study"},
    ],
)
def test_what_the_turn_does_not_bring_does_not_count(wrong: dict[str, object]) -> None:
    right = played(0)
    assert mapped([right]).played == 1
    assert mapped([replace(right, **wrong)]).played == 0  # type: ignore[arg-type]  # each key with its own type


def test_an_always_plain_drill_counts_plain() -> None:
    assert mapped([played(5, "thirds")]).by_drill == {"turning scale": 0, "broken arpeggio": 0, "thirds": 1}


def test_a_turn_that_is_over_without_an_entry_has_passed() -> None:
    states = [turn.state for turn in mapped([played(1)], passed=3).turns]
    assert states == [State.PASSED, State.BY_SOME, State.PASSED, *[State.AHEAD] * 9]


def test_the_first_entry_of_a_drill_stands() -> None:
    first, again = played(4, days=2), played(4, days=9)
    (turn,) = [turn for turn in mapped([first, again]).turns if turn.place == 4]
    assert turn.firsts == (first, None, None)


def test_the_drills_that_follow_are_those_played_in_each_key_of_the_day() -> None:
    planner = planner_of(
        'drill = "slow chromatic"',  # in no key
        'drill = "turning scale"',
        'drill = "thirds"\nvariant = "plain"',
        'drill = "broken arpeggio"\nvariant = 12',
        'drill = "curving study"',  # in one of the day's keys
        'drill = "octave scale"\nkeys = ["C major"]',
        'drill = "thirds"',
    )
    assert asked_of(planner).followers == (
        Follower("turning scale"),
        Follower("thirds", turning=True, own=(0,)),
        Follower("broken arpeggio", turning=False, own=(12,)),
    )


def test_keys_are_asked_for_as_the_player_reads_them() -> None:
    # a clarinet in B flat reads a whole step above what sounds: C is read as D
    top = 'instrument = "clarinet"\nconcert_keys = true'
    planner = planner_of('drill = "thirds"', top=top, rotation='keys = ["C major", "F major"]')
    assert asked_of(planner).keys == ("D major", "G major")


def test_sixty_days_of_all_keys_are_a_cycle() -> None:
    planner = planner_of('drill = "turning scale"', rotation="keys_per_day = 24")
    asked = asked_of(planner)
    entries: list[Entry] = []
    for day in range(60):
        covered = mapped(entries, asked=asked)
        assert covered.played == 24 * day < covered.asked.walk.cycle
        for place in range(24 * day, 24 * day + 24):
            key, variant = planner.pair(place)
            assert variant is not None
            entries.append(entry(MONDAY + timedelta(day), 1, 1, key=str(key), variant=variant.number, place=place))
    full = mapped(entries, asked=asked)
    assert full.count(State.BY_ALL) == full.played == 24 * 60 == 1440
    assert max(turn.first_day for turn in full.turns if turn.first_day) == date(2026, 3, 5)  # Monday and 59 days


def test_a_hundred_thousand_entries_are_counted() -> None:
    asked = asked_of(planner_of('drill = "turning scale"'))
    turns = [asked.brought(place) for place in range(1440)]
    one = entry(MONDAY, 1, 1)
    entries = [
        replace(one, key=turns[number % 1440][0], variant=turns[number % 1440][1], place=number % 1440)
        for number in range(100_000)
    ]
    assert mapped(entries, asked=asked).played == 1440
