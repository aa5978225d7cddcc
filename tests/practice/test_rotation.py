"""Prove the rotation: every pair once in a cycle, every key in each lap, whatever happens on the way.

Referee theorems: i -> (i mod K, i div K) is one to one on K x V items (division with remainder), and adding a fixed
        number to the second part, modulo V, keeps it so. Stepping two rings by one together meets lcm(K, V) pairs.
        Both are counted here from sets, and the calendar from days added by hand.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import product
from math import gcd, lcm

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.practice.rotation import (
    FIRST_DAY,
    Rotation,
    position,
    position_by_calendar,
    proof,
    rotation,
)
from droner.practice.session import RotationOrder

MONDAY = date(2025, 1, 6)
SIZES = st.tuples(st.integers(1, 40), st.integers(1, 70))
A_USUAL_DAY = 6


@dataclass(frozen=True)
class BothByOne:
    """The trap: keys and variants both step by one with every item."""

    keys: int
    variants: int

    def pair(self, item: int) -> tuple[int, int]:
        return item % self.keys, item % self.variants


@given(SIZES)
def test_a_cycle_holds_every_pair_exactly_once(size: tuple[int, int]) -> None:
    keys, variants = size
    met = [rotation(keys, variants).pair(item) for item in range(keys * variants)]
    assert len(met) == len(set(met))
    assert set(met) == set(product(range(keys), range(variants)))


@given(SIZES, st.data())
def test_the_theorem_asks_nothing_of_the_offsets(size: tuple[int, int], data: st.DataObject) -> None:
    keys, variants = size
    offsets = tuple(data.draw(st.lists(st.integers(-99, 99), min_size=keys, max_size=keys)))
    walk = Rotation(keys, variants, offsets)
    assert {walk.pair(item) for item in range(walk.cycle)} == set(product(range(keys), range(variants)))


@given(SIZES, st.integers(0, 10_000))
def test_every_key_comes_in_any_lap_in_the_order_of_the_keys(size: tuple[int, int], lap: int) -> None:
    keys, variants = size
    walk = rotation(keys, variants)
    assert [key for key, _ in walk.pairs(lap * keys, keys)] == list(range(keys))


@given(SIZES, st.integers(0, 10_000))
def test_after_a_cycle_it_begins_again(size: tuple[int, int], item: int) -> None:
    keys, variants = size
    assert rotation(keys, variants).pair(item + keys * variants) == rotation(keys, variants).pair(item)


def test_stepping_both_by_one_is_a_trap() -> None:
    trap = proof(BothByOne(24, 60))
    assert trap.different == lcm(24, 60) == 120
    assert not trap.holds
    assert trap.most == 1440 // 120
    assert "Something is left out" in trap.text


def test_twenty_four_keys_meet_all_sixty_variants_in_1440_items() -> None:
    found = proof(rotation(24, 60))
    assert found.holds
    assert (found.cycle, found.different, found.most, found.full_laps) == (1440, 1440, 1, 60)
    assert found.text == (
        "24 keys x 60 variants = 1440 pairs. Counted over 1440 items: 1440 different pairs, none more than once; "
        "60 of 60 laps hold every key. Nothing is left out."
    )


def test_a_walk_that_skips_a_key_in_a_lap_does_not_pass_for_proved() -> None:
    @dataclass(frozen=True)
    class KeyByKey:
        """All variants of one key, then of the next: every pair, but no lap has every key."""

        keys: int = 3
        variants: int = 4

        def pair(self, item: int) -> tuple[int, int]:
            return item // self.variants, item % self.variants

    found = proof(KeyByKey())
    assert found.different == 12
    assert not found.holds


def test_a_player_can_reckon_any_item_again() -> None:
    # 100 = 4 x 24 + 4: the fifth key in the fifth lap
    walk = rotation(24, 60)
    assert f"offsets of the keys are {' '.join(str(offset) for offset in walk.offsets)}." in walk.rule
    assert walk.pair(100) == (4, (4 + walk.offsets[4]) % 60)


def test_without_variants_the_keys_still_go_round() -> None:
    walk = rotation(24, 1)
    assert walk.pairs(22, 4) == ((22, 0), (23, 0), (0, 0), (1, 0))
    assert proof(walk).holds


@given(SIZES, st.lists(st.integers(0, 30), min_size=1, max_size=60))
def test_days_of_any_length_never_lose_a_pair(size: tuple[int, int], budgets: list[int]) -> None:
    # a day plays as many items as it has time for, none on a missed day; the position is what was completed
    keys, variants = size
    walk = rotation(keys, variants)
    done, met, day = 0, Counter[tuple[int, int]](), 0
    while done < walk.cycle:
        today = min(budgets[day % len(budgets)] + (day % len(budgets) == 0), walk.cycle - done)
        met.update(walk.pairs(done, today))
        done, day = done + today, day + 1
    assert set(met.values()) == {1}
    assert len(met) == keys * variants


def test_missed_days_change_nothing_when_it_moves_on_completion() -> None:
    order = RotationOrder((), 6, "sixty", by_calendar=False, done=42)
    assert {position(order, MONDAY + timedelta(days)) for days in (0, 1, 30, 400)} == {42}


@pytest.mark.parametrize(("days", "items"), [(0, 0), (1, 6), (7, 42), (365, 2190), (-1, 0), (-400, 0)])
def test_the_calendar_moves_by_days_and_waits_for_the_first(days: int, items: int) -> None:
    today = MONDAY + timedelta(days)
    assert position_by_calendar(MONDAY, today, 6) == items
    assert position(RotationOrder((), 6, "sixty", by_calendar=True, begins=MONDAY), today) == items


def test_a_calendar_without_a_first_day_still_moves_every_day() -> None:
    order = RotationOrder((), 6, "sixty", by_calendar=True)
    assert position(order, FIRST_DAY) == 0
    assert position(order, MONDAY + timedelta(1)) - position(order, MONDAY) == 6


@pytest.mark.parametrize(
    ("done", "per_day", "days"),
    [(0, 6, 240), (0, 24, 60), (1434, 6, 1), (1435, 6, 1), (1439, 1, 1), (1440, 6, 240), (1, 7, 206)],
)
def test_days_to_complete_rounds_up(done: int, per_day: int, days: int) -> None:
    # 1440 / 6 = 240; (1440 - 1) / 7 = 205.6
    assert rotation(24, 60).days_to_complete(done, per_day) == days


def test_a_rotation_of_nothing_is_refused() -> None:
    for keys, variants in ((0, 60), (24, 0)):
        with pytest.raises(ValueError, match="at least one key"):
            rotation(keys, variants)
    with pytest.raises(ValueError, match="offset for each key"):
        Rotation(3, 4, (0, 1))
    with pytest.raises(ValueError, match="never completes"):
        rotation(24, 60).days_to_complete(0, 0)


def nearest_in_a_day(keys: int, variants: int, step: int) -> int:
    """The closest two variants of any six items in a row, for offsets of one step a key; walked item by item."""
    places = [(item // keys + item % keys * step) % variants for item in range(3 * keys)]
    days = [places[first : first + A_USUAL_DAY] for first in range(2 * keys)]
    return min(
        min((one - other) % variants, (other - one) % variants)
        for day in days
        for place, one in enumerate(day)
        for other in day[:place]
    )


@pytest.mark.parametrize(("keys", "variants"), [(24, 60), (12, 60), (15, 60), (30, 60), (24, 30), (14, 30)])
def test_a_day_is_as_varied_as_one_step_a_key_can_make_it(keys: int, variants: int) -> None:
    steps = [step for step in range(1, variants) if gcd(step, variants) == 1]
    best = max(nearest_in_a_day(keys, variants, step) for step in steps)
    assert best > 1
    assert nearest_in_a_day(keys, variants, rotation(keys, variants).offsets[1]) == best
    assert len(set(rotation(keys, variants).offsets)) == min(keys, variants)
