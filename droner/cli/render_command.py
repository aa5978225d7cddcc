"""`droner render`: the day's tracks as audio and MIDI files."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from droner.cli.options import (
    completing,
    day_options,
    json_option,
    quiet_option,
    sessions_argument,
    tuning_options,
)
from droner.cli.values import forms as read_forms
from droner.cli.values import is_items, items, path

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from droner.cli.day_files import Wanted


@click.command(
    "render",
    epilog="""\b
Examples:
  droner render                             MP3 tracks of today, in a folder here
  droner render --as flac,mid --out today   audio and MIDI files in the folder today
  droner render --only 2-4 --guide          three of the tracks, the drill played along
""",
)
@sessions_argument
@day_options
@tuning_options
@click.option(
    "--out",
    type=path,
    metavar="DIR",
    help="Where to. Default: a folder named after session and day.",
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
    sessions: Sequence[Path], *, out: Path | None, forms: tuple[str, ...], long: bool, only: tuple[int, ...] | None,
    guide: bool | None, split: bool, as_json: bool, quiet: bool, **options: Any,
) -> None:  # fmt: skip
    """Make the day's tracks: one file for each item of the plan, in every form asked for.

    Several sessions, or a folder of them, make a studio: a folder of tracks for each, and in DIR one for each day.
    """
    _no_bare_items(sessions, only)
    from droner.cli.day_files import Wanted  # noqa: PLC0415 - help makes nothing
    from droner.cli.studio import is_studio  # noqa: PLC0415

    wanted = Wanted(forms, only or (), long, guide, split)
    if is_studio(sessions):
        from droner.cli.studio_render import render_studio  # noqa: PLC0415 - only for a studio

        render_studio(sessions, out, wanted, options, as_json=as_json, quiet=quiet)
    else:
        _render(sessions[0] if sessions else None, out, wanted, options, as_json=as_json, quiet=quiet)


def _no_bare_items(sessions: Sequence[Path], only: tuple[int, ...] | None) -> None:
    """UsageError where item numbers stand in the place of sessions."""
    bare = [str(one) for one in sessions if is_items(str(one)) and not one.exists()]
    if bare:
        asked = ",".join([*(map(str, only or ())), *bare])
        raise click.UsageError(f"{bare[0]} is no session file: items go after --only, with commas: --only {asked}")


def _render(
    session: Path | None, out: Path | None, wanted: Wanted, options: dict[str, Any], *, as_json: bool, quiet: bool
) -> None:
    """The tracks of one session."""
    from droner.cli.day import check_items, open_day  # noqa: PLC0415 - as above
    from droner.cli.day_files import day_files, default_folder, name_of  # noqa: PLC0415
    from droner.cli.screen import show, show_json  # noqa: PLC0415
    from droner.cli.side_files import side_file_data  # noqa: PLC0415
    from droner.cli.tracks import track_data  # noqa: PLC0415
    from droner.cli.writing import folder_for_files, stoppable, tell_of_others, write_all  # noqa: PLC0415

    day = open_day(session, quiet=quiet, **options)
    check_items(day, wanted.only)
    folder = out or default_folder(day.plan.day, name_of(day.session.file))
    files = day_files(day, folder, wanted)
    with stoppable(), folder_for_files(folder):
        write_all(files.jobs, quiet=quiet)
    tell_of_others(folder, {track.path for track in files.tracks}, quiet=quiet)
    if as_json:
        show_json([*map(track_data, files.tracks), *map(side_file_data, files.beside)])
    else:
        show("\n".join(map(str, [*(track.path for track in files.tracks), *(one.path for one in files.beside)])))
