"""Nothing is lost in JSON Lines or CSV, whatever the player wrote.

Referee  Python's own readers and writers of JSON (RFC 8259) and CSV (RFC 4180), and the sqlite3 program's CSV, which
         share no code with ours or with one another; ISO 8601 as Python reads it.
"""

from __future__ import annotations

import csv
import io
import json
import subprocess
from collections.abc import Callable, Iterable, Iterator
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Literal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from droner.practice.logbook.entry import FINEST, MOST_SECONDS, Entry
from droner.practice.logbook.lines import from_csv, from_json_lines, to_csv, to_json_lines
from tests.parts import need
from tests.practice.logbook.written import entry, logs

COLUMNS = (
    "logbook", "name", "written", "day", "session", "instrument", "drill", "key", "variant",
    "place", "bpm", "step", "clean", "total", "seconds", "judged", "note", "corrects",
)  # fmt: skip
Writes = Callable[[Iterable[Entry]], Iterator[str]]
Reads = Callable[[str, str], tuple[Entry, ...]]
SOME = settings(max_examples=50, suppress_health_check=[HealthCheck.too_slow], deadline=None)
FEW = settings(SOME, max_examples=20, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
BOTH = pytest.mark.parametrize(
    ("to_lines", "from_lines"),
    [pytest.param(to_json_lines, from_json_lines, id="JSON Lines"), pytest.param(to_csv, from_csv, id="CSV")],
)


def as_entry(told: dict[str, str]) -> Entry:
    """An entry from what an outside reader took for its fields, all as text."""
    return Entry(
        name=told["name"],
        written=datetime.fromisoformat(told["written"]),
        day=date.fromisoformat(told["day"]),
        session=told["session"],
        instrument=told["instrument"],
        drill=told["drill"],
        key=told["key"],
        variant=int(told["variant"]),
        place=int(told["place"]) if told["place"] else None,
        bpm=Fraction(told["bpm"]),
        step=told["step"],
        clean=int(told["clean"]),
        total=int(told["total"]),
        seconds=Fraction(told["seconds"]) if told["seconds"] else None,
        judged=told["judged"],
        note=told["note"],
        corrects=told["corrects"],
    )


@BOTH
@settings(SOME)
@given(written=logs())
def test_what_is_written_is_read_again(to_lines: Writes, from_lines: Reads, written: list[Entry]) -> None:
    assert from_lines("".join(to_lines(written)), "log") == tuple(written)


@BOTH
@settings(SOME)
@given(written=logs())
def test_it_survives_a_file_in_utf_8_with_a_byte_order_mark(
    to_lines: Writes, from_lines: Reads, written: list[Entry]
) -> None:
    data = "".join(to_lines(written)).encode("utf-8-sig")
    assert from_lines(data.decode("utf-8"), "log") == tuple(written)


@settings(SOME)
@given(logs())
def test_python_s_json_reads_the_lines(written: list[Entry]) -> None:
    lines = list(to_json_lines(written))
    assert [line.count("\n") for line in lines] == [1] * len(written)
    told = [json.loads(line) for line in lines]
    assert all(tuple(each) == COLUMNS and each["logbook"] == 1 for each in told)
    texts = [{key: "" if value is None else str(value) for key, value in each.items()} for each in told]
    assert [as_entry(each) for each in texts] == written
    assert not any(isinstance(value, float) for each in told for value in each.values())


@settings(SOME)
@given(logs())
def test_python_s_json_writes_what_is_read(written: list[Entry]) -> None:
    told = [json.loads(line) for line in to_json_lines(written)]
    plain = "\n".join(json.dumps(dict(reversed(each.items())), sort_keys=True) for each in told)  # all in ASCII
    assert from_json_lines(plain, "log") == tuple(written)


@settings(SOME)
@given(logs())
def test_python_s_csv_reads_the_records(written: list[Entry]) -> None:
    records = csv.DictReader(io.StringIO("".join(to_csv(written)), newline=""), strict=True)
    told = list(records)
    assert tuple(records.fieldnames or ()) == (*COLUMNS, "counts")
    assert [as_entry(each) for each in told] == written


@pytest.mark.parametrize("quoting", [csv.QUOTE_ALL, csv.QUOTE_MINIMAL])
@settings(SOME)
@given(written=logs())
def test_python_s_csv_writes_what_is_read(quoting: Literal[0, 1], written: list[Entry]) -> None:
    records = list(csv.reader(io.StringIO("".join(to_csv(written)), newline=""), strict=True))
    text = io.StringIO(newline="")
    csv.writer(text, quoting=quoting).writerows(records)
    assert from_csv(text.getvalue(), "log") == tuple(written)


def test_the_columns_may_stand_in_any_order() -> None:
    written = [entry(number) for number in range(40)]
    records = list(csv.reader(io.StringIO("".join(to_csv(written)), newline="")))
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\n").writerows(record[::-1] for record in records)
    assert from_csv(text.getvalue(), "log") == tuple(written)


@settings(FEW)
@given(written=logs().filter(bool))  # of no rows it prints no header
def test_the_sqlite3_program_reads_and_writes_the_same(tmp_path: Path, written: list[Entry]) -> None:
    (tmp_path / "log.csv").write_bytes("".join(to_csv(written)).encode())
    steps = [".import --csv log.csv log", ".headers on", ".mode csv", ".once again.csv", "SELECT * FROM log;"]
    ran = subprocess.run(
        [need("sqlite3"), ":memory:"], input="\n".join(steps), cwd=tmp_path, text=True, capture_output=True, check=True
    )
    assert ran.stderr == ""
    assert from_csv((tmp_path / "again.csv").read_bytes().decode(), "again.csv") == tuple(written)


def test_a_line_to_the_letter() -> None:
    assert next(iter(to_json_lines([entry(7)]))) == (
        '{"logbook": 1, "name": "00000000000000000000000000000007", "written": "2026-01-05T08:58:00.000007Z", '
        '"day": "2026-01-05", "session": "Winter fundamentals", "instrument": "flute", "drill": "turning scale", '
        '"key": "", "variant": 7, "place": 7, "bpm": "63/2", "step": "", "clean": 3, "total": 4, "seconds": 1, '
        '"judged": "by ear", "note": "", "corrects": ""}\n'
    )
    assert "".join(to_csv([entry(5, note='=1, "2"\r\n')])) == (
        ",".join((*COLUMNS, "counts")) + "\r\n"
        "1,00000000000000000000000000000005,2026-01-05T08:50:00.000005Z,2026-01-05,Winter fundamentals,flute,triads,"
        'A minor,5,,65,,1,4,5/7,by ear,"=1, ""2""\r\n",,yes\r\n'
    )


@given(st.fractions(0, MOST_SECONDS, max_denominator=FINEST))
def test_a_fraction_is_a_decimal_in_csv_wherever_that_is_exact(seconds: Fraction) -> None:
    """A fraction in lowest terms has a finite decimal if and only if 2 and 5 alone divide its denominator (theorem)."""
    (row,) = csv.DictReader(io.StringIO("".join(to_csv([entry(1, seconds=seconds)])), newline=""))
    rest = seconds.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    assert ("/" in row["seconds"]) == (rest > 1)
    assert Fraction(row["seconds"]) == seconds


def test_milliseconds_and_halves_are_decimals_as_a_spreadsheet_adds_them_up() -> None:
    numbers = {"38333/1000": "38.333", "7381/250": "29.524", "1200/17": "1200/17", "1/50": "0.02", "60": "60"}
    written = [entry(number, bpm=Fraction(125, 2), seconds=Fraction(told)) for number, told in enumerate(numbers)]
    rows = list(csv.DictReader(io.StringIO("".join(to_csv(written)), newline="")))
    assert [row["seconds"] for row in rows] == list(numbers.values())
    assert {row["bpm"] for row in rows} == {"62.5"}


def test_a_corrected_entry_and_one_taken_back_count_no_more() -> None:
    wrong, gone, stands = entry(1), entry(2), entry(3)
    better = entry(4, corrects=wrong.name)
    back = entry(5, corrects=gone.name, clean=0, total=0)
    rows = csv.DictReader(io.StringIO("".join(to_csv([wrong, gone, stands, better, back])), newline=""))
    assert [row["counts"] for row in rows] == ["no", "no", "yes", "yes", "no"]


def test_whether_it_counts_is_not_read_and_need_not_be_there() -> None:
    written = (entry(1), entry(2, corrects=entry(1).name))
    text = "".join(to_csv(written))
    assert from_csv(text.replace(",yes", ",no"), "log") == from_csv(text.replace(",yes", ",x"), "log") == written
    cut = "".join(line.rpartition(",")[0] + "\r\n" for line in text.splitlines())
    assert from_csv(cut, "log") == written


@BOTH
def test_of_no_entries(to_lines: Writes, from_lines: Reads) -> None:
    assert from_lines("".join(to_lines([])), "log") == ()


def test_lines_put_end_to_end_are_one_log_and_the_same_entry_is_one() -> None:
    morning, evening = [entry(1), entry(2)], [entry(2), entry(3)]
    text = "".join(to_json_lines(morning)) + "\n" + "".join(to_json_lines(evening))
    assert from_json_lines(text, "log") == (entry(1), entry(2), entry(3))


def test_a_moment_may_be_told_from_another_place() -> None:
    line = next(iter(to_json_lines([entry(7)]))).replace("08:58:00.000007Z", "10:58:00.000007+02:00")
    assert from_json_lines(line, "log") == (entry(7),)
