"""A program that logs, to be killed, crowded or starved by the tests. Run as a file of its own.

Rule    every entry is made from its name alone, so that whoever reads the logbook knows what must stand there. An
        entry is acknowledged on standard output by its name, once `append` has returned. Entries are logged by three
        (`BATCH`), whose names differ in the last digit: all three are there or none.
Usage   logging_child.py kill FOLDER TRIES SEED | write FILE COUNT | fill FILE [BYTES] | one FILE
"""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import sys
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from secrets import token_hex

from droner.errors import MachineError
from droner.practice.logbook.store import open_logbook
from tests.practice.logbook.written import named

BATCH = 3
LATEST_KILL_SECONDS = 0.02
DIGITS = 32


def batch() -> list[str]:
    stem = token_hex(16)[: DIGITS - 1]
    return [f"{stem}{digit}" for digit in range(BATCH)]


def acknowledge(names: list[str]) -> None:
    os.write(1, "".join(f"{name}\n" for name in names).encode())


def log_for_ever(file: Path) -> None:
    """Now and then close the logbook, so that a kill can fall into that too."""
    while True:
        with open_logbook(file, create=True) as logbook:
            for _ in range(random.choice([1, 3, 30])):
                names = batch()
                logbook.append(map(named, names))
                acknowledge(names)


def killed_child(file: Path, *, wait_for_first: bool, after_seconds: float) -> list[str]:
    """The names that a child acknowledged before it was killed."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        try:
            os.dup2(writing, 1)
            random.seed()
            log_for_ever(file)
        finally:
            os._exit(1)
    os.close(writing)
    with os.fdopen(reading) as acknowledged:
        first = acknowledged.readline() if wait_for_first else ""
        time.sleep(after_seconds)
        os.kill(child, signal.SIGKILL)
        _, ended = os.waitpid(child, 0)
        if os.waitstatus_to_exitcode(ended) != -signal.SIGKILL:
            raise SystemExit(f"{file}: the child did not live to be killed")
        lines = (first + acknowledged.read()).splitlines()
    return [line for line in lines if len(line) == DIGITS]


def faults(file: Path, acknowledged: set[str]) -> list[str]:
    """What is wrong with a logbook: lost, torn or changed entries, or a file that SQLite finds broken."""
    with open_logbook(file, create=True) as logbook:
        there = {entry.name: entry for entry in logbook.entries()}
    with closing(sqlite3.connect(file)) as referee:
        found = [told for (told,) in referee.execute("PRAGMA integrity_check") if told != "ok"]
    found += [f"lost: {name}" for name in acknowledged - there.keys()]
    found += [f"changed: {name}" for name, entry in there.items() if entry != named(name)]
    batches = Counter(name[:-1] for name in there)
    return found + [f"torn: {stem}" for stem, count in batches.items() if count != BATCH]


def kill(folder: Path, tries: int, seed: int) -> None:
    """Kill children at random moments, by turns in one logbook that grows and in fresh ones."""
    chance, found, growing, total = random.Random(seed), list[str](), set[str](), 0
    for number in range(tries):
        fresh = number % 2 == 0
        file = folder / (f"{number}.logbook" if fresh else "growing.logbook")
        names = killed_child(file, wait_for_first=not fresh, after_seconds=chance.uniform(0, LATEST_KILL_SECONDS))
        total += len(names)
        if not fresh:
            growing.update(names)
        if fresh and number % 4:  # killed again, where it is taken up
            names += killed_child(file, wait_for_first=False, after_seconds=chance.uniform(0, LATEST_KILL_SECONDS))
        found += [f"{number}: {fault}" for fault in faults(file, set(names) if fresh else growing)]
    print(json.dumps({"acknowledged": total, "faults": found}))


def write(file: Path, count: int) -> None:
    """Log so many entries, one at a time."""
    with open_logbook(file, create=True) as logbook:
        for _ in range(count):
            name = token_hex(16)
            logbook.append([named(name)])
            acknowledge([name])


def fill(file: Path, bytes_left: int = 0) -> None:
    """Log until the machine refuses, then look at what is there."""
    if bytes_left:
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (bytes_left, bytes_left))
    acknowledged: set[str] = set()
    refusal = ""
    try:
        with open_logbook(file, create=True) as logbook:
            while True:
                names = batch()
                logbook.append(map(named, names))
                acknowledged.update(names)
    except MachineError as why:
        refusal = str(why)
    told = {"acknowledged": len(acknowledged), "refusal": refusal, "faults": faults(file, acknowledged)}
    os.write(1, json.dumps(told).encode())


def one(file: Path) -> None:
    """Log one entry."""
    write(file, 1)


MODES: dict[str, Callable[..., None]] = {"kill": kill, "write": write, "fill": fill, "one": one}

if __name__ == "__main__":
    MODES[sys.argv[1]](Path(sys.argv[2]), *map(int, sys.argv[3:]))
