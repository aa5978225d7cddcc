"""Keep the logbook in a file. (Shore: the only file that touches SQLite and the disk for it.)

Rule    an entry is acknowledged once the machine says that it is on the disk; those of one `append` are there all or
        none. A kill at any moment loses nothing acknowledged and leaves nothing half-made: tables are made in one
        transaction, and an empty file is a new logbook. What a killed program left is taken up at the next opening.
        What is no logbook, or one of a newer droner, is refused before anything could change it. Reading needs no
        permission to write, neither to the file nor to its folder.
        While it is open its newest entries may stand beside it, in a file that ends in `-wal`; once the last program
        has closed it, it is whole and alone, and can be copied. Programs of one machine may have it open at once; on a
        folder of the network, one machine at a time, since what they agree by is shared memory. Where the file system
        has none, SQLite's older journal does the same, more slowly.
Units   seconds of waiting; bytes.
Source  SQLite documentation: "Write-Ahead Logging"; "Atomic Commit In SQLite"; "PRAGMA synchronous" (EXTRA is FULL, and
        makes the end of an older journal durable too); "How To Corrupt An SQLite Database File", 2.2 (to close a file
        drops every lock that the process has on it: so SQLite alone opens it).
"""

from __future__ import annotations

import errno
import gc
import os
import sqlite3
import stat
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Any, TypeVar

from droner.errors import MachineError, Mistake, MistakesFound
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.refusals_table import BUSY, CANNOT_OPEN, IO, NOT_A_DATABASE, PROTOCOL, READ_ONLY, in_words
from droner.practice.logbook.rows import FIELDS, Row, entries_of, row_of
from droner.practice.logbook.schema import APPLICATION_ID, MIGRATIONS, Migrations, newest, steps

Done = TypeVar("Done")
PATIENCE_SECONDS = 10.0
"""How long another program may hold the logbook."""
DEAF_SECONDS = 0.2
"""SQLite waits so long by itself, and hears no Ctrl-C meanwhile; then it is asked again."""
Ask = Callable[..., Iterable[tuple[Any, ...]]]  # takes a query and its values, gives rows
_COLUMNS = ", ".join(FIELDS)
_ALL = f"SELECT {_COLUMNS} FROM entry ORDER BY number"  # noqa: S608 - the names of our own fields
_ONE = f"SELECT {_COLUMNS} FROM entry WHERE name = ?"  # noqa: S608 - the same
_ADD = f"INSERT INTO entry ({_COLUMNS}) VALUES ({', '.join('?' * len(FIELDS))})"  # noqa: S608 - the same
_HEADER_BYTES, _VERSION_AT, _IDENTITY_AT = 100, slice(60, 64), slice(68, 72)
"""SQLite documentation, "Database File Format", 1.3: big-endian numbers in the header."""


class Logbook:
    """An open logbook."""

    __slots__ = ("_connection", "_path", "_patience_seconds")

    def __init__(self, path: Path, connection: sqlite3.Connection, patience_seconds: float) -> None:
        self._path = path
        self._connection = connection
        self._patience_seconds = patience_seconds

    def append(self, entries: Iterable[Entry]) -> int:
        """Write entries down, all or none; how many were new. Once it returns they are on the disk.

        What is there already is passed over. MistakesFound when another entry has the name of one of these.
        """
        rows = [row_of(entry) for entry in entries]
        with _refusals_told(self._path):
            return _patiently(lambda: self._added(rows), self._patience_seconds)

    def entries(self) -> tuple[Entry, ...]:
        """All that was ever written down, in the order in which it came to this file."""
        with _refusals_told(self._path), _no_collecting():
            return _patiently(self._read, self._patience_seconds)

    def asked(self, asking: Callable[[Ask], Done]) -> Done:
        """What `asking` makes of the answers to its queries, all of which see the logbook as it is at one moment."""
        with _refusals_told(self._path), _no_collecting(), _damage_told(self._path):
            return _patiently(lambda: self._at_one_moment(asking), self._patience_seconds)

    def _at_one_moment(self, asking: Callable[[Ask], Done]) -> Done:
        with _transaction(self._connection, "BEGIN"):
            return asking(self._connection.execute)

    def _added(self, rows: list[Row]) -> int:
        added, mistakes = 0, []
        with _transaction(self._connection):
            for row in rows:
                there = self._connection.execute(_ONE, row[:1]).fetchone()
                if there is None:
                    self._connection.execute(_ADD, row)
                    added += 1
                elif there != row:
                    problem = "the logbook has another entry of this name"
                    mistakes.append(Mistake(str(self._path), 0, str(row[0]), problem))
            if mistakes:
                raise MistakesFound(mistakes)
        return added

    def _read(self) -> tuple[Entry, ...]:
        with _damage_told(self._path):
            return tuple(entries_of(self._connection.execute(_ALL)))


@contextmanager
def open_logbook(
    path: Path, *, create: bool, patience_seconds: float = PATIENCE_SECONDS, migrations: Migrations = MIGRATIONS
) -> Iterator[Logbook]:
    """The logbook in a file; `create` makes one where there is none. MistakesFound or MachineError."""
    with _refusals_told(path):
        connection = _patiently(lambda: _opened(path, migrations, create=create), patience_seconds)
    try:
        yield Logbook(path, connection, patience_seconds)
    finally:
        if connection.total_changes:  # the last to close moves all into the file in any case; this helps others
            with suppress(sqlite3.Error):
                connection.execute("PRAGMA wal_checkpoint(PASSIVE)")
        connection.close()


def _opened(path: Path, migrations: Migrations, *, create: bool) -> sqlite3.Connection:
    real = _real_file(path, create=create)
    _judge_leftovers(path, real, newest(migrations))
    connection = _connected(real)
    try:
        _judge(path, connection, newest(migrations))
        _bring_up_to_date(connection, migrations)
    except BaseException:
        connection.close()
        raise
    return connection


def _real_file(path: Path, *, create: bool) -> Path:
    """Where a path leads: a file that is there, made empty if it may be."""
    try:
        real = Path(os.path.realpath(path))
        if create and not real.exists():
            with suppress(FileExistsError):
                os.close(os.open(real, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
        status = real.stat()
    except ValueError:  # a name that no file can have
        raise _no_logbook(path, "there is no such file") from None
    except OSError as why:
        if not create and isinstance(why, (FileNotFoundError, NotADirectoryError)):
            raise _no_logbook(path, "there is no such file") from None
        circle = "its links lead round in a circle"
        raise MachineError(f"{path}: {circle if why.errno == errno.ELOOP else str(why.strerror).lower()}") from why
    if not stat.S_ISREG(status.st_mode):
        raise _no_logbook(path, "this is a folder" if stat.S_ISDIR(status.st_mode) else "this is a pipe or a device")
    if 0 < status.st_size < _HEADER_BYTES:  # SQLite takes a file of one byte for an empty one
        raise _no_logbook(path)
    if not os.access(real, os.R_OK):
        raise MachineError(f"{path}: permission denied")
    return real


def _judge_leftovers(path: Path, real: Path, known: int) -> None:
    """What a killed program left is moved into the file by opening it: so look first whose file it is."""
    if _size(real, "-wal"):
        with closing(_connected(real, "mode=ro")) as looking:
            _judge(path, looking, known)
    elif _size(real, "-journal"):  # cannot be looked at through SQLite, and nobody can have it open
        with real.open("rb") as file:
            header = file.read(_HEADER_BYTES)
        if any(header):  # a file whose first page was never written is a new one
            version, identity = (int.from_bytes(header[at], "big") for at in (_VERSION_AT, _IDENTITY_AT))
            _judge_numbers(path, identity, version, known)


def _judge(path: Path, connection: sqlite3.Connection, known: int) -> None:
    if _number(connection, "page_count"):  # without pages it is empty, and so a new one
        _judge_numbers(path, _number(connection, "application_id"), _number(connection, "user_version"), known)


def _judge_numbers(path: Path, identity: int, version: int, known: int) -> None:
    if identity != APPLICATION_ID:
        raise _no_logbook(path)
    if version > known:
        raise MachineError(f"{path}: a newer droner wrote this logbook (version {version}, not {known}): update droner")


def _connected(real: Path, how: str = "mode=rw") -> sqlite3.Connection:
    """SQLite's connection to a file, which has been read once.

    Where the journal's own files cannot be made, for want of permission or of room, and there is nothing in them, the
    file is read as one that never changes. A disk that fails will fail then too.
    """
    connection = _connection(real, how)
    try:
        _number(connection, "schema_version")
    except sqlite3.Error as why:
        connection.close()
        if _code(why) not in {CANNOT_OPEN, READ_ONLY, IO}:
            raise
        if _size(real, "-wal"):
            problem = (
                "its newest entries lie beside it, and the right to read them or to write in its folder is missing"
            )
            raise MachineError(f"{real}: {problem}") from why
        return _connection(real, "immutable=1")
    return connection


def _connection(real: Path, how: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{real.as_uri()}?{how}", uri=True, timeout=DEAF_SECONDS, isolation_level=None)


def _bring_up_to_date(connection: sqlite3.Connection, migrations: Migrations) -> None:
    """Make the tables, or those of a newer version; then change to the faster journal.

    The tables are made under the older one, which ends by making the folder durable: a new file's name with it.
    """
    connection.execute("PRAGMA synchronous = EXTRA")
    connection.execute("PRAGMA fullfsync = ON")  # macOS: to the disk itself, not to its cache; no other system asks
    if _number(connection, "user_version") < newest(migrations):
        with _transaction(connection):
            for statement in steps(_number(connection, "user_version"), migrations):
                connection.execute(statement)
    if connection.execute("PRAGMA journal_mode").fetchone() != ("wal",):
        with suppress(sqlite3.OperationalError):  # somebody has it open, or it cannot be written: next time, then
            connection.execute("PRAGMA journal_mode = WAL")


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def _size(real: Path, ending: str) -> int:
    """The size of a file beside the logbook; 0 when there is none."""
    try:
        return real.with_name(real.name + ending).stat().st_size
    except OSError:
        return 0


@contextmanager
def _damage_told(path: Path) -> Iterator[None]:
    """Tell of an entry that cannot be: a program that passes the checks over has written here."""
    try:
        yield
    except (TypeError, ValueError) as why:
        raise MachineError(f"{path}: it is damaged: an entry cannot be read ({why})") from why


@contextmanager
def _transaction(connection: sqlite3.Connection, begin: str = "BEGIN IMMEDIATE") -> Iterator[None]:
    connection.execute(begin)
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):  # a full disk may have ended it already
            connection.execute("ROLLBACK")
        raise


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Entries do not hold one another: looking for circles among a hundred thousand takes a fifth of the time."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def _patiently(work: Callable[[], Done], seconds: float) -> Done:
    """Do it as soon as no other program holds the file, or raise what SQLite says."""
    deadline = time.monotonic() + seconds
    while True:
        try:
            return work()
        except sqlite3.OperationalError as why:
            if _code(why) not in {BUSY, PROTOCOL} or time.monotonic() > deadline:
                raise
            time.sleep(DEAF_SECONDS / 20)


@contextmanager
def _refusals_told(path: Path) -> Iterator[None]:
    """Tell what SQLite refuses in plain words. Wrong use of SQLite is a bug of ours."""
    try:
        yield
    except sqlite3.ProgrammingError:
        raise
    except sqlite3.Error as why:
        if _code(why) == NOT_A_DATABASE:
            raise _no_logbook(path) from None
        raise MachineError(f"{path}: {in_words(_code(why), str(why))}") from why


def _code(why: sqlite3.Error) -> int:
    """The kind of refusal: the lowest byte of SQLite's extended result code."""
    return int(getattr(why, "sqlite_errorcode", 0)) & 0xFF


def _no_logbook(path: Path, problem: str = "this is no logbook of droner's") -> MistakesFound:
    return MistakesFound([Mistake(str(path), 0, "", problem, allowed="the file of a logbook")])
