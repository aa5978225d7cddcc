"""`droner render`: the day's tracks as audio and MIDI files."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import (
    completing,
    day_options,
    json_option,
    quiet_option,
    session_argument,
    tuning_options,
)
from droner.cli.values import forms as read_forms
from droner.cli.values import items, path

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from pathlib import Path

    from droner.cli.day import Day
    from droner.cli.jobs import Job
    from droner.cli.tracks import Track


@click.command(
    "render",
    epilog="""\b
Examples:
  droner render                             MP3 tracks of today, in a folder here
  droner render --as flac,mid --out today   audio and MIDI files in the folder today
  droner render --only 2-4 --guide          three of the tracks, the drill played along
""",
)
@session_argument
@day_options
@tuning_options
@click.option(
    "--out",
    type=path,
    metavar="DIR",
    help="Where to. Default: a folder of the day.",
    shell_complete=completing("folders"),
)
@click.option(
    "--as",
    "forms",
    default="mp3",
    show_default=True,
    type=read_forms,
    metavar="FORMS",
    help="wav, wav24, flac, ogg, opus, mp3, mid; several with commas.",
    shell_complete=completing("forms"),
)
@click.option("--long", is_flag=True, help="Also one long file of the whole day.")
@click.option("--only", type=items, metavar="ITEMS", help="Only these items of the plan: 2, or 1,3-5.")
@click.option("--guide/--no-guide", default=None, help="The drill itself, played softly along.")
@click.option("--split", is_flag=True, help="Click on the left, drone and chords on the right, the guide on both.")
@json_option
@quiet_option
def command(
    session: Path | None, *, out: Path | None, forms: Sequence[str], long: bool, only: Sequence[int] | None,
    guide: bool | None, split: bool, as_json: bool, quiet: bool, **options: Any,
) -> None:  # fmt: skip
    """Make the day's tracks: one file for each item of the plan, in every form asked for."""
    from droner.cli.day import check_items, open_day  # noqa: PLC0415 - help makes nothing
    from droner.cli.screen import show, show_json  # noqa: PLC0415
    from droner.cli.side_files import side_file_data, side_files  # noqa: PLC0415
    from droner.cli.tracks import track_data, tracks  # noqa: PLC0415
    from droner.cli.writing import folder_for_files, stoppable, tell_of_others, write_all  # noqa: PLC0415

    day = open_day(session, quiet=quiet, **options)
    check_items(day, only or ())
    folder = out or default_folder(day.plan.day)
    wanted = tracks(day, folder, forms, only or (), long=long, guide=guide)
    beside = side_files(wanted)
    with stoppable(), folder_for_files(folder):
        write_all([*_jobs(wanted, day, split=split), *beside], quiet=quiet)
    tell_of_others(folder, {track.path for track in wanted}, quiet=quiet)
    if as_json:
        show_json([*map(track_data, wanted), *map(side_file_data, beside)])
    else:
        show("\n".join(map(str, [*(track.path for track in wanted), *(one.path for one in beside)])))


def default_folder(day: date) -> Path:
    """The folder of a day's tracks, beside where the command is run."""
    return path(f"practice {day.isoformat()}")


def _jobs(wanted: Sequence[Track], day: Day, *, split: bool) -> list[Job]:
    from droner.cli.jobs import job_of  # noqa: PLC0415 - help makes nothing
    from droner.cli.mixing import balance_of, mix_of  # noqa: PLC0415
    from droner.sound.tags import Tags  # noqa: PLC0415

    sound, when = day.session.sound, day.plan.day.isoformat()
    mix, balance = mix_of(sound, split=split), balance_of(sound)

    def tags(track: Track) -> Tags:
        return Tags(
            title=track.title,
            album=f"{day.session.title}, {when}",
            track=track.number,
            total=track.total,
            artist="droner",
            comment=track.comment,
            date=when,
        )

    return [job_of(track.path, track.form, track.score, track.heard, mix, tags(track), balance) for track in wanted]
