"""Write entries down and read them again: all, in order, each once, whoever else is writing.

Referee  SQLite by a connection that is not ours; the sqlite3 program; the operating system's rights.
"""

from __future__ import annotations

import gc
import sqlite3
import subprocess
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from droner.errors import MachineError, MistakesFound
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.store import open_logbook
from tests.parts import need
from tests.practice.logbook.written import entry, logs

PATIENCE_SECONDS = 0.3
"""So that a test of what is held for too long is short."""
PATIENCE_KEPT_SECONDS = 5
"""Patience is at an end by then, on a busy machine too."""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "droner.logbook"


@contextmanager
def held(file: Path, how: str) -> Iterator[None]:
    """Another program holds the logbook."""
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute(how)
        yield
        other.execute("ROLLBACK")


def test_what_is_written_is_there_at_once_and_later(file: Path) -> None:
    written = tuple(entry(number) for number in range(100))
    with open_logbook(file, create=True) as logbook:
        assert logbook.entries() == ()
        assert logbook.append(written[:60]) == 60
        assert logbook.append(written[60:]) == 40
        assert logbook.entries() == written
    with open_logbook(file, create=False) as logbook:
        assert logbook.entries() == written


@settings(max_examples=50, deadline=None, suppress_health_check=list(HealthCheck))
@given(written=logs())
def test_anything_that_an_entry_can_be_is_kept(tmp_path_factory: pytest.TempPathFactory, written: list[Entry]) -> None:
    file = tmp_path_factory.mktemp("logbook") / "droner.logbook"
    with open_logbook(file, create=True) as logbook:
        logbook.append(written)
        read = logbook.entries()
    assert read == tuple(written)
    assert list(map(hash, read)) == list(map(hash, written))
    assert all(type(each) is Entry and replace(each) == each for each in read)


def test_what_is_read_cannot_be_changed(file: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append([entry(1)])
        (read,) = logbook.entries()
    with pytest.raises(AttributeError):
        read.note = "changed"  # type: ignore[misc] # that is the point


def test_the_same_entry_again_is_passed_over(file: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        assert logbook.append([entry(1), entry(2), entry(1)]) == 2
        same_moment_elsewhere = replace(entry(1), written=entry(1).written.astimezone(timezone(timedelta(0), "GMT")))
        assert logbook.append([entry(2), same_moment_elsewhere]) == 0
        assert logbook.append([]) == 0
        assert logbook.entries() == (entry(1), entry(2))


def test_another_entry_of_a_name_is_a_mistake_and_nothing_is_written(file: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append([entry(1), entry(2)])
        with pytest.raises(MistakesFound) as told:
            logbook.append([entry(3), entry(1, clean=0), entry(2, note="no"), entry(4), entry(4, clean=1)])
        assert [mistake.key for mistake in told.value.mistakes] == [entry(1).name, entry(2).name, entry(4).name]
        assert logbook.entries() == (entry(1), entry(2))


def test_entries_that_fail_on_the_way_leave_nothing(file: Path) -> None:
    def interrupted() -> Iterator[Entry]:
        yield entry(1)
        raise KeyboardInterrupt

    with open_logbook(file, create=True) as logbook:
        with pytest.raises(KeyboardInterrupt):
            logbook.append(interrupted())
        assert logbook.entries() == ()
        assert logbook.append([entry(2)]) == 1


def test_the_file_is_alone_and_whole_once_it_is_closed(file: Path, tmp_path: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append(entry(number) for number in range(300))
    assert [path.name for path in tmp_path.iterdir()] == [file.name]
    copy = tmp_path / "copy.logbook"
    copy.write_bytes(file.read_bytes())
    with open_logbook(copy, create=False) as logbook:
        assert logbook.entries() == tuple(entry(number) for number in range(300))


def test_the_sqlite3_program_finds_what_was_written(file: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append([entry(7), entry(8, note="it's\nlate", seconds=None)])
    asked = "SELECT day, drill, bpm, clean, total, seconds IS NULL, note FROM entry; PRAGMA integrity_check;"
    ran = subprocess.run([need("sqlite3"), file, asked], capture_output=True, text=True, check=True)
    assert ran.stdout == (
        "2026-01-05|turning scale|63/2|3|4|0|\n"
        "2026-01-05|triads|68/1|0|4|1|it's\nlate\n"
        "ok\n"
    )  # fmt: skip


def test_durable_by_sqlite_s_own_word(file: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        assert logbook._connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert logbook._connection.execute("PRAGMA synchronous").fetchone() == (3,)  # EXTRA; FULL is 2
        assert logbook._connection.execute("PRAGMA fullfsync").fetchone() == (1,)


def test_two_at_once_in_one_program(file: Path) -> None:
    with open_logbook(file, create=True) as one, open_logbook(file, create=True) as other:
        one.append([entry(1)])
        other.append([entry(2)])
        assert one.entries() == other.entries() == (entry(1), entry(2))


@pytest.mark.parametrize("collects", [True, False])
def test_reading_leaves_python_s_collector_as_it_was(file: Path, collects: bool) -> None:  # noqa: FBT001 - a parameter
    before = gc.isenabled()
    try:
        (gc.enable if collects else gc.disable)()
        with open_logbook(file, create=True) as logbook:
            logbook.entries()
        assert gc.isenabled() == collects
    finally:
        (gc.enable if before else gc.disable)()


@pytest.mark.parametrize("how", ["BEGIN IMMEDIATE", "BEGIN EXCLUSIVE"])
def test_a_logbook_that_is_held_too_long(file: Path, how: str) -> None:
    with open_logbook(file, create=True, patience_seconds=PATIENCE_SECONDS) as logbook:
        logbook.append([entry(1)])
        with held(file, how):
            began = time.monotonic()
            with pytest.raises(MachineError, match="another program has held it for too long"):
                logbook.append([entry(2)])
            assert PATIENCE_SECONDS <= time.monotonic() - began < PATIENCE_KEPT_SECONDS
            assert logbook.entries() == (entry(1),)  # reading does not wait for a writer
        assert logbook.append([entry(2)]) == 1


def test_waiting_ends_when_the_other_is_done(file: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append([entry(1)])
        other = subprocess.Popen(
            [need("sqlite3"), file], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
        )
        with other:
            assert other.stdin
            assert other.stdout
            other.stdin.write("BEGIN IMMEDIATE;\nSELECT 'held';\n")
            assert other.stdout.readline() == "held\n"
            other.stdin.write(".shell sleep 0.5\nROLLBACK;\n.quit\n")
            assert logbook.append([entry(2)]) == 1


def test_an_entry_that_no_check_let_in_is_told(file: Path) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append([entry(1)])
    with closing(sqlite3.connect(file)) as careless:
        careless.execute("PRAGMA ignore_check_constraints = ON")
        careless.execute("DROP TRIGGER entry_never_changes")
        careless.execute("UPDATE entry SET day = 'yesterday'")
        careless.commit()
    with open_logbook(file, create=False) as logbook, pytest.raises(MachineError, match="it is damaged"):
        logbook.entries()
