"""A player who writes days down, with the real program. The player is invented."""

from __future__ import annotations

import subprocess
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from tests.cli.programs import DRONER, Ran, droner_in, surroundings

MONDAY = date(2026, 1, 5)
LADDER = (
    'title = "Two keys"\n[rotation]\nkeys_per_day = 2\nmoves = "when done"\nvariants = "twelve"\n'
    '[[block]]\ndrill = "thirds"\nladder = { from = 60, to = 120 }\n'
)
"""Invented."""


def on(ahead: int) -> str:
    return f"--date={(MONDAY + timedelta(ahead)).isoformat()}"


def plan(folder: Path, ahead: int, *more: str) -> Any:
    return droner_in(folder, "today", on(ahead), "--json", *more).data


def last(folder: Path, count: int = 1000) -> Any:
    return droner_in(folder, "log", "--last", str(count), "--json").data


def talk(folder: Path, said: str, *options: str) -> Ran:
    done = subprocess.run(
        [*DRONER, "log", *options],
        cwd=folder,
        env=surroundings(),
        input=said,
        capture_output=True,
        text=True,
        check=False,
    )
    return Ran(done.returncode, done.stdout, done.stderr)
