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
QUIET_TASKS = tuple(
    f'drone = "{name}"' for name in ("tone and silence", "before you play", "two high tones", "your difference tone")
)
"""Drones that need silence, as their rows say: what is taken away, or must be listened for."""
CHORDS_IN_SILENCE = 'drone = "tone and silence"\nchanges = "plain cadence"'


def track_of(folder: Path, task: str, guide: bool | None = None, block: str = BLOCK) -> Track:  # noqa: FBT001 - a wish, as a command has it
    file = folder / "practice.toml"
    file.write_text(f"{GUIDED}{block}{task}\n", encoding="utf-8")
    (track,) = tracks(open_day(file, day=DAY, quiet=True), folder, ["wav"], guide=guide)
    return track


@pytest.mark.parametrize("task", [*TASKS, *QUIET_TASKS])
def test_nothing_with_a_pitch_sounds_beside_a_drone_that_must_be_alone(tmp_path: Path, task: str) -> None:
    heard = track_of(tmp_path, task).heard
    assert heard.drone
    assert heard.clicks
    assert (heard.changes, heard.solo) == ((), ())


@pytest.mark.parametrize("task", ['drone = "tonic"', 'drone = "softer each session"', CHORDS_IN_SILENCE])
def test_other_drones_have_the_chords_of_the_study_and_the_guide_of_the_session(tmp_path: Path, task: str) -> None:
    heard = track_of(tmp_path, task).heard
    assert heard.changes
    assert heard.solo


def test_a_drill_of_ours_keeps_the_chords_that_belong_to_its_own_drone(tmp_path: Path) -> None:
    """Its page says that one pitch is held through chords: without them it would be another drill."""
    block = '[[block]]\ndrill = "held note"\nkeys = ["C major"]\nminutes = 3\n'
    own, other = (track_of(tmp_path, drone, block=block).heard for drone in ("", 'drone = "tone and silence"'))
    assert own.changes
    assert not other.changes


@pytest.mark.parametrize("task", [*TASKS, *QUIET_TASKS])
def test_a_guide_that_the_command_asks_for_sounds(tmp_path: Path, task: str) -> None:
    heard = track_of(tmp_path, task, guide=True).heard
    assert heard.solo
    assert heard.changes == ()
