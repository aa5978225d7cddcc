"""An invented session of two short items, the folders that it is played with, and what came of it.

Source  the neighbours of a tempo on the traditional metronome: `metronome_table` names its source.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from tests.midi.live.jack import Ear

SESSION = """title = "Two scales"
range = ["C4", "C6"]
lead_in_seconds = 0.3
[rotation]
keys = ["C# minor", "F major"]
keys_per_day = 2
variants = "none"
[[block]]
drill = "octave scale"
tempo = 200
"""
LADDER = SESSION.replace("tempo = 200", "ladder = { from = 176, to = 208, up_after = 1 }")
DAY = "--date=2026-11-25"
SLOWER, FASTER = "192", "208"
"""The neighbours of 200 on the traditional metronome."""


def home(room: Path) -> dict[str, str]:
    """The player's own folders, all in one place."""
    return {"DRONER_LOGBOOK": str(room / "own.logbook"), "XDG_CONFIG_HOME": str(room / "config")}


def marks_in(room: Path) -> list[tuple[str, str, int, int, str]]:
    """Key, drill, clean, total and judge of every entry, as SQLite has them."""
    with sqlite3.connect(room / "own.logbook") as connection:
        return connection.execute("SELECT key, drill, clean, total, judged FROM entry ORDER BY number").fetchall()


def stands(ear: Ear) -> bool:
    """Whether anything sounds."""
    return bool(ear.standing)
