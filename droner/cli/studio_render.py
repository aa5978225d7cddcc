"""Make the tracks of many sessions: a folder for each, one session to a core.

Rule    every session is planned first; nothing is written for one with mistakes, which are told at the end. A session's
        tracks are those that it would have alone. In a folder that the player names, the days of each session stand
        apart.
Units   seconds of music; work in frames.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from time import monotonic
from typing import TYPE_CHECKING, Any

import click

from droner.cli.day import open_day
from droner.cli.day_files import day_files, default_folder
from droner.cli.form_table import MIDI_FORM
from droner.cli.jobs import RATE_HZ
from droner.cli.options import today
from droner.cli.screen import show, show_json, tell
from droner.cli.studio import has_own, names_of, of_each, sessions_of, tell_of_shared, without_logbook
from droner.cli.table import counted, minutes_seconds
from droner.cli.writing import folder_for_files, stoppable, write_all

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from pathlib import Path

    from droner.cli.day import Day
    from droner.cli.day_files import Wanted
    from droner.cli.jobs import Told


@dataclass(frozen=True, slots=True)
class SessionJob:
    """All tracks of one session."""

    path: Path
    file: Path
    wanted: Wanted
    options: dict[str, Any]
    work: int

    def write(self, told: Told) -> None:
        """Write one after another."""
        done = 0
        with folder_for_files(self.path):
            for job in day_files(_day(self.file, self.options), self.path, self.wanted).jobs:
                job.write(partial(_told, told, done, self.work))
                done += job.work


@dataclass(frozen=True, slots=True)
class Planned:
    """What a session comes to. `shares`: `droner log` would write it down in the player's own logbook."""

    seconds: float
    items: int
    shares: bool


def render_studio(
    sessions: Sequence[Path], out: Path | None, wanted: Wanted, options: dict[str, Any], *, as_json: bool, quiet: bool
) -> None:
    """Write the tracks of every session. UsageError for what one session alone can be asked."""
    if wanted.only:
        raise click.UsageError("--only takes items of one session: name that one.")
    began, files, options = monotonic(), sessions_of(sessions), without_logbook(options)
    names, day = names_of(files), options["day"] or today()
    folder = out or default_folder(day)
    worked = of_each(partial(_planned, options=options), files)
    plans = worked.found
    tell_of_shared([names[file] for file, plan in plans.items() if plan.shares], quiet=quiet)
    jobs = [
        SessionJob(_folder(folder, names[file], day, named=bool(out)), file, wanted, options, _frames(plan, wanted))
        for file, plan in plans.items()
    ]
    if jobs:
        with stoppable(), folder_for_files(folder):
            write_all(jobs, quiet=quiet)
    data = [_data(job, plans[job.file]) for job in jobs]
    if as_json:
        show_json(data)
    elif data:
        show("\n".join(one["folder"] for one in data))
    tracks, seconds = sum(one["tracks"] for one in data), sum(one["seconds"] for one in data)
    told = f"{counted(len(jobs), 'session')}: {counted(tracks, 'track')}, {minutes_seconds(seconds)} of music"
    tell(f"{told}, in {monotonic() - began:.1f} s", quiet=quiet)
    for file, why in worked.left_out.items():
        tell(f"{names[file]}: {why}", quiet=quiet)
    worked.end(names)


def _folder(folder: Path, name: str, day: date, *, named: bool) -> Path:
    """The folder of a session's tracks: in one that the player names, a folder for each of its days."""
    return folder / name / default_folder(day, name) if named else folder / name


def _told(told: Told, before: int, most: int, frames: int) -> None:
    """How far a session has come; a task's own files may have a little more than the plan."""
    told(min(before + frames, most))


def _day(file: Path, options: dict[str, Any]) -> Day:
    return open_day(file, own_logbook=True, quiet=True, **options)


def _planned(file: Path, *, options: dict[str, Any]) -> Planned:
    day = _day(file, options)
    return Planned(float(day.plan.seconds), len(day.plan.items), not has_own(day.session, file))


def _frames(plan: Planned, wanted: Wanted) -> int:
    """Its work: the music once for each form of sound, and again where there is a long file."""
    audio = sum(form != MIDI_FORM for form in wanted.forms)
    return int(plan.seconds * RATE_HZ) * audio * (1 + wanted.long)


def _data(job: SessionJob, plan: Planned) -> dict[str, Any]:
    tracks = (plan.items + (job.wanted.long and plan.items > 0)) * len(job.wanted.forms)
    return {"session": str(job.file), "folder": str(job.path), "tracks": tracks, "seconds": plan.seconds}
