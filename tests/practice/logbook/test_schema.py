"""The file keeps no entry that droner would not make, and no entry ever changes or goes.

Referee  SQLite, which judges by the schema alone, through a connection that is not ours; an entry's own limits, written
         out beside each value. The migrations are proved on made-up versions.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from droner.errors import MachineError
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.rows import FIELDS, row_of
from droner.practice.logbook.schema import MIGRATIONS, steps
from droner.practice.logbook.store import open_logbook
from tests.practice.logbook.written import entry

ADD = f"INSERT INTO entry ({', '.join(FIELDS)}) VALUES ({', '.join('?' * len(FIELDS))})"  # noqa: S608 - our own names
TABLES = {
    1: ("CREATE TABLE entry (name TEXT, whom TEXT)",),
    2: ("ALTER TABLE entry ADD COLUMN mood TEXT", "UPDATE entry SET mood = 'good'"),
}
"""Two made-up versions."""


@pytest.fixture
def judge() -> Iterator[sqlite3.Connection]:
    """The schema alone, in memory."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        for statement in steps(0, MIGRATIONS):
            connection.execute(statement)
        yield connection


def add(judge: sqlite3.Connection, **changes: Any) -> None:
    judge.execute(ADD, tuple((dict(zip(FIELDS, row_of(entry(8)), strict=True)) | changes).values()))


WRONG_TO_BOTH: list[tuple[str, Any]] = [
    ("name", ""), ("name", "0" * 31), ("name", "0" * 33), ("name", "G" * 32), ("name", "A" * 32),
    ("session", "s" * 201), ("instrument", "🎵" * 201), ("drill", ""), ("drill", "d" * 201), ("key", "k" * 201),
    ("step", "s" * 201), ("note", "n" * 2001), ("session", "a\0b"), ("note", "\0"), ("drill", "\0"),
    ("variant", -1), ("variant", 1_000_000_001), ("place", -1), ("place", 1_000_000_001),
    ("clean", -1), ("clean", 5), ("total", 1001), ("total", 0), ("total", -1),
    ("judged", ""), ("judged", "By ear"), ("corrects", "x"), ("corrects", "0" * 31),
]  # fmt: skip
WRONG_FRACTIONS = [
    ("bpm", Fraction(0)), ("bpm", Fraction(-1, 2)), ("bpm", Fraction(1001)), ("bpm", Fraction(10**10 + 1, 10**7)),
    ("bpm", Fraction(1, 1_000_000_001)), ("seconds", Fraction(-1, 3)), ("seconds", Fraction(86_401)),
    ("seconds", Fraction(864_000_001, 10_000)), ("seconds", Fraction(1, 1_000_000_001)),
]  # fmt: skip
WRONG_TO_THE_FILE: list[tuple[str, Any]] = [
    *((column, None) for column in FIELDS if column not in ("place", "seconds")),
    *((column, b"blob") for column in FIELDS),
    ("written", "2026-01-05T08:30:00Z"), ("written", "2026-01-05 08:30:00.000000Z"), ("written", 0),
    ("written", "2026-02-30T08:30:00.000000Z"), ("written", "2026-01-05T24:00:00.000000Z"),
    ("written", "2026-01-05T08:30:00.000000+"), ("written", "2026-01-05T08:30:00,000000Z"),
    ("written", "0000-01-05T08:30:00.000000Z"), ("written", "2026-01-05T08:30:60.000000Z"),
    ("day", "2026-02-29"), ("day", "20260105"), ("day", "2026-1-5"), ("day", "today"), ("day", "now"),
    ("day", "0000-01-01"),
    ("day", "2026-01-05 "), ("day", 2_461_045.5), ("day", ""),
    ("variant", 1.5), ("variant", "one"), ("place", 1.5), ("clean", "x"), ("total", 2.5), ("clean", ""),
    ("bpm", "63"), ("bpm", 63), ("bpm", "31.5/1"), ("bpm", "63/0"), ("bpm", "0/1"), ("bpm", "/1"), ("bpm", "63/"),
    ("bpm", "63/2/1"), ("bpm", " 63/2"), ("bpm", "-63/2"), ("bpm", "63/02"), ("bpm", "6e1/1"), ("bpm", "٦/1"),
    ("bpm", "1/99999999999999999999"), ("bpm", "99999999999999999999999/1"),
    ("seconds", "1"), ("seconds", "1/0"), ("seconds", "x/1"), ("seconds", ""), ("seconds", "1.0/1"), ("seconds", 1),
]  # fmt: skip


@pytest.mark.parametrize(("column", "value"), WRONG_TO_BOTH)
def test_neither_the_file_nor_an_entry_takes_it(judge: sqlite3.Connection, column: str, value: Any) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="CHECK constraint failed"):
        add(judge, **{column: value})
    with pytest.raises(ValueError, match=r".+"):
        entry(8, **{column: value})


@pytest.mark.parametrize(("column", "value"), WRONG_FRACTIONS)
def test_neither_takes_the_fraction(judge: sqlite3.Connection, column: str, value: Fraction) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="CHECK constraint failed"):
        add(judge, **{column: f"{value.numerator}/{value.denominator}"})
    with pytest.raises(ValueError, match=r".+"):
        entry(8, **{column: value})


@pytest.mark.parametrize(("column", "value"), WRONG_TO_THE_FILE)
def test_no_program_can_put_it_into_the_file(judge: sqlite3.Connection, column: str, value: Any) -> None:
    with pytest.raises((sqlite3.IntegrityError, sqlite3.OperationalError)) as told:
        add(judge, **{column: value})
    assert "constraint failed" in str(told.value) or "non-deterministic" in str(told.value)


EDGES: list[dict[str, Any]] = [
    {"session": "", "instrument": "", "drill": "d", "key": "", "step": "", "note": ""},
    {"session": "🎵" * 200, "instrument": "i" * 200, "drill": "d" * 200, "key": "k" * 200, "note": "é" * 2000},
    {"variant": 0, "place": 0, "clean": 0, "total": 1, "seconds": Fraction(0), "bpm": Fraction(1, 1_000_000_000)},
    {"variant": 10**9, "place": 10**9, "clean": 1000, "total": 1000, "seconds": Fraction(86_400)},
    {"bpm": Fraction(1000), "step": "s" * 200},
    {"bpm": Fraction(999_999_999_999, 10**9), "seconds": Fraction(86_399_999_999_999, 10**9)},
    {"clean": 0, "total": 0, "corrects": "f" * 32, "name": "f" * 32, "place": None, "seconds": None},
    {"day": date.min, "written": datetime.min.replace(tzinfo=UTC)},
    {"day": date.max, "written": datetime.max.replace(tzinfo=UTC)},
    {"day": date(2024, 2, 29), "judged": "by listening"},
]  # fmt: skip


@pytest.mark.parametrize("changes", EDGES)
def test_the_file_takes_all_that_an_entry_can_be(tmp_path: Path, changes: dict[str, Any]) -> None:
    with open_logbook(tmp_path / "droner.logbook", create=True) as logbook:
        logbook.append([entry(8, **changes)])
        assert logbook.entries() == (entry(8, **changes),)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET clean = 0",
        "UPDATE OR REPLACE entry SET note = 'x'",
        "UPDATE OR IGNORE entry SET number = 9",
        "DELETE FROM entry",
        "DELETE FROM entry WHERE number = 1",
        "REPLACE INTO entry SELECT * FROM entry",
        "INSERT OR REPLACE INTO entry SELECT number, replace(name, '8', '9'), {rest} FROM entry",
        "INSERT OR REPLACE INTO entry SELECT 77, name, {rest} FROM entry",
        "INSERT OR REPLACE INTO entry SELECT NULL, name, {rest} FROM entry",
        "INSERT INTO entry SELECT -1, replace(name, '8', '9'), {rest} FROM entry",
    ],
)
def test_an_entry_never_changes_or_goes(judge: sqlite3.Connection, statement: str) -> None:
    add(judge)
    before = judge.execute("SELECT * FROM entry").fetchall()
    with pytest.raises(sqlite3.IntegrityError, match=r"never changes|stays|there already|number > 0"):
        judge.execute(statement.format(rest=", ".join(FIELDS[1:])))
    assert judge.execute("SELECT * FROM entry").fetchall() == before


def test_a_number_below_zero_does_not_stop_what_comes_after(judge: sqlite3.Connection) -> None:
    add(judge)
    add(judge, name="9" * 32)
    assert judge.execute("SELECT number FROM entry ORDER BY number").fetchall() == [(1,), (2,)]


def test_a_name_is_found_without_looking_through_all(judge: sqlite3.Connection) -> None:
    plan = judge.execute("EXPLAIN QUERY PLAN SELECT * FROM entry WHERE name = ?", ("0" * 32,)).fetchall()
    assert [row[3] for row in plan] == ["SEARCH entry USING INDEX sqlite_autoindex_entry_1 (name=?)"]
    assert [row[3] for row in judge.execute("EXPLAIN QUERY PLAN SELECT * FROM entry ORDER BY number")] == ["SCAN entry"]


def rows_at(file: Path, version: int) -> list[tuple[Any, ...]]:
    with open_logbook(file, create=True, migrations={each: TABLES[each] for each in range(1, version + 1)}) as logbook:
        return logbook._connection.execute("SELECT * FROM entry").fetchall()


def test_each_version_is_made_of_the_one_before(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    assert rows_at(file, 1) == []
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("INSERT INTO entry VALUES ('1', 'me')")
        connection.commit()
    assert rows_at(file, 1) == [("1", "me")]
    assert rows_at(file, 2) == [("1", "me", "good")]
    assert rows_at(file, 2) == [("1", "me", "good")]
    with pytest.raises(MachineError, match=r"version 2, not 1"):
        rows_at(file, 1)
    with closing(sqlite3.connect(file)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (2,)
        assert connection.execute("PRAGMA application_id").fetchone() == (int.from_bytes(b"drlb", "big"),)


def test_a_new_file_goes_through_all_versions_at_once(tmp_path: Path) -> None:
    assert rows_at(tmp_path / "droner.logbook", 2) == []


def test_a_step_that_fails_leaves_the_version_before(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    rows_at(file, 1)
    before = file.read_bytes()
    broken = {1: TABLES[1], 2: (*TABLES[2], "INSERT INTO nowhere VALUES (1)")}
    with (
        pytest.raises(MachineError, match="no such table: nowhere"),
        open_logbook(file, create=True, migrations=broken),
    ):
        pytest.fail("it was opened")
    assert file.read_bytes() == before
    assert rows_at(file, 1) == []


def test_a_logbook_of_no_version_yet_is_brought_up_to_date(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    with closing(sqlite3.connect(file)) as connection:
        connection.execute(f"PRAGMA application_id = {int.from_bytes(b'drlb', 'big')}")
        connection.execute("CREATE TABLE old (name TEXT)")
    with open_logbook(file, create=False) as logbook:
        logbook.append([entry(1)])
        assert logbook.entries() == (entry(1),)


def test_an_entry_s_own_limits_are_told_all_together() -> None:
    with pytest.raises(ValueError, match=r"runs cannot be; .*beats a minute cannot be played; .*letters at most"):
        replace(entry(1), clean=9, bpm=Fraction(0), note="n" * 2001)
    with pytest.raises(ValueError, match="no file can keep"):
        replace(entry(1), note="\ud83c")
    assert isinstance(entry(1), Entry)
