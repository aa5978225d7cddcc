"""A day's tracks know how many sessions there were before: by the calendar from `begins`, else by what is done.

Referee  the session as the player writes it: half a decibel a session from the first day on; days counted by hand.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from droner.cli.day import open_day
from droner.cli.tracks import tracks
from droner.score.score import Answer

BLOCK = '[[block]]\ndrill = "slow chromatic"\nminutes = 3\n'
BY_CALENDAR = '[rotation]\nmoves = "by the calendar"\nbegins = 2026-03-01\nkeys_per_day = 3\n'


def gains(folder: Path, rotation: str, day: date, place: int | None = None) -> set[float]:
    file = folder / "practice.toml"
    file.write_text(f'{rotation}{BLOCK}drone = "softer each session"\n', encoding="utf-8")
    (track,) = tracks(open_day(file, day=day, place=place, quiet=True), folder, ["mid"])
    return {tone.gain_db for tone in track.score.drone}


@pytest.mark.parametrize(
    ("day", "gain_db"),
    [
        (date(2026, 2, 20), 0.0),  # before it begins
        (date(2026, 3, 1), 0.0),
        (date(2026, 3, 2), -0.5),
        (date(2026, 3, 31), -15.0),  # thirty days later
        (date(2026, 4, 10), -20.0),  # forty
        (date(2027, 1, 1), -20.0),
    ],
)
def test_by_the_calendar_the_drone_is_softer_by_the_days_since_it_began(
    tmp_path: Path, day: date, gain_db: float
) -> None:
    assert gains(tmp_path, BY_CALENDAR, day) == {gain_db}


@pytest.mark.parametrize(("done", "gain_db"), [(0, 0.0), (3, -0.5), (60, -10.0), (61, -10.0)])
def test_by_what_is_done_three_items_are_a_session(tmp_path: Path, done: int, gain_db: float) -> None:
    rotation = f'[rotation]\nmoves = "when done"\ndone = {done}\nkeys_per_day = 3\n'
    assert gains(tmp_path, rotation, date(2026, 3, 1)) == {gain_db}


def test_a_place_asked_for_counts_instead(tmp_path: Path) -> None:
    assert gains(tmp_path, BY_CALENDAR, date(2026, 3, 1), place=30) == {-5.0}


def answers(folder: Path, day: date) -> tuple[Answer, ...]:
    file = folder / "practice.toml"
    file.write_text(f'{BY_CALENDAR}{BLOCK}drone = "blind return"\n', encoding="utf-8")
    (track,) = tracks(open_day(file, day=day, quiet=True), folder, ["mid"])
    return track.score.answers


def test_returns_are_the_same_all_day_and_others_on_other_days(tmp_path: Path) -> None:
    week = [date(2026, 3, day) for day in range(1, 8)]
    drawn = [answers(tmp_path, day) for day in week]
    assert drawn == [answers(tmp_path, day) for day in week]
    assert all(drawn)
    assert len(set(drawn)) > 1
    assert len({tuple(answer.onset for answer in one) for one in drawn}) == 1, "only the cents are drawn"
