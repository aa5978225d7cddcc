"""How long the logbook takes to write an entry down and to be read, against bare SQLite with nothing around it.

Yardstick  for writing: a connection with the same settings and the same table that adds the same row in a transaction
           of its own. For reading: `SELECT *` of the same file, its rows fetched as they are.
Method     both in turn in one run, so that a slow or busy machine is so for both; medians for writing, which waits for
           the disk; the best of a few tries, of the clock and of processor time, for reading. Nothing is asserted.
           Entries are invented: one in thirty corrects another.
Run        python tests/benchmarks/bench_logbook.py [ENTRIES]
"""

from __future__ import annotations

import random
import sqlite3
import sys
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from droner.practice.logbook.effective import effective
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.rows import FIELDS, row_of
from droner.practice.logbook.store import open_logbook

ENTRIES = 100_000
APPENDS = 300
TRIES = 9
FIRST_DAY = datetime(2000, 1, 1, 8, tzinfo=UTC)
ADD = f"INSERT INTO entry ({', '.join(FIELDS)}) VALUES ({', '.join('?' * len(FIELDS))})"  # noqa: S608 - our own names
DRILLS, KEYS = ("slow chromatic", "turning scale", "triads"), ("C major", "A minor", "F sharp minor", "E flat major")


def made(count: int) -> list[Entry]:
    """Entries of many years, ten a day."""
    chance, entries = random.Random(1), list[Entry]()
    for number in range(count):
        written = FIRST_DAY + timedelta(
            days=number // 10, minutes=number % 10 * 4, microseconds=chance.randrange(10**6)
        )
        entry = Entry(
            name=f"{chance.getrandbits(128):032x}",
            written=written,
            day=written.date(),
            session="Winter fundamentals",
            instrument="flute",
            drill=chance.choice(DRILLS),
            key=chance.choice(KEYS),
            variant=number % 60,
            place=number,
            bpm=chance.choice((Fraction(60), Fraction(63, 2), Fraction(72))),
            step="",
            clean=chance.randrange(4),
            total=3,
            seconds=Fraction(chance.randrange(1, 900), 4),
        )
        entries.append(replace(entry, corrects=entries[-1].name) if number % 30 == 29 else entry)
    return entries


def cost_of(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds of the clock and of the processor."""
    clock, processor = time.perf_counter(), time.process_time()
    kept = work()
    cost = time.perf_counter() - clock, time.process_time() - processor
    del kept
    return cost


def writing(folder: Path, entries: list[Entry]) -> None:
    """One entry at a time, each on the disk before the next."""
    ours, bare = list[float](), list[float]()
    with open_logbook(folder / "bare.logbook", create=True):
        pass  # the same table
    with (
        open_logbook(folder / "ours.logbook", create=True) as logbook,
        closing(sqlite3.connect(folder / "bare.logbook", isolation_level=None)) as connection,
    ):
        connection.execute("PRAGMA synchronous = EXTRA")

        def add(entry: Entry) -> None:
            connection.execute("BEGIN IMMEDIATE")
            connection.execute(ADD, row_of(entry))
            connection.execute("COMMIT")

        for entry in entries:
            ours.append(cost_of(lambda entry=entry: logbook.append([entry]))[0])  # type: ignore[misc]
            bare.append(cost_of(lambda entry=entry: add(entry))[0])  # type: ignore[misc]
    ratio = median(ours) / median(bare)
    print(f"one entry on the disk: {median(ours) * 1e3:.2f} ms; bare {median(bare) * 1e3:.2f} ms; ratio {ratio:.2f}")


def reading(file: Path) -> None:
    """All entries, from opening the file to the last of them."""

    def ours() -> tuple[Entry, ...]:
        with open_logbook(file, create=False) as logbook:
            return logbook.entries()

    def bare() -> list[object]:
        with closing(sqlite3.connect(file)) as connection:
            return connection.execute("SELECT * FROM entry").fetchall()

    entries = ours()
    asked = {"bare": bare, "entries": ours, "effective": lambda: effective(entries), "all": lambda: effective(ours())}
    costs = {name: [cost_of(work) for _ in range(TRIES)] for name, work in asked.items()}
    yardstick = tuple(map(min, zip(*costs["bare"], strict=True)))
    for name, each in costs.items():
        clock, processor = map(min, zip(*each, strict=True))
        ratios = f"ratio {clock / yardstick[0]:.2f} ({processor / yardstick[1]:.2f})"
        print(f"{len(entries):,} entries, {name:9}: {clock:.3f} s (processor {processor:.3f} s); {ratios}")


def main() -> None:
    """Print a line for each."""
    entries = made(int(sys.argv[1]) if sys.argv[1:] else ENTRIES)
    with TemporaryDirectory() as folder:
        writing(Path(folder), entries[:APPENDS])
        file = Path(folder) / "long.logbook"
        clock, _ = cost_of(lambda: _import(file, entries))
        print(f"{len(entries):,} entries in one append: {clock:.2f} s; the file has {file.stat().st_size / 1e6:.1f} MB")
        reading(file)


def _import(file: Path, entries: list[Entry]) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append(entries)


if __name__ == "__main__":
    main()
