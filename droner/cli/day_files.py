"""Say which files a day makes, and how each of them is written."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from droner.cli.jobs import job_of
from droner.cli.mixing import balance_of, mix_of
from droner.cli.side_files import side_files
from droner.cli.tracks import tracks
from droner.sound.tags import Tags

if TYPE_CHECKING:
    from datetime import date

    from droner.cli.day import Day
    from droner.cli.jobs import Job
    from droner.cli.side_files import SideFile
    from droner.cli.tracks import Track


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which files: in these forms, of these items (none named: all), one long one too, with the guide, click apart."""

    forms: tuple[str, ...]
    only: tuple[int, ...] = ()
    long: bool = False
    guide: bool | None = None
    split: bool = False


@dataclass(frozen=True, slots=True)
class DayFiles:
    """The tracks of a day, what lies beside them, and the work that they are."""

    tracks: list[Track]
    beside: list[SideFile]
    jobs: list[Job]


def default_folder(day: date) -> Path:
    """The folder of a day's tracks, beside where the command is run."""
    return Path(f"practice {day.isoformat()}")


def day_files(day: Day, folder: Path, wanted: Wanted) -> DayFiles:
    """The files of a day."""
    made = tracks(day, folder, wanted.forms, wanted.only, long=wanted.long, guide=wanted.guide)
    beside = side_files(made)
    sound = day.session.sound
    mix, balance = mix_of(sound, split=wanted.split), balance_of(sound)
    jobs = [job_of(track.path, track.form, track.score, track.heard, mix, _tags(track, day), balance) for track in made]
    return DayFiles(made, beside, [*jobs, *beside])


def _tags(track: Track, day: Day) -> Tags:
    when = day.plan.day.isoformat()
    return Tags(
        title=track.title,
        album=f"{day.session.title}, {when}",
        track=track.number,
        total=track.total,
        artist="droner",
        comment=track.comment,
        date=when,
    )
