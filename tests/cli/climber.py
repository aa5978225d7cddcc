"""A player on one ladder, for the tests of what shows it. All invented.

Rule    a session of one drill, in a folder of its own; a logbook of the test's own.
"""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

from droner.practice.logbook.entry import Entry
from droner.practice.logbook.store import open_logbook
from tests.cli.programs import Ran, droner_in
from tests.practice.entries import entry

MONDAY = date(2026, 1, 5)
SESSION = 'title = "Thirds"\n[[block]]\ndrill = "thirds"\nladder = { from = 60, to = 72, fine_from = 100 }\n'
"""Invented. Its rungs are metronome numbers: 60 63 66 69 72."""
WEEK = ((0, 60, 3, 3), (1, 63, 3, 3), (2, 66, 0, 2), (3, 60, 3, 3), (4, 63, 1, 3))
"""Up to 63 and 66, down by two after two misses, up again, then one clean run of three: stands at 63."""
LONG = SESSION.replace("72", "126").replace(", fine_from = 100", "")
TEN_DAYS = tuple((since, bpm, 3, 3) for since, bpm in enumerate((60, 63, 66, 69, 72, 76, 80, 84, 88, 92)))
"""A rung a day. Twenty lead to 126, with 118 and 123 where steps are halved: the last is clean on the twentieth day."""


def played(*told: tuple[int, float, int, int], **more: Any) -> list[Entry]:
    """Entries of thirds: days since Monday, tempo, clean runs, all runs."""
    return [
        entry(MONDAY + timedelta(since), clean, total, drill="thirds", bpm=bpm, number=number, **more)
        for number, (since, bpm, clean, total) in enumerate(told)
    ]


def keep(logbook: Path, entries: list[Entry]) -> None:
    with open_logbook(logbook, create=True) as opened:
        opened.append(entries)


def ladder(folder: Path, since: int, *more: str) -> Ran:
    told = droner_in(folder, "ladder", f"--date={MONDAY + timedelta(since)}", *more)
    assert told.code == 0, told.err
    return told


def row(folder: Path, since: int) -> Any:
    (found,) = ladder(folder, since, "--json").data["ladders"]
    return found
