"""What was tampered with in a certificate is found, and in its own line.

Referee  what was changed, which the test knows; the standard library's SHA-256 for a forger's sum. A thing that stands
         in one line of its own and in many others is told wrong by the one that differs (counted by hand).
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from droner.errors import MistakesFound
from droner.practice.certificate import text_of
from droner.practice.certificate_mistakes import ManyMistakesFound
from droner.practice.recheck import recheck
from tests.practice.certificates import (
    FILE,
    LAST,
    Lines,
    asked,
    certified,
    mistakes_in,
    small,
    turn_line,
    with_sum,
)


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
    with pytest.raises(ManyMistakesFound) as found:
        recheck(with_sum(rows).encode(), FILE)
    assert found.value.count == 40  # turns of five keys in eight variants
    assert found.value.mistakes[-1].problem.startswith("20 more ")


def another_name(row: dict[str, Any]) -> str:
    row["name"] += "x"
    return "name"


def another_number(row: dict[str, Any]) -> str:
    row["number"] += 1
    return "number"


def another_offset(row: dict[str, Any]) -> str:
    row["offset"] = (row["offset"] + 1) % 4
    return "offset"


def another_cycle(row: dict[str, Any]) -> str:
    row["cycle"] += 1
    return "cycle"


def another_key(row: dict[str, Any]) -> str:
    row["key"] += "x"
    return "key"


def other_offsets(row: dict[str, Any]) -> str:
    row["offsets"][1] += 1
    return "offsets"


@pytest.mark.parametrize(
    ("kind", "forge"),
    [
        ("key", another_name), ("key", another_offset), ("variant", another_number), ("drill", another_name),
        ("rule", another_cycle), ("rule", other_offsets), ("turn", another_key),
    ],
)  # fmt: skip
def test_the_forged_line_alone_is_named_and_the_true_ones_are_not(
    kind: str, forge: Callable[[dict[str, Any]], str]
) -> None:
    """Each thing stands in one line of its own and in four turns or more: the one line that differs is the forged."""
    rows: Lines = [json.loads(line) for line in small()[0].splitlines()]
    line, row = next((number, row) for number, row in enumerate(rows, 1) if row["line"] == kind)
    key = forge(row)
    assert mistakes_in(with_sum(rows)) == [(line, key)]
    only_the_line = "".join(f"{json.dumps(row)}\n" for row in rows)
    assert mistakes_in(only_the_line) == [(len(rows), "sha256"), (line, key)]


def test_that_a_file_was_changed_is_told_before_all_else_and_once() -> None:
    text, _ = small()
    with pytest.raises(MistakesFound) as told:
        recheck(text.replace("way 6", "way 7").encode(), FILE)
    (changed,) = told.value.mistakes
    assert changed.key == "sha256"
    assert "changed after it was made" in changed.problem
    broken = mistakes_in(text.replace('"line": "key"', '"line": "kex"', 1))
    assert [key for _, key in broken] == ["sha256", "line"]


@pytest.mark.parametrize("kind", ["rule", "key", "variant", "turn"])
def test_a_number_of_thousands_of_digits_is_a_mistake_and_no_crash(kind: str) -> None:
    rows: Lines = [json.loads(line) for line in small()[0].splitlines()]
    row = next(row for row in rows if row["line"] == kind)
    for key in [key for key, value in row.items() if isinstance(value, int)]:
        row[key] = 10**4000
    assert mistakes_in(with_sum(rows))


def test_deep_brackets_are_a_mistake_and_no_crash() -> None:
    assert mistakes_in("[" * 100_000 + "\n") == [(1, "")]
