"""Every mistake in a file of entries is told, with its line, its key, what stands there and what may.

Referee  the rules of each field, written out beside each mistake; RFC 8259 and RFC 4180 for what is no JSON or CSV.
"""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import pytest

from droner.errors import Mistake, MistakesFound
from droner.practice.logbook.lines import from_csv, from_json_lines, to_csv, to_json_lines
from tests.practice.logbook.written import entry

GOOD: dict[str, Any] = json.loads(next(iter(to_json_lines([entry(8)]))))
HEADER, RECORD = to_csv([entry(8)])


def mistakes_in_json(text: str) -> tuple[Mistake, ...]:
    with pytest.raises(MistakesFound) as told:
        from_json_lines(text, "log.jsonl")
    return told.value.mistakes


def mistakes_in_csv(text: str) -> tuple[Mistake, ...]:
    with pytest.raises(MistakesFound) as told:
        from_csv(text, "log.csv")
    return told.value.mistakes


def places(mistakes: tuple[Mistake, ...]) -> list[tuple[int, str]]:
    return [(mistake.line, mistake.key) for mistake in mistakes]


WRONG = [
    ("name", "8"), ("name", "A" * 32), ("name", 8), ("name", None), ("name", "0" * 33),
    ("written", "2026-01-05"), ("written", "2026-01-05T08:58:00"), ("written", "2026-01-05 08:58:00Z"),
    ("written", "2026-02-30T08:58:00Z"), ("written", "2026-01-05T08:58:00.0000001Z"), ("written", 1767603480),
    ("written", "0001-01-01T00:00:00+14:00"), ("written", "2026-01-05T24:00:00Z"),
    ("day", "2026-02-29"), ("day", "20260105"), ("day", "2026-W02-1"), ("day", "05.01.2026"),
    ("day", "2026-01-05T00:00"),
    ("session", None), ("session", "s" * 201), ("instrument", 1), ("drill", ""), ("key", ["C"]), ("step", {"a": 1}),
    ("session", "a\0b"), ("note", "\ud83c"),
    ("variant", -1), ("variant", 1.0), ("variant", True), ("variant", "1"), ("variant", 10**9 + 1), ("variant", None),
    ("place", -1), ("place", 10**30), ("place", ""),
    ("bpm", 0), ("bpm", -60), ("bpm", 60.0), ("bpm", "60.5"), ("bpm", "63/0"), ("bpm", "1001"), ("bpm", "2001/2"),
    ("bpm", " 63/2"), ("bpm", "63 / 2"), ("bpm", "٦٣"), ("bpm", None), ("bpm", True), ("bpm", "1e2"), ("bpm", "63/2/1"),
    ("clean", 1001), ("total", 2.0), ("total", "4"), ("total", 1001),
    ("seconds", -1), ("seconds", 86401), ("seconds", 3.5), ("seconds", "nan"), ("seconds", "172801/2"),
    ("judged", "by God"), ("judged", ""), ("judged", None), ("note", 1), ("note", "n" * 2001), ("corrects", "x"),
    ("corrects", None), ("logbook", 2), ("logbook", "1"), ("logbook", True), ("logbook", None), ("logbook", 1.0),
]  # fmt: skip


@pytest.mark.parametrize(("key", "value"), WRONG)
def test_a_wrong_field_of_json(key: str, value: Any) -> None:
    (mistake,) = mistakes_in_json(json.dumps({**GOOD, key: value}))
    assert (mistake.file, mistake.line, mistake.key) == ("log.jsonl", 1, key)
    assert mistake.found
    assert mistake.allowed
    str(mistake).encode()


@pytest.mark.parametrize(
    ("right", "wrong", "key"),
    [
        (",8,8,", ",8.0,8,", "variant"), (",8,8,", ",08,8,", "variant"), (",8,8,", ",8,-8,", "place"),
        (",8,8,", ",,8,", "variant"), (",68,", ",68.,", "bpm"),
        (",68,", ",6.8e1,", "bpm"), (",68,", ",,", "bpm"), (",0,4,", ",0,many,", "total"),
        ("1,0000", "2,0000", "logbook"), ("1,0000", ",0000", "logbook"), ("by ear", "", "judged"),
    ],
)  # fmt: skip
def test_a_wrong_field_of_csv(right: str, wrong: str, key: str) -> None:
    assert RECORD.count(right) == 1
    (mistake,) = mistakes_in_csv(HEADER + RECORD.replace(right, wrong))
    assert (mistake.file, mistake.line, mistake.key) == ("log.csv", 2, key)
    assert mistake.allowed


def test_all_mistakes_of_all_lines_are_told() -> None:
    lines = [GOOD, {**GOOD, "bpm": 0.5, "day": "today"}, GOOD, {**GOOD, "clean": -1, "judged": "by me", "place": "x"}]
    text = "\n\n".join(map(json.dumps, lines))
    assert places(mistakes_in_json(text)) == [(3, "day"), (3, "bpm"), (7, "place"), (7, "clean"), (7, "judged")]


def test_what_cannot_be_together_is_told_together() -> None:
    (mistake,) = mistakes_in_json(json.dumps({**GOOD, "clean": 1, "total": 0}))
    assert "1 clean of 0 runs cannot be" in mistake.problem
    assert "an entry of no runs must name the one that it takes back" in mistake.problem


@pytest.mark.parametrize("key", list(GOOD))
def test_a_missing_key(key: str) -> None:
    (mistake,) = mistakes_in_json(json.dumps({each: value for each, value in GOOD.items() if each != key}))
    assert (mistake.line, mistake.key, mistake.problem) == (1, key, "this is missing")
    (mistake,) = mistakes_in_csv(
        HEADER.replace(f"{key}\r", "\r").replace(f"{key},", "", 1).replace(",\r", "\r") + RECORD
    )
    assert (mistake.line, mistake.key, mistake.problem) == (1, key, "this is missing")


def test_an_unknown_key_and_the_one_that_was_meant() -> None:
    told = {"tempo" if key == "step" else "instrumant" if key == "instrument" else key: GOOD[key] for key in GOOD}
    assert places(mistakes_in_json(json.dumps(told))) == [
        (1, "instrumant"),
        (1, "tempo"),
        (1, "instrument"),
        (1, "step"),
    ]
    first, *_ = mistakes_in_csv(HEADER.replace("instrument", "instrumant") + RECORD)
    assert (first.line, first.key, first.nearest) == (1, "instrumant", "instrument")


def test_a_key_or_column_twice() -> None:
    twice = json.dumps(GOOD)[:-1] + ', "clean": 0}'
    assert places(mistakes_in_json(twice)) == [(1, "clean")]
    assert places(mistakes_in_csv(HEADER.replace("clean,", "clean,clean,") + RECORD)) == [(1, "clean")]


def test_two_entries_of_one_name_are_told_with_both_lines() -> None:
    (mistake,) = mistakes_in_json(json.dumps(GOOD) + "\n" + json.dumps({**GOOD, "clean": 2}))
    assert (mistake.line, mistake.key) == (2, "name")
    assert "line 1" in mistake.problem
    (mistake,) = mistakes_in_csv(HEADER + RECORD + RECORD.replace("by ear", "by pedal"))
    assert (mistake.line, mistake.key) == (3, "name")


@pytest.mark.parametrize(
    "text",
    [
        "xx",
        "{",
        '{"logbook": 1,}',
        "[1]",
        "1",
        "null",
        '"{}"',
        "[" * 100_000,
        "1" * 5000,
        "{'a': 1}",
        "\x00",
        "{}{}",
        "NaN",
    ],
)
def test_what_is_no_object_of_json(text: str) -> None:
    (mistake,) = mistakes_in_json(json.dumps(GOOD) + "\n" + text)
    assert (mistake.line, mistake.key) == (2, "")
    assert len(str(mistake)) < 300


def test_what_is_no_csv() -> None:
    assert places(mistakes_in_csv("")) == [(1, "")]
    assert places(mistakes_in_csv(HEADER + RECORD + '1,"abc')) == [(3, "")]
    assert places(mistakes_in_csv(HEADER + RECORD.replace("by ear", '"by" ear'))) == [(2, "")]
    assert places(mistakes_in_csv(HEADER + RECORD.replace("\r\n", ",1\r\n") + "1,2\r\n")) == [(2, ""), (3, "")]


@pytest.mark.parametrize(("sign", "word"), [(";", "semicolons"), ("\t", "tabs")])
def test_csv_of_another_mark_is_told_by_its_name(sign: str, word: str) -> None:
    (mistake,) = mistakes_in_csv((HEADER + RECORD).replace(",", sign))
    assert (mistake.line, mistake.key) == (1, "")
    assert word in mistake.problem


def test_a_column_that_a_spreadsheet_rewrote_is_told_once() -> None:
    header, *records = to_csv([entry(number, day=date(2026, 11, 24)) for number in range(73)])
    wrong = [record.replace(",2026-11-24,", ",24.11.2026,") for record in records]
    (mistake,) = mistakes_in_csv(header + "".join(wrong))
    assert (mistake.line, mistake.key, mistake.found) == (2, "day", '"24.11.2026"')
    assert "72 more lines" in mistake.problem
    assert "spreadsheet" in mistake.problem
    assert len(mistakes_in_csv(header + "".join((*wrong[:3], *records[3:])))) == 3


def test_lines_are_counted_through_notes_of_many_lines() -> None:
    header, first, second = to_csv([entry(1, note="one\ntwo\r\nthree"), entry(2, bpm=1)])
    assert places(mistakes_in_csv(header + first + second.replace(",1,", ",x,"))) == [(5, "bpm")]


def test_an_entry_of_another_format_is_judged_no_further() -> None:
    assert places(mistakes_in_json('{"logbook": 2, "bpm": 60.5, "instruments": []}')) == [(1, "logbook")]
