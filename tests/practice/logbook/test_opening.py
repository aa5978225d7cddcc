"""What is no logbook, or cannot be used, is told in plain words; and not a byte of it changes.

Referee  the operating system, refusing for real; SQLite by a connection that is not ours; the bytes of the files.
"""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from droner.errors import MachineError, MistakesFound
from droner.practice.logbook.schema import MIGRATIONS
from droner.practice.logbook.store import open_logbook
from tests.practice.logbook.children import SURROUNDINGS, bytes_of, left_by_a_kill
from tests.practice.logbook.written import entry

NEWER = {**MIGRATIONS, 2: ("ALTER TABLE entry ADD COLUMN mood TEXT",)}
"""A made-up version that comes after ours."""
unix = pytest.mark.skipif(sys.platform == "win32", reason="kills and pipes of Unix")


def other_database(file: Path, *, wal: bool) -> None:
    """A database of another program, with something in it."""
    with closing(sqlite3.connect(file)) as other:
        other.execute(f"PRAGMA journal_mode = {'wal' if wal else 'delete'}")
        other.execute("PRAGMA user_version = 1")
        other.execute("CREATE TABLE recipe (name TEXT)")
        other.commit()


@pytest.mark.parametrize("create", [False, True])
@pytest.mark.parametrize(
    "data",
    [
        b"x", b"\n", b"title = 'Winter'\n", b"x" * 5000, bytes(100), bytes(8192), b"SQLite format 3\0",
        b"SQLite format 3\0" + b"z" * 5000, b"SQLite format 3\0" + bytes(84), "\ufeff".encode("utf-16"),
    ],
)  # fmt: skip
def test_a_file_that_is_no_database(tmp_path: Path, data: bytes, create: bool) -> None:  # noqa: FBT001 - a parameter
    file = tmp_path / "droner.logbook"
    file.write_bytes(data)
    with pytest.raises(MistakesFound, match="this is no logbook of droner's"), open_logbook(file, create=create):
        pytest.fail("it was opened")
    assert bytes_of(tmp_path) == {file.name: data}


@pytest.mark.parametrize("wal", [False, True])
def test_a_database_of_another_program(tmp_path: Path, wal: bool) -> None:  # noqa: FBT001 - a parameter
    other_database(tmp_path / "recipes", wal=wal)
    before = bytes_of(tmp_path)
    with (
        pytest.raises(MistakesFound, match="this is no logbook of droner's"),
        open_logbook(tmp_path / "recipes", create=True),
    ):
        pytest.fail("it was opened")
    assert bytes_of(tmp_path) == before


@unix
@pytest.mark.parametrize("journal", ["wal", "delete"])
def test_a_database_that_another_program_left_in_the_middle(tmp_path: Path, journal: str) -> None:
    file = tmp_path / "recipes"
    other_database(file, wal=journal == "wal")
    many = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 9999) SELECT i FROM n"
    end = ["COMMIT"] if journal == "wal" else []
    left_by_a_kill(file, "PRAGMA cache_size = 5", "BEGIN IMMEDIATE", f"INSERT INTO recipe {many}", *end)
    before = bytes_of(tmp_path)
    assert len(before[f"recipes-{'wal' if journal == 'wal' else 'journal'}"]) > 0
    with pytest.raises(MistakesFound, match="this is no logbook"), open_logbook(file, create=True):
        pytest.fail("it was opened")
    after = bytes_of(tmp_path)
    assert all(after[name] == data for name, data in before.items() if not name.endswith("-shm"))  # -shm is memory


def test_a_logbook_of_a_newer_droner(three_entries: Path) -> None:
    with open_logbook(three_entries, create=False, migrations=NEWER):
        pass
    before = bytes_of(three_entries.parent)
    with (
        pytest.raises(MachineError, match=r"newer droner .* \(version 2, not 1\)"),
        open_logbook(three_entries, create=True),
    ):
        pytest.fail("it was opened")
    assert bytes_of(three_entries.parent) == before


@unix
def test_a_logbook_that_a_newer_droner_left_in_the_middle(three_entries: Path) -> None:
    left_by_a_kill(three_entries, "PRAGMA user_version = 2")
    before = bytes_of(three_entries.parent)
    assert len(before["droner.logbook-wal"]) > 0
    with pytest.raises(MachineError, match="newer droner"), open_logbook(three_entries, create=True):
        pytest.fail("it was opened")
    after = bytes_of(three_entries.parent)
    assert after[three_entries.name] == before[three_entries.name]
    assert after["droner.logbook-wal"] == before["droner.logbook-wal"]


def test_no_file(tmp_path: Path) -> None:
    for missing in ("droner.logbook", "folder/droner.logbook", "droner\0logbook"):
        with (
            pytest.raises(MistakesFound, match="there is no such file"),
            open_logbook(tmp_path / missing, create=False),
        ):
            pytest.fail("it was opened")
    with (
        pytest.raises(MachineError, match="no such file or directory"),
        open_logbook(tmp_path / "a" / "b", create=True),
    ):
        pytest.fail("it was opened")
    assert list(tmp_path.iterdir()) == []


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(MistakesFound, match="this is a folder"), open_logbook(tmp_path, create=True):
        pytest.fail("it was opened")


@unix
def test_a_pipe_and_links_in_a_circle(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(MistakesFound, match="a pipe or a device"), open_logbook(tmp_path / "pipe", create=True):
        pytest.fail("it was opened")
    (tmp_path / "one").symlink_to(tmp_path / "other")
    (tmp_path / "other").symlink_to(tmp_path / "one")
    with pytest.raises(MachineError, match="round in a circle"), open_logbook(tmp_path / "one", create=True):
        pytest.fail("it was opened")


@pytest.mark.parametrize("name", ["a ? b#c%41.logbook", "Übungs 日記.logbook", "file:x?mode=ro", " ", "-"])
def test_any_name_will_do(tmp_path: Path, name: str) -> None:
    with open_logbook(tmp_path / name, create=True) as logbook:
        logbook.append([entry(1)])
    assert [path.name for path in tmp_path.iterdir()] == [name]


@unix
def test_a_link_is_followed(three_entries: Path, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(three_entries)
    with open_logbook(tmp_path / "link", create=False) as logbook:
        logbook.append([entry(3)])
        assert not (tmp_path / "link-wal").exists()
    with open_logbook(three_entries, create=False) as logbook:
        assert len(logbook.entries()) == 4


@pytest.mark.parametrize("create", [False, True])
def test_an_empty_file_is_a_new_logbook(tmp_path: Path, create: bool) -> None:  # noqa: FBT001 - a parameter
    (tmp_path / "empty").touch()
    with open_logbook(tmp_path / "empty", create=create) as logbook:
        assert logbook.entries() == ()
        assert logbook.append([entry(1)]) == 1


def test_a_damaged_logbook(three_entries: Path) -> None:
    data = three_entries.read_bytes()
    three_entries.write_bytes(data[:4096] + b"\xff" * (len(data) - 4096))
    damaged = three_entries.read_bytes()
    with pytest.raises(MachineError, match="it is damaged"), open_logbook(three_entries, create=False) as logbook:
        logbook.entries()
    assert three_entries.read_bytes() == damaged


def test_a_logbook_that_was_cut_off(three_entries: Path) -> None:
    three_entries.write_bytes(three_entries.read_bytes()[:4096])
    with pytest.raises(MachineError, match=str(three_entries)), open_logbook(three_entries, create=False) as logbook:
        logbook.entries()


@unix
def test_a_kill_while_the_tables_are_made_leaves_no_file_that_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "droner.logbook"
    program = """
import os, sqlite3, sys
from droner.practice.logbook.schema import MIGRATIONS, steps
making = sqlite3.connect(sys.argv[1], isolation_level=None)
making.execute("PRAGMA cache_size = 1")
making.execute("BEGIN IMMEDIATE")
for statement in steps(0, MIGRATIONS):
    making.execute(statement)
many = "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 9999) SELECT i FROM n"
making.execute("CREATE TABLE filler AS " + many)
os.kill(os.getpid(), 9)
"""
    subprocess.run([sys.executable, "-c", program, file], env=SURROUNDINGS, check=False)
    assert file.stat().st_size > 0
    assert (tmp_path / "droner.logbook-journal").stat().st_size > 0
    with open_logbook(file, create=False) as logbook:
        assert logbook.append([entry(1)]) == 1
    assert list(bytes_of(tmp_path)) == ["droner.logbook"]


def test_it_can_be_read_while_a_program_writes(three_entries: Path) -> None:
    with open_logbook(three_entries, create=False) as writing, open_logbook(three_entries, create=False) as reading:
        writing.append([entry(3)])
        assert len(reading.entries()) == 4
