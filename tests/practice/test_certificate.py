"""A certificate can be counted again without droner, and what was tampered with is found.

Referee  the recipe in the file, followed in `by_recipe` with sets and the standard library's SHA-256. The entries are
         invented.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache
from hashlib import sha256
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.errors import MistakesFound
from droner.practice.certificate import Certificate, certificate_of, text_of
from droner.practice.coverage import Asked, Follower, asked_of, coverage, first_entries
from droner.practice.logbook.entry import Entry
from droner.practice.recheck import hold_against, recheck
from droner.practice.rotation import Rotation, rotation
from tests.practice.by_recipe import recount
from tests.practice.days import planner_of
from tests.practice.entries import entry

MONDAY, LAST = date(2026, 1, 5), date(2026, 6, 30)
FILE = "cycle.jsonl"
DRILLS = (Follower("turning scale"), Follower("thirds", turning=False, own=(0,)))
Lines = list[dict[str, Any]]


def asked(keys: int, variants: int, offsets: tuple[int, ...] = ()) -> Asked:
    walk = Rotation(keys, variants, offsets) if offsets else rotation(keys, variants)
    names = tuple(f"key {key}" for key in range(keys))
    return Asked(
        "Winter, \N{LATIN SMALL LETTER U WITH DIAERESIS}ben",
        "flute",
        walk,
        names,
        tuple(range(5, 5 + variants)),
        DRILLS,
    )


def logged(order: Asked, places: list[int], drill: str = "turning scale") -> list[Entry]:
    return [
        entry(
            MONDAY + timedelta(number // 6), 3, 4, drill=drill, key=order.brought(place)[0],
            variant=0 if drill == "thirds" else order.brought(place)[1], place=place, session=order.title,
        )
        for number, place in enumerate(places)
    ]  # fmt: skip


def certified(order: Asked, entries: list[Entry], cycle: int = 0) -> Certificate:
    words = {variant: f"way {variant}" for variant in order.variants}
    covered = coverage(order, first_entries(order, entries), cycle, lambda _: False)
    return certificate_of(covered, LAST, words)


@lru_cache(maxsize=1)
def small() -> tuple[str, tuple[Entry, ...]]:
    """Three keys in four variants, more than half of them played, as a file; and the logbook."""
    order = asked(3, 4)
    entries = [*logged(order, [0, 1, 2, 4, 5, 7, 11]), *logged(order, [1, 2, 3], "thirds")]
    return text_of(certified(order, entries)), tuple(entries)


def mistakes_in(text: str) -> list[tuple[int, str]]:
    """Line and key of each mistake that is told."""
    with pytest.raises(MistakesFound) as told:
        recheck(text.encode("utf-8", "surrogatepass"), FILE)
    return [(mistake.line, mistake.key) for mistake in told.value.mistakes]


def with_sum(rows: Lines) -> str:
    """The lines with a sum that agrees: a forger who knows the recipe."""
    body = "".join(f"{json.dumps(row)}\n" for row in rows[:-1])
    return body + json.dumps({"line": "sum", "sha256": sha256(body.encode()).hexdigest()}) + "\n"


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


@given(st.data())
def test_a_letter_that_was_changed_is_found(data: st.DataObject) -> None:
    text, _ = small()
    place = data.draw(st.integers(0, len(text) - 1))
    letter = data.draw(st.characters(max_codepoint=0x17F).filter(lambda one: one != text[place]))
    assert mistakes_in(text[:place] + letter + text[place + 1 :])


@given(st.data())
def test_what_was_cut_out_is_found(data: st.DataObject) -> None:
    text, _ = small()
    first, last = sorted(data.draw(st.lists(st.integers(0, len(text)), min_size=2, max_size=2, unique=True)))
    assert mistakes_in(text[:first] + text[last:])


@given(st.data())
def test_lines_in_another_order_or_twice_are_found(data: st.DataObject) -> None:
    text, _ = small()
    lines = text.splitlines(keepends=True)
    one, other = data.draw(st.lists(st.integers(0, len(lines) - 1), min_size=2, max_size=2, unique=True))
    assert mistakes_in("".join([*lines[:one], lines[other], *lines[one:]]))
    lines[one], lines[other] = lines[other], lines[one]
    assert mistakes_in("".join(lines))


@given(st.binary() | st.text().map(lambda text: text.encode("utf-8", "replace")))
def test_any_other_file_is_no_certificate(data: bytes) -> None:
    with pytest.raises(MistakesFound):
        recheck(data, FILE)


FREE = {"certificate", "variant", "drill"}
"""Lines that may say many things which nothing else in the file gainsays, such as what a variant is called."""
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=5), inside, max_size=3),
    max_leaves=5,
)


@given(st.data(), JSON)
def test_another_value_is_found_although_the_sum_agrees(data: st.DataObject, value: Any) -> None:
    rows: Lines = [json.loads(line) for line in small()[0].splitlines()]
    row = data.draw(st.sampled_from([row for row in rows[:-1] if row["line"] not in FREE]))
    key = data.draw(st.sampled_from(sorted(row)))
    if json.dumps(row[key]) == json.dumps(value):
        return
    row[key] = value
    assert mistakes_in(with_sum(rows))


def turn_line(rows: Lines, place: int) -> int:
    return next(number for number, row in enumerate(rows, 1) if row["line"] == "turn" and row["place"] == place)


def a_day_too_late(turn: dict[str, Any]) -> None:
    turn["played"][0]["day"] = (LAST + timedelta(1)).isoformat()


def no_such_day(turn: dict[str, Any]) -> None:
    turn["played"][0]["day"] = "2026-02-30"


def another_variant(turn: dict[str, Any]) -> None:
    turn["played"][0]["variant"] += 1


def another_drill(turn: dict[str, Any]) -> None:
    turn["played"][0]["drill"] = "curving study"


def the_same_drill_again(turn: dict[str, Any]) -> None:
    turn["played"].append(turn["played"][0] | {"entry": "f" * 32})


def the_entry_of_another_turn(turn: dict[str, Any]) -> None:
    turn["played"][0]["entry"] = small()[1][0].name


def one_play_less(turn: dict[str, Any]) -> None:
    turn["played"].pop()


def nothing_missing(turn: dict[str, Any]) -> None:
    turn["missing"] = []


@pytest.mark.parametrize(
    "forge",
    [
        a_day_too_late, no_such_day, another_variant, another_drill, the_same_drill_again, the_entry_of_another_turn,
        one_play_less, nothing_missing,
    ],
)  # fmt: skip
def test_a_forged_turn_is_found_in_its_line(forge: Callable[[dict[str, Any]], None]) -> None:
    rows: Lines = [json.loads(line) for line in small()[0].splitlines()]
    line = turn_line(rows, 4)  # played by one of the drills
    forge(rows[line - 1])
    assert line in {found for found, _ in mistakes_in(with_sum(rows))}


def test_a_better_count_is_found_in_its_line() -> None:
    rows: Lines = [json.loads(line) for line in small()[0].splitlines()]
    rows[-2]["played"] = 12
    assert mistakes_in(with_sum(rows)) == [(len(rows) - 1, "played")]


def test_of_many_mistakes_the_first_are_told_and_the_others_counted() -> None:
    order = asked(5, 8)
    rows: Lines = [json.loads(line) for line in text_of(certified(order, [])).splitlines()]
    for row in rows:
        if row["line"] == "turn":
            row["missing"] = []
    told = mistakes_in(with_sum(rows))
    assert len(told) == 21
    assert told[-1] == (0, "")


@pytest.mark.parametrize("kind", ["rule", "key", "variant", "turn"])
def test_a_number_of_thousands_of_digits_is_a_mistake_and_no_crash(kind: str) -> None:
    rows: Lines = [json.loads(line) for line in small()[0].splitlines()]
    row = next(row for row in rows if row["line"] == kind)
    for key in [key for key, value in row.items() if isinstance(value, int)]:
        row[key] = 10**4000
    assert mistakes_in(with_sum(rows))


def test_deep_brackets_are_a_mistake_and_no_crash() -> None:
    assert mistakes_in("[" * 100_000 + "\n") == [(1, "")]


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
