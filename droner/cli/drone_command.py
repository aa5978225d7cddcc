"""`droner drone`: a still drone, right now, to a file."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

from droner.cli.one_file import write_one
from droner.cli.options import quiet_option, tuning_options
from droner.cli.pitches import pitch_argument, tuning_on
from droner.cli.tracks import safe_name
from droner.score.plain import drone_score

if TYPE_CHECKING:
    from droner.theory.pitch import Pitch

MOST_TONES = 6


@click.command(
    "drone", epilog="\b\nExamples:\n  droner drone D3\n  droner drone D3 A3 --temperament just --seconds 60 --out d.wav"
)
@click.argument("pitches", nargs=-1, required=True, callback=pitch_argument, metavar="PITCH...")
@click.option("--seconds", type=click.FloatRange(1, 7200), default=60, show_default=True, help="How long.")
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="FILE", help="wav, flac, mp3, ogg, opus or mid by its ending."
)
@click.option("--timbre", type=click.Choice(["bright", "medium", "pure"]), default="medium", show_default=True)
@tuning_options
@quiet_option
def command(
    pitches: tuple[Pitch, ...], *, seconds: float, out: Path | None, timbre: str,
    a4_hz: float | None, temperament: str | None, quiet: bool,
) -> None:  # fmt: skip
    """Hold one or more pitches as a still drone. The first PITCH is the tonic that the tuning stands on.

    Without --out the file is called after the pitches and written here.
    """
    if len(pitches) > MOST_TONES:
        raise click.UsageError(f"a drone holds at most {MOST_TONES} tones")
    score = drone_score(tuple(dict.fromkeys(pitches)), tuning_on(pitches[0], a4_hz, temperament), Fraction(seconds))
    write_one(out or Path(safe_name(score.title) + ".wav"), score, timbre, quiet=quiet)
