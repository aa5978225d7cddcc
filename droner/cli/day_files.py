"""Say which files a day makes, and how each of them is written."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from droner.cli.jobs import job_of
from droner.cli.mixing import balance_of, mix_of
from droner.cli.options import USUAL_SESSION
from droner.cli.side_files import side_files
from droner.cli.tracks import safe_name, tracks
from droner.sound.tags import Tags

if TYPE_CHECKING:
    from datetime import date

    from droner.cli.day import Day
    from droner.cli.jobs import Job
    from droner.cli.side_files import SideFile
    from droner.cli.tracks import Track


PRACTICE = Path(USUAL_SESSION).stem
"""What a day's folder is called where nothing else is known of its session."""


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


def default_folder(day: date, name: str = PRACTICE) -> Path:
    """The folder of a day's tracks, beside where the command is run, so that no two players' tracks meet in it."""
    return Path(f"{safe_name(name)} {day.isoformat()}")


def name_of(session_file: str) -> str:
    """What a session is called by its file, or by its folder where that is all that tells it from others."""
    file = Path(session_file or USUAL_SESSION)
    return file.parent.name if file.name == USUAL_SESSION and file.parent.name else file.stem


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
