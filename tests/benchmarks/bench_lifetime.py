"""How long droner's plan and its ladders take with a lifetime in the logbook, against the same with an empty one.

Run     python tests/benchmarks/bench_lifetime.py
Yardstick  the same command, cold, with a logbook that holds nothing: what is left is what a lifetime costs.
Rule    a hundred thousand entries: 38 years of three drills a day, three entries each, at the tempo where the player's
        ladder stood, 85 runs of 100 clean, some days and weeks off, one entry of 500 corrected. All three drills climb.
        The player is invented, by a generator that always starts the same. Cold processes, each kind in turn; the best
        of a few counts. Nothing is asserted.
Units   seconds of the whole process.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from droner.practice.ladder.walk import Walk
from droner.practice.ladder.way import Way, way_of
from droner.practice.logbook.entry import Entry
from droner.practice.logbook.store import open_logbook
from droner.practice.session import LadderOrder

ENTRIES, ROUNDS = 100_000, 7
USUAL = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""Bytecode is kept, as on a player's machine."""
TODAY = "2026-11-25"
DRILLS = {"slow chromatic": (40, 80), "turning scale": (60, 126), "arpeggio through inversions": (50, 120)}
KEYS = ("C major", "A minor", "Eb minor", "F# minor", "Db major", "E minor", "G major", "D minor")
DAYS_OFF = (2, 2, 3, 5, 14)
BLOCK = """
[[block]]
drill = "{drill}"
ladder = {{ from = {slow}, to = {fast} }}
"""
SESSION = """
title = "A life"
instrument = "flute"
weak_keys = 2
load_growth = 15
[rotation]
keys = "half-steps up, minor then major"
keys_per_day = 6
"""
MOVES = {"when done": "", "by the calendar": "begins = 1985-01-01\n"}
COMMANDS = (("today", "when done"), ("today", "by the calendar"), ("ladder", "when done"))


def a_life() -> Iterator[Entry]:
    """The entries, day after day."""
    chance, day, number = Random(1), date(1985, 1, 1), 0
    orders = {drill: LadderOrder(Fraction(slow), Fraction(fast)) for drill, (slow, fast) in DRILLS.items()}
    ways = {drill: way_of(order) for drill, order in orders.items()}
    walks = {drill: Walk(ways[drill], order) for drill, order in orders.items()}
    while True:
        day += timedelta(1 if chance.random() < 0.93 else chance.choice(DAYS_OFF))
        for turn in range(3 * len(DRILLS)):
            drill = [*DRILLS][turn // 3]
            yield _entry(number, day, turn, drill, ways[drill], walks[drill], chance)
            number += 1


def _entry(number: int, day: date, turn: int, drill: str, way: Way, walk: Walk, chance: Random) -> Entry:
    place = number // 9 * 3 + turn % 3
    entry = Entry(
        name=f"{number:032x}",
        written=datetime(day.year, day.month, day.day, 8, 4 * turn, tzinfo=UTC),
        day=day,
        session="A life",
        instrument="flute",
        drill=drill,
        key=KEYS[place % len(KEYS)],
        variant=place % 60 + 1,
        place=place,
        bpm=way.rungs[walk.place].bpm,
        step="",
        clean=sum(chance.random() < 0.85 for _ in range(3)),
        total=3,
        seconds=Fraction(number % 100 + 20),
        corrects=f"{number - 1:032x}" if number and chance.random() < 0.002 else "",
    )
    reach = way.reach(entry.bpm, "")
    assert reach is not None, "a rung of the ladder counts on it"
    walk.take(entry, reach)
    return entry


def seconds_of(command: str, session: Path, logbook: Path) -> float:
    """How long a cold process takes."""
    root = Path(__file__).resolve().parents[2]
    arguments = [sys.executable, "-m", "droner", command, str(session), "--quiet", "--date", TODAY]
    began = time.perf_counter()
    subprocess.run(
        [*arguments, "--logbook", str(logbook)],
        env=USUAL | {"PYTHONPATH": str(root)},
        stdout=subprocess.DEVNULL,
        check=True,
    )
    return time.perf_counter() - began


def main() -> None:
    """Print a line for each command."""
    with TemporaryDirectory() as made:
        folder = Path(made)
        books = {"a lifetime": folder / "life.logbook", "nothing": folder / "empty.logbook"}
        for name, book in books.items():
            with open_logbook(book, create=True) as kept:
                life = a_life()
                kept.append(next(life) for _ in range(ENTRIES if name == "a lifetime" else 0))
        for moves, more in MOVES.items():
            blocks = "".join(BLOCK.format(drill=drill, slow=slow, fast=fast) for drill, (slow, fast) in DRILLS.items())
            (folder / f"{moves}.toml").write_text(f'{SESSION}moves = "{moves}"\n{more}{blocks}')
        for command, moves in COMMANDS:
            session = folder / f"{moves}.toml"
            took = {name: [seconds_of(command, session, book) for _ in range(ROUNDS)] for name, book in books.items()}
            best = {name: min(each) for name, each in took.items()}
            print(
                f"droner {command}, {moves}: {best['a lifetime']:.2f} s with {ENTRIES:,} entries, "
                f"{best['nothing']:.2f} s with none, ratio {best['a lifetime'] / best['nothing']:.2f}"
            )


if __name__ == "__main__":
    main()
