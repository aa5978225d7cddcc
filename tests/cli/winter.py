"""A made-up player's winter: a session whose rotation moves when it is done, and its rule followed by hand.

Referee  the rule of the rotation as the program prints it: division with remainder.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from droner.practice.logbook.entry import Entry
from droner.practice.logbook.store import open_logbook
from tests.cli.programs import droner_in
from tests.practice.entries import entry

MONDAY = date(2026, 1, 5)
LATER = MONDAY + timedelta(20)
"""A day on which all of it lies behind."""
SESSION = (
    'title = "Winter"\n[rotation]\nkeys = "half-steps up, minor then major"\nkeys_per_day = 6\nmoves = "when done"\n'
    '[[block]]\ndrill = "thirds"\n[[block]]\ndrill = "broken arpeggio"\n'
)
PLAYED = {"thirds": range(40), "broken arpeggio": range(10, 35)}
"""The turns that were played: 40, and 25 of them by both drills."""


def rotation(folder: Path, *more: str, day: date = MONDAY) -> Any:
    return droner_in(folder, "rotation", f"--date={day.isoformat()}", "--json", *more).data


class Rule:
    """The rule of the rotation, as the program prints it, followed by hand. Sixty variants, from 1."""

    def __init__(self, folder: Path) -> None:
        told = rotation(folder)
        self.keys: list[str] = told["keys"]
        self.offsets = [int(number) for number in re.findall(r"\d+", told["rule"].rpartition(" are ")[2])]

    def turn(self, place: int) -> tuple[str, int]:
        key = place % 24
        return self.keys[key], 1 + (place // 24 + self.offsets[key]) % 60

    def entries(self, places: Iterable[int], drill: str, a_day: int = 6) -> list[Entry]:
        return [
            entry(
                MONDAY + timedelta(number // a_day), 3, 4, drill=drill, key=self.turn(place)[0],
                variant=self.turn(place)[1], place=place, session="Winter", number=number,
            )
            for number, place in enumerate(places)
        ]  # fmt: skip


def keep(file: Path, *entries: Entry) -> None:
    with open_logbook(file, create=True) as logbook:
        logbook.append(entries)


def keep_winter(folder: Path, logbook: Path) -> None:
    """Write down what was played, six turns a day from Monday on."""
    rule = Rule(folder)
    keep(logbook, *(one for drill, places in PLAYED.items() for one in rule.entries(places, drill)))
