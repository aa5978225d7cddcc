"""Sound costs the same memory however long the track, and nothing until it is asked for.

Referee  Python's own account of memory (tracemalloc), the operating system's, and a fresh interpreter's list of
         loaded modules.
"""

from __future__ import annotations

import gc
import subprocess
import sys
import tracemalloc
from pathlib import Path

import pytest

from droner.score.score import Score
from droner.sound.mix import Mix
from droner.sound.render import render_blocks
from droner.units import Beats
from tests.sound.scores import day_of_work, score, steady, tone

LIGHT = ("droner", "droner.sound", "droner.sound.mix", "droner.sound.tags", "droner.sound.formats_table")
GROWTH_ALLOWED = 1.2
"""Blocks and tables are the same; the loudness keeps some numbers for every tenth of a second."""

BYTES_AN_EVENT = 200
"""A note or click of the score keeps its place in a row or some columns: a second of samples is 200,000 bytes."""

LONG_FILE = """
import sys
from pathlib import Path
from droner.score.columns import score_in_columns
from droner.score.join import join
import droner.sound.audio_file
from droner.sound.mix import Mix
from droner.sound.render import render_blocks
from tests.sound.scores import day_of_work
items = [score_in_columns(day_of_work(int(sys.argv[2]))) for _ in range(int(sys.argv[1]))]
for _ in render_blocks(join("long", items), Mix(guide=True)):
    pass
print(next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith("VmHWM")).split()[1])
"""
"""Tells its highest memory in kilobytes: a track is made, the encoder is loaded, but nothing is written.
Source: proc(5), VmHWM, of the Linux manual pages.
"""


def make(track: Score) -> None:
    for _ in render_blocks(track, Mix(guide=True, channels="stereo")):
        pass


def peak_bytes(track: Score) -> int:
    """The most that a second making of the track needs: tables are made once and kept."""
    make(track)
    gc.collect()
    tracemalloc.start()
    make(track)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak


def test_twelve_minutes_take_no_more_memory_than_four() -> None:
    """The same notes at a third of the tempo, every one longer than a block: 34.6 million frames for 11.5."""
    four, twelve = day_of_work(4, 4_800_000), day_of_work(12, 14_400_000)
    assert peak_bytes(twelve) < GROWTH_ALLOWED * peak_bytes(four)


def test_more_notes_take_only_their_columns() -> None:
    one, five = day_of_work(1), day_of_work(5)
    events = sum(len(part) for part in (five.solo, five.clicks, five.changes, five.drone))
    assert peak_bytes(five) - peak_bytes(one) < BYTES_AN_EVENT * events


def test_a_drone_on_ever_new_pitches_keeps_a_bounded_number_of_tables() -> None:
    """A new pitch every beat: 128 tables are kept, not a thousand."""
    few, many = (
        score(
            Beats(beats),
            drone=[tone(beat, 1, "A3", 110.0 * 2 ** (beat / 1000)) for beat in range(beats)],
            tempos=steady(200_000),
        )
        for beats in (200, 1_000)
    )
    assert peak_bytes(many) < GROWTH_ALLOWED * peak_bytes(few)


@pytest.mark.skipif(not Path("/proc/self/status").is_file(), reason="this system does not tell a process's memory")
def test_two_hours_take_hardly_more_memory_than_a_minute() -> None:
    """The highest memory of a process from its start to its end, its score and the libraries with it."""
    minute, two_hours = (
        int(
            subprocess.run(
                [sys.executable, "-c", LONG_FILE, str(items), str(minutes)], capture_output=True, text=True, check=True
            ).stdout
        )
        for items, minutes in ((1, 1), (24, 5))
    )
    assert two_hours < GROWTH_ALLOWED * minute


@pytest.mark.parametrize("module", LIGHT)
def test_the_light_modules_load_no_numbers_library(module: str) -> None:
    program = f"import sys, {module}; print(sorted({{'numpy', 'soundfile', 'mido'}} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
