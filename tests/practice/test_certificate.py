"""A certificate can be counted again without droner, and held against the logbook.

Referee  the recipe in the file, followed in `by_recipe` with sets and the standard library's SHA-256. The entries are
         invented.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.errors import MistakesFound
from droner.practice.certificate import certificate_of, text_of
from droner.practice.coverage import asked_of, coverage, first_entries
from droner.practice.logbook.entry import Entry
from droner.practice.recheck import hold_against, recheck
from tests.practice.by_recipe import recount
from tests.practice.certificates import (
    FILE,
    LAST,
    MONDAY,
    Lines,
    asked,
    certified,
    logged,
    small,
    turn_line,
)
from tests.practice.days import planner_of
from tests.practice.entries import entry


@given(
    st.integers(1, 9), st.integers(1, 11), st.integers(0, 3),
    st.sets(st.integers(0, 400)), st.sets(st.integers(0, 400)), st.data(),
)  # fmt: skip
def test_anyone_can_count_a_certificate_again(
    keys: int, variants: int, cycle: int, scales: set[int], thirds: set[int], data: st.DataObject
) -> None:
    offsets = data.draw(st.lists(st.integers(0, variants - 1), min_size=keys, max_size=keys))
    order = asked(keys, variants, tuple(offsets))
    made = certified(order, [*logged(order, sorted(scales)), *logged(order, sorted(thirds), "thirds")], cycle)
    found = recount(text_of(made))
    in_cycle = set(range(cycle * keys * variants, (cycle + 1) * keys * variants))
    assert found.pairs == keys * variants
    assert (found.played, found.by_all) == (len((scales | thirds) & in_cycle), len(scales & thirds & in_cycle))
    assert found.entries == len(scales & in_cycle) + len(thirds & in_cycle)
    assert recheck(text_of(made).encode(), FILE) == made


def test_a_certificate_of_a_part_says_how_much() -> None:
    order = asked_of(planner_of('drill = "turning scale"'))
    key_and_variant = [order.brought(place) for place in range(312)]
    entries = [
        entry(MONDAY, 1, 1, key=key, variant=variant, place=place)
        for place, (key, variant) in enumerate(key_and_variant)
    ]
    covered = coverage(order, first_entries(order, entries), 0, lambda _: False)
    found = recount(text_of(certificate_of(covered, LAST, dict.fromkeys(order.variants, "a way"))))
    assert (found.played, found.says["not_played"], found.pairs) == (312, 1440 - 312, 24 * 60)
    assert found.says["in_words"].startswith("312 of 1440 turns of cycle 1 are played")
    assert found.says["in_words"].endswith("1128 are missing.")


def test_a_certificate_is_ascii_with_a_line_feed_after_each_line() -> None:
    text, _ = small()
    assert text.isascii()
    assert text.endswith("\n")
    assert "\r" not in text


def held(entries: list[Entry]) -> list[int]:
    """The lines whose entries a logbook does not have; none where it has all."""
    text, _ = small()
    try:
        hold_against(recheck(text.encode(), FILE), entries, FILE, "practice.logbook")
    except MistakesFound as told:
        return [mistake.line for mistake in told.mistakes]
    return []


def test_the_logbook_it_was_made_from_has_its_entries() -> None:
    assert held([*small()[1]]) == []
    assert held([*reversed(small()[1]), entry(MONDAY, 1, 1)]) == []


def test_an_entry_that_is_gone_is_found_in_its_line() -> None:
    text, entries = small()
    rows: Lines = [json.loads(line) for line in text.splitlines()]
    for gone in entries:
        assert gone.place is not None
        assert held([one for one in entries if one is not gone]) == [turn_line(rows, gone.place)]


@pytest.mark.parametrize(
    ("correction", "found"),
    [
        ({"clean": 4}, False),  # still the same turn on the same day
        ({"note": "flat"}, False),
        ({"clean": 0, "total": 0}, True),  # taken back
        ({"day": MONDAY - timedelta(1)}, True),
        ({"key": "key 2"}, True),
        ({"place": 6}, True),
        ({"drill": "thirds"}, True),
        ({"session": "Summer"}, True),
    ],
)
def test_a_corrected_entry_counts_while_it_is_still_that_turn(correction: dict[str, Any], found: bool) -> None:  # noqa: FBT001 - a row of the table
    old = small()[1][3]
    new = replace(old, name="e" * 32, written=old.written + timedelta(1), corrects=old.name, **correction)
    again = replace(new, name="d" * 32, written=new.written + timedelta(1), corrects=new.name)
    assert bool(held([*small()[1], new])) is found
    assert bool(held([*small()[1], new, again])) is found
