"""`droner render`: the day's tracks as audio and MIDI files."""

from __future__ import annotations

import json
import os
from concurrent.futures import FIRST_EXCEPTION, ThreadPoolExecutor, wait
from pathlib import Path
from threading import Event
from typing import TYPE_CHECKING, Any

import click

from droner.cli.day import Day, open_day
from droner.cli.mixing import balance_of, mix_of
from droner.cli.options import day_options, json_option, quiet_option, session_argument, tuning_options
from droner.cli.progress import Progress
from droner.cli.tracks import SUFFIXES, Track, tracks
from droner.errors import MachineError, nearest

if TYPE_CHECKING:
    from datetime import date

    from droner.sound.mix import Mix

MIDI_FORM = "mid"
RATE_HZ = 48_000


class Stopped(BaseException):
    """Ends the work of a thread between two blocks."""


def read_forms(_: click.Context, __: click.Parameter, text: str) -> list[str]:
    """The forms named in "wav,mid", once each."""
    forms = list(dict.fromkeys(form.strip().lower().lstrip(".") for form in text.split(",") if form.strip()))
    for form in forms:
        if form not in SUFFIXES:
            close = nearest(form, SUFFIXES)
            hint = f" Did you mean {close}?" if close else ""
            raise click.BadParameter(f"{form!r} is not one of {', '.join(SUFFIXES)}.{hint}")
    if not forms:
        raise click.BadParameter(f"name at least one of {', '.join(SUFFIXES)}")
    if {"wav", "wav24"} <= set(forms):
        raise click.BadParameter("wav and wav24 would be the same file: choose one")
    return forms


def read_numbers(_: click.Context, __: click.Parameter, text: str | None) -> list[int]:
    """The item numbers in "1,3-5"."""
    numbers: list[int] = []
    for part in (text or "").replace(" ", "").split(","):
        first, _dash, last = part.partition("-")
        if not part:
            continue
        if not first.isdigit() or (last and not last.isdigit()):
            raise click.BadParameter(f"{part!r} is not an item number or a stretch such as 2-4")
        numbers += range(int(first), int(last or first) + 1)
    return numbers


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
    type=click.Path(path_type=Path, file_okay=True),
    metavar="DIR",
    help="Where to. Default: a folder of the day.",
)
@click.option(
    "--as",
    "forms",
    default="mp3",
    callback=read_forms,
    help="wav, wav24, flac, ogg, opus, mp3, mid; several with commas.",
)
@click.option("--long", is_flag=True, help="Also one long file of the whole day.")
@click.option("--only", callback=read_numbers, metavar="ITEMS", help='Only these items of the plan: "2", "1,3-5".')
@click.option("--guide/--no-guide", default=None, help="The drill itself, played softly along.")
@click.option("--split", is_flag=True, help="Click on the left, drone and chords on the right.")
@json_option
@quiet_option
def command(
    session: Path | None, *, out: Path | None, forms: list[str], long: bool, only: list[int],
    guide: bool | None, split: bool, as_json: bool, quiet: bool, **options: Any,
) -> None:  # fmt: skip
    """Make the day's tracks: one file for each item of the plan, in every form asked for."""
    day = open_day(session, **options)
    folder = out or default_folder(day.plan.day)
    wanted = tracks(day, folder, forms, only, long=long)
    if not wanted:
        _nothing(day, only)
    _make_folder(folder)
    mix = mix_of(day.session.sound, guide=guide, split=split)
    write_all(wanted, day, mix, quiet=quiet)
    if as_json:
        data = [{"path": str(track.path), "form": track.form, "title": track.title} for track in wanted]
        click.echo(json.dumps(data, indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(str(track.path) for track in wanted))


def default_folder(day: date) -> Path:
    """The folder of a day's tracks, beside where the command is run."""
    return Path(f"practice {day.isoformat()}")


def write_all(wanted: list[Track], day: Day, mix: Mix, *, quiet: bool) -> None:
    """Write every track, two and more at a time where the machine has the cores. Each appears whole or not at all."""
    stop = Event()
    whole = sum(_work(track) for track in wanted)
    workers = max(min(os.cpu_count() or 1, len(wanted)), 1)
    with Progress(whole, len(wanted), quiet=quiet) as progress, ThreadPoolExecutor(workers) as pool:
        longest_first = sorted(wanted, key=_work, reverse=True)
        jobs = [pool.submit(_write, track, day, mix, progress, stop) for track in longest_first]
        try:
            wait(jobs, return_when=FIRST_EXCEPTION)
            failed = [job for job in jobs if job.done() and job.exception()]
            if failed:
                stop.set()
                failed[0].result()
        except BaseException:
            stop.set()
            pool.shutdown(cancel_futures=True)
            raise


def _work(track: Track) -> int:
    return 0 if track.form == MIDI_FORM else int(float(track.score.duration) * RATE_HZ)


def _write(track: Track, day: Day, mix: Mix, progress: Progress, stop: Event) -> None:
    if stop.is_set():
        return

    def told(done: int) -> None:
        if stop.is_set():
            raise Stopped
        progress.at(track.path.name, done)

    if track.form == MIDI_FORM:
        from droner.midi.smf_file import write_smf  # noqa: PLC0415 - only when MIDI is asked for

        write_smf(track.path, track.score, balance_of(day.session.sound))
    else:
        from droner.sound.audio_file import write_audio  # noqa: PLC0415 - only when audio is asked for
        from droner.sound.tags import Tags  # noqa: PLC0415

        album = f"{day.session.title}, {day.plan.day.isoformat()}"
        tags = Tags(
            title=track.title, album=album, track=track.number, total=track.total,
            artist="droner", comment=track.comment, date=day.plan.day.isoformat(),
        )  # fmt: skip
        try:
            write_audio(track.path, track.score, mix, track.form, tags, progress=told)
        except Stopped:
            return
    progress.finished(track.path.name)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as refused:
        raise MachineError(f"cannot make the folder {folder}: {refused.strerror or refused}") from refused


def _nothing(day: Day, only: list[int]) -> None:
    if only and day.plan.items:
        raise click.UsageError(f"today's plan has items 1 to {len(day.plan.items)}; none of them was asked for")
    left = "".join(f"\n  {gone.drill}: {gone.why}" for gone in day.plan.left_out)
    raise click.UsageError(f"there is nothing to play on this day{left}")
