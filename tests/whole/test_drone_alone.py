"""Where chords or the guide would give an answer away, a track is without them, whatever session and drill bring along.

Referee  the session as the player writes it: the command, the block, the task, the session, in this order. The sessions
         are invented.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from droner.cli.day import open_day
from droner.cli.tracks import Track, tracks

DAY = date(2026, 3, 1)
BY_CALENDAR = '[rotation]\nmoves = "by the calendar"\nbegins = 2026-03-01\nvariants = "none"\n'
GUIDED = f"{BY_CALENDAR}[sound]\nguide = true\n"
BLOCK = '[[block]]\ndrill = "curving study"\nkeys = ["C major"]\nminutes = 3\n'
TASKS = (
    'drone = "blind return"',
    'drone = "short blind return"',
    'partner = { kind = "tired low", role = "hold" }',
)


def track_of(folder: Path, block: str, guide: bool | None = None) -> Track:  # noqa: FBT001 - a wish, as a command has it
    file = folder / "practice.toml"
    file.write_text(f"{GUIDED}{BLOCK}{block}\n", encoding="utf-8")
    (track,) = tracks(open_day(file, day=DAY, quiet=True), folder, ["wav"], guide=guide)
    return track


@pytest.mark.parametrize("task", TASKS)
def test_nothing_with_a_pitch_sounds_beside_a_drone_that_must_be_alone(tmp_path: Path, task: str) -> None:
    heard = track_of(tmp_path, task).heard
    assert heard.drone
    assert heard.clicks
    assert (heard.changes, heard.solo) == ((), ())


@pytest.mark.parametrize("task", ['drone = "tonic"', 'drone = "tone and silence"'])
def test_other_drones_have_the_chords_of_the_study_and_the_guide_of_the_session(tmp_path: Path, task: str) -> None:
    heard = track_of(tmp_path, task).heard
    assert heard.changes
    assert heard.solo


@pytest.mark.parametrize("task", TASKS)
def test_a_guide_that_the_command_asks_for_sounds(tmp_path: Path, task: str) -> None:
    heard = track_of(tmp_path, task, guide=True).heard
    assert heard.solo
    assert heard.changes == ()
