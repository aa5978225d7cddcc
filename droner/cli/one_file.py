"""Write one score to one file, in the form that its name ends with."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from droner.cli.tracks import SUFFIXES
from droner.errors import MachineError, nearest

if TYPE_CHECKING:
    from pathlib import Path

    from droner.score.score import Score

FORM_OF_SUFFIX = {suffix: form for form, suffix in SUFFIXES.items() if form != "wav24"}


def form_of(path: Path) -> str:
    """The form a file name asks for. UsageError for one that we cannot write."""
    suffix = path.suffix.lower()
    if suffix not in FORM_OF_SUFFIX:
        close = nearest(suffix, FORM_OF_SUFFIX)
        hint = f" Did you mean {close}?" if close else ""
        raise click.UsageError(f"{path}: end the name with one of {' '.join(FORM_OF_SUFFIX)}.{hint}")
    return FORM_OF_SUFFIX[suffix]


def write_one(path: Path, score: Score, timbre: str, *, quiet: bool) -> None:
    """The score as a file; MachineError where the machine will not have it."""
    form = form_of(path)
    if not path.parent.is_dir():
        raise MachineError(f"cannot write {path}: there is no folder {path.parent}")
    if form == "mid":
        from droner.midi.smf_file import write_smf  # noqa: PLC0415 - only when MIDI is asked for

        write_smf(path, score)
    else:
        from droner.cli.progress import Progress  # noqa: PLC0415
        from droner.sound.audio_file import write_audio  # noqa: PLC0415 - only when audio is asked for
        from droner.sound.mix import Mix  # noqa: PLC0415
        from droner.sound.tags import Tags  # noqa: PLC0415

        frames = int(float(score.duration) * 48_000)
        with Progress(frames, 1, quiet=quiet) as progress:
            write_audio(
                path, score, Mix(timbre=timbre), form, Tags(title=score.title, artist="droner"),
                progress=lambda done: progress.at(path.name, done),
            )  # fmt: skip
    click.echo(str(path))
